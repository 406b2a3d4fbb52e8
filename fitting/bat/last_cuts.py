"""The smallest cut: where to take how much off a bat so that it lands on its mass and balance.

Cuts of spine and edge at every station are chosen so that mass, balance and the place that hits hardest come
out right and the blade is as near to its targets, and as little cut, as that allows: a small quadratic
programme in the cuts, with figures linear in them, solved anew about the bat that it found. Mass comes first,
then the peak, then the balance, each given up only as far as limits and the ones before it demand.

Wood cannot be put back, so nothing is ever taken below the trade's limits or the Laws, and a bat that is
too light already is told what can be added instead.
"""

from dataclasses import dataclass

import numpy as np
from pydantic import Field
from scipy.optimize import LinearConstraint, minimize

from fitting.bat.additions import Addition, additions_to
from fitting.bat.blade_room import TAPER_REACH_MM, BladeRoom
from fitting.bat.condition import Standing
from fitting.bat.outline import swell_from_toe_mm
from fitting.bat.weigh import weigh
from fitting.curve import FloatArray
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet, Station
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.record import Record
from fitting.sheets.weighing import Weighing

NOTHING_G = 1.0
"""A bat so little over its mass is left alone."""
CUT_GRAIN_MM = 0.05
"""Cuts are told to this."""
_TRIED_MM = 0.5
_ROUNDS = 3
_SIZE_COUNTS = 0.15
_EDGE_COUNTS = 1.3
_PEAK_SLACK, _BALANCE_SLACK = 40.0, 10.0
_SMOOTH = (0.05, 0.5, 5.0, 50.0)
_AT_LIMIT_MM = 0.03
_NOTABLE_TOE_MM = 0.3
_TINY = 1e-6


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


class CutPlan(Record):
    """The cuts, the bat after them, and what they could not reach.

    Attributes:
        cuts: at every station.
        room: the most that limits and a square top leave to be taken at every station.
        takes_g: what they take off.
        build, weighing: the finished bat after them.
        held: aims that are met: ``mass``, ``balance``, ``peak``.
        missed: aims that are not.
        stopped_by: stations where a limit holds the cut, each with the limit's key.
        short_g: how much too light the bat is as it stands, g; 0 where wood can be taken.
        can_be_added: what would make it heavier.
        warnings: ``no_way_back_toe`` (the toe below its target), ``at_the_limit``, ``below_target`` (by more
            than the book's tolerance).
    """

    cuts: tuple[StationCut, ...]
    room: tuple[StationCut, ...]
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
    standing: Standing,
    aims: Aims,
    *,
    aim: BuildSheet,
    book: Book = DEFAULT_BOOK,
    square_top_mm: float = 0.0,
    step_mm: float = CUT_GRAIN_MM,
) -> CutPlan:
    """Find the smallest cut that lands on mass and balance and keeps the sweet spot.

    Args:
        standing: where the bat stands.
        aims: what it should land on.
        aim: the shaping targets: depth left over them is taken first, and the warnings are told by them.
        book: its limits and margins.
        square_top_mm: length below the shoulder where nothing is cut yet.
        step_mm: what a hand can cut: every cut is a whole number of these, and what one loses by that the
            next one along the blade makes up for, so that the mass still comes out.

    Returns:
        The plan. Its mass is met within 1 g unless a limit or a bat too light already prevents it.
    """
    bench = _Bench(standing, aims, aim, book, square_top_mm, step_mm)
    over = standing.weighing.mass_g - aims.mass_g
    if over <= NOTHING_G:
        return bench.plan(np.zeros(2 * bench.count))
    return bench.plan(bench.solved(over))


@dataclass(frozen=True)
class _Figures:
    """Mass (g), balance and peak (mm from the toe) of one shape."""

    mass_g: float
    balance_mm: float
    peak_mm: float


