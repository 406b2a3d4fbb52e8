"""Clefts as the rows of a file, in the same columns as they are read from one."""

from collections.abc import Iterable, Iterator
from datetime import date

from orders.money.amounts import typed_price
from workshop.rack.columns import columns
from workshop.rack.models import Blemish, Cleft, CleftQuerySet
from workshop.rack.sheets import csv_table, workbook

Value = str | float | None
TENTHS = frozenset(
    {"length", "width_1", "width_2", "width_3", "depth_1", "depth_2", "depth_3", "mass", "moisture"}
)


def as_csv(clefts: CleftQuerySet, *, currency: str | None) -> bytes:
    """Return clefts as CSV; prices only where there is a currency to tell them in."""
    return csv_table(head(currency), rows_of(clefts, currency))


def as_workbook(clefts: CleftQuerySet, *, currency: str | None) -> bytes:
    """Return clefts as a workbook."""
    return workbook("clefts", head(currency), rows_of(clefts, currency))


def head(currency: str | None) -> list[str]:
    """Return the names of the columns."""
    return [column.name for column in columns(date.max, currency)]


def rows_of(clefts: CleftQuerySet, currency: str | None) -> Iterator[list[Value]]:
    """Yield a row a cleft, in the order of ``head``."""
    fields = [column.field for column in columns(date.max, currency)]
    for cleft in clefts.select_related("load").prefetch_related("blemishes"):
        yield [_value(cleft, field, currency) for field in fields]


def _value(cleft: Cleft, field: str, currency: str | None) -> Value:
    if field == "load":
        return cleft.load.name if cleft.load else ""
    if field == "grower":
        return cleft.load.grower if cleft.load else ""
    if field == "blemishes":
        return _blemishes(cleft.blemishes.all())
    value = getattr(cleft, field)
    if value is None:
        return ""
    if field == "price":
        return typed_price(value, currency or "")
    if field in TENTHS:
        return float(value) / 10
    if isinstance(value, date):
        return value.isoformat()
    return str(value).replace("\r\n", "\n") if isinstance(value, str) else int(value)


def _blemishes(found: Iterable[Blemish]) -> str:
    return "; ".join(
        f"{one.kind} {one.side} {one.from_end / 10:g} {one.across / 10:g} {one.size / 10:g}"
        + (" through" if one.through else "")
        for one in found
    )
