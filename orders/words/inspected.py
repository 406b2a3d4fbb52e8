"""One row of a final inspection in words: what was agreed, what was built, how far it is off.

Rows are stored with the inspection, so a row that was kept earlier may lack what was added to rows later.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from orders.words.laws import law_what
from orders.words.measures import show_decimals, show_mass
from orders.words.pickup import picks_up_like_mass_g
from orders.words.stages import measured_words
from orders.words.sweet_spot import soft_place

UNITS = {"g": "g", "mm": "mm", "kg_m2": "kg m²", "percent": "%", "seconds": "s", "count": ""}


@dataclass(frozen=True)
class Row:
    """One number, agreed and built, in words; ``drawn`` is the agreed drawing's where the aim has moved."""

    what: str
    agreed: str
    allowed: str
    built: str
    off: str
    good: bool
    drawn: str = ""


def row_words(
    row: Mapping[str, Any], build: BuildSheet, book: Book, *, staff: bool, unit: str | None = None
) -> Row:
    """Say a row; the pickup as a mass that people know, for staff in its own unit.

    Args:
        row: as it is stored.
        build: the bat that it is of.
        book: whose words of the bench and whose plain bat count.
        staff: whether it is read in the workshop.
        unit: written behind a number; that of the row if absent.
    """
    if row["key"] == "law":
        return _law_row(row)
    if row["key"] == "sweet_spot":
        return _sweet_spot_row(row)
    if row["key"] == "pickup" and not staff:
        return _pickup_row(build, row, book)
    unit = UNITS[row["unit"]] if unit is None else unit
    decimals = 4 if row["unit"] == "kg_m2" else 1
    drawn = row.get("drawn")
    return Row(
        what=measured_words(row["key"], book.bench, row["from_toe_mm"]),
        agreed=f"{show_decimals(row['agreed'], decimals)} {unit}".strip(),
        allowed=_span(show_decimals(row["low"], decimals), show_decimals(row["high"], decimals)),
        built=_built(row, f"{show_decimals(row['built'] or 0.0, decimals)} {unit}".strip()),
        off=signed(row["off"], decimals),
        good=speaks_for_it(row),
        drawn="" if drawn is None or drawn == row["agreed"] else show_decimals(drawn, decimals),
    )


def speaks_for_it(row: Mapping[str, Any]) -> bool:
    """Whether a row speaks against nothing; a pickup that there was no rig for does not either."""
    return bool(row["in_tolerance"] or (row["built"] is None and row["key"] in ("pickup", "sweet_spot")))


def row_line(row: Mapping[str, Any], build: BuildSheet, book: Book) -> str:
    """Say a row in one line, as in a letter."""
    said = row_words(row, build, book, staff=False)
    words = {"what": said.what[:1].upper() + said.what[1:], "built": said.built, "agreed": said.agreed}
    if row["key"] == "law":
        return _("%(what)s: %(agreed)s; it has %(built)s.") % words
    return _("%(what)s: agreed %(agreed)s (%(allowed)s); it has %(built)s.") % {
        **words,
        "allowed": said.allowed,
    }


def signed(off: float | None, decimals: int) -> str:
    """Write a difference with its sign."""
    if off is None:
        return ""
    sign = "+" if off > 0 else "−" if off < 0 else "±"
    return f"{sign}{show_decimals(abs(off), decimals)}"


def _span(low: str, high: str) -> str:
    return _("%(low)s to %(high)s") % {"low": low, "high": high}


def _built(row: Mapping[str, Any], words: str) -> str:
    return _("not measured") if row["built"] is None else words


def _pickup_row(build: BuildSheet, row: Mapping[str, Any], book: Book) -> Row:
    """Say the pickup as the mass of a bat that lifts the same."""

    def like(pickup: float) -> str:
        return show_mass(picks_up_like_mass_g(build, pickup, book))

    return Row(
        what=_("lifts like a bat of"),
        agreed=like(row["agreed"]),
        allowed=_span(like(row["low"]), like(row["high"])),
        built=_built(row, like(row["built"] or row["agreed"])),
        off="",
        good=speaks_for_it(row),
    )


def _sweet_spot_row(row: Mapping[str, Any]) -> Row:
    """Say where it hits hardest, no finer than it is known."""
    built = row["built"]
    return Row(
        what=_("hits hardest, from the toe, by the model"),
        agreed=_("about %(place)s") % {"place": soft_place(row["agreed"])},
        allowed=_span(*(show_decimals(row[end], 0) for end in ("low", "high"))),
        built=_built(row, _("about %(place)s") % {"place": soft_place(built or 0.0)}),
        off=signed(row["off"], 0),
        good=speaks_for_it(row),
    )


def _law_row(row: Mapping[str, Any]) -> Row:
    """Say what is outside the Laws; more than the limit is too much by any."""
    unit = UNITS[row["unit"]]
    limit = _("at most %(limit)s") % {"limit": f"{show_decimals(row['agreed'], 1)} {unit}"}
    return Row(
        what=_("%(what)s, by the Laws (%(clause)s)") % {"what": law_what(row), "clause": row["clause"]},
        agreed=limit,
        allowed=limit,
        built=f"{show_decimals(row['built'], 1)} {unit}",
        off=signed(row["off"], 1),
        good=False,
    )
