"""All bats that want a cleft against all clefts at once: who gets which, why, what else, and who none. Pure.

The cost matrix has a row a bat, a column a cleft and a column more for each bat: that of getting none. What
cannot be has a stated cost above all else, so that one sum is made least over the whole
(``scipy.optimize.linear_sum_assignment``). No model is called: see ``matching_costs``.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import linear_sum_assignment

from fitting.curve import FloatArray
from fitting.sheets.book_matching import MatchingBook
from workshop.matching_costs import BIT, FAULT_BITS, FAULTS, Clefts, Priced, Standing, Wanted, priced
from workshop.matching_marks import WAYS, BoolArray, IntArray, Way


@dataclass(frozen=True)
class Costs:
    """The whole matrix and what forbids each pair.

    Attributes:
        matrix: shape (n, m + n): the clefts, then a column of getting none for each bat.
        faults: bits of ``FAULTS``, shape (n, m).
        no_cleft: what getting none costs each bat, shape (n,).
    """

    matrix: FloatArray
    faults: IntArray
    no_cleft: FloatArray

    @property
    def clefts(self) -> int:
        """How many columns are clefts."""
        return int(self.faults.shape[1])


@dataclass(frozen=True)
class Pair:
    """One bat in one cleft.

    Attributes:
        bat: row of the bat; ``cleft`` row of the cleft.
        density_kg_m3: of the blade once pressed, with its spread.
        mass_g: of the finished bat, with the spread that the cleft's density and the work leave.
        peak_mm: where it will hit hardest, from the toe.
        way: how the cleft lies.
        marked: whether it has blemishes at all, so that the way matters.
        cost: the sum of ``parts``.
    """

    bat: int
    cleft: int
    density_kg_m3: float
    density_sd_kg_m3: float
    mass_g: float
    mass_sd_g: float
    peak_mm: float
    way: Way
    marked: bool
    cost: float
    parts: dict[str, float]


@dataclass(frozen=True)
class Other:
    """Another cleft that would do.

    Attributes:
        pair: the bat in it.
        more: what it costs more; less than nothing where the better one went to another bat.
        taken_by: row of the bat that has it now.
    """

    pair: Pair
    more: float
    taken_by: int | None


@dataclass(frozen=True)
class Assigned:
    """A bat with its cleft, and the others that would do, the best first."""

    pair: Pair
    others: tuple[Other, ...]
    could: int

    @property
    def second(self) -> Other | None:
        """The best other one."""
        return self.others[0] if self.others else None

    @property
    def free(self) -> Other | None:
        """The best other one that no bat has."""
        return next((other for other in self.others if other.taken_by is None), None)


@dataclass(frozen=True)
class Unmatched:
    """A bat without a cleft.

    Attributes:
        bat: its row.
        no_cleft: what that costs.
        fails: for how many clefts each requirement fails; a cleft may fail several.
        alone: for how many it is the only one that fails.
        could: how many clefts would do.
        others: the best of these, with the bats that have them now.
    """

    bat: int
    no_cleft: float
    fails: dict[str, int]
    alone: dict[str, int]
    could: int
    others: tuple[Other, ...]


@dataclass(frozen=True)
class Match:
    """The answer, in the order of the bats, and the sum that was made least."""

    assigned: tuple[Assigned, ...]
    unmatched: tuple[Unmatched, ...]
    total: float


def match(bats: Sequence[Wanted], clefts: Clefts, book: MatchingBook) -> Match:
    """Match all at once.

    Args:
        bats: those that want a cleft.
        clefts: those that are ready.
        book: what counts against a pair.
    """
    if not bats:
        return Match((), (), 0.0)
    standing = Standing.of(clefts, book)
    costs = costs_of(bats, clefts, standing, book)
    rows, columns = linear_sum_assignment(costs.matrix)
    total = float(costs.matrix[rows, columns].sum())
    teller = _Teller(bats, clefts, standing, book, costs, _owners(columns, costs.clefts))
    assigned = tuple(
        teller.assigned(bat, int(column)) for bat, column in enumerate(columns) if column < costs.clefts
    )
    unmatched = tuple(teller.unmatched(bat) for bat, column in enumerate(columns) if column >= costs.clefts)
    return Match(assigned, unmatched, total)


def costs_of(bats: Sequence[Wanted], clefts: Clefts, standing: Standing, book: MatchingBook) -> Costs:
    """Build the whole cost matrix, a bat's row at a time."""
    count, width = len(bats), len(clefts)
    matrix = np.full((count, width + count), book.forbidden_points, np.float64)
    faults: IntArray = np.zeros((count, width), FAULT_BITS)
    no_cleft = np.array([book.no_cleft(bat.days_left, proposed=bat.proposed) for bat in bats])
    for row, bat in enumerate(bats):
        found = priced(bat, clefts, standing, book, row=row)
        faults[row] = found.faults
        faults[row, bat.refused] |= BIT["refused"]
        np.copyto(matrix[row, :width], found.cost, where=faults[row] == 0)
    matrix[np.arange(count), width + np.arange(count)] = no_cleft
    return Costs(matrix, faults, no_cleft)


