"""``manage.py work``: the worker."""

import signal
import threading
import time
from typing import Any

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import DatabaseError, connection

from orders.messages.periodic import jobs, run_jobs
from orders.messages.sending import claim_one, send

LOOK_EVERY_SECONDS = 1.0
JOBS_EVERY_SECONDS = 60.0


def _require_secret_key() -> None:
    """Refuse to start without the key that links in letters are signed with."""
    try:
        missing = not settings.SECRET_KEY
    except ImproperlyConfigured:
        missing = True
    if missing:
        raise CommandError("SECRET_KEY is not set: the worker cannot write links into letters")


class Command(BaseCommand):
    """Send letters and run the periodic jobs until told to stop."""

    help = "Send the letters in the outbox and run the periodic jobs."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take ``--once``."""
        parser.add_argument("--once", action="store_true", help="do what is due now, then end")

    def handle(self, *args: Any, **options: Any) -> None:
        """Work; a SIGTERM lets the letter in hand be finished."""
        _require_secret_key()
        jobs()
        self.stop = threading.Event()
        if options["once"]:
            sent = self.send_all()
            failed = run_jobs()
            self.stdout.write(f"{sent} letters sent, {len(failed)} jobs failed")
            if failed:
                raise CommandError("failed: " + ", ".join(failed))
            return
        for number in (signal.SIGTERM, signal.SIGINT):
            signal.signal(number, lambda *_: self.stop.set())
        self.stdout.write("worker: looking for letters")
        self.work_on()
        self.stdout.write("worker: stopped")

    def work_on(self) -> None:
        """Look for work until told to stop; a database that is away is waited for."""
        next_jobs = 0.0
        while not self.stop.is_set():
            try:
                self.send_all()
                if time.monotonic() >= next_jobs:
                    run_jobs()
                    next_jobs = time.monotonic() + JOBS_EVERY_SECONDS
            except DatabaseError as fault:
                self.stderr.write(f"worker: the database does not answer ({type(fault).__name__})")
                connection.close()
            self.stop.wait(LOOK_EVERY_SECONDS)

    def send_all(self) -> int:
        """Send what is due, one letter after the other, unless told to stop."""
        sent = 0
        while not self.stop.is_set() and (letter := claim_one()):
            sent += send(letter)
        return sent
