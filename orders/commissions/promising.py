"""The promised days of a commission that is being made, and moving them."""

from datetime import date, datetime, timedelta

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from orders.commissions.models import Commission, JournalEntry
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.states import State
from orders.people.models import User

VERB = "move_promise"
# While it is made, a promise can turn out wrong; before there is none, afterwards it is kept or broken.
MOVED_IN = frozenset({State.ACCEPTED, State.MAKING, State.MENDING})
MOST_DAYS = 365


def can_move_promise(commission: Commission, by: User) -> bool:
    """Whether other days may be promised."""
    return by.is_maker and commission.state in MOVED_IN and commission.promised_to is not None


def moved_by(commission: Commission, days: int) -> tuple[date, date]:
    """Return the promised days, moved by so many.

    Raises:
        Refused: ``not_now`` when none are promised.
    """
    if commission.promised_to is None:
        raise Refused("not_now")
    early = commission.promised_from or commission.promised_to
    return early + timedelta(days=days), commission.promised_to + timedelta(days=days)


@transaction.atomic
def move_promise(
    commission: Commission, *, days: int, why: str, by: User, at: datetime | None = None
) -> tuple[date, date]:
    """Promise later days, and keep in the journal which were promised before and why not.

    The letter to the player is the caller's: a date moves for a cause, and one letter tells both.

    Raises:
        Refused: ``not_now``, ``not_yours``, ``too_many_days`` outside 1 to 365, ``reason_needed``; or
            ``moved_on`` when the commission is no longer as it was read.
    """
    if not can_move_promise(commission, by):
        raise Refused("not_now" if by.is_maker else "not_yours")
    if not 1 <= days <= MOST_DAYS:
        raise Refused("too_many_days")
    if not why.strip():
        raise Refused("reason_needed")
    now = at or timezone.now()
    before = moved_by(commission, 0)
    early, late = moved_by(commission, days)
    written = Commission.objects.filter(
        pk=commission.pk, version=commission.version, state=commission.state
    ).update(version=F("version") + 1, changed_at=now, promised_from=early, promised_to=late)
    if not written:
        raise MovedOn
    commission.version += 1
    commission.promised_from, commission.promised_to = early, late
    JournalEntry.objects.create(
        commission=commission,
        verb=VERB,
        from_state=commission.state,
        to_state=commission.state,
        by=by,
        at=now,
        data={
            "days": days,
            "before": [day.isoformat() for day in before],
            "promised": [early.isoformat(), late.isoformat()],
            "why": why.strip(),
        },
    )
    return early, late


def last_move(commission: Commission) -> JournalEntry | None:
    """Return the last moving of the days that are promised now; a bat that came back has new ones."""
    moves = commission.journal.of_commission().filter(verb__in=(VERB, "mend")).order_by("-pk")
    last = moves.first()
    return last if last is not None and last.verb == VERB else None
