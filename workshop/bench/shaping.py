"""What stands on the page of shaping and on no other: its targets, and where the blade stands."""

from typing import Any

from workshop.bench.standing_page import block_of
from workshop.bench.targets_page import targets_told
from workshop.bench.work import Work


def context(work: Work) -> dict[str, Any]:
    """Return what the stage's own part of the page shows."""
    return {"targets": targets_told(work), "standing": block_of(work)}
