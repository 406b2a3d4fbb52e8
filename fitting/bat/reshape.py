"""One bat for one cleft: its stations solved anew so that it weighs what was promised and hits where asked.

Two unknowns that hardly disturb each other: how full the blade is, for the mass, and the taper of its lowest
150 mm, for the place that hits hardest (a millimetre of toe moves that by about a millimetre; shifting the
swell would be ill-conditioned, 75 mm of swell for 5 mm of peak). Fullness takes the hollow of the back first,
then depth, on the way to the thinnest or fullest blade of the same family that the trade's limits allow. The
swell stays where it is, and with it everything but stations and scallop.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from fitting.bat.blade_room import HOLLOW_PART, BladeRoom, Side, deepest_mm
from fitting.bat.reshaped import Barrier, CannotReshape, MassLine, Moved, Reshaped, WillowRange
from fitting.bat.weigh import solid_of, weigh
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.weighing import Weighing

PEAK_PER_TAPER = 0.8
"""Peak towards the toe for each millimetre of toe, mm: where the search for the taper begins."""
MASS_MET_G = 0.5
PEAK_MET_MM = 1.5
PEAK_SOFT_MM = 5.0
"""A peak this far off is still the sweet spot that was asked for: it is told to 5 mm."""
_ROUNDS = 4
_MASS_ROUNDS = 12
_NEAR_ROUNDS = 3
_HALVINGS = 9
DENSITIES_KG_M3 = (200.0, 800.0)
"""What a build sheet may ask of its willow."""
_TAPER_GRAIN_MM = 0.05
_MASS_GRAIN_G = 4.0
_FURTHER_KG_M3 = (0.0, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 128.0)
"""How far beyond the first estimate a density that does is looked for."""


def reshape(build: BuildSheet, density_kg_m3: float, mass_g: float, *, book: Book = DEFAULT_BOOK) -> Reshaped:
    """Re-shape a bat for one cleft.

    Args:
        build: the bat that was agreed; its sweet spot's ``peak_from_toe_mm`` is held, or where it has none
            the peak of its own shape at the middle of its band.
        density_kg_m3: of the pressed blade at the book's moisture.
        mass_g: wanted, finished.
        book: its limits and margins.

    Returns:
        The new sheet, its weighing with that willow, and the stations' moves. The mass is met within 0.5 g
        and the peak within 1.5 mm; where the toe's limits stop the taper earlier, within 5 mm.

    Raises:
        CannotReshape: with what stops it.
        ValueError: a density or a mass that is not a number above 0.
    """
    if not (np.isfinite([density_kg_m3, mass_g]).all() and density_kg_m3 > 0 and mass_g > 0):
        raise ValueError("density_kg_m3 and mass_g above 0")
    bench = _Bench.of(build, book)
    try:
        return bench.shaped(density_kg_m3, mass_g)
    except CannotReshape as stopped:
        barrier = stopped.barrier
    raise CannotReshape(barrier if barrier.stop == "peak" else bench.proven(barrier, density_kg_m3, mass_g))


def willow_range(build: BuildSheet, *, book: Book = DEFAULT_BOOK) -> WillowRange:
    """Tell which willow can become a bat at its target mass and with its sweet spot.

    The ends are found to 1 kg/m3. Arrays of clefts can then be matched by arithmetic alone: see ``MassLine``;
    the three shapes have the taper of the sheet.
    """
    bench, target = _Bench.of(build, book), build.mass_g.target
    room = bench.room
    thinnest, drawn, fullest = (
        _line(room, book, fullness) for fullness in (room.end(-1, 0.0), 0.0, room.end(1, 0.0))
    )
    light, dense = (
        float(np.clip(line.density_kg_m3(target), *DENSITIES_KG_M3)) for line in (fullest, thinnest)
    )
    does = bench.one_that_does(target, (drawn.density_kg_m3(target), *np.linspace(light, dense, 6).tolist()))
    return WillowRange(
        least_kg_m3=None if does is None else bench.last_that_does(target, does, light),
        most_kg_m3=None if does is None else bench.last_that_does(target, does, dense),
        thinnest=thinnest,
        as_drawn=drawn,
        fullest=fullest,
    )


@dataclass(frozen=True)
class _Try:
    """A bat shaped with one taper, and by how much it misses the peak."""

    fullness: float
    taper_mm: float
    missed_mm: float
    build: BuildSheet
    weighing: Weighing


@dataclass(frozen=True)
class _Bench:
    """One bat to be re-shaped: its room, and the peak that is held."""

    room: BladeRoom
    book: Book
    peak_mm: float

    @classmethod
    def of(cls, build: BuildSheet, book: Book) -> "_Bench":
        """Lay a bat on the bench; without a peak asked for, that of its shape as drawn is held."""
        asked = build.sweet_spot.peak_from_toe_mm
        peak = _peak_of(weigh(build, book=book)) if asked is None else asked
        return cls(BladeRoom.of(build, book), book, peak)

    def shaped(self, density: float, mass: float) -> Reshaped:
        """The bat of one cleft; what stops it is told by a first estimate."""
        search = _Search(self.room, self.book, density, mass)
        tries: list[_Try] = []
        try:
            self._approach(search, tries)
            return self._kept(search, min(tries, key=lambda one: abs(one.missed_mm)))
        except CannotReshape as stopped:
            tapers = [one.taper_mm for one in tries]
            if stopped.barrier.stop == "peak" or not any(tapers):
                raise
        # Where a taper spoils the back, what stops the bat is told of the toe as it was drawn.
        return self._kept(search, self._tried(search, search.fullness(0.0), 0.0))

    def _approach(self, search: "_Search", tries: list[_Try]) -> None:
        """Try tapers until the peak is met or no taper brings it nearer."""
        taper = 0.0
        for _ in range(_ROUNDS):
            fullness = search.fullness(taper)
            if (held := self.room.taper_within(taper, fullness)) != taper:
                taper, fullness = held, search.fullness(held)
            tries.append(self._tried(search, fullness, taper))
            if abs(tries[-1].missed_mm) <= PEAK_MET_MM:
                break
            taper = self.room.taper_within(_next_taper(tries), fullness)
            if any(abs(taper - one.taper_mm) < _TAPER_GRAIN_MM for one in tries):
                break

    def _tried(self, search: "_Search", fullness: float, taper: float) -> _Try:
        build = self.room.build_at(fullness, taper)
        weighing = weigh(build, book=self.book, density_kg_m3=search.density)
        return _Try(fullness, taper, _peak_of(weighing) - self.peak_mm, build, weighing)

    def _kept(self, search: "_Search", best: _Try) -> Reshaped:
        """The bat of a try, if it keeps every limit and hits near enough to where it should."""
        if (limit := self.room.breach(best.build)) is not None:
            raise CannotReshape(search.barrier(best.taper_mm, limit, best.fullness))
        if abs(best.missed_mm) > PEAK_SOFT_MM:
            raise CannotReshape(_peak_barrier(best))
        return Reshaped(build=best.build, weighing=best.weighing, moved=_moves(self.room.build, best.build))

    def stop_at(self, density: float, mass: float) -> Barrier | None:
        """What stops a bat of one density; None where it can be shaped."""
        try:
            self.shaped(density, mass)
        except CannotReshape as stopped:
            return stopped.barrier
        return None

    def proven(self, barrier: Barrier, density: float, mass: float) -> Barrier:
        """The same with a mass and a density that were tried: the taper they take moves the estimate."""
        side = 1.0 if barrier.stop == "too_light" else -1.0
        more = barrier.mass_g + side * _MASS_GRAIN_G
        if abs(mass - barrier.mass_g) > _MASS_GRAIN_G and self.stop_at(density, more) is None:
            barrier = self._eased(barrier, density, mass, more)
        if barrier.density_kg_m3 is None:
            return barrier
        estimate = barrier.density_kg_m3
        does = self.one_that_does(mass, (estimate + side * more for more in _FURTHER_KG_M3))
        if does is not None and abs(does - estimate) > 1.0:
            does = self.last_that_does(mass, does, estimate)
        elif does is not None and self.stop_at(does - 2 * side, mass) is None:
            does = self.last_that_does(mass, does - 2 * side, density)
        return barrier.model_copy(update={"density_kg_m3": does})

    def _eased(self, barrier: Barrier, density: float, beyond: float, does: float) -> Barrier:
        """A barrier nearer to the wanted mass, which lies beyond: the toe's taper can give a blade room."""
        wanted = beyond
        while abs(beyond - does) > _MASS_GRAIN_G / 2:
            middle = (beyond + does) / 2
            if self.stop_at(density, middle) is None:
                does = middle
            else:
                beyond = middle
        found = self.shaped(density, does)
        reached, allowed = found.weighing.mass_g, deepest_mm(found.build)
        missing = (barrier.spine_mm - barrier.spine_allowed_mm) / (wanted - barrier.mass_g)
        depths = {"spine_mm": allowed + missing * (wanted - reached), "spine_allowed_mm": allowed}
        return barrier.model_copy(update={"mass_g": reached, **depths})

    def one_that_does(self, mass: float, densities: Iterable[float]) -> float | None:
        """The first density that does."""
        inside = (one for one in densities if DENSITIES_KG_M3[0] <= one <= DENSITIES_KG_M3[1])
        return next((one for one in inside if self.stop_at(one, mass) is None), None)

    def last_that_does(self, mass: float, does: float, beyond: float) -> float:
        """The density furthest from one that does, towards one that the mass alone would still allow."""
        # Mostly the mass alone decides.
        nearly = beyond + float(np.sign(does - beyond))
        if abs(beyond - does) > 1.0 and self.stop_at(nearly, mass) is None:
            return nearly
        for _ in range(_HALVINGS):
            if abs(beyond - does) <= 1.0:
                break
            middle = (does + beyond) / 2
            if self.stop_at(middle, mass) is None:
                does = middle
            else:
                beyond = middle
        return does


