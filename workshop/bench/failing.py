"""Wood that fails at the bench: what becomes of it, what it costs, and the way back to another cleft.

Who works at the bench gives the wood up; the maker tells the player, in the same act or afterwards, with the
new cleft and the new days. What was agreed stays agreed: a smaller bat is asked for, never made silently.
"""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import models, transaction
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from fitting.sheets.build_sheet import BuildSheet
from orders.commissions import letters, promising, stages
from orders.commissions.bench_entries import give_up_entries, same_again
from orders.commissions.consents import ask_smaller
from orders.commissions.models import Bat, JournalEntry
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage, State
from orders.people.models import User
from workshop.bench.as_built import as_built
from workshop.bench.models import Coat, Orientation
from workshop.bench.spells import end_spells, free_for
from workshop.bench.work import Work, choose_cleft, readings_of, work_on
from workshop.rack import clefts
from workshop.rack.models import Cleft
from workshop.stock.handles import handle_of, lay_back_handle, reject_handle
from workshop.stock.models import BatKind, Cause, Handle, HandleState
from workshop.stock.scrap import cost_of_work, minutes_in, write_off
from workshop.stock.stock_bats import lay_by

# Up to here the piece is still a cleft that any smaller bat can be cut from; later it has a shape.
STILL_A_CLEFT = frozenset({Stage.CLEFT_SELECTION, Stage.PRESSING})
# The last of these that was read is the piece's mass.
WEIGHED = ("mass", "mass_dry", "blade_mass")


class Fate(models.TextChoices):
    """What becomes of wood that failed."""

    SCRAPPED = "scrapped", _("scrapped")
    SMALLER = "smaller", _("kept for a smaller bat")
    STOCK_BAT = "stock_bat", _("made on as a stock bat")
    BLANK = "blank", _("a blank for practice or tests")


@dataclass(frozen=True)
class Failure:
    """What failed and why, and what becomes of the wood; ``length_code`` is the bat that it still makes."""

    cause: Cause
    fate: Fate
    words: str
    length_code: str = ""


@dataclass(frozen=True)
class Telling:
    """What the player is told: the maker's words, by how many days the promise moves, the smaller bat."""

    words: str
    days: int = 0
    offer_smaller: bool = False


@dataclass(frozen=True)
class Loss:
    """What a failed piece has cost so far, smallest unit of the currency; None where no price is known."""

    wood: int | None
    handle: Handle | None
    minutes: int
    work: int

    @property
    def handle_price(self) -> int | None:
        """What the handle cost, where one is glued in."""
        return None if self.handle is None else self.handle.price

    @property
    def total(self) -> int:
        """All of it that is known."""
        return (self.wood or 0) + (self.handle_price or 0) + self.work


def can_fail(bat: Bat) -> bool:
    """Whether there is wood at the bench that could fail."""
    at_work = bat.is_being_worked_on or bat.stage == Stage.INSPECTION
    return at_work and bat.commission.state in (State.MAKING, State.MENDING)


def loss_of(bat: Bat, cleft: Cleft, *, at: datetime | None = None) -> Loss:
    """Return what would be lost with the bat's present wood."""
    handle = handle_of(bat)
    minutes = minutes_in(bat, until=at or timezone.now())
    return Loss(
        wood=cleft.cost,
        handle=handle if handle is not None and handle.state == HandleState.FITTED else None,
        minutes=minutes,
        work=cost_of_work(minutes),
    )


def untold(bat: Bat) -> JournalEntry | None:
    """Return the last failure of the bat's wood that its player has not been told of."""
    rows = bat.journal.filter(verb__in=("fail_wood", "tell_failed")).order_by("-pk")
    last = rows.first()
    return last if last is not None and last.verb == "fail_wood" else None


def needs_length(fate: str) -> bool:
    """Whether it has to be said which bat the wood still makes."""
    return fate in (Fate.SMALLER, Fate.STOCK_BAT, Fate.BLANK)


@transaction.atomic
def fail_wood(
    work: Work,
    failure: Failure,
    *,
    by: User,
    another: Cleft | None = None,
    telling: Telling | None = None,
    at: datetime | None = None,
) -> Work:
    """Give the bat's wood up, settle what becomes of it, and bring the bat back to cleft selection.

    Args:
        work: the bat.
        failure: what failed, and what becomes of the wood.
        by: who says so.
        another: the cleft that takes its place, if it is chosen at once; targets are solved for it.
        telling: what the player is told, where the maker does it at once.
        at: when; now if absent.

    Returns:
        The bat's work as it now stands.

    Raises:
        Refused: ``cleft_missing``, ``wrong_stage``, ``reason_needed`` without words, ``length_needed`` where
            the wood lives on as a bat and none is named; or what cleft, stock, promise and letter refuse.
    """
    bat = work.bat
    cleft = clefts.cleft_of_round(bat)
    if cleft is None:
        raise Refused("cleft_missing")
    if not can_fail(bat):
        raise Refused("wrong_stage", what=("fail_wood", bat.stage))
    if not failure.words.strip():
        raise Refused("reason_needed")
    if needs_length(failure.fate) and not failure.length_code:
        raise Refused("length_needed")
    now = at or timezone.now()
    free_for(bat, by)
    _settle(work, cleft, failure, by=by, at=now)
    _begin_anew(bat, by=by, at=now)
    data = {
        "cause": failure.cause.value,
        "fate": failure.fate.value,
        "length_code": failure.length_code,
        "cleft": cleft.label,
        "stage": bat.stage,
        "reason": failure.words.strip(),
    }
    stages.write_down(bat, "fail_wood", by=by, data=data, at=now)
    if bat.stage != Stage.CLEFT_SELECTION:
        stages.go_back(bat, to=Stage.CLEFT_SELECTION, by=by, reason=failure.words, at=now)
    fresh = work_on(bat)
    if another is not None:
        choose_cleft(fresh, another, by=by, at=now)
    if telling is not None:
        tell_player(bat, telling, by=by, at=now)
    return fresh


