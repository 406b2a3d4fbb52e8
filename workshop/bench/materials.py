"""What is taken from the store for a bat: glue, thread, oil, coverings, grips, by the steps they go with."""

import re
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext

from orders.commissions.bench_entries import keep_still
from orders.commissions.refusals import Refused
from orders.people.models import User
from workshop.bench.work import Work
from workshop.stock import supplies
from workshop.stock.models import Kind, Movement, Supply
from workshop.stock.words import amount_words

# Which step needs what of the store; a step that a maker moves takes its materials along.
KINDS_OF_STEP: dict[str, tuple[Kind, ...]] = {
    "glue_and_clamp": (Kind.GLUE,),
    "bind": (Kind.THREAD,),
    "oil": (Kind.OIL,),
    "coverings": (Kind.FILM, Kind.EDGE_TAPE, Kind.TOE_GUARD),
    "grip": (Kind.GRIP,),
}
_AMOUNT = re.compile(r"\d{1,6}([.,]\d{1,3})?", re.ASCII)


@dataclass(frozen=True)
class Material:
    """One thing that may be taken, as it is chosen: which batch, how much is left, until when it holds."""

    code: str
    words: str


@dataclass(frozen=True)
class Used:
    """One thing that was taken for the bat."""

    pk: int
    words: str
    by: str
    at: datetime


def kinds_at(work: Work) -> list[Kind]:
    """Return what kinds of supply the steps of the bat's stage need, in the order of the steps."""
    steps = work.stage_work.steps if work.stage_work else ()
    return [kind for step in steps for kind in KINDS_OF_STEP.get(step.key, ())]


def to_take(work: Work) -> list[Material]:
    """Return what the store has of those kinds that may be used today."""
    kinds = kinds_at(work)
    found = Supply.objects.usable(timezone.localdate()).filter(kind__in=kinds)
    return [
        Material(one.code, _words(one)) for one in sorted(found, key=lambda one: kinds.index(Kind(one.kind)))
    ]


def used(work: Work) -> list[Used]:
    """Return what was taken for the bat in this round, whatever stage it was in."""
    return [
        Used(
            row.pk, f"{_name(row.supply)}: {amount_words(-row.in_unit, row.supply.unit)}", row.by.name, row.at
        )
        for row in supplies.used_for(work.bat)
        if row.round == work.bat.round
    ]


@transaction.atomic
def take(work: Work, *, code: str, amount: str, by: User, at: datetime | None = None) -> Movement:
    """Take something from the store for the bat.

    Raises:
        Refused: ``no_supply``, ``amount`` for what is no number; StockRefused when the store has it not.
    """
    supply = Supply.objects.filter(code=code).first()
    if supply is None or supply.kind not in kinds_at(work):
        raise Refused("no_supply")
    if not _AMOUNT.fullmatch(amount.strip() or "0"):
        raise Refused("amount", what=(amount,))
    number = float((amount.strip() or "0").replace(",", "."))
    keep_still(work.bat, by, at=at or timezone.now())
    return supplies.use(supply, number, bat=work.bat, by=by, at=at)


@transaction.atomic
def give_back(work: Work, pk: int, *, by: User, at: datetime | None = None) -> None:
    """Put back into the store what was noted as taken for the bat in this round.

    Raises:
        Refused: ``no_supply`` when there is no such thing of this bat.
    """
    movement = next((one for one in supplies.used_for(work.bat) if one.pk == pk), None)
    if movement is None or movement.round != work.bat.round:
        raise Refused("no_supply")
    keep_still(work.bat, by, at=at or timezone.now())
    supplies.take_back(movement, by=by, at=at)


def _name(supply: Supply) -> str:
    named = f"{supply.get_kind_display()}: {supply}"
    return (
        gettext("%(name)s, batch %(batch)s") % {"name": named, "batch": supply.batch}
        if supply.batch
        else named
    )


def _words(supply: Supply) -> str:
    left = gettext("%(amount)s left") % {"amount": amount_words(supply.in_unit, supply.unit)}
    words = f"{_name(supply)} · {left}"
    if supply.use_by:
        words += " · " + gettext("use by %(day)s") % {"day": date_format(supply.use_by, "j M Y")}
    return words
