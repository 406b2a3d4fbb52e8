"""Bats without an owner: laid by, kept for a commission, sold, cut up. The one writer of their state."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any, get_args

from django.db import IntegrityError, transaction
from django.db.models import Max
from django.utils import timezone

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.values import LengthCode
from orders.commissions.models import Bat, Commission
from orders.commissions.models.commission import CLOSED_STATES
from orders.people.models import User
from workshop.rack.models import Cleft
from workshop.stock.models import StockBat, StockBatEntry, StockBatState
from workshop.stock.refused import StockRefused

S = StockBatState
LENGTH_CODES: tuple[str, ...] = get_args(LengthCode)

# verb: (from states, to state). What is sold or cut up does not come back.
TRANSITIONS: Mapping[str, tuple[frozenset[StockBatState], StockBatState]] = {
    "keep": (frozenset({S.ON_SHELF}), S.KEPT),
    "let_go": (frozenset({S.KEPT}), S.ON_SHELF),
    "sell": (frozenset({S.ON_SHELF, S.KEPT}), S.SOLD),
    "cut_up": (frozenset({S.ON_SHELF}), S.CUT_UP),
}
# Two who lay a bat by at the same moment ask for the same number.
ATTEMPTS = 20


def can(verb: str, stock_bat: StockBat) -> bool:
    """Whether the state of the bat lets it."""
    return stock_bat.state in TRANSITIONS[verb][0]


@transaction.atomic
def lay_by(
    *,
    kind: str,
    length_code: str,
    cleft: Cleft | None,
    bat: Bat | None,
    words: str,
    by: User,
    cost: int | None,
    build: BuildSheet | Mapping[str, Any] | None = None,
    mass: int | None = None,
    balance: int | None = None,
    price: int | None = None,
    grade: int | None = None,
    at: datetime | None = None,
) -> StockBat:
    """Put a bat without an owner on the shelf and give it the next number.

    Args:
        kind: a ``BatKind``: ``blank``, ``part_made`` or ``finished``.
        length_code: what length it is, or can become.
        cleft: the wood that it is of, where it is known; the grade is the cleft's unless one is given.
        bat: the bat that it was to be, or was.
        words: what it is and how it came here.
        by: who lays it by.
        cost: what is in it so far, smallest unit of the currency.
        build: its sheet, where there is one.
        mass: 0.1 g.
        balance: 0.1 mm from the toe.
        price: what is asked for it, smallest unit.
        grade: 1 to 4.
        at: when, now by default.

    Raises:
        StockRefused: "unknown_length", "needs_words".
    """
    if length_code not in LENGTH_CODES:
        raise StockRefused("unknown_length")
    if not words.strip():
        raise StockRefused("needs_words")
    sheet = build.model_dump(mode="json") if isinstance(build, BuildSheet) else build
    stock_bat = _numbered(
        StockBat(
            kind=kind,
            length_code=length_code,
            cleft=cleft,
            bat=bat,
            build=dict(sheet) if sheet is not None else None,
            mass=mass,
            balance=balance,
            grade=cleft.grade if grade is None and cleft else grade,
            cost=cost,
            price=price,
            words=words,
            laid_by_at=at or timezone.now(),
        )
    )
    data = {"words": words, **({"bat": bat.code} if bat else {})}
    _write_down(stock_bat, "lay_by", "", by, data, at)
    return stock_bat


@transaction.atomic
def keep_for(stock_bat: StockBat, commission: Commission, *, by: User, at: datetime | None = None) -> None:
    """Keep a bat of the shelf for one commission.

    Raises StockRefused: "not_now", "meanwhile" (somebody was quicker).
    """
    data = {"commission": commission.reference}
    _move(stock_bat, "keep", by=by, data=data, at=at, commission=commission)


@transaction.atomic
def let_go(stock_bat: StockBat, *, by: User | None, at: datetime | None = None) -> None:
    """Keep a bat for its commission no longer; it is on the shelf again.

    Raises StockRefused: "not_now", "meanwhile" (somebody was quicker).
    """
    kept = stock_bat.commission
    data = {"commission": kept.reference} if kept else {}
    _move(stock_bat, "let_go", by=by, data=data, at=at, commission=None)


@transaction.atomic
def let_go_due(at: datetime | None = None) -> int:
    """Tidy: put the bats on the shelf again that were kept for commissions that are closed.

    Returns how many.
    """
    freed = 0
    stranded = StockBat.objects.filter(state=S.KEPT, commission__state__in=CLOSED_STATES)
    for stock_bat in stranded.select_related("commission"):
        try:
            let_go(stock_bat, by=None, at=at)
        except StockRefused:
            continue  # let go, or sold, by someone else in this very moment
        freed += 1
    return freed


@transaction.atomic
def sell(
    stock_bat: StockBat, *, price: int | None, by: User, words: str = "", at: datetime | None = None
) -> None:
    """Note that a bat was sold: off the shelf, or to the commission that it was kept for.

    Args:
        stock_bat: on the shelf or kept.
        price: what was paid, smallest unit; None leaves what was asked.
        by: who sold it.
        words: to whom, as far as it is to be kept.
        at: when, now by default.

    Raises:
        StockRefused: "not_now", "meanwhile" (somebody was quicker).
    """
    paid = stock_bat.price if price is None else price
    data = {
        "words": words,
        **({"commission": stock_bat.commission.reference} if stock_bat.commission else {}),
    }
    _move(stock_bat, "sell", by=by, data=data, at=at, price=paid)


@transaction.atomic
def cut_up(stock_bat: StockBat, *, by: User, words: str, at: datetime | None = None) -> None:
    """Note that a bat was cut up, and what for.

    Raises StockRefused: "needs_words", "not_now", "meanwhile" (somebody was quicker).
    """
    if not words.strip():
        raise StockRefused("needs_words")
    _move(stock_bat, "cut_up", by=by, data={"words": words}, at=at)


def _numbered(stock_bat: StockBat) -> StockBat:
    for _attempt in range(ATTEMPTS):
        last = StockBat.objects.aggregate(last=Max("number"))["last"] or 0
        stock_bat.number = last + 1
        try:
            with transaction.atomic():
                stock_bat.save(force_insert=True)
        except IntegrityError:
            if not StockBat.objects.filter(number=stock_bat.number).exists():
                raise
        else:
            return stock_bat
    raise StockRefused("meanwhile")


def _move(
    stock_bat: StockBat,
    verb: str,
    *,
    by: User | None,
    data: dict[str, Any],
    at: datetime | None,
    **columns: Any,
) -> None:
    """Change the state only if the bat still stands as it was read, and write it down."""
    from_states, to_state = TRANSITIONS[verb]
    if stock_bat.state not in from_states:
        raise StockRefused("not_now")
    from_state = stock_bat.state
    columns = {**columns, "state": to_state, "version": stock_bat.version + 1}
    same = StockBat.objects.filter(pk=stock_bat.pk, version=stock_bat.version, state=from_state)
    if same.update(**columns) != 1:
        raise StockRefused("meanwhile")
    for name, value in columns.items():
        setattr(stock_bat, name, value)
    _write_down(stock_bat, verb, from_state, by, data, at)


def _write_down(
    stock_bat: StockBat,
    verb: str,
    from_state: str,
    by: User | None,
    data: dict[str, Any],
    at: datetime | None,
) -> None:
    StockBatEntry.objects.create(
        stock_bat=stock_bat,
        verb=verb,
        from_state=from_state,
        to_state=stock_bat.state,
        by=by,
        data=data,
        at=at or timezone.now(),
    )
