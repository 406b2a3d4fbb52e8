"""What stands on the page of handle fitting: the handle from stock, the joint, the way to the last cuts."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils.translation import gettext

from orders.commissions.models import Reading
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.models import User
from orders.words.stages import measured_words
from workshop.bench.page import plain
from workshop.bench.reasons import over_limits
from workshop.bench.work import Typed, Work, keep_entries
from workshop.stock import handles
from workshop.stock.models import Handle, HandleState

MOST_SHOWN = 8
# The handle is chosen and glued in where these steps stand.
STEPS = ("weigh_handle", "cut_socket", "glue_and_clamp")
GLUED = "glue_and_clamp"


@dataclass(frozen=True)
class Chosen:
    """One free handle as it is offered."""

    code: str
    label: str
    mass_g: str
    springs: int
    line: str
    off: str


def context(work: Work) -> dict[str, Any]:
    """Return what the stage's own part of the page shows."""
    return {"overs": [_over(work, one) for one in over_limits(work)]}


def panel(work: Work) -> dict[str, Any]:
    """Return what is shown of the handle in the stages where it is chosen and glued in; else nothing."""
    steps = {step.key for step in work.stage_work.steps} if work.stage_work else set()
    if not steps.intersection(STEPS):
        return {"handle_panel": False}
    handle = handles.handle_of(work.bat)
    return {
        "handle_panel": True,
        "handle": handle,
        "handle_is_reserved": handle is not None and handle.state == HandleState.RESERVED,
        "handle_wanted": plain(round(handles.wanted_raw_g(work.build, work.book))),
        "handle_choices": [] if handle else _choices(work),
    }


def _choices(work: Work) -> list[Chosen]:
    return [
        Chosen(
            code=one.handle.code,
            label=one.handle.label,
            mass_g=plain(one.handle.mass_g),
            springs=one.handle.springs,
            line=one.handle.line,
            off=_off(one.off_g),
        )
        for one in handles.handles_for(work.build, work.book)[:MOST_SHOWN]
    ]


def _off(off_g: float) -> str:
    if abs(off_g) < 0.5:
        return gettext("on the mass that is wanted")
    words = gettext("%(off)s g over") if off_g > 0 else gettext("%(off)s g under")
    return words % {"off": f"{abs(off_g):.0f}"}


def _over(work: Work, one: Any) -> dict[str, Any]:
    return {
        "key": one.key,
        "what": measured_words(one.key, work.book.bench),
        "read": plain(one.value_mm),
        "limit": plain(one.limit_mm),
        "reason": one.reason,
    }


@transaction.atomic
def choose(work: Work, code: str, *, by: User, at: datetime | None = None) -> Handle:
    """Reserve a handle of the stock for the bat.

    Raises:
        Refused: ``no_handle_there``; StockRefused when it is no longer free.
    """
    handle = Handle.objects.filter(code=code).first()
    if handle is None:
        raise Refused("no_handle_there")
    handles.choose_handle(handle, work.bat, by=by, at=at)
    return handle


@transaction.atomic
def reject(work: Work, words: str, *, by: User, at: datetime | None = None) -> None:
    """Throw the bat's handle out, with the reason; another is to be chosen.

    Raises:
        Refused: ``no_handle_there`` when it has none; StockRefused without words.
    """
    handle = handles.handle_of(work.bat)
    if handle is None:
        raise Refused("no_handle_there")
    handles.reject_handle(handle, words, by, at=at)


@transaction.atomic
def glue_in(work: Work, *, by: User, at: datetime | None = None) -> None:
    """Note that the bat's handle is glued in for good, once the bat leaves the stage where that is done.

    A shop without such a step has it in when the bat leaves handle fitting.
    """
    handle, bat = handles.handle_of(work.bat), work.bat
    if handle is None or handle.state != HandleState.RESERVED or handle.round != bat.round:
        return
    glued = bat.steps.standing().filter(round=bat.round, step=GLUED).exists()
    if glued or bat.stage == Stage.HANDLE_FITTING:
        handles.fit_handle(bat, by=by, at=at)


@transaction.atomic
def keep_readings(work: Work, typed: Typed, *, by: User, at: datetime | None = None) -> list[Reading]:
    """Keep what was typed in a stage; the mass of a reserved handle is its mass in stock too."""
    kept = keep_entries(work, typed, by=by, at=at)
    weighed = next((row.value for row in kept if row.key == "handle_mass"), None)
    handle = handles.handle_of(work.bat) if weighed is not None else None
    if weighed is not None and handle is not None and handle.state == HandleState.RESERVED:
        handles.weigh_again(handle, mass=weighed, by=by, at=at)
    return kept
