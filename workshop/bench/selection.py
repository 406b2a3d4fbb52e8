"""What stands on the page of cleft selection and on no other."""

from typing import Any

from workshop.bench.work import Work


def context(work: Work) -> dict[str, Any]:
    """Return what the stage's own part of the page shows."""
    return {}


def missing_words(work: Work) -> tuple[str, ...]:
    """Return what this stage's own part still asks for before the bat passes on."""
    return ()
