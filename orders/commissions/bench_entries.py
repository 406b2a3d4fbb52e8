"""What is entered at the bench: steps done and readings, each its own row, taken back by another row."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import Model
from django.utils import timezone

from orders.commissions.models import Bat, Reading, StepDone
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.states import Stage, State, Unit
from orders.people.models import User

# A reading is known by its key and, where it has one, its place from the toe in 0.1 mm.
Place = tuple[str, int | None]


@dataclass(frozen=True)
class Required:
    """What a stage asks for before the bat may pass on."""

    steps: frozenset[str] = field(default=frozenset())
    readings: frozenset[Place] = field(default=frozenset())
    cleft: bool = False


@dataclass(frozen=True)
class Missing:
    """What of it is not there; true when anything is."""

    steps: tuple[str, ...]
    readings: tuple[Place, ...]
    cleft: bool

    def __bool__(self) -> bool:
        return bool(self.steps or self.readings or self.cleft)

    def words(self) -> tuple[str, ...]:
        """Name each as one word: ``step:…``, ``reading:…@1500``, ``cleft``."""
        places = (f"reading:{key}" if at is None else f"reading:{key}@{at}" for key, at in self.readings)
        return (*(f"step:{step}" for step in self.steps), *places, *(["cleft"] if self.cleft else []))


def steps_done(bat: Bat, *, stage: str | None = None, round_number: int | None = None) -> set[str]:
    """Return the keys of the steps that stand as done in a stage of a round; the present ones if absent."""
    rows = bat.steps.standing().filter(stage=stage or bat.stage, round=round_number or bat.round)
    return set(rows.values_list("step", flat=True))


def readings_now(
    bat: Bat, *, stage: str | None = None, round_number: int | None = None
) -> dict[Place, Reading]:
    """Return the last standing reading for each key and place; of one stage, or of the whole round."""
    rows = bat.readings.standing().filter(round=round_number or bat.round).select_related("by")
    if stage is not None:
        rows = rows.filter(stage=stage)
    return {(row.key, row.from_toe): row for row in rows.order_by("pk")}


def missing(bat: Bat, required: Required) -> Missing:
    """Return what the bat's stage still asks for."""
    done = steps_done(bat)
    read = set(readings_now(bat, stage=bat.stage))
    return Missing(
        steps=tuple(sorted(required.steps - done)),
        readings=tuple(sorted(required.readings - read, key=lambda place: (place[0], place[1] or 0))),
        cleft=required.cleft and not bat.cleft_label,
    )


@transaction.atomic
def mark_step(bat: Bat, *, step: str, by: User, at: datetime | None = None) -> StepDone:
    """Note a step of the bat's stage as done; done twice it is noted once."""
    now = at or timezone.now()
    keep_still(bat, by, at=now)
    standing = bat.steps.standing().filter(round=bat.round, stage=bat.stage, step=step).first()
    return standing or StepDone.objects.create(
        bat=bat, round=bat.round, stage=bat.stage, step=step, by=by, at=now
    )


@transaction.atomic
def record_reading(
    bat: Bat,
    *,
    key: str,
    value: int,
    unit: Unit,
    by: User,
    from_toe: int | None = None,
    at: datetime | None = None,
) -> Reading:
    """Keep what an instrument showed in the bat's stage.

    Args:
        bat: as it was read.
        key: what was measured.
        value: in tenths of the unit (whole pieces for a count).
        unit: its unit.
        by: who read it.
        from_toe: where along the bat, in 0.1 mm from the toe.
        at: when; now if absent.
    """
    now = at or timezone.now()
    keep_still(bat, by, at=now)
    return Reading.objects.create(
        bat=bat,
        round=bat.round,
        stage=bat.stage,
        key=key,
        from_toe=from_toe,
        value=value,
        unit=unit,
        by=by,
        at=now,
    )


@transaction.atomic
def take_back[Entry: (StepDone, Reading)](entry: Entry, *, by: User, at: datetime | None = None) -> Entry:
    """Take a step or a reading back by a new row; only while the bat is still in that stage.

    Raises:
        Refused: ``taken_back`` when it already is, ``wrong_stage`` when the bat has gone on.
    """
    now = at or timezone.now()
    bat = entry.bat
    if (bat.round, bat.stage) != (entry.round, entry.stage):
        raise Refused("wrong_stage", what=("take_back", bat.stage))
    if entry.takes_back_id is not None:
        raise Refused("taken_back")
    keep_still(bat, by, at=now)
    try:
        with transaction.atomic():
            return type(entry).objects.create(**same_again(entry), by=by, at=now, takes_back=entry)
    except IntegrityError:
        raise Refused("taken_back") from None


def same_again(entry: Model) -> dict[str, Any]:
    """Return what a row says, for the row that takes it back."""
    return {
        column.attname: getattr(entry, column.attname)
        for column in entry._meta.concrete_fields
        if column.name not in {"id", "by", "at", "takes_back"}
    }


@transaction.atomic
def give_up_entries(bat: Bat, *, by: User, at: datetime | None = None) -> None:
    """Take back every step and reading of the bat's round: the wood that they tell of is given up."""
    now = at or timezone.now()
    try:
        with transaction.atomic():
            for rows in (bat.steps, bat.readings):
                standing: Any = rows.standing().filter(round=bat.round).order_by("pk")
                standing.model.objects.bulk_create(
                    standing.model(**same_again(row), by=by, at=now, takes_back=row) for row in standing
                )
    except IntegrityError:
        raise MovedOn from None


def keep_still(bat: Bat, by: User, *, at: datetime) -> None:
    """Hold the bat in its stage for the rest of the transaction, or refuse if it has left.

    The update takes the row's lock, so that no reading slips into a stage that is just being passed.
    """
    if not by.is_staff_role:
        raise Refused("not_yours")
    if bat.stage in (Stage.WAITING, Stage.DONE) or bat.commission.state not in (State.MAKING, State.MENDING):
        raise Refused("wrong_stage", what=("enter", bat.stage))
    held = Bat.objects.filter(pk=bat.pk, stage=bat.stage, round=bat.round).update(changed_at=at)
    if not held:
        raise MovedOn
