"""A build sheet against the sizes of Law 5.7.1 to 5.7.3."""

from typing import Literal

from fitting.laws.editions import EDITIONS, LawsEdition, SizeLimit
from fitting.sheets.book import Book, Edition
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.record import Record
from fitting.sheets.values import LengthCode, Level

# 5.7.3 frees size 6 and smaller; the international playing conditions do not (ICC men's, July 2025).
_FREE_OF_HANDLE_SHARE: frozenset[LengthCode] = frozenset(
    {"size_1", "size_2", "size_3", "size_4", "size_5", "size_6"}
)


class LawRow(Record):
    """One clause met or missed; lengths in mm, margin positive inside the limit."""

    clause: str
    what: Literal["overall_length", "blade_width", "blade_depth", "edge", "handle_share"]
    value: float
    limit: float
    limit_as_printed: str
    margin: float
    unit: Literal["mm", "percent"]
    coverings: Literal["off", "on"]
    station_from_toe_mm: float | None
    passes: bool
    exempt: bool = False
    book_margin_kept: bool = True


def law_check(
    build: BuildSheet, *, level: Level | None, edition: Edition | None = None, book: Book = DEFAULT_BOOK
) -> tuple[LawRow, ...]:
    """Check the sizes of Law 5.7.1 to 5.7.3, coverings off; the edition defaults to the book's.

    A row passes when the value is not above the limit; ``book_margin_kept`` tells whether the maker's
    own margin inside the limit is kept as well.
    """
    laws = EDITIONS[edition or book.laws_edition]
    blade = build.blade
    overall = blade.length_mm + build.handle.length_mm
    deepest = max(blade.stations, key=lambda station: station.spine_mm)
    thickest = max(blade.stations, key=lambda station: station.edge_mm)
    margin = book.law_margin_mm
    return (
        _size_row(laws.size("overall_length"), overall, None, margin),
        _size_row(laws.size("blade_width"), blade.width_mm, None, margin),
        _size_row(laws.size("blade_depth"), deepest.spine_mm, deepest.from_toe_mm, margin),
        # a calliper on the edge does not find what the crown of the face takes away
        _size_row(laws.size("edge"), thickest.edge_mm - blade.face_crown_mm, thickest.from_toe_mm, margin),
        _share_row(laws, build, overall, level),
    )


def _size_row(limit: SizeLimit, value: float, station: float | None, margin: float) -> LawRow:
    inside = limit.mm - value
    return LawRow(
        clause=limit.clause,
        what=limit.what,
        value=value,
        limit=limit.mm,
        limit_as_printed=limit.as_printed,
        margin=inside,
        unit="mm",
        coverings="off",
        station_from_toe_mm=station,
        passes=inside >= -1e-9,
        book_margin_kept=inside >= margin - 1e-9,
    )


def _share_row(laws: LawsEdition, build: BuildSheet, overall: float, level: Level | None) -> LawRow:
    share = 100 * build.handle.length_mm / overall
    exempt = build.length_code in _FREE_OF_HANDLE_SHARE and level != "international"
    inside = laws.handle_share_percent - share
    return LawRow(
        clause="5.7.3",
        what="handle_share",
        value=share,
        limit=laws.handle_share_percent,
        limit_as_printed=f"{laws.handle_share_percent:g} %",
        margin=inside,
        unit="percent",
        coverings="off",
        station_from_toe_mm=None,
        passes=exempt or inside >= 0,
        exempt=exempt,
        book_margin_kept=True,
    )
