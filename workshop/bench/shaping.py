"""What stands on the page of shaping and on no other: its targets."""

from typing import Any

from django.utils.functional import SimpleLazyObject

from workshop.bench.targets_page import targets_told
from workshop.bench.work import Work


def context(work: Work) -> dict[str, Any]:
    """Return what the stage's own part of the page shows."""
    return {"targets": SimpleLazyObject(lambda: targets_told(work))}
