"""What stands on the page of shaping and on no other: its targets and standing come with every stage's."""

from typing import Any

from workshop.bench.work import Work


def context(work: Work) -> dict[str, Any]:
    """Return what the stage's own part of the page shows."""
    return {}
