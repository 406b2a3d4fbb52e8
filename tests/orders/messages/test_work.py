"""The worker: letters, periodic jobs, and a quiet end."""

import io
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from django.conf import settings as django_settings
from django.core import mail
from django.core.management import CommandError, call_command

from orders.messages.outbox import post
from orders.messages.periodic import jobs

pytestmark = pytest.mark.django_db

RAN: list[str] = []


def good_job():
    """Stand in settings.PERIODIC_JOBS."""
    RAN.append("good")


def bad_job():
    """Stand in settings.PERIODIC_JOBS and fail."""
    RAN.append("bad")
    raise ValueError


@pytest.fixture(autouse=True)
def _forget_what_ran():
    RAN.clear()


def test_once_sends_what_is_due_and_runs_the_jobs(workshop, settings):
    settings.PERIODIC_JOBS = [f"{__name__}.good_job"]
    post("no_account", to="a@players.example", context={})
    out = io.StringIO()
    call_command("work", "--once", stdout=out)
    assert len(mail.outbox) == 1
    assert RAN == ["good"]
    assert out.getvalue() == "1 letters sent, 0 jobs failed\n"


def test_job_that_fails_keeps_no_other_from_its_turn(settings):
    settings.PERIODIC_JOBS = [f"{__name__}.bad_job", f"{__name__}.good_job"]
    with pytest.raises(CommandError, match="bad_job"):
        call_command("work", "--once", stdout=io.StringIO())
    assert RAN == ["bad", "good"]


def test_job_that_does_not_exist_is_told_at_the_start(settings):
    settings.PERIODIC_JOBS = ["orders.people.no_such_module.job"]
    with pytest.raises(ImportError):
        call_command("work", "--once")


def test_every_job_of_the_settings_exists_and_can_run_twice():
    assert jobs()
    for _name, job in jobs() * 2:
        job()


def test_worker_without_a_secret_key_does_not_start(settings):
    settings.SECRET_KEY = ""
    with pytest.raises(CommandError, match="SECRET_KEY"):
        call_command("work", "--once")


def test_worker_ends_quietly_when_told(tmp_path):
    environment = {
        **os.environ,
        "SECRET_KEY": "for this test only, and long enough to be taken 0123456789",
        "DATABASE_URL": f"sqlite:///{tmp_path}/worker.sqlite3",
        "DATA_DIR": str(tmp_path),
        "PYTHONUNBUFFERED": "1",
    }
    root = Path(django_settings.BASE_DIR)
    worker = subprocess.Popen(
        [sys.executable, "manage.py", "work"],
        cwd=root,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )
    assert worker.stdout is not None
    try:
        assert worker.stdout.readline() == "worker: looking for letters\n"
        worker.send_signal(signal.SIGTERM)
        told = time.monotonic()
        assert worker.wait(timeout=20) == 0
        assert time.monotonic() - told < 10
        assert worker.stdout.read() == "worker: stopped\n"
    finally:
        worker.kill()
        worker.stdout.close()
        worker.wait()
