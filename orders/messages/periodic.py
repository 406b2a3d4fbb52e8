"""What the worker does besides letters, every minute."""

import logging
from collections.abc import Callable

from django.conf import settings
from django.utils.module_loading import import_string

log = logging.getLogger("worker")


def jobs() -> list[tuple[str, Callable[[], object]]]:
    """Return the periodic jobs of settings.PERIODIC_JOBS by name.

    Raises:
        ImportError: one of them does not exist.
    """
    return [(path, import_string(path)) for path in settings.PERIODIC_JOBS]


def run_jobs() -> list[str]:
    """Run every periodic job once; return the names of those that failed.

    A job must bear being run by two workers at the same moment.
    """
    failed = []
    for name, job in jobs():
        try:
            job()
        except Exception as fault:
            # One job must not keep the others from their turn.
            log.error("job %s failed: %s", name, type(fault).__name__)
            failed.append(name)
    return failed
