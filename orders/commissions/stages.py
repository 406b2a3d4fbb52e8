"""How a bat moves over the bench: the table, who may, and the one writer.

A bat goes through the stages of its open round in their order, then to the final inspection. What a
stage asks for before the bat may pass on is the bench's book and comes in from the caller.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from orders.commissions import lifecycle
from orders.commissions.bench_entries import Required, missing
from orders.commissions.consents import not_accepted
from orders.commissions.models import Bat, Inspection, JournalEntry, Round
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.searching import refresh_search
from orders.commissions.states import BENCH_STAGES, Cause, Stage, State
from orders.people.models import User

_WORKED = frozenset(BENCH_STAGES)

# From which stages, to which; the round says which of them it is.
STAGE_MOVES: dict[str, tuple[frozenset[Stage], frozenset[Stage]]] = {
    "begin": (frozenset({Stage.WAITING}), _WORKED),
    "pass_on": (_WORKED, _WORKED | {Stage.INSPECTION}),
    "go_back": (_WORKED | {Stage.INSPECTION}, _WORKED),
    "pass_inspection": (frozenset({Stage.INSPECTION}), frozenset({Stage.DONE})),
    "open_round": (frozenset({Stage.DONE}), frozenset({Stage.WAITING})),
}
# Each stage verb is only for a bat whose commission stands so.
_AT_BENCH = frozenset({State.MAKING, State.MENDING})
COMMISSION_STATES: dict[str, frozenset[State]] = {
    "begin": _AT_BENCH,
    "pass_on": _AT_BENCH,
    "go_back": _AT_BENCH,
    "pass_inspection": _AT_BENCH,
    "open_round": frozenset({State.BACK, State.MENDING}),
}


def may(verb: str, bat: Bat, by: User) -> bool:
    """Whether stage and commission allow the verb and the person works here."""
    return (
        by.is_staff_role
        and bat.stage in STAGE_MOVES[verb][0]
        and bat.commission.state in COMMISSION_STATES[verb]
    )


def can_begin(bat: Bat, by: User) -> bool:
    """Whether the bat may come to the first stage of its round."""
    return may("begin", bat, by)


def can_pass_on(bat: Bat, by: User, *, required: Required) -> bool:
    """Whether the stage is done and the bat may go on."""
    return may("pass_on", bat, by) and not missing(bat, required)


def can_go_back(bat: Bat, by: User) -> bool:
    """Whether there is an earlier stage in this round to go back to."""
    return may("go_back", bat, by) and bool(earlier_stages(bat))


def can_pass_inspection(bat: Bat, by: User) -> bool:
    """Whether the bat lies before the final inspection."""
    return may("pass_inspection", bat, by)


def can_open_round(bat: Bat, by: User) -> bool:
    """Whether a finished bat may go over the bench again."""
    return by.is_maker and may("open_round", bat, by)


def current_round(bat: Bat) -> Round:
    """Return the trip over the bench that the bat is on, or was on last."""
    return bat.rounds.get(number=bat.round)


def stages_of(bat: Bat) -> list[Stage]:
    """Return the stages of the present round, in order."""
    return [Stage(stage) for stage in current_round(bat).stages]


def next_stage(bat: Bat) -> Stage:
    """Return where a worked bat goes from its stage: the next of the round, or the inspection."""
    stages = stages_of(bat)
    place = stages.index(Stage(bat.stage)) + 1
    return stages[place] if place < len(stages) else Stage.INSPECTION


def earlier_stages(bat: Bat) -> list[Stage]:
    """Return the stages of the round that the bat may be sent back to."""
    stages = stages_of(bat)
    return stages if bat.stage == Stage.INSPECTION else stages[: stages.index(Stage(bat.stage))]


@transaction.atomic
def begin(bat: Bat, *, by: User, at: datetime | None = None) -> Stage:
    """Bring the bat to the first stage of its round; an agreed commission starts with it."""
    if bat.commission.state == State.ACCEPTED:
        lifecycle.start(bat.commission, by=by, at=at)
    _require(can_begin(bat, by), "begin", bat)
    first = stages_of(bat)[0]
    _move(bat, "begin", first, by=by, at=at)
    return first


@transaction.atomic
def pass_on(bat: Bat, *, by: User, required: Required, at: datetime | None = None) -> Stage:
    """Send the bat on to the next stage of its round, or to the inspection after the last.

    Raises:
        Refused: ``not_done``, naming the steps and readings that the stage still asks for.
    """
    _require(may("pass_on", bat, by), "pass_on", bat)
    undone = missing(bat, required)
    if undone:
        raise Refused("not_done", what=undone.words())
    onward = next_stage(bat)
    _move(bat, "pass_on", onward, by=by, at=at)
    return onward


@transaction.atomic
def go_back(bat: Bat, *, to: Stage, by: User, reason: str, at: datetime | None = None) -> None:
    """Send the bat back to an earlier stage of its round; why is kept."""
    _require(may("go_back", bat, by), "go_back", bat)
    if to not in earlier_stages(bat):
        raise Refused("wrong_stage", what=(to,))
    if not reason.strip():
        raise Refused("reason_needed")
    _move(bat, "go_back", to, by=by, at=at, data={"reason": reason.strip()})


@transaction.atomic
def pass_inspection(
    bat: Bat,
    *,
    rows: Sequence[Mapping[str, Any]],
    in_tolerance: bool,
    by: User,
    reason: str = "",
    not_for_play: bool = False,
    at: datetime | None = None,
) -> Inspection:
    """Pass the finished bat: it gets its serial number, its round ends, the commission becomes ready.

    Raises:
        Refused: ``reason_needed`` for a bat out of tolerance without a written reason, ``consent_needed``
            where it is more off than the proposal allows and the player has not accepted that,
            ``mark_needed`` for one outside the Laws that does not carry the mark ``not_for_play``.
    """
    _require(can_pass_inspection(bat, by), "pass_inspection", bat)
    if not in_tolerance and not reason.strip():
        raise Refused("reason_needed")
    if not_accepted(bat, rows):
        raise Refused("consent_needed")
    if not not_for_play and any(row["key"] == "law" for row in rows):
        raise Refused("mark_needed")
    now = at or timezone.now()
    fields = {"finished_at": now, "serial": bat.serial or serial_for(bat, now)}
    data = {"serial": fields["serial"], "in_tolerance": in_tolerance}
    _move(bat, "pass_inspection", Stage.DONE, by=by, at=now, data=data, fields=fields)
    inspection = Inspection.objects.create(
        bat=bat,
        round=bat.round,
        rows=[dict(row) for row in rows],
        in_tolerance=in_tolerance,
        reason=reason.strip(),
        not_for_play=not_for_play,
        by=by,
        at=now,
    )
    bat.rounds.filter(number=bat.round).update(closed_at=now)
    refresh_search(bat.commission)
    if not bat.commission.bats.exclude(stage=Stage.DONE).exists():
        lifecycle.finish(bat.commission, by=by, at=now)
    return inspection


@transaction.atomic
def open_round(
    bat: Bat,
    *,
    cause: Cause,
    stages: Sequence[Stage],
    by: User,
    words: str = "",
    at: datetime | None = None,
) -> Round:
    """Let a finished bat go over the bench again, through the stages that it needs.

    For a rebuild the label of the old cleft is taken off; the round before keeps it in the journal.

    Raises:
        Refused: ``wrong_stage`` when the stages are none, unknown or out of order.
    """
    _require(can_open_round(bat, by), "open_round", bat)
    needed = [stage for stage in BENCH_STAGES if stage in stages]
    if not needed or list(stages) != needed:
        raise Refused("wrong_stage", what=tuple(stages))
    now = at or timezone.now()
    data = {"cause": cause, "stages": needed, "words": words, "cleft": bat.cleft_label}
    fields: dict[str, Any] = {"round": bat.round + 1}
    if cause == Cause.REBUILD:
        fields["cleft_label"] = ""
    _move(bat, "open_round", Stage.WAITING, by=by, at=now, data=data, fields=fields)
    opened = Round.objects.create(
        bat=bat, number=bat.round, cause=cause, stages=needed, words=words, opened_at=now
    )
    refresh_search(bat.commission)
    return opened


@transaction.atomic
def name_cleft(bat: Bat, label: str, *, by: User | None, at: datetime | None = None) -> None:
    """Write down which cleft the bat is cut from; the rack, which reserves it, calls this with it.

    ``by`` is None where the clock lays the cleft of a cancelled commission back.
    """
    now = at or timezone.now()
    written = Bat.objects.filter(pk=bat.pk, version=bat.version).update(
        cleft_label=label, version=F("version") + 1, changed_at=now
    )
    if not written:
        raise MovedOn
    _journal(bat, "name_cleft", bat.stage, bat.stage, by=by, at=now, data={"cleft": label})
    bat.version += 1
    bat.cleft_label = label
    refresh_search(bat.commission)


def write_down(
    bat: Bat, verb: str, *, by: User, data: Mapping[str, Any] | None = None, at: datetime | None = None
) -> JournalEntry:
    """Keep in the journal what happened to a bat without moving it."""
    return _journal(bat, verb, bat.stage, bat.stage, by=by, at=at or timezone.now(), data=data or {})


def serial_for(bat: Bat, finished: datetime) -> str:
    """Return the serial number of a bat: commission, year, and which bat of several."""
    letter = "" if bat.ordinal == 1 else f"-{bat.ordinal}"
    return f"{bat.commission.reference}-{timezone.localdate(finished):%y}{letter}"


def _move(
    bat: Bat,
    verb: str,
    to: Stage,
    *,
    by: User,
    at: datetime | None,
    data: Mapping[str, Any] | None = None,
    fields: Mapping[str, Any] | None = None,
) -> None:
    """Write the new stage and its journal entry: the only place that writes a bat's stage."""
    from_stages, to_stages = STAGE_MOVES[verb]
    if bat.stage not in from_stages or to not in to_stages:
        raise Refused("wrong_stage", what=(verb, bat.stage))
    now = at or timezone.now()
    changed = {"stage": to, "changed_at": now, **(fields or {})}
    written = Bat.objects.filter(pk=bat.pk, stage=bat.stage, version=bat.version).update(
        version=F("version") + 1, **changed
    )
    if not written:
        raise MovedOn
    # What the player was asked about the bat as it lay there means nothing once it has left.
    bat.consents.open().update(ended_at=now)
    _journal(bat, verb, bat.stage, to, by=by, at=now, data=data or {})
    bat.version += 1
    for name, value in changed.items():
        setattr(bat, name, value)


def _journal(
    bat: Bat,
    verb: str,
    from_stage: str,
    to_stage: str,
    *,
    by: User | None,
    at: datetime,
    data: Mapping[str, Any],
) -> JournalEntry:
    return JournalEntry.objects.create(
        commission=bat.commission,
        bat=bat,
        verb=verb,
        from_state=from_stage,
        to_state=to_stage,
        by=by,
        data={"round": bat.round, **data},
        at=at,
    )


def _require(allowed: bool, verb: str, bat: Bat) -> None:
    if not allowed:
        in_stage = bat.stage in STAGE_MOVES[verb][0] and bat.commission.state in COMMISSION_STATES[verb]
        raise Refused("not_yours" if in_stage else "wrong_stage", what=(verb, bat.stage))