class _Bench:
    """A bat that is to be cut: its depths, how far each may go, and what a millimetre does."""

    def __init__(
        self,
        standing: Standing,
        aims: Aims,
        aim: BuildSheet,
        book: Book,
        square_top_mm: float,
        step_mm: float,
    ) -> None:
        self.step_mm = step_mm
        self.standing, self.aims, self.aim, self.book = standing, aims, aim, book
        self.sheet = standing.after
        self.density = standing.weighing.density_kg_m3
        stations = self.sheet.blade.stations
        self.count = len(stations)
        self.x = np.array([station.from_toe_mm for station in stations])
        self.depths = np.array([s.spine_mm for s in stations] + [s.edge_mm for s in stations])
        self.room = BladeRoom.of(self.sheet, book)
        free = self.x < self.sheet.blade.length_mm - square_top_mm + CUT_GRAIN_MM
        self.most = np.where(np.tile(free, 2), np.clip(self.depths - self._least(), 0.0, None), 0.0)
        # A reading of the balance may have moved the forecast away from the model's own.
        self.moved_mm = standing.weighing.balance_from_toe_mm - self._weighed(self.sheet).balance_from_toe_mm

    def _least(self) -> FloatArray:
        """Spine and edge that the trade's limits leave at every station."""
        ease = self.room.tapers[0] * np.clip(1 - self.x / TAPER_REACH_MM, 0.0, None) ** 2
        thinnest, drawn = self.room.thinnest, self.room.drawn
        below = self.x < swell_from_toe_mm(self.sheet.blade)
        spine = thinnest.spine + np.where(below, ease, 0.0)
        edge = thinnest.edge + np.where(below, ease * drawn.edge / drawn.spine, 0.0)
        return np.concatenate([spine, edge])

    def solved(self, over_g: float) -> FloatArray:
        """The cuts that take so much off, mm: as smooth as the back's limits demand."""
        cuts = np.zeros(2 * self.count)
        for smooth in _SMOOTH:
            cuts = self._approached(over_g, smooth)
            if self.room.breach(self.cut(cuts)) is None:
                return cuts
        return self._held_back(cuts)

    def _held_back(self, cuts: FloatArray) -> FloatArray:
        """As much of some cuts as breaks no limit."""
        kept, beyond = 0.0, 1.0
        for _ in range(8):
            middle = (kept + beyond) / 2
            if self.room.breach(self.cut(cuts * middle)) is None:
                kept = middle
            else:
                beyond = middle
        return cuts * kept

    def _approached(self, over_g: float, smooth: float) -> FloatArray:
        """Solve with linear figures about the bat of the last solution."""
        cuts = np.zeros(2 * self.count)
        takes = over_g
        start = self._figures(self.sheet)
        for _ in range(_ROUNDS):
            figures, slopes = self._slopes(cuts)
            reach = float(np.clip(slopes[0] @ self.most, None, 0.0))
            takes = min(over_g, -0.999 * reach)
            linear = figures - slopes @ cuts
            # The mass is met on the line through the last solution, the others likewise.
            wanted_g = start.mass_g - takes
            cuts = self._programme(slopes, linear, wanted_g, smooth)
        return cuts

    def _programme(self, slopes: FloatArray, linear: FloatArray, mass_g: float, smooth: float) -> FloatArray:
        """The quadratic programme: cuts and how far balance and peak miss their bands."""
        count, aims = self.count, self.aims
        hessian, wished = self._wanted(smooth)

        def cost(values: FloatArray) -> tuple[float, FloatArray]:
            cuts, slack = values[: 2 * count], values[2 * count :]
            off = cuts - wished
            felt = hessian @ off
            slope = np.concatenate([felt, np.array([_PEAK_SLACK * slack[0], _BALANCE_SLACK * slack[1]])])
            total = off @ felt + _PEAK_SLACK * slack[0] ** 2 + _BALANCE_SLACK * slack[1] ** 2
            return float(total) / 2, slope

        mass_row = np.concatenate([slopes[0], np.zeros(2)])
        wanted_g = mass_g - linear[0]
        bands = np.zeros((4, 2 * count + 2))
        bands[:2, : 2 * count], bands[2:, : 2 * count] = slopes[1], slopes[2]
        bands[0, -1], bands[1, -1], bands[2, -2], bands[3, -2] = 1.0, -1.0, 1.0, -1.0
        balance, peak = aims.balance_from_toe_mm - linear[1], aims.peak_from_toe_mm - linear[2]
        low = [balance - aims.balance_tolerance_mm, -np.inf, peak - aims.peak_tolerance_mm, -np.inf]
        high = [np.inf, balance + aims.balance_tolerance_mm, np.inf, peak + aims.peak_tolerance_mm]
        bounds = [(0.0, float(most)) for most in self.most] + [(0.0, None)] * 2
        found = minimize(
            cost,
            np.concatenate([np.minimum(wished, self.most), np.zeros(2)]),
            jac=True,
            method="SLSQP",
            bounds=bounds,
            constraints=[
                LinearConstraint(mass_row[np.newaxis], wanted_g, wanted_g),
                LinearConstraint(bands, low, high),
            ],
            options={"maxiter": 200, "ftol": 1e-9},
        )
        return np.clip(np.asarray(found.x[: 2 * count]), 0.0, self.most)

    def _wanted(self, smooth: float) -> tuple[FloatArray, FloatArray]:
        """Hessian of the cost and the cuts that it would choose freely: what is left over the targets."""
        spread = np.gradient(self.x) / self.sheet.blade.length_mm * self.count
        weight = np.concatenate([spread, _EDGE_COUNTS * spread])
        left = np.clip(self.depths - self._targets(), 0.0, None)
        second = np.diff(np.eye(self.count), 2, axis=0)
        rough = smooth * second.T @ second
        hessian = np.diag(weight * (1 + _SIZE_COUNTS))
        hessian[: self.count, : self.count] += rough
        hessian[self.count :, self.count :] += rough
        return hessian, left / (1 + _SIZE_COUNTS)

    def _targets(self) -> FloatArray:
        """Depths of the targets at this blade's stations."""
        return np.concatenate(
            [np.interp(self.x, *_along(self.aim, name)) for name in ("spine_mm", "edge_mm")]
        )

    def _slopes(self, cuts: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Mass, balance and peak of a cut bat, and what another millimetre of every cut does to them."""
        here = _row(self._figures(self.cut(cuts)))
        slopes = np.zeros((3, 2 * self.count))
        for number in np.flatnonzero(self.most > 0):
            more = cuts.copy()
            more[number] += _TRIED_MM
            slopes[:, number] = (_row(self._figures(self.cut(more))) - here) / _TRIED_MM
        return here, slopes

    def cut(self, cuts: FloatArray) -> BuildSheet:
        """The sheet after some cuts; an edge is never left above the spine."""
        depths = self.depths - cuts
        stations = tuple(
            Station.model_construct(
                from_toe_mm=station.from_toe_mm,
                spine_mm=float(spine),
                edge_mm=float(min(edge, spine)),
                scallop=station.scallop,
            )
            for station, spine, edge in zip(
                self.sheet.blade.stations, depths[: self.count], depths[self.count :], strict=True
            )
        )
        blade = self.sheet.blade.model_copy(update={"stations": stations})
        return self.sheet.model_copy(update={"blade": blade})

    def _weighed(self, sheet: BuildSheet) -> Weighing:
        return weigh(sheet, book=self.book, density_kg_m3=self.density)

    def _figures(self, sheet: BuildSheet) -> _Figures:
        weighing = self._weighed(sheet)
        return _Figures(weighing.mass_g, weighing.balance_from_toe_mm + self.moved_mm, _peak_of(weighing))

    def plan(self, exact: FloatArray) -> CutPlan:
        """The plan of some cuts, in whole steps."""
        cuts = self._in_steps(exact)
        sheet, before = self.cut(cuts), self.standing.weighing
        weighing = self._weighed(sheet)
        weighing = weighing.model_copy(
            update={
                "balance_from_toe_mm": weighing.balance_from_toe_mm + self.moved_mm,
                "mass_sd_g": before.mass_sd_g,
                "balance_sd_mm": before.balance_sd_mm,
                "pickup_sd_kg_m2": before.pickup_sd_kg_m2,
            }
        )
        met = self._met(weighing)
        stopped = self._stopped_by(cuts)
        short = max(self.aims.mass_g - before.mass_g, 0.0)
        return CutPlan(
            cuts=self._at_stations(cuts),
            room=self._at_stations(self.most),
            takes_g=before.mass_g - weighing.mass_g,
            build=sheet,
            weighing=weighing,
            held=tuple(name for name, good in met.items() if good),
            missed=tuple(name for name, good in met.items() if not good),
            stopped_by=stopped,
            short_g=short,
            can_be_added=additions_to(sheet, self.density, self.book) if short > NOTHING_G else (),
            warnings=self._warnings(cuts, stopped),
        )

    def _in_steps(self, exact: FloatArray) -> FloatArray:
        """Cuts in whole steps that take off as much as the exact ones, carried on from station to station."""
        if not exact.any():
            return exact
        grams, carried = -self._slopes(exact)[1][0], 0.0
        cuts = np.zeros_like(exact)
        # Along the blade, spine and edge of a station one after the other.
        for number in np.arange(2 * self.count).reshape(2, self.count).T.ravel():
            if grams[number] <= 0:
                continue
            wanted = exact[number] + carried / grams[number]
            steps = np.floor(min(wanted + self.step_mm / 2, self.most[number]) / self.step_mm + _TINY)
            cuts[number] = max(steps, 0.0) * self.step_mm
            carried = (wanted - cuts[number]) * grams[number]
        return cuts

    def _at_stations(self, depths: FloatArray) -> tuple[StationCut, ...]:
        """Depths of spine and edge by their stations."""
        return tuple(
            StationCut(from_toe_mm=float(x), spine_mm=round(float(s), 2), edge_mm=round(float(e), 2))
            for x, s, e in zip(self.x, depths[: self.count], depths[self.count :], strict=True)
        )

    def _met(self, weighing: Weighing) -> dict[str, bool]:
        aims = self.aims
        return {
            "mass": abs(weighing.mass_g - aims.mass_g) <= aims.mass_tolerance_g,
            "peak": abs(_peak_of(weighing) - aims.peak_from_toe_mm) <= aims.peak_tolerance_mm,
            "balance": abs(weighing.balance_from_toe_mm - aims.balance_from_toe_mm)
            <= aims.balance_tolerance_mm,
        }

    def _stopped_by(self, cuts: FloatArray) -> tuple[tuple[float, str], ...]:
        """Stations where a cut has come to the trade's limit."""
        if not cuts.any():
            return ()
        held = (cuts > 0) & (cuts > self.most - max(_AT_LIMIT_MM, self.step_mm))
        names = ["spine"] * self.count + ["edge"] * self.count
        places = np.tile(self.x, 2)
        return tuple(
            (float(places[number]), "toe" if places[number] == 0 else names[number])
            for number in np.flatnonzero(held)
        )

    def _warnings(self, cuts: FloatArray, stopped: tuple[tuple[float, str], ...]) -> tuple[str, ...]:
        targets = self._targets()
        under = np.where(cuts > 0, targets - (self.depths - cuts), 0.0)
        tolerance = self.book.bench.tolerances.spine_mm
        told = {
            "no_way_back_toe": max(under[0], under[self.count]) > _NOTABLE_TOE_MM,
            "at_the_limit": bool(stopped),
            "below_target": bool((under > tolerance).any()),
        }
        return tuple(name for name, holds in told.items() if holds)


def _along(sheet: BuildSheet, name: str) -> tuple[list[float], list[float]]:
    """Places and depths of a sheet's stations."""
    stations = sheet.blade.stations
    return [s.from_toe_mm for s in stations], [float(getattr(s, name)) for s in stations]


def _row(figures: _Figures) -> FloatArray:
    return np.array([figures.mass_g, figures.balance_mm, figures.peak_mm])


def _peak_of(weighing: Weighing) -> float:
    if weighing.sweet_spot is None:
        raise ValueError("a weighing with its sweet spot")
    return weighing.sweet_spot.peak_from_toe_mm
