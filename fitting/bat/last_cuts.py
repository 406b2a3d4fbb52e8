"""The smallest cut: where to take how much off a bat so that it lands on its mass and balance.

Wood cannot be put back, so nothing is ever taken below the trade's limits or the Laws, and a bat that is
too light already is told what can be added instead.
"""

from pydantic import Field

from fitting.bat.half_made import Standing
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.record import Record
from fitting.sheets.weighing import Weighing


class Aims(Record):
    """What a finished bat should land on."""

    mass_g: float = Field(gt=0)
    mass_tolerance_g: float = Field(ge=0)
    balance_from_toe_mm: float
    balance_tolerance_mm: float = Field(ge=0)
    peak_from_toe_mm: float
    peak_tolerance_mm: float = Field(ge=0)


class StationCut(Record):
    """What to take off the back at one station, mm; never below 0."""

    from_toe_mm: float
    spine_mm: float
    edge_mm: float


class Addition(Record):
    """What can still be put on a bat that is too light, and what it does."""

    key: str
    mass_g: float
    balance_mm: float
    pickup_share: float


class CutPlan(Record):
    """The cuts, the bat after them, and what they could not reach.

    Attributes:
        cuts: at every station.
        takes_g: what they take off.
        build, weighing: the finished bat after them.
        held: aims that are met: ``mass``, ``balance``, ``peak``.
        missed: aims that are not.
        stopped_by: stations where a limit holds the cut, each with the limit's key.
        short_g: how much too light the bat is as it stands, g; 0 where wood can be taken.
        can_be_added: what would make it heavier.
        warnings: ``no_way_back_toe``, ``at_the_limit``, ``below_target``.
    """

    cuts: tuple[StationCut, ...]
    takes_g: float
    build: BuildSheet
    weighing: Weighing
    held: tuple[str, ...]
    missed: tuple[str, ...]
    stopped_by: tuple[tuple[float, str], ...]
    short_g: float
    can_be_added: tuple[Addition, ...]
    warnings: tuple[str, ...]


def last_cuts(
    standing: Standing, aims: Aims, *, aim: BuildSheet, book: Book = DEFAULT_BOOK, square_top_mm: float = 0.0
) -> CutPlan:
    """Find the smallest cut that lands on mass and balance and keeps the sweet spot.

    Args:
        standing: where the bat stands.
        aims: what it should land on.
        aim: the shaping targets, which the warnings are told by.
        book: its limits and margins.
        square_top_mm: length below the shoulder where nothing is cut yet.
    """
    raise NotImplementedError
