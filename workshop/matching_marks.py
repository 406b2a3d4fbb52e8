"""How a cleft may lie in a bat, so that none of its faults lies in the splice or where the ball is hit.

Pure arithmetic on arrays. A cleft is longer than the blade: what is over can be cut off at either end, either
end can be the toe and either broad side the face.
"""

from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from fitting.curve import FloatArray
from fitting.sheets.book_matching import MatchingBook

IntArray = NDArray[np.signedinteger[Any]]
BoolArray = NDArray[np.bool_]
FaceSide = Literal["a", "b"]
# Where a mark shows: the two broad sides, then the edges.
SIDES = ("a", "b", "edge_1", "edge_2")
_EDGE = 2
# Only to be seen, as long as they do not go through the wood.
LOOKS = frozenset({"speck", "stain", "butterfly"})
# Above whatever the points of one cleft's marks add up to.
_A_FAULT = 1e9


@dataclass(frozen=True)
class Way:
    """How a cleft lies: the end that is the toe, the side that is the face, where the surplus is cut off."""

    toe_end: Literal[1, 2]
    face_side: FaceSide
    surplus_at: Literal["shoulder", "toe"]


WAYS: tuple[Way, ...] = (
    Way(1, "a", "shoulder"),
    Way(1, "b", "shoulder"),
    Way(2, "a", "shoulder"),
    Way(2, "b", "shoulder"),
    Way(1, "a", "toe"),
    Way(1, "b", "toe"),
    Way(2, "a", "toe"),
    Way(2, "b", "toe"),
)


@dataclass(frozen=True)
class Marks:
    """Every blemish of the clefts, a row each, in mm as for ``workshop/rack/models.py``'s ``Blemish``.

    Attributes:
        marked: rows of the clefts that have any, in rising order.
        at: whose it is, as a place in ``marked``.
        side: place in ``SIDES``.
        from_end_mm: its middle from end 1.
        size_mm: how far it reaches along the wood.
        through: whether it goes through to the other side.
        looks: whether it is only to be seen (and does not go through).
    """

    marked: IntArray
    at: IntArray
    side: IntArray
    from_end_mm: FloatArray
    size_mm: FloatArray
    through: BoolArray
    looks: BoolArray

    @classmethod
    def of_clefts(
        cls,
        cleft: IntArray,
        *,
        side: IntArray,
        from_end_mm: FloatArray,
        size_mm: FloatArray,
        through: BoolArray,
        looks: BoolArray,
    ) -> "Marks":
        """Marks told by the row of the cleft that each is on."""
        marked, at = np.unique(cleft, return_inverse=True)
        return cls(marked, at.astype(np.intp), side, from_end_mm, size_mm, through, looks)

    @classmethod
    def none(cls) -> "Marks":
        """Clefts without any."""
        rows, numbers, answers = np.empty(0, np.intp), np.empty(0), np.empty(0, np.bool_)
        return cls(rows, rows, rows, numbers, numbers, answers, answers)

    def only(self, clefts: IntArray) -> "Marks":
        """The marks of some clefts, whose rows are counted anew in the order given."""
        wanted = np.flatnonzero(np.isin(self.marked, clefts))
        if not len(wanted):
            return Marks.none()
        kept = np.isin(self.at, wanted)
        order = np.argsort(clefts)
        rows = order[np.searchsorted(clefts, self.marked[self.at[kept]], sorter=order)]
        return Marks.of_clefts(
            rows,
            side=self.side[kept],
            from_end_mm=self.from_end_mm[kept],
            size_mm=self.size_mm[kept],
            through=self.through[kept],
            looks=self.looks[kept],
        )


@dataclass(frozen=True)
class Zones:
    """Of one bat, mm from the toe: its blade, its splice from where on, where the ball is hit."""

    blade_mm: float
    splice_from_mm: float
    reach_from_mm: float
    reach_to_mm: float
    rough_mm: float


@dataclass(frozen=True)
class Lying:
    """For each cleft: the best way it lies (a place in ``WAYS``), its points, whether no way will do."""

    way: IntArray
    points: FloatArray
    spoilt: BoolArray


def lie(marks: Marks, length_mm: FloatArray, zones: Zones, book: MatchingBook) -> Lying:
    """Try every way for every cleft that has marks.

    Args:
        marks: of all the clefts.
        length_mm: of each cleft.
        zones: of the bat.
        book: what marks cost.

    Returns:
        The way with the fewest faults in splice and hitting zone, then with the fewest points. A fault in
        the splice spoils the bat on whichever side it lies; one where the ball is hit when it shows on the
        face or on an edge, or goes through.
    """
    count = len(length_mm)
    way, points, spoilt = np.zeros(count, np.intp), np.zeros(count), np.zeros(count, np.bool_)
    if len(marks.marked):
        bad, cost = _tried(marks, length_mm[marks.marked], zones, book)
        best = np.argmin(bad * _A_FAULT + cost, axis=0)
        columns = np.arange(len(marks.marked))
        way[marks.marked] = best
        points[marks.marked] = cost[best, columns]
        spoilt[marks.marked] = bad[best, columns] > 0
    return Lying(way, points, spoilt)


def _tried(
    marks: Marks, length_mm: FloatArray, zones: Zones, book: MatchingBook
) -> tuple[FloatArray, FloatArray]:
    """Faults that spoil, and points, of each way (rows) and marked cleft (columns)."""
    count, whole = len(length_mm), length_mm[marks.at]
    surplus, half = whole - zones.blade_mm - zones.rough_mm, zones.rough_mm / 2
    reach = marks.size_mm / 2
    anywhere = marks.through | (marks.side >= _EDGE)
    faces = {side: anywhere | (marks.side == SIDES.index(side)) for side in ("a", "b")}
    bad, points = np.empty((len(WAYS), count)), np.empty((len(WAYS), count))
    for row, way in enumerate(WAYS):
        start = marks.from_end_mm if way.toe_end == 1 else whole - marks.from_end_mm
        x = start - half - (surplus if way.surplus_at == "toe" else 0.0)
        low, high = x - reach, x + reach
        inside = (high > 0) & (low < zones.blade_mm)
        on_face = faces[way.face_side]
        hit = on_face & (high > zones.reach_from_mm) & (low < zones.reach_to_mm)
        spoils = inside & ~marks.looks & (hit | (high > zones.splice_from_mm))
        each = np.where(marks.looks, book.looks_points * on_face, book.blemish_points)
        bad[row] = np.bincount(marks.at, spoils, count)
        points[row] = np.bincount(marks.at, each * (inside & ~spoils), count)
    return bad, points
