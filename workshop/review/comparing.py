"""Two build sheets side by side: what differs, in grams and millimetres."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from django.utils.functional import Promise
from django.utils.translation import gettext as _

from fitting.bat.outline import edge, scallop, spine
from fitting.sheets.build_sheet import BuildSheet
from orders.words.fields import VALUES
from workshop.review.fields import fields_by_name, value_at

Text = str | Promise

# What is less than this nobody can make or measure.
SAME = 0.05


@dataclass(frozen=True)
class Row:
    """One quantity of two bats and the difference, worded."""

    what: str
    first: str
    second: str
    change: str


def changed_rows(first: BuildSheet, second: BuildSheet) -> tuple[Row, ...]:
    """Return every field in which two build sheets differ, stations by place."""
    old, new = first.model_dump(mode="json"), second.model_dump(mode="json")
    rows = []
    for name, field in fields_by_name().items():
        before, after = value_at(old, name), value_at(new, name)
        if before == after:
            continue
        rows.append(_field_row(str(field.label), before, after, str(field.unit)))
    return (*rows, *_station_rows(first, second))


def _field_row(what: str, before: Any, after: Any, unit: str) -> Row:
    numbers = isinstance(before, int | float) and isinstance(after, int | float)
    change = signed(after - before, unit, _decimals(before, after)) if numbers else _("other")
    return Row(what, _said(before, unit), _said(after, unit), change)


def _decimals(before: float, after: float) -> int:
    if isinstance(before, int) and isinstance(after, int):
        return 0
    return 5 if abs(after) < 1 else 1


def _station_rows(first: BuildSheet, second: BuildSheet) -> Iterator[Row]:
    """Compare depths at the places of both, each read off the other's curve where it has no station."""
    limit = min(first.blade.length_mm, second.blade.length_mm)
    places = sorted({s.from_toe_mm for sheet in (first, second) for s in sheet.blade.stations} | {limit})
    at = np.array([place for place in places if place <= limit])
    curves = ((_("spine at %(place)g"), spine, 1), (_("edge at %(place)g"), edge, 1))
    for words, curve, decimals in curves:
        for place, old, new in zip(at, curve(first.blade, at), curve(second.blade, at), strict=True):
            if abs(new - old) >= SAME:
                yield _row(words % {"place": place}, float(old), float(new), _("mm"), decimals)
    for place, old, new in zip(at, scallop(first.blade, at), scallop(second.blade, at), strict=True):
        if abs(new - old) >= 0.005:
            yield _row(_("scallop at %(place)g") % {"place": place}, float(old), float(new), "", 2)


def _row(what: str, old: float, new: float, unit: str, decimals: int) -> Row:
    return Row(
        what,
        f"{old:.{decimals}f} {unit}".strip(),
        f"{new:.{decimals}f} {unit}".strip(),
        signed(new - old, unit, decimals),
    )


def signed(change: float, unit: str, decimals: int) -> str:
    """Say a difference with its sign, or that there is none."""
    if round(change, decimals) == 0:
        return _("the same")
    number = f"{change:+.{decimals}f}".replace("-", "−")
    if decimals > 2:
        number = number.rstrip("0")
    return f"{number} {unit}".strip()


def _said(value: Any, unit: str) -> str:
    if value is None:
        return _("none")
    if isinstance(value, str):
        return str(VALUES.get(value, value))
    return f"{value:g} {unit}".strip()
