"""``manage.py demo``: an empty database becomes the demo workshop."""

from datetime import date
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from workshop.demo.fill import Filled, NotEmpty, fill
from workshop.demo.people import (
    BENCH_HAND_EMAIL,
    BENCH_HAND_PASSWORD,
    GUARDIAN_EMAIL,
    MAKER_EMAIL,
    MAKER_PASSWORD,
    PLAYER_EMAIL,
    SECOND_HAND_EMAIL,
)


class Command(BaseCommand):
    """Fill the database, or find it filled; say how to sign in."""

    help = "Fill an empty database with an invented workshop; a second run changes nothing."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the day, or only the question how to sign in."""
        parser.add_argument(
            "--today",
            type=date.fromisoformat,
            help="the day that all dates are counted back from (YYYY-MM-DD); today if absent",
        )
        parser.add_argument("--how-to-sign-in", action="store_true", help="say only how to sign in, and end")

    def handle(self, *args: Any, **options: Any) -> None:
        """Fill and tell."""
        if options["how_to_sign_in"]:
            self.stdout.write(how_to_sign_in())
            return
        if settings.SITE_URL.startswith("https://"):
            words = "the demo's passwords are known to everybody: it is only for a site on this machine"
            raise CommandError(words, returncode=2)
        try:
            filled = fill(options["today"] or timezone.localdate())
        except NotEmpty:
            words = "this database has a workshop or people of its own: the demo wants an empty one"
            raise CommandError(words, returncode=2) from None
        self.stdout.write(_told(filled))
        self.stdout.write(how_to_sign_in())


def _told(filled: Filled) -> str:
    counts = f"{filled.commissions} commissions, {filled.clefts} clefts and {filled.fittings} fittings in all"
    if filled.was_there:
        return f"The demo workshop is here already; nothing was changed. It has {counts}."
    return f"The demo workshop is filled: {counts}."


def how_to_sign_in() -> str:
    """Say how each role signs in."""
    site = settings.SITE_URL
    return "\n".join(
        (
            "",
            f"How to sign in at {site}/sign-in/",
            f"  player       {PLAYER_EMAIL}, by a mailed link; the mail stands at {site}/mail/",
            f"  guardian     {GUARDIAN_EMAIL}, likewise",
            f"  maker        {MAKER_EMAIL}, password: {MAKER_PASSWORD}",
            f"  bench hand   {BENCH_HAND_EMAIL}, password: {BENCH_HAND_PASSWORD}",
            f"  another      {SECOND_HAND_EMAIL}, with the same password",
        )
    )
