"""A build sheet against everything in the Laws that a build sheet can break."""

from collections.abc import Iterator
from typing import Literal

import numpy as np

from fitting.bat.outline import Curves
from fitting.curve import FloatArray
from fitting.laws.editions import EDITIONS, LawsEdition, types_at, types_of
from fitting.laws.gauge import curves_along, through_gauge
from fitting.laws.limits import SizeLimit
from fitting.laws.opening import CLAUSE, Dimension, printed
from fitting.laws.types import BatType
from fitting.sheets.book import Book, Edition
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.record import Record
from fitting.sheets.values import LengthCode, Level

# 5.7.3 frees size 6 and smaller; the international playing conditions do not (ICC men's, July 2025).
_FREE_OF_HANDLE_SHARE: frozenset[LengthCode] = frozenset(
    {"size_1", "size_2", "size_3", "size_4", "size_5", "size_6"}
)
# What is left by rounding alone is none: 390 of 750 mm is 52 %.
_ROUNDING = 1e-9

What = Literal[
    "overall_length",
    "blade_width",
    "blade_depth",
    "edge",
    "handle_share",
    "face_film",
    "edge_tape",
    "toe_guard",
    "other_material",
    "other_material_reach",
    "gauge",
]


class LawRow(Record):
    """One clause met or missed; lengths in mm, margin positive inside the limit.

    ``decided_by_body`` is true where the bat passes only as a type that the national governing body has to
    have allowed at this level; ``types`` are the types played at the level that it fits. ``dimension`` is the
    one of the gauge that decides.
    """

    clause: str
    what: What
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
    decided_by_body: bool = False
    types: tuple[BatType, ...] = ()
    dimension: Dimension | None = None


def law_check(
    build: BuildSheet, *, level: Level | None, edition: Edition | None = None, book: Book = DEFAULT_BOOK
) -> tuple[LawRow, ...]:
    """Check sizes, coverings, the handle's other material and the gauge; the edition defaults to the book's.

    A row passes when the value is not above the limit; ``book_margin_kept`` tells whether the maker's own
    margin inside the limit is kept as well, by sizes and gauge alone: a covering of 1 mm at most has none.
    A covering that the bat does not have gets no row.
    """
    laws = EDITIONS[edition or book.laws_edition]
    along = curves_along(build)
    return (
        *_sizes(laws, build, along, book.law_margin_mm),
        _handle_share_row(laws, build, level),
        *_coverings(laws, build),
        *_other_material(laws, build, level, book.law_margin_mm),
        *_gauge(build, along, book.law_margin_mm),
    )


def _sizes(laws: LawsEdition, build: BuildSheet, along: Curves, margin: float) -> Iterator[LawRow]:
    """Check length, width, depth and edge along the whole blade, the scoop taken out.

    Between two stations a monotone cubic has no peak of its own, but with a scoop under it the difference
    may have one.
    """
    blade = build.blade
    overall = blade.length_mm + build.handle.length_mm
    yield _size_row(laws.size("overall_length"), "overall_length", overall, None, margin)
    widest = float(np.max(along.width))
    yield _size_row(laws.size("blade_width"), "blade_width", widest, None, margin)
    depth, at = _greatest(along.spine - along.scoop, along.x)
    yield _size_row(laws.size("blade_depth"), "blade_depth", depth, at, margin)
    # a calliper on the edge does not find what the crown of the face takes away
    edge, at = _greatest(along.edge - along.scoop - blade.face_crown_mm, along.x)
    yield _size_row(laws.size("edge"), "edge", edge, at, margin)


def _greatest(values: FloatArray, x: FloatArray) -> tuple[float, float]:
    place = int(np.argmax(values))
    return float(values[place]), float(x[place])


def _coverings(laws: LawsEdition, build: BuildSheet) -> Iterator[LawRow]:
    dress = build.protection
    if dress.face_film is not None:
        yield _covering_row(laws.size("covering"), "face_film", dress.face_film.thickness_mm)
    if dress.edge_tape is not None:
        yield _covering_row(laws.size("covering"), "edge_tape", dress.edge_tape.thickness_mm)
    if dress.toe_guard is not None:
        yield _covering_row(laws.size("toe_guard"), "toe_guard", dress.toe_guard.thickness_mm)


def _size_row(limit: SizeLimit, what: What, value: float, station: float | None, margin: float) -> LawRow:
    inside = limit.mm - value
    return LawRow(
        clause=limit.clause,
        what=what,
        value=value,
        limit=limit.mm,
        limit_as_printed=limit.as_printed,
        margin=inside,
        unit="mm",
        coverings="off",
        station_from_toe_mm=station,
        passes=inside >= -_ROUNDING,
        book_margin_kept=inside >= margin - _ROUNDING,
    )


def _covering_row(limit: SizeLimit, what: What, thickness_mm: float) -> LawRow:
    return _size_row(limit, what, thickness_mm, None, 0.0).model_copy(
        update={"coverings": "on", "book_margin_kept": True}
    )


def _handle_share_row(laws: LawsEdition, build: BuildSheet, level: Level | None) -> LawRow:
    limit = laws.share("handle_share")
    share = 100 * build.handle.length_mm / (build.blade.length_mm + build.handle.length_mm)
    exempt = build.length_code in _FREE_OF_HANDLE_SHARE and level != "international"
    return LawRow(
        clause=limit.clause,
        what="handle_share",
        value=share,
        limit=limit.percent,
        limit_as_printed=limit.as_printed,
        margin=limit.percent - share,
        unit="percent",
        coverings="off",
        station_from_toe_mm=None,
        passes=exempt or limit.percent - share >= -_ROUNDING,
        exempt=exempt,
    )


def _other_material(
    laws: LawsEdition, build: BuildSheet, level: Level | None, margin: float
) -> Iterator[LawRow]:
    """Check what is not cane, wood or twine in the handle: its share by the level's types, and its reach."""
    limit, other = laws.other_material(level), build.handle.other_material
    share = 100 * other.share
    fits = types_of(build, laws.year)
    played = [one for one in types_at(level, laws.year) if one.letter in fits]
    yield LawRow(
        clause=limit.clause,
        what="other_material",
        value=share,
        limit=limit.percent,
        limit_as_printed=limit.as_printed,
        margin=limit.percent - share,
        unit="percent",
        coverings="off",
        station_from_toe_mm=None,
        passes=bool(played),
        decided_by_body=bool(played) and all(one.decided_by_body for one in played),
        types=tuple(one.letter for one in played),
    )
    reach = other.reach_into_splice_mm if other.share > 0 else 0.0
    yield _size_row(laws.size("other_material_reach"), "other_material_reach", reach, None, margin)


def _gauge(build: BuildSheet, along: Curves, margin: float) -> Iterator[LawRow]:
    """Check the gauge: the value is what is printed less what is left, in the dimension that decides."""
    passages = through_gauge(build, along)
    coverings: tuple[Literal["off", "on"], ...] = ("off", "on")
    for covered, passage in zip(coverings, passages, strict=True):
        limit, as_printed = printed(passage.dimension)
        yield LawRow(
            clause=CLAUSE,
            what="gauge",
            dimension=passage.dimension,
            value=limit - passage.margin_mm,
            limit=limit,
            limit_as_printed=as_printed,
            margin=passage.margin_mm,
            unit="mm",
            coverings=covered,
            station_from_toe_mm=passage.from_toe_mm,
            passes=passage.margin_mm >= -_ROUNDING,
            book_margin_kept=passage.margin_mm >= margin - _ROUNDING,
        )
