"""A finished bat against what was agreed: the rows of its last inspection in words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext as _

from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from orders.commissions.models import Consent, Inspection
from orders.commissions.shown import Figure
from orders.commissions.states import About
from orders.words.inspected import Row, row_words
from orders.words.measures import show_length, show_mass, show_mass_shortly
from orders.words.pickup import picks_up_like_mass_g
from orders.words.questions import LENGTHS
from orders.words.stages import measured_words

# The numbers that stand large at the head of the record.
HEAD = ("mass", "balance", "length")
# What is read at every station of the blade.
AT_STATIONS = ("spine", "edge_left", "edge_right")


@dataclass(frozen=True)
class StationRow:
    """What was read at one place along the blade: a cell for spine, left and right edge."""

    place: str
    cells: list[Row]


@dataclass(frozen=True)
class ConsentTold:
    """What the player was asked, in words: the rows, or the smaller bat that the wood still makes."""

    consent: Consent
    rows: list[Row]
    smaller: str
    outside_laws: bool


@dataclass(frozen=True)
class RowsTold:
    """The rows of an inspection in words: single numbers, and those along the blade."""

    rows: list[Row]
    heads: list[str]
    stations: list[StationRow]


@dataclass(frozen=True)
class Built:
    """The whole inspection: single numbers, those along the blade, and how it was passed."""

    rows: list[Row]
    heads: list[str]
    stations: list[StationRow]
    in_tolerance: bool
    reason: str
    not_for_play: bool = False
    accepted: list[ConsentTold] = field(default_factory=list)

    @property
    def has_targets(self) -> bool:
        """Whether the blade was shaped to other numbers than the agreed drawing's, for its own willow."""
        return any(cell.drawn for station in self.stations for cell in station.cells)


def built_told(build: BuildSheet, inspection: Inspection | None, *, book: Book, staff: bool) -> Built:
    """Return an inspection in words; the pickup as a mass that people know, for staff in its own unit."""
    if inspection is None:
        return Built([], [], [], in_tolerance=False, reason="")
    told = rows_told(build, inspection.rows, book=book, staff=staff)
    return Built(
        rows=told.rows,
        heads=told.heads,
        stations=told.stations,
        in_tolerance=inspection.in_tolerance,
        reason=inspection.reason,
        not_for_play=inspection.not_for_play,
        accepted=[
            consent_told(consent, build, book)
            for consent in inspection.bat.consents.given().filter(
                round=inspection.round, about=About.AS_BUILT
            )
        ],
    )


def rows_told(build: BuildSheet, stored: Sequence[Mapping[str, Any]], *, book: Book, staff: bool) -> RowsTold:
    """Return the rows of an inspection in words, those along the blade by their places."""
    along = [row for row in stored if row["key"] in AT_STATIONS]
    single = [row for row in stored if row["key"] not in AT_STATIONS]
    places = sorted({row["from_toe_mm"] for row in along})

    def said(row: Mapping[str, Any], unit: str | None = None) -> Row:
        return row_words(row, build, book, staff=staff, unit=unit)

    return RowsTold(
        rows=[said(row) for row in single],
        heads=[measured_words(key, book.bench) for key in AT_STATIONS],
        stations=[
            StationRow(show_length(place), [said(row, "") for row in along if row["from_toe_mm"] == place])
            for place in places
        ],
    )


def consent_told(consent: Consent, build: BuildSheet, book: Book) -> ConsentTold:
    """Return a question to the player in words, with its answer where there is one."""
    return ConsentTold(
        consent=consent,
        rows=[row_words(row, build, book, staff=False) for row in consent.rows],
        smaller=str(LENGTHS[consent.length_code][0]) if consent.length_code else "",
        outside_laws=any(row["key"] == "law" for row in consent.rows),
    )


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