@transaction.atomic
def tell_player(bat: Bat, telling: Telling, *, by: User, at: datetime | None = None) -> None:
    """Tell the player that the wood failed, with the cleft that took its place and the days that move.

    Raises:
        Refused: ``not_yours`` for anyone but the maker, ``nothing_to_tell``, ``reason_needed`` without words,
            or what moving the promise refuses.
    """
    if not by.is_maker:
        raise Refused("not_yours")
    failed = untold(bat)
    if failed is None:
        raise Refused("nothing_to_tell")
    if not telling.words.strip():
        raise Refused("reason_needed")
    now = at or timezone.now()
    cause = Cause(failed.data["cause"])
    if telling.days:
        why = _("the willow failed: %(cause)s") % {"cause": cause.label}
        promising.move_promise(bat.commission, days=telling.days, why=str(why), by=by, at=now)
    smaller = failed.data["length_code"] if telling.offer_smaller else ""
    if smaller:
        ask_smaller(bat, length_code=smaller, words=telling.words, by=by, letter=False, at=now)
    letters.wood_failed(
        bat.commission,
        words=telling.words.strip(),
        cause=str(cause.label),
        cleft=bat.cleft_label,
        days=telling.days,
        smaller=smaller,
    )
    stages.write_down(bat, "tell_failed", by=by, at=now)


def _settle(work: Work, cleft: Cleft, failure: Failure, *, by: User, at: datetime) -> None:
    """Let the wood become what it becomes, and write off what is lost with it."""
    bat, stage, words = work.bat, work.bat.stage, failure.words.strip()
    loss = loss_of(bat, cleft, at=at)
    laid_by = _laid_by(work, cleft, failure, loss, by=by, at=at)
    back_on_rack = failure.fate == Fate.SMALLER and stage in STILL_A_CLEFT
    _free_handle(bat, loss, words, by=by, at=at)
    # Wood that lives on keeps its price, and what is laid by its work too; scrap takes all of it along.
    write_off(
        cause=failure.cause,
        cleft=cleft,
        bat=bat,
        stage=stage,
        words=words,
        by=by,
        minutes=0 if laid_by else loss.minutes,
        wood_cost=0 if laid_by or back_on_rack else _scrapped_cost(loss),
        at=at,
    )
    clefts.fail(cleft, "mark_smaller" if back_on_rack else "reject", by=by, words=words, at=at)


def _scrapped_cost(loss: Loss) -> int | None:
    """Return what wood and glued handle cost, None where neither has a price."""
    known = [price for price in (loss.wood, loss.handle_price) if price is not None]
    return sum(known) if known else None


def _laid_by(work: Work, cleft: Cleft, failure: Failure, loss: Loss, *, by: User, at: datetime) -> bool:
    """Put the piece on the shelf where it lives on as a bat without an owner."""
    stage = work.bat.stage
    if failure.fate == Fate.SCRAPPED or (failure.fate == Fate.SMALLER and stage in STILL_A_CLEFT):
        return False
    kind = BatKind.BLANK if failure.fate == Fate.BLANK else BatKind.PART_MADE
    if failure.fate == Fate.STOCK_BAT and stage == Stage.INSPECTION:
        kind = BatKind.FINISHED
    read = readings_of(work.bat)
    mass = next((read[key, None].value for key in WEIGHED if (key, None) in read), None)
    own = failure.length_code == work.build.length_code
    lay_by(
        kind=kind,
        length_code=failure.length_code,
        cleft=cleft,
        bat=work.bat,
        words=failure.words.strip(),
        by=by,
        cost=loss.total,
        build=_sheet_of(work) if own and failure.fate == Fate.STOCK_BAT else None,
        mass=mass,
        at=at,
    )
    return True


def _sheet_of(work: Work) -> BuildSheet:
    try:
        return as_built(work)
    except Refused:
        return work.targets


def _free_handle(bat: Bat, loss: Loss, words: str, *, by: User, at: datetime) -> None:
    """Part the bat from its handle: one that is glued in goes with the wood, another back into stock."""
    if loss.handle is not None:
        reject_handle(loss.handle, words, by, at=at)
        return
    handle = handle_of(bat)
    if handle is not None and handle.state == HandleState.RESERVED:
        lay_back_handle(bat, by=by, words=words, at=at)


def _begin_anew(bat: Bat, *, by: User, at: datetime) -> None:
    """Let nothing that was done and read on the failed wood count for the next piece."""
    give_up_entries(bat, by=by, at=at)
    kinds: tuple[Any, ...] = (Orientation, Coat)
    for kind in kinds:
        for row in kind.objects.standing().filter(bat=bat, round=bat.round):
            kind.objects.create(**same_again(row), by=by, at=at, takes_back=row)
    end_spells(bat, at=at)
