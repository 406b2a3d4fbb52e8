"""Editions of the Laws: since when each is in force, what it prints, and which one a day falls under.

Source: MCC, Laws of Cricket, 2017 Code: 3rd edition (in force from 1 October 2022) and 4th edition (in force
from 1 October 2026). What is new in the 4th: the face of a laminated blade is of one piece (B.7.1), and type
D, once for juniors in junior cricket, goes to the lower levels that a national body names, adult or junior.
"""

from datetime import date

from fitting.laws.limits import SHARES, SIZES, ShareLimit, SizeLimit
from fitting.laws.opening import GAUGE, GaugeOpening
from fitting.laws.types import (
    TYPES,
    BatType,
    LevelRules,
    PlayedType,
    TypeRules,
    fitting_types,
    played_types,
)
from fitting.sheets.book import Edition
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.record import Record
from fitting.sheets.values import Level


class LawsEdition(Record):
    """One edition: since when, its sizes, shares, gauge, types, and who may play which type."""

    year: Edition
    number: int
    in_force_from: date
    sizes: tuple[SizeLimit, ...]
    shares: tuple[ShareLimit, ...]
    gauge: tuple[GaugeOpening, ...]
    types: tuple[TypeRules, ...]
    levels: LevelRules

    def size(self, what: str) -> SizeLimit:
        """Return the limit for one size."""
        return next(limit for limit in self.sizes if limit.what == what)

    def share(self, what: str) -> ShareLimit:
        """Return the limit for one share."""
        return next(limit for limit in self.shares if limit.what == what)

    def other_material(self, level: Level | None) -> ShareLimit:
        """Return the most of other material in the handle that any type played at a level may have."""
        played = {one.letter for one in played_types(level, self.levels)}
        most = max(one.other_material_percent for one in self.types if one.letter in played)
        return ShareLimit(
            clause="B.2.3", what="other_material", percent=most, subject="handle", on_build_sheet=True
        )


# Both editions print the same numbers; they are kept apart so that a later one can differ.
EDITIONS: dict[Edition, LawsEdition] = {
    2022: LawsEdition(
        year=2022,
        number=3,
        in_force_from=date(2022, 10, 1),
        sizes=SIZES,
        shares=SHARES,
        gauge=GAUGE,
        types=TYPES,
        levels=LevelRules(
            most_pieces_of_laminated_blade=3, laminated_face_of_one_piece=False, type_d_levels=("junior",)
        ),
    ),
    2026: LawsEdition(
        year=2026,
        number=4,
        in_force_from=date(2026, 10, 1),
        sizes=SIZES,
        shares=SHARES,
        gauge=GAUGE,
        types=TYPES,
        levels=LevelRules(
            most_pieces_of_laminated_blade=3,
            laminated_face_of_one_piece=True,
            type_d_levels=("junior", "club"),
        ),
    ),
}


def edition_on(first_play: date | None, otherwise: Edition) -> Edition:
    """Return the edition in force on the day of first play; without a day, the book's."""
    if first_play is None:
        return otherwise
    return 2026 if first_play >= EDITIONS[2026].in_force_from else 2022


def types_of(build: BuildSheet, edition: Edition) -> tuple[BatType, ...]:
    """Return the types A to D that a bat fits; none of them means that it is no lawful bat at all.

    A blade of this program is always one uncoloured piece without cloth or insert, which every type takes:
    what is left to divide the types is the handle's other material (B.2.3). The sizes are the same for all.
    """
    return fitting_types(100 * build.handle.other_material.share, EDITIONS[edition].types)


def types_at(level: Level | None, edition: Edition) -> tuple[PlayedType, ...]:
    """Return the types that may be played at a level, and which of them the national body decides on."""
    return played_types(level, EDITIONS[edition].levels)
