"""Who is at work on a bat, and how long: a spell from "Begin work" to "Lay it down"."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import IntegrityError, transaction
from django.utils import timezone

from orders.commissions.bench_entries import keep_still
from orders.commissions.models import Bat
from orders.commissions.refusals import MovedOn, Refused
from orders.people.models import User
from workshop.bench.models import Spell


@dataclass(frozen=True)
class Spent:
    """How long one person was at a bat in one stage."""

    stage: str
    name: str
    minutes: int


def open_spell(bat: Bat) -> Spell | None:
    """Return the spell of whoever has the bat in hand in its present stage."""
    open_now = bat.spells.filter(ended_at=None, round=bat.round, stage=bat.stage).select_related("by")
    return open_now.order_by("-began_at", "-pk").first()


@transaction.atomic
def begin_work(bat: Bat, *, by: User, take_over: bool = False, at: datetime | None = None) -> Spell:
    """Take a bat in hand; whatever else the person had in hand is laid down.

    Args:
        bat: as it was read.
        by: who takes it.
        take_over: end the spell of whoever has it.
        at: when; now if absent.

    Raises:
        Refused: ``in_hand`` when somebody else has it; ``wrong_stage`` when nothing is worked on there.
    """
    now = at or timezone.now()
    keep_still(bat, by, at=now)
    held = open_spell(bat)
    if held is not None and held.by_id == by.pk:
        return held
    if held is not None and not take_over:
        raise in_hand(held)
    Spell.objects.filter(bat=bat, ended_at=None).update(ended_at=now)
    Spell.objects.filter(by=by, ended_at=None).update(ended_at=now)
    try:
        with transaction.atomic():
            return Spell.objects.create(bat=bat, round=bat.round, stage=bat.stage, by=by, began_at=now)
    except IntegrityError:
        raise MovedOn from None


def lay_down(bat: Bat, *, by: User, at: datetime | None = None) -> bool:
    """Lay a bat down that one has in hand; False where one has not."""
    return bool(bat.spells.filter(by=by, ended_at=None).update(ended_at=at or timezone.now()))


def end_spells(bat: Bat, *, at: datetime | None = None) -> None:
    """End whatever spell is open at a bat: it has left the stage."""
    bat.spells.filter(ended_at=None).update(ended_at=at or timezone.now())


def free_for(bat: Bat, by: User) -> None:
    """Refuse when somebody else has the bat in hand."""
    held = open_spell(bat)
    if held is not None and held.by_id != by.pk:
        raise in_hand(held)


def in_hand(held: Spell) -> Refused:
    """Return the refusal that names who has a bat in hand, and since when."""
    return Refused("in_hand", what=(held.by.name, held.began_at.isoformat()))


def time_spent(bat: Bat, *, now: datetime | None = None) -> list[Spent]:
    """Return the minutes that each person was at the bat in each stage of its round, first come first."""
    until = now or timezone.now()
    rows = bat.spells.filter(round=bat.round).select_related("by")
    return _summed((row.stage, row.by.name, (row.ended_at or until) - row.began_at) for row in rows)


def _summed(rows: Iterable[tuple[str, str, timedelta]]) -> list[Spent]:
    found: dict[tuple[str, str], timedelta] = {}
    for stage, name, length in rows:
        found[stage, name] = found.get((stage, name), timedelta()) + length
    return [Spent(stage, name, round(length.total_seconds() / 60)) for (stage, name), length in found.items()]