class _Search:
    """How full a blade of one willow must be for a mass."""

    def __init__(self, room: BladeRoom, book: Book, density: float, wanted: float) -> None:
        self.room, self.book, self.density, self.wanted = room, book, density, wanted
        self.last: float | None = None
        self.slope = 1.0

    def over(self, fullness: float, taper: float) -> float:
        """Mass above the wanted one, g."""
        build = self.room.build_at(fullness, taper)
        return solid_of(build, self.book.materials, self.density, 12.0).whole.mass_g - self.wanted

    def fullness(self, taper: float) -> float:
        """Fullness that meets the mass: near the last one, else between the ends."""
        found = None if self.last is None else self._near_last(taper, self.last)
        self.last = self._between_ends(taper) if found is None else found
        return self.last

    def _near_last(self, taper: float, at: float) -> float | None:
        """Secant steps from the last answer by the last slope; None where they lead nowhere."""
        over = self.over(at, taper)
        for _ in range(_NEAR_ROUNDS):
            if abs(over) <= MASS_MET_G:
                return at
            following = float(np.clip(at - over / self.slope, -1, 1))
            if following == at:
                return None
            value = self.over(following, taper)
            if value == over:
                return None
            self.slope = (value - over) / (following - at)
            at, over = following, value
        return at if abs(over) <= MASS_MET_G else None

    def _between_ends(self, taper: float) -> float:
        """Where the mass is met, on one of the two stretches of the way: nearly straight each."""
        low, at_low = 0.0, self.over(0.0, taper)
        if abs(at_low) <= MASS_MET_G:
            return low
        side = 1.0 if at_low < 0 else -1.0
        for high in (HOLLOW_PART * side, side):
            at_high = self.over(high, taper)
            if abs(at_high) <= MASS_MET_G:
                return high
            if at_low * at_high < 0:
                return self._between(taper, (low, at_low), (high, at_high))
            low, at_low = high, at_high
        raise CannotReshape(self.barrier(taper, "blade"))

    def _between(self, taper: float, one: tuple[float, float], other: tuple[float, float]) -> float:
        """Regula falsi with the Illinois rule: the mass rises with the fullness all the way."""
        (low, at_low), (high, at_high) = one, other
        at = low
        for _ in range(_MASS_ROUNDS):
            self.slope = (at_high - at_low) / (high - low)
            at = low - at_low / self.slope
            value = self.over(at, taper)
            if abs(value) <= MASS_MET_G:
                break
            if value * at_high < 0:
                low, at_low = high, at_high
            else:
                at_low /= 2
            high, at_high = at, value
        return at

    def barrier(self, taper: float, limit: str, beyond: float | None = None) -> Barrier:
        """What stops a mass: the end of the way towards it, and what would do instead.

        A fullness that is known to break a limit lies beyond the end: the far end of the way may keep it.
        """
        side: Side = 1 if self.over(0.0, taper) < 0 else -1
        end = self.room.end(side, taper, beyond)
        line = _line(self.room, self.book, end, taper)
        shaped = self.room.build_at(end, taper)
        return Barrier(
            stop="too_light" if side > 0 else "too_dense",
            limit=self.room.limit_at(shaped, side) if limit == "blade" else limit,
            mass_g=line.mass_g(self.density),
            density_kg_m3=line.density_kg_m3(self.wanted),
            spine_mm=max(
                deepest_mm(shaped) + self._depth_missing(end, taper, line.mass_g(self.density)), 0.0
            ),
            spine_allowed_mm=deepest_mm(shaped),
            peak_from_toe_mm=None,
        )

    def _depth_missing(self, end: float, taper: float, mass: float) -> float:
        """By how much the swell would have to be deeper, the blade's whole depth in proportion, mm."""
        shaped = self.room.build_at(end, taper)
        deeper = self.room.deepened(shaped, 1.02)
        more = solid_of(deeper, self.book.materials, self.density, 12.0).whole.mass_g - mass
        return (self.wanted - mass) / more * 0.02 * deepest_mm(shaped)


