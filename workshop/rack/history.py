"""The history of a cleft: rows are only added."""

from datetime import datetime
from typing import Any

from django.utils import timezone

from orders.people.models import User
from workshop.rack.models import Cleft, CleftEntry


def note_down(
    cleft: Cleft,
    verb: str,
    data: dict[str, Any],
    *,
    by: User | None,
    from_state: str | None = None,
    at: datetime | None = None,
) -> None:
    """Write down what befell a cleft; without ``from_state`` it left the cleft where it stands."""
    CleftEntry.objects.create(
        cleft=cleft,
        verb=verb,
        from_state=cleft.state if from_state is None else from_state,
        to_state=cleft.state,
        by=by,
        data=data,
        at=at or timezone.now(),
    )
