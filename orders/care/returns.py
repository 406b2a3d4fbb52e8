"""A bat that comes back: the verbs of its return, and the one writer of a return's state.

A return follows its commission: each verb here calls the commission's own verb in the same transaction.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone

from fitting.sheets.build_sheet import BuildSheet
from orders.care import letters
from orders.care.models import Return
from orders.commissions import lifecycle, stages
from orders.commissions.builds import add_build
from orders.commissions.models import Bat, BuildVersion, Commission, Round
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.states import BENCH_STAGES, Cause, Origin, Stage
from orders.messages.photographs import Picture, keep_picture
from orders.people.models import User

S, D = Return.State, Return.Decision

TRANSITIONS: dict[str, tuple[frozenset[str], str]] = {
    "adjust": (frozenset({S.ASKED}), S.DECIDED),
    "rebuild": (frozenset({S.ASKED}), S.DECIDED),
    "refund": (frozenset({S.ASKED}), S.CLOSED),
    "find_nothing": (frozenset({S.ASKED}), S.CLOSED),
    "deliver": (frozenset({S.DECIDED}), S.CLOSED),
}
DECISIONS: dict[str, str] = {
    "adjust": D.ADJUST,
    "rebuild": D.REBUILD,
    "refund": D.REFUND,
    "find_nothing": D.NOTHING_WRONG,
}
# No new wood: an adjusted bat stays the cleft it was cut from.
ADJUSTED_IN: tuple[Stage, ...] = BENCH_STAGES[1:]


def can_send_back(commission: Commission, by: User) -> bool:
    """Whether this bat may come back."""
    return lifecycle.can_send_back(commission, by)


def can_decide(found: Return, by: User) -> bool:
    """Whether it still waits for the maker's decision."""
    return found.state == S.ASKED and lifecycle.can_mend(found.commission, by)


@transaction.atomic
def send_back(
    commission: Commission,
    *,
    by: User,
    words: str,
    answers: Mapping[str, Any],
    pictures: Iterable[tuple[Picture, str]] = (),
    at: datetime | None = None,
) -> Return:
    """Let a delivered bat come back, with what its player says of it.

    Args:
        commission: as it was read.
        by: the holder, or the maker who writes it down for them.
        words: what is wrong, in the player's own words.
        answers: keys and numbers of the questions asked, see ``orders/words/returns.py``.
        pictures: photographs with a caption each.
        at: when; now if absent.

    Raises:
        Refused: wrong state or person, no words, or no bat.
        PhotographRefused: the commission has as many photographs as it may have.
    """
    now = at or timezone.now()
    if not words.strip():
        raise Refused("reason_needed")
    bat = commission.bats.first()
    if bat is None:
        raise Refused("not_now", what=("send_back", commission.state))
    try:
        with transaction.atomic():
            found = Return.objects.create(
                commission=commission,
                bat=bat,
                words=words.strip(),
                answers=dict(answers),
                asked_by=by,
                asked_at=now,
            )
    except IntegrityError:
        # One return of a bat at a time: somebody else's is not decided yet.
        raise Refused("not_now", what=("send_back", commission.state)) from None
    lifecycle.send_back(commission, by=by, data={"return": found.code}, at=now)
    for picture, caption in pictures:
        keep_picture(
            picture,
            commission=commission,
            bat=bat,
            by=by,
            stage=picture_mark(found),
            caption=caption,
            shown_to_player=True,
        )
    letters.came_back(found)
    return found


def picture_mark(found: Return) -> str:
    """Return the mark by which photographs that came with a return are known."""
    return f"return {found.code}"


@transaction.atomic
def adjust(
    found: Return,
    *,
    by: User,
    stages_needed: Sequence[Stage],
    words: str,
    to_do: str,
    build: BuildSheet | None = None,
    parent: BuildVersion | None = None,
    promised: tuple[date, date] | None = None,
    at: datetime | None = None,
) -> None:
    """Put the same wood right: back over the bench, through the stages that it needs.

    Args:
        found: the return as it was read.
        by: the maker.
        stages_needed: in their order; never cleft selection.
        words: to the player.
        to_do: to the bench, what is to be done.
        build: the build sheet that the bat shall have, where it changes; weighed and kept as adjusted.
        parent: the version it was made from.
        promised: the new range of dates.
        at: when; now if absent.

    Raises:
        Refused: ``wrong_stage`` for stages that no adjusted bat goes through; wrong state or person.
    """
    now = at or timezone.now()
    if not set(stages_needed) <= set(ADJUSTED_IN):
        raise Refused("wrong_stage", what=tuple(stages_needed))
    bat = _over_the_bench(
        found, "adjust", by=by, words=words, build=build, parent=parent, promised=promised, at=now
    )
    opened = stages.open_round(
        bat, cause=Cause.ADJUSTMENT, stages=stages_needed, by=by, words=to_do.strip(), at=now
    )
    _decided_for(found, "adjust", opened, by=by, words=words, at=now)