def _line(room: BladeRoom, book: Book, fullness: float, taper: float = 0.0) -> MassLine:
    """Mass of one shape over the density: the willow's volume, and everything else."""
    bat = solid_of(room.build_at(fullness, taper), book.materials, 400.0, 12.0)
    # The oil goes by the blade's surface, not by its willow.
    willow = bat.bodies["blade"]
    return MassLine(volume_mm3=willow.mass_g * 1e6 / 400.0, other_g=bat.whole.mass_g - willow.mass_g)


def _peak_of(weighing: Weighing) -> float:
    if weighing.sweet_spot is None:
        raise ValueError("a weighing with a sweet spot")
    return weighing.sweet_spot.peak_from_toe_mm


def _next_taper(tries: list[_Try]) -> float:
    """Taper that should leave no miss, from the last two tries or the usual slope."""
    last, slope = tries[-1], -PEAK_PER_TAPER
    if len(tries) > 1 and last.taper_mm != tries[-2].taper_mm:
        found = (last.missed_mm - tries[-2].missed_mm) / (last.taper_mm - tries[-2].taper_mm)
        # A slope of another sign or size is the curve's fine grain, not its run.
        slope = found if -3 < found < -0.2 else slope
    return last.taper_mm - last.missed_mm / slope


def _peak_barrier(best: _Try) -> Barrier:
    deepest = deepest_mm(best.build)
    return Barrier(
        stop="peak",
        limit="toe",
        mass_g=best.weighing.mass_g,
        density_kg_m3=None,
        spine_mm=deepest,
        spine_allowed_mm=deepest,
        peak_from_toe_mm=_peak_of(best.weighing),
    )


def _moves(old: BuildSheet, new: BuildSheet) -> tuple[Moved, ...]:
    pairs = zip(old.blade.stations, new.blade.stations, strict=True)
    return tuple(
        Moved(
            from_toe_mm=before.from_toe_mm,
            spine_mm=round(after.spine_mm - before.spine_mm, 2),
            edge_mm=round(after.edge_mm - before.edge_mm, 2),
        )
        for before, after in pairs
    )
