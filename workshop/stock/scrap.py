"""Wood written off with what it cost, and what that comes to by cause and by load."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from decimal import ROUND_HALF_UP, Decimal

from babel.numbers import get_currency_precision
from django.db import transaction
from django.utils import timezone

from orders.commissions.book_in_force import book_in_force
from orders.commissions.models import Bat
from orders.people.models import User, Workshop
from workshop.bench.models import Spell
from workshop.rack.models import Cleft
from workshop.stock.models import Cause, Scrap
from workshop.stock.refused import StockRefused


@transaction.atomic
def write_off(
    *,
    cause: str,
    cleft: Cleft | None,
    bat: Bat | None,
    stage: str,
    words: str,
    by: User,
    minutes: int | None = None,
    wood_cost: int | None = None,
    at: datetime | None = None,
) -> Scrap:
    """Write wood off, with the work that is in it.

    Args:
        cause: a ``Cause``.
        cleft: the wood, where it is known.
        bat: the bat that it was to be.
        stage: where it failed; empty where it never came to the bench.
        words: what happened.
        by: who says so.
        minutes: work that was in it; None counts the spells since the bat was last written off.
        wood_cost: smallest unit of the currency; None is what the cleft cost.
        at: when, now by default.

    Raises:
        StockRefused: "needs_words".
    """
    if not words.strip():
        raise StockRefused("needs_words")
    moment = at or timezone.now()
    worked = minutes_in(bat, until=moment) if minutes is None and bat else minutes or 0
    return Scrap.objects.create(
        cause=Cause(cause),
        cleft=cleft,
        bat=bat,
        round=bat.round if bat else None,
        stage=stage,
        wood_cost=cleft.cost if wood_cost is None and cleft else wood_cost,
        minutes=worked,
        work_cost=cost_of_work(worked),
        words=words,
        by=by,
        at=moment,
    )


def minutes_in(bat: Bat, *, until: datetime) -> int:
    """Return the minutes that are in a bat's present wood: its spells since it was last written off."""
    last = Scrap.objects.filter(bat=bat, round=bat.round).order_by("-at").first()
    spells = Spell.objects.filter(bat=bat, round=bat.round)
    if last is not None:
        spells = spells.filter(began_at__gte=last.at)
    seconds = sum(((one.ended_at or until) - one.began_at).total_seconds() for one in spells)
    return max(0, round(seconds / 60))


def cost_of_work(minutes: int) -> int:
    """Return what so many minutes cost by the book's rate, smallest unit of the workshop's currency."""
    workshop = Workshop.objects.the_one()
    precision = get_currency_precision(workshop.currency) if workshop else 2
    rate = Decimal(str(book_in_force().costs.hour_rate)).scaleb(precision)
    return int((rate * minutes / 60).quantize(Decimal(1), ROUND_HALF_UP))


@dataclass(frozen=True)
class Sum:
    """What was lost under one heading: pieces, minutes, and money where it is known, smallest unit."""

    words: str
    pieces: int
    minutes: int
    wood_cost: int
    work_cost: int
    without_price: int

    @property
    def cost(self) -> int:
        """Wood and work together."""
        return self.wood_cost + self.work_cost


def by_cause(rows: Iterable[Scrap]) -> list[Sum]:
    """Return what was lost by each cause, in the list's order; causes without any are left out."""
    return _sums(rows, lambda row: str(Cause(row.cause).label), [str(label) for label in Cause.labels])


def by_load(rows: Iterable[Scrap], *, unnamed: str) -> list[Sum]:
    """Return what was lost of each load, the most pieces first; wood of no load under ``unnamed``."""
    rows = list(rows)
    found = _sums(rows, lambda row: str(row.cleft.load) if row.cleft and row.cleft.load else unnamed)
    return sorted(found, key=lambda one: (-one.pieces, one.words))


def _sums(rows: Iterable[Scrap], name: Callable[[Scrap], str], order: list[str] | None = None) -> list[Sum]:
    heaps: dict[str, list[Scrap]] = {words: [] for words in order or ()}
    for row in rows:
        heaps.setdefault(name(row), []).append(row)
    return [sum_of(words, heap) for words, heap in heaps.items() if heap]


def sum_of(words: str, rows: list[Scrap]) -> Sum:
    """Return what some rows come to together."""
    return Sum(
        words=words,
        pieces=len(rows),
        minutes=sum(row.minutes for row in rows),
        wood_cost=sum(row.wood_cost or 0 for row in rows),
        work_cost=sum(row.work_cost for row in rows),
        without_price=sum(row.wood_cost is None for row in rows),
    )
