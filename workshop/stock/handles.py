"""Which handle suits a bat, and what can befall a handle: the table, the guards and the one writer."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone

from fitting.bat.parts import cuts_of, glue_g
from fitting.bat.weigh import heft
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from orders.commissions.models import Bat
from orders.commissions.models.commission import CLOSED_STATES
from orders.commissions.states import Cause
from orders.people.models import User
from workshop.stock.models import BOUND_STATES, Handle, HandleEntry, HandleState
from workshop.stock.refused import StockRefused

S = HandleState

# verb: (from states, to state). A glued handle comes out of its bat only to be thrown out.
TRANSITIONS: Mapping[str, tuple[frozenset[HandleState], HandleState]] = {
    "choose": (frozenset({S.IN_STOCK}), S.RESERVED),
    "lay_back": (frozenset({S.RESERVED}), S.IN_STOCK),
    "fit": (frozenset({S.RESERVED}), S.FITTED),
    "reject": (frozenset({S.IN_STOCK, S.RESERVED, S.FITTED}), S.REJECTED),
}


@dataclass(frozen=True)
class HandleChoice:
    """A free handle for a bat, and how far its raw mass is off what the bat wants, g."""

    handle: Handle
    wanted_g: float
    off_g: float


def can(verb: str, handle: Handle) -> bool:
    """Whether the state of the handle lets it."""
    return handle.state in TRANSITIONS[verb][0]


def wanted_raw_g(build: BuildSheet, book: Book) -> float:
    """Return the mass that a raw handle should have to become this bat's, g.

    The finished cane by the model, and what is lost in turning and splicing by the book (common practice, no
    source).
    """
    weighing = heft(build, book=book)
    handle_g = next(part.mass_g for part in weighing.parts if part.name == "handle")
    return handle_g - glue_g(cuts_of(build), book.materials) + book.costs.handle_turning_loss_g


def handles_for(build: BuildSheet, book: Book) -> list[HandleChoice]:
    """Return the free handles of the construction that the bat has, the nearest to its wanted mass first."""
    wanted = wanted_raw_g(build, book)
    found = [
        HandleChoice(handle, wanted_g=wanted, off_g=handle.mass_g - wanted)
        for handle in Handle.objects.free().filter(construction=build.handle.construction)
    ]
    return sorted(found, key=lambda one: (abs(one.off_g), one.handle.number))


def handle_of(bat: Bat) -> Handle | None:
    """Return the handle that the bat has now.

    A bat that is put right keeps the handle of the round before; a rebuilt one begins without.
    """
    begun = max(
        (one.number for one in bat.rounds.all() if one.cause != Cause.ADJUSTMENT and one.number <= bat.round),
        default=1,
    )
    found = Handle.objects.filter(bat=bat, round__gte=begun, round__lte=bat.round)
    return found.order_by("-round").first()


@transaction.atomic
def take_in(handle: Handle, *, by: User, at: datetime | None = None) -> Handle:
    """Put a new handle into stock.

    Raises StockRefused("number_taken") when another has its number.
    """
    try:
        with transaction.atomic():
            handle.save(force_insert=True)
    except IntegrityError as error:
        raise StockRefused("number_taken") from error
    _write_down(handle, "take_in", "", by, {"mass": handle.mass}, at)
    return handle


@transaction.atomic
def weigh_again(handle: Handle, *, mass: int, by: User, at: datetime | None = None) -> None:
    """Keep a new reading of the raw handle's mass (0.1 g); the old one stays in the history.

    Raises StockRefused: "not_now" once it is glued in or thrown out, "meanwhile" (somebody was quicker).
    """
    if handle.state not in (S.IN_STOCK, S.RESERVED):
        raise StockRefused("not_now")
    was = handle.mass
    _update(handle, mass=mass)
    _write_down(handle, "weigh", handle.state, by, {"mass": mass, "mass_before": was}, at)


@transaction.atomic
def choose_handle(handle: Handle, bat: Bat, *, by: User, at: datetime | None = None) -> None:
    """Reserve a handle for one bat's present round.

    Raises StockRefused: "not_now" (its state), "bat_has_one", "meanwhile" (somebody was quicker).
    """
    if Handle.objects.filter(bat=bat, round=bat.round).exists():
        raise StockRefused("bat_has_one")
    try:
        with transaction.atomic():
            _move(handle, "choose", by=by, data=_about(bat), at=at, bat=bat, round=bat.round)
    except IntegrityError as error:
        raise StockRefused("bat_has_one") from error


@transaction.atomic
def lay_back_handle(bat: Bat, *, by: User, words: str = "", at: datetime | None = None) -> None:
    """Take the handle that is reserved for a bat's present round, not yet glued in, back into stock.

    Raises StockRefused: "no_handle", "not_now" when it is glued in, "meanwhile" (somebody was quicker).
    """
    _lay_back(_of_round(bat), by=by, words=words, at=at)


@transaction.atomic
def lay_back_due(at: datetime | None = None) -> int:
    """Tidy: lay the handles back that were reserved for bats of commissions that are closed.

    Returns how many became free.
    """
    stranded = Handle.objects.filter(state=S.RESERVED, bat__commission__state__in=CLOSED_STATES)
    freed = 0
    for handle in stranded.select_related("bat__commission"):
        try:
            _lay_back(handle, by=None, words="", at=at)
        except StockRefused:
            continue  # laid back by someone else in this very moment
        freed += 1
    return freed


def _lay_back(handle: Handle, *, by: User | None, words: str, at: datetime | None) -> None:
    data = {**(_about(handle.bat) if handle.bat else {}), "words": words}
    _move(handle, "lay_back", by=by, data=data, at=at, bat=None, round=None)


@transaction.atomic
def fit_handle(bat: Bat, *, by: User, at: datetime | None = None) -> None:
    """Note that the handle of a bat's present round has been glued in.

    Raises StockRefused: "no_handle", "not_now" when it is in already, "meanwhile" (somebody was quicker).
    """
    _move(_of_round(bat), "fit", by=by, data=_about(bat), at=at)


@transaction.atomic
def reject_handle(handle: Handle, words: str, by: User, *, at: datetime | None = None) -> None:
    """Throw a handle out, from stock or out of its bat, and say why.

    Raises StockRefused: "needs_words", "not_now" when it is out already, "meanwhile" (somebody was quicker).
    """
    if not words.strip():
        raise StockRefused("needs_words")
    data = {**(_about(handle.bat) if handle.bat else {}), "words": words}
    _move(handle, "reject", by=by, data=data, at=at, bat=None, round=None)


def _of_round(bat: Bat) -> Handle:
    handle = Handle.objects.filter(bat=bat, round=bat.round, state__in=BOUND_STATES).first()
    if handle is None:
        raise StockRefused("no_handle")
    return handle


def _about(bat: Bat) -> dict[str, Any]:
    """Return what a handle's history keeps of its bat."""
    return {"bat": bat.code, "commission": bat.commission.reference}


def _move(
    handle: Handle, verb: str, *, by: User | None, data: dict[str, Any], at: datetime | None, **columns: Any
) -> None:
    from_states, to_state = TRANSITIONS[verb]
    if handle.state not in from_states:
        raise StockRefused("not_now")
    from_state = handle.state
    _update(handle, state=to_state, **columns)
    _write_down(handle, verb, from_state, by, data, at)


def _update(handle: Handle, **columns: Any) -> None:
    """Change a handle only if it still stands as it was read."""
    same = Handle.objects.filter(pk=handle.pk, version=handle.version, state=handle.state)
    if same.update(version=handle.version + 1, **columns) != 1:
        raise StockRefused("meanwhile")
    for name, value in {**columns, "version": handle.version + 1}.items():
        setattr(handle, name, value)


def _write_down(
    handle: Handle, verb: str, from_state: str, by: User | None, data: dict[str, Any], at: datetime | None
) -> None:
    HandleEntry.objects.create(
        handle=handle,
        verb=verb,
        from_state=from_state,
        to_state=handle.state,
        by=by,
        data=data,
        at=at or timezone.now(),
    )