def choices(
    wanted: Wanted, clefts: Clefts, standing: Standing, book: MatchingBook, rows: IntArray, *, bat: int
) -> tuple[Pair, ...]:
    """Tell one bat in some clefts, in the order given."""
    found = priced(wanted, clefts.only(rows), standing.only(rows), book, row=bat)
    costs = found.cost
    marked = np.isin(rows, clefts.marks.marked)
    return tuple(
        _pair(found, at, float(costs[at]), bat=bat, cleft=int(row), marked=bool(marked[at]))
        for at, row in enumerate(rows)
    )


@dataclass(frozen=True)
class _Teller:
    """Tells of each bat what came out."""

    bats: Sequence[Wanted]
    clefts: Clefts
    standing: Standing
    book: MatchingBook
    costs: Costs
    owners: IntArray

    def assigned(self, bat: int, column: int) -> Assigned:
        """A bat that has a cleft."""
        best, could = self._best(bat, but=column)
        own, *others = self._pairs(bat, np.concatenate([[column], best]).astype(np.intp))
        told = tuple(self._other(pair, pair.cost - own.cost) for pair in others)
        return Assigned(own, told, could)

    def unmatched(self, bat: int) -> Unmatched:
        """A bat that has none."""
        best, could = self._best(bat)
        none = float(self.costs.no_cleft[bat])
        faults = self.costs.faults[bat]
        return Unmatched(
            bat=bat,
            no_cleft=none,
            fails=_counted(faults, lambda bit: (faults & bit) > 0),
            alone=_counted(faults, lambda bit: faults == bit),
            could=could,
            others=tuple(self._other(pair, pair.cost - none) for pair in self._pairs(bat, best)),
        )

    def _best(self, bat: int, but: int | None = None) -> tuple[IntArray, int]:
        """The cheapest clefts that would do, the cheapest free one among them, and how many would."""
        allowed = np.flatnonzero(self.costs.faults[bat] == 0)
        offered = allowed if but is None else allowed[allowed != but]
        costs, most = self.costs.matrix[bat, offered], self.book.offers_most
        if len(offered) > most:
            nearest = np.argpartition(costs, most)[:most]
            free = np.flatnonzero(self.owners[offered] < 0)
            if len(free):
                nearest = np.union1d(nearest, free[np.argmin(costs[free])])
            offered, costs = offered[nearest], costs[nearest]
        return offered[np.argsort(costs, kind="stable")], len(allowed)

    def _pairs(self, bat: int, rows: IntArray) -> tuple[Pair, ...]:
        if not len(rows):
            return ()
        return choices(self.bats[bat], self.clefts, self.standing, self.book, rows, bat=bat)

    def _other(self, pair: Pair, more: float) -> Other:
        owner = int(self.owners[pair.cleft])
        return Other(pair, more, None if owner < 0 else owner)


def _owners(columns: IntArray, clefts: int) -> IntArray:
    """Row of the bat that got each cleft, -1 where none did."""
    owners = np.full(clefts, -1, np.intp)
    got = columns < clefts
    owners[columns[got]] = np.flatnonzero(got)
    return owners


def _counted(faults: IntArray, failing: Callable[[int], BoolArray]) -> dict[str, int]:
    """How many clefts fail by each requirement, those that fail for none left out."""
    if not len(faults):
        return {}
    found = {fault: int(np.count_nonzero(failing(BIT[fault]))) for fault in FAULTS}
    return {fault: count for fault, count in found.items() if count}


def _pair(found: Priced, at: int, cost: float, *, bat: int, cleft: int, marked: bool) -> Pair:
    return Pair(
        bat=bat,
        cleft=cleft,
        density_kg_m3=float(found.density_kg_m3[at]),
        density_sd_kg_m3=float(found.density_sd_kg_m3[at]),
        mass_g=float(found.mass_g[at]),
        mass_sd_g=float(found.mass_sd_g[at]),
        peak_mm=float(found.peak_mm[at]),
        way=WAYS[found.way[at]],
        marked=marked,
        cost=cost,
        parts={part: float(points[at]) for part, points in found.parts.items()},
    )
