"""A finished bat against what was agreed: the rows of its last inspection in words."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from orders.commissions.models import Inspection
from orders.commissions.shown import Figure
from orders.words.measures import show_decimals, show_length, show_mass, show_mass_shortly
from orders.words.pickup import picks_up_like_mass_g
from orders.words.stages import measured_words

UNITS = {"g": "g", "mm": "mm", "kg_m2": "kg m²", "percent": "%", "seconds": "s", "count": ""}
# The numbers that stand large at the head of the record.
HEAD = ("mass", "balance", "length")
# What is read at every station of the blade.
AT_STATIONS = ("spine", "edge_left", "edge_right")


@dataclass(frozen=True)
class Row:
    """One number, agreed and built, in words."""

    what: str
    agreed: str
    allowed: str
    built: str
    off: str
    good: bool


@dataclass(frozen=True)
class StationRow:
    """What was read at one place along the blade: a cell for spine, left and right edge."""

    place: str
    cells: list[Row]


@dataclass(frozen=True)
class Built:
    """The whole inspection: single numbers, those along the blade, and how it was passed."""

    rows: list[Row]
    heads: list[str]
    stations: list[StationRow]
    in_tolerance: bool
    reason: str


def built_told(build: BuildSheet, inspection: Inspection | None, *, book: Book, staff: bool) -> Built:
    """Return an inspection in words; the pickup as a mass that people know, for staff in its own unit."""
    if inspection is None:
        return Built([], [], [], in_tolerance=False, reason="")
    along = [row for row in inspection.rows if row["key"] in AT_STATIONS]
    single = [row for row in inspection.rows if row["key"] not in AT_STATIONS]
    places = sorted({row["from_toe_mm"] for row in along})
    bench = book.bench
    return Built(
        rows=[
            _pickup_row(build, row, book) if row["key"] == "pickup" and not staff else _row(row, book)
            for row in single
        ],
        heads=[measured_words(key, bench) for key in AT_STATIONS],
        stations=[
            StationRow(
                show_length(place), [_row(row, book, unit="") for row in along if row["from_toe_mm"] == place]
            )
            for place in places
        ],
        in_tolerance=inspection.in_tolerance,
        reason=inspection.reason,
    )


def _row(row: Mapping[str, Any], book: Book, *, unit: str | None = None) -> Row:
    unit = UNITS[row["unit"]] if unit is None else unit
    decimals = 4 if row["unit"] == "kg_m2" else 1
    off = row["off"]
    sign = "" if off is None else "+" if off > 0 else "−" if off < 0 else "±"
    return Row(
        what=measured_words(row["key"], book.bench, row["from_toe_mm"]),
        agreed=f"{show_decimals(row['agreed'], decimals)} {unit}".strip(),
        allowed=_("%(low)s to %(high)s")
        % {"low": show_decimals(row["low"], decimals), "high": show_decimals(row["high"], decimals)},
        built=_("not measured")
        if row["built"] is None
        else f"{show_decimals(row['built'], decimals)} {unit}".strip(),
        off="" if off is None else f"{sign}{show_decimals(abs(off), decimals)}",
        good=_speaks_for_it(row),
    )


def _pickup_row(build: BuildSheet, row: Mapping[str, Any], book: Book) -> Row:
    """Say the pickup as the mass of a bat that lifts the same."""

    def like(pickup: float) -> str:
        return show_mass(picks_up_like_mass_g(build, pickup, book))

    built, agreed = row["built"], row["agreed"]
    return Row(
        what=_("lifts like a bat of"),
        agreed=like(agreed),
        allowed=_("%(low)s to %(high)s") % {"low": like(row["low"]), "high": like(row["high"])},
        built=_("not measured") if built is None else like(built),
        off="",
        good=_speaks_for_it(row),
    )


def _speaks_for_it(row: Mapping[str, Any]) -> bool:
    """Whether a row speaks against nothing; a pickup that there was no rig for does not either."""
    return bool(row["in_tolerance"] or (row["built"] is None and row["key"] == "pickup"))


def built_figures(build: BuildSheet, inspection: Inspection | None, *, book: Book) -> list[Figure]:
    """Return the big numbers as read from the instruments, each with what was agreed."""
    if inspection is None:
        return []
    rows = {row["key"]: row for row in inspection.rows if row["from_toe_mm"] is None}
    names = {"mass": _("mass"), "balance": _("balance, from the toe"), "length": _("length over all")}
    found = []
    for key in HEAD:
        row = rows.get(key)
        if row is not None and row["built"] is not None:
            show = show_mass if key == "mass" else show_length
            note = _("agreed %(number)s") % {"number": show(row["agreed"])}
            if key == "mass":
                note = f"{show_mass(row['built'], 'imperial')} · {note}"
            found.append(Figure(show(row["built"]), names[key], note))
    pickup = rows.get("pickup")
    if pickup is not None and pickup["built"] is not None:
        found.append(_pickup_figure(build, pickup, book))
    return found


def _pickup_figure(build: BuildSheet, row: Mapping[str, Any], book: Book) -> Figure:
    like, agreed = (
        show_mass_shortly(picks_up_like_mass_g(build, row[key], book)) for key in ("built", "agreed")
    )
    return Figure(
        _("like a %(mass)s") % {"mass": like}, _("to pick up"), _("agreed %(number)s") % {"number": agreed}
    )
