"""What moves the count of a supply; the one writer of its movements.

Amounts come in the supply's own unit (pieces, metres, grams) and are kept in tenths of it.
"""

from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils import timezone

from orders.commissions.models import Bat
from orders.people.models import User
from workshop.stock.models import Movement, Supply, SupplyUnit, Verb
from workshop.stock.refused import StockRefused

MOST = 100_000.0


def in_stock(kind: str) -> list[Supply]:
    """Return what is there of one kind: what may still be used before what is past its day."""
    return sorted(Supply.objects.there().filter(kind=kind), key=lambda one: one.is_past)


def used_for(bat: Bat) -> list[Movement]:
    """Return what was used for a bat and not taken back, in the order in which it was used."""
    found = Movement.objects.standing().filter(bat=bat, verb=Verb.USE)
    return list(found.select_related("supply", "by"))


def tenths_of(supply: Supply, amount: float) -> int:
    """Return an amount in tenths of the supply's unit.

    Raises StockRefused: "nothing" when it is not above 0, "not_whole" for a part of a piece or finer than a
    tenth, "too_much" beyond what any store holds.
    """
    if not 0 < amount <= MOST:
        raise StockRefused("nothing" if not amount > 0 else "too_much")
    tenths = round(amount * 10)
    if abs(amount * 10 - tenths) > 1e-6 or (supply.unit == SupplyUnit.PIECE and tenths % 10):
        raise StockRefused("not_whole")
    return tenths


@transaction.atomic
def enter(supply: Supply, amount: float, *, by: User, at: datetime | None = None) -> Supply:
    """Take a supply in that was not there before; with nothing of it there is no movement.

    Raises StockRefused: "not_whole", "too_much".
    """
    supply.left = 0
    supply.save(force_insert=True)
    if amount:
        take_in(supply, amount, by=by, at=at)
    return supply


@transaction.atomic
def take_in(
    supply: Supply, amount: float, *, by: User, words: str = "", at: datetime | None = None
) -> Movement:
    """Add what came.

    Raises StockRefused: "nothing", "not_whole", "too_much".
    """
    return _move(supply, Verb.TAKE_IN, tenths_of(supply, amount), by=by, words=words, at=at)


@transaction.atomic
def use(
    supply: Supply, amount: float, *, bat: Bat | None, by: User, words: str = "", at: datetime | None = None
) -> Movement:
    """Take away what was used for a bat; None when it was for none.

    Raises StockRefused: "past" when its day is over, "not_enough", "nothing", "not_whole", "too_much".
    """
    if supply.is_past_on(timezone.localdate(at)):
        raise StockRefused("past")
    about = {"bat": bat, "round": bat.round} if bat else {}
    return _move(supply, Verb.USE, -tenths_of(supply, amount), by=by, words=words, at=at, **about)


@transaction.atomic
def throw_out(supply: Supply, amount: float, *, by: User, words: str, at: datetime | None = None) -> Movement:
    """Take away what was thrown out, and say why.

    Raises StockRefused: "needs_words", "not_enough", "nothing", "not_whole", "too_much".
    """
    if not words.strip():
        raise StockRefused("needs_words")
    return _move(supply, Verb.THROW_OUT, -tenths_of(supply, amount), by=by, words=words, at=at)


@transaction.atomic
def count_anew(
    supply: Supply, counted: float, *, by: User, words: str = "", at: datetime | None = None
) -> Movement:
    """Set the count to what lies there; the difference is the movement.

    The count that the supply was read with is what was counted against.

    Raises StockRefused: "meanwhile" when something moved since it was read, "not_whole", "too_much".
    """
    tenths = tenths_of(supply, counted) if counted else 0
    difference, seen = tenths - supply.left, supply.left
    if Supply.objects.filter(pk=supply.pk, left=seen).update(left=tenths, version=F("version") + 1) != 1:
        raise StockRefused("meanwhile")
    return _write_down(supply, Verb.COUNT, difference, by=by, words=words, at=at)


@transaction.atomic
def take_back(movement: Movement, *, by: User, at: datetime | None = None) -> Movement:
    """Undo a movement by one the other way.

    Raises StockRefused: "taken_back" when it was taken back already or is itself a taking back,
    "not_enough" when what it brought has been used meanwhile.
    """
    if movement.takes_back_id or Movement.objects.filter(takes_back=movement).exists():
        raise StockRefused("taken_back")
    about = {"takes_back": movement, "bat": movement.bat, "round": movement.round}
    try:
        with transaction.atomic():
            return _move(movement.supply, Verb.TAKE_BACK, -movement.amount, by=by, at=at, words="", **about)
    except IntegrityError as error:
        raise StockRefused("taken_back") from error


@transaction.atomic
def change(supply: Supply, **columns: Any) -> None:
    """Change what is said of a supply (minimum, price, dates), never its count.

    Raises StockRefused("meanwhile") when somebody else changed it since it was read.
    """
    same = Supply.objects.filter(pk=supply.pk, version=supply.version)
    if same.update(version=supply.version + 1, **columns) != 1:
        raise StockRefused("meanwhile")
    supply.refresh_from_db()


def _move(
    supply: Supply, verb: Verb, tenths: int, *, by: User, at: datetime | None, words: str, **about: Any
) -> Movement:
    """Change the count by so much and write it down; the update itself holds the count against nothing."""
    enough = Supply.objects.filter(pk=supply.pk, left__gte=-tenths if tenths < 0 else 0)
    if enough.update(left=F("left") + tenths, version=F("version") + 1) != 1:
        raise StockRefused("not_enough")
    return _write_down(supply, verb, tenths, by=by, words=words, at=at, **about)


def _write_down(
    supply: Supply, verb: Verb, tenths: int, *, by: User, words: str, at: datetime | None, **about: Any
) -> Movement:
    supply.refresh_from_db(fields=["left", "version"])
    return Movement.objects.create(
        supply=supply, verb=verb, amount=tenths, by=by, words=words, at=at or timezone.now(), **about
    )