@transaction.atomic
def rebuild(
    found: Return,
    *,
    by: User,
    words: str,
    to_do: str = "",
    build: BuildSheet | None = None,
    parent: BuildVersion | None = None,
    promised: tuple[date, date] | None = None,
    at: datetime | None = None,
) -> None:
    """Make it again from another cleft: through every stage. Arguments as for ``adjust``."""
    now = at or timezone.now()
    bat = _over_the_bench(
        found, "rebuild", by=by, words=words, build=build, parent=parent, promised=promised, at=now
    )
    opened = stages.open_round(
        bat, cause=Cause.REBUILD, stages=BENCH_STAGES, by=by, words=to_do.strip(), at=now
    )
    _decided_for(found, "rebuild", opened, by=by, words=words, at=now)


def _decided_for(found: Return, verb: str, opened: Round, *, by: User, words: str, at: datetime) -> None:
    """Keep the decision with the round over the bench that it opened, and write to the player."""
    _move(
        found,
        verb,
        by=by,
        at=at,
        decision_words=words.strip(),
        stages=list(opened.stages),
        round=opened.number,
    )
    letters.decided(found)


@transaction.atomic
def refund(found: Return, *, by: User, amount: int, words: str, at: datetime | None = None) -> None:
    """Give money back, in the currency's smallest unit; the bat stays with the workshop.

    Raises:
        Refused: ``too_much`` for more than was agreed, or what ``lifecycle.refund`` refuses.
    """
    now = at or timezone.now()
    agreed = found.bat.agreed
    if amount <= 0 or agreed is None or amount > agreed.price:
        raise Refused("too_much")
    lifecycle.refund(found.commission, by=by, data={"return": found.code, "why": words.strip()}, at=now)
    _move(found, "refund", by=by, at=now, decision_words=words.strip(), refund=amount)
    letters.decided(found)


@transaction.atomic
def find_nothing(found: Return, *, by: User, words: str, at: datetime | None = None) -> None:
    """Send the bat to its player again as it is, saying why."""
    now = at or timezone.now()
    if not words.strip():
        raise Refused("reason_needed")
    data = {"return": found.code, "why": words.strip()}
    lifecycle.find_nothing(found.commission, by=by, data=data, at=now)
    _move(found, "find_nothing", by=by, at=now, decision_words=words.strip())
    letters.decided(found)


def close_with_delivery(commission: Commission, *, by: User, at: datetime) -> None:
    """Close the decided return of a bat that its player has again."""
    for found in commission.returns.filter(state=S.DECIDED):
        _move(found, "deliver", by=by, at=at)


def _over_the_bench(
    found: Return,
    verb: str,
    *,
    by: User,
    words: str,
    build: BuildSheet | None,
    parent: BuildVersion | None,
    promised: tuple[date, date] | None,
    at: datetime,
) -> Bat:
    """Keep the changed build sheet and move the commission; return the bat for its round to be opened."""
    if not words.strip():
        raise Refused("reason_needed")
    commission = found.commission
    if build is not None and lifecycle.can_mend(commission, by):
        add_build(commission, build, origin=Origin.ADJUSTED, by=by, parent=parent, note=words.strip(), at=at)
    data = {"return": found.code, "decision": DECISIONS[verb], "why": words.strip()}
    lifecycle.mend(commission, by=by, promised=promised, data=data, at=at)
    bat = found.bat
    bat.commission = commission
    return bat


def _move(found: Return, verb: str, *, by: User, at: datetime, **columns: Any) -> None:
    """Write the new state: the only place that writes a return's state."""
    from_states, to_state = TRANSITIONS[verb]
    if found.state not in from_states:
        raise Refused("not_now", what=(verb, found.state))
    changed: dict[str, Any] = {**columns, "state": to_state}
    if verb in DECISIONS:
        changed |= {"decision": DECISIONS[verb], "decided_by": by, "decided_at": at}
    if to_state == S.CLOSED:
        changed["closed_at"] = at
    if not Return.objects.filter(pk=found.pk, state=found.state).update(**changed):
        raise MovedOn
    for name, value in changed.items():
        setattr(found, name, value)
