"""One bat for one cleft: its stations solved anew so that it weighs what was promised and hits where asked.

Two unknowns that hardly disturb each other: how full the blade is, for the mass, and the taper of its lowest
150 mm, for the place that hits hardest (a millimetre of toe moves that by about a millimetre; shifting the
swell would be ill-conditioned, 75 mm of swell for 5 mm of peak). Fullness takes the hollow of the back first,
then depth, on the way to the thinnest or fullest blade of the same family that the trade's limits allow. The
swell stays where it is, and with it everything but stations and scallop.
"""

from typing import Literal

import numpy as np

from fitting.bat.blade_room import HOLLOW_PART, BladeRoom, Side, deepest_mm
from fitting.bat.weigh import solid_of, weigh
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.record import Record
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

Stop = Literal["too_light", "too_dense", "peak"]


class Moved(Record):
    """By how much one station moved, new less old, mm."""

    from_toe_mm: float
    spine_mm: float
    edge_mm: float


class Reshaped(Record):
    """The bat for one cleft: its sheet, its weighing, and what moved."""

    build: BuildSheet
    weighing: Weighing
    moved: tuple[Moved, ...]


class Barrier(Record):
    """What stops a re-shaping: willow too light or too dense for the mass, or a sweet spot out of reach.

    Attributes:
        stop: what could not be had.
        limit: the limit that was met first: ``spine``, ``edge``, ``gauge``, ``kink``, ``toe`` or ``blade``.
        mass_g: the nearest mass that the limits allow with this willow.
        density_kg_m3: the nearest density that would do; None where the peak stops it.
        spine_mm: depth at the swell that the mass would need with this willow.
        spine_allowed_mm: depth at the swell that is allowed.
        peak_from_toe_mm: the nearest peak; None where the mass stops it.
    """

    stop: Stop
    limit: str
    mass_g: float
    density_kg_m3: float | None
    spine_mm: float
    spine_allowed_mm: float
    peak_from_toe_mm: float | None


class CannotReshape(Exception):
    """No blade inside the Laws and the trade's limits reaches mass and sweet spot with this willow."""

    def __init__(self, barrier: Barrier) -> None:
        super().__init__(barrier.stop)
        self.barrier = barrier


class MassLine(Record):
    """Mass of one shape as a function of the willow's density: ``other_g + volume_mm3 * density / 1e6``."""

    volume_mm3: float
    other_g: float

    def mass_g(self, density_kg_m3: float) -> float:
        """Finished mass, g."""
        return self.other_g + self.volume_mm3 * density_kg_m3 / 1e6

    def density_kg_m3(self, mass_g: float) -> float:
        """Density at which the shape has a mass, kg/m3."""
        return (mass_g - self.other_g) * 1e6 / self.volume_mm3


class WillowRange(Record):
    """Which willow can become a bat: densities for its mass, and how its mass runs with the density."""

    least_kg_m3: float
    most_kg_m3: float
    thinnest: MassLine
    as_drawn: MassLine
    fullest: MassLine


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
    room = BladeRoom.of(build, book)
    search = _Search(room, book, density_kg_m3, mass_g)
    wanted = _peak_wanted(build, book)
    taper = 0.0
    tried: list[tuple[float, float]] = []
    for _ in range(_ROUNDS):
        fullness = search.fullness(taper)
        if (held := room.taper_within(taper, fullness)) != taper:
            taper, fullness = held, search.fullness(held)
        shaped = room.build_at(fullness, taper)
        weighing = weigh(shaped, book=book, density_kg_m3=density_kg_m3)
        tried.append((taper, _peak_of(weighing) - wanted))
        if abs(tried[-1][1]) <= PEAK_MET_MM:
            break
        taper = room.taper_within(_next_taper(tried), fullness)
        if abs(taper - tried[-1][0]) < 0.05:
            break
    if abs(tried[-1][1]) > PEAK_SOFT_MM:
        raise CannotReshape(_peak_barrier(shaped, weighing))
    if (limit := room.breach(shaped)) is not None:
        raise CannotReshape(search.barrier(tried[-1][0], limit))
    return Reshaped(build=shaped, weighing=weighing, moved=_moves(build, shaped))


def willow_range(build: BuildSheet, *, book: Book = DEFAULT_BOOK) -> WillowRange:
    """Tell which willow can become a bat at its target mass and with its sweet spot.

    The ends are found to 1 kg/m3. Arrays of clefts can then be matched by arithmetic alone: see ``MassLine``;
    the three shapes have the taper of the sheet.
    """
    room = BladeRoom.of(build, book)
    thinnest, drawn, fullest = (
        _line(room, book, fullness) for fullness in (room.end(-1, 0.0), 0.0, room.end(1, 0.0))
    )
    target = build.mass_g.target
    own = drawn.density_kg_m3(target)
    return WillowRange(
        least_kg_m3=_last_that_does(build, book, own, fullest.density_kg_m3(target)),
        most_kg_m3=_last_that_does(build, book, own, thinnest.density_kg_m3(target)),
        thinnest=thinnest,
        as_drawn=drawn,
        fullest=fullest,
    )


def _last_that_does(build: BuildSheet, book: Book, does: float, beyond: float) -> float:
    """The density furthest from one that does, towards one that the mass alone would still allow."""
    for _ in range(_HALVINGS):
        if abs(beyond - does) <= 1.0:
            break
        middle = (does + beyond) / 2
        try:
            reshape(build, middle, build.mass_g.target, book=book)
        except CannotReshape:
            beyond = middle
        else:
            does = middle
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

    def barrier(self, taper: float, limit: str) -> Barrier:
        """What stops a mass: the end of the way towards it, and what would do instead."""
        side: Side = 1 if self.over(0.0, taper) < 0 else -1
        end = self.room.end(side, taper)
        line = _line(self.room, self.book, end, taper)
        shaped = self.room.build_at(end, taper)
        return Barrier(
            stop="too_light" if side > 0 else "too_dense",
            limit=self.room.limit_at(shaped, side) if limit == "blade" else limit,
            mass_g=line.mass_g(self.density),
            density_kg_m3=line.density_kg_m3(self.wanted),
            spine_mm=deepest_mm(shaped) + self._depth_missing(end, taper, line.mass_g(self.density)),
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
    return MassLine(volume_mm3=willow.volume_mm3, other_g=bat.whole.mass_g - willow.mass_g)


def _peak_of(weighing: Weighing) -> float:
    if weighing.sweet_spot is None:
        raise ValueError("a weighing with a sweet spot")
    return weighing.sweet_spot.peak_from_toe_mm


def _peak_wanted(build: BuildSheet, book: Book) -> float:
    """Where the sheet asks the bat to hit hardest; without that where it does as drawn."""
    asked = build.sweet_spot.peak_from_toe_mm
    return asked if asked is not None else _peak_of(weigh(build, book=book))


def _next_taper(tried: list[tuple[float, float]]) -> float:
    """Taper that should leave no miss, from the last two tries or the usual slope."""
    (taper, missed) = tried[-1]
    slope = -PEAK_PER_TAPER
    if len(tried) > 1:
        before, missed_before = tried[-2]
        found = (missed - missed_before) / (taper - before)
        # A slope of another sign or size is the curve's fine grain, not its run.
        slope = found if -3 < found < -0.2 else slope
    return taper - missed / slope


def _peak_barrier(shaped: BuildSheet, weighing: Weighing) -> Barrier:
    return Barrier(
        stop="peak",
        limit="toe",
        mass_g=weighing.mass_g,
        density_kg_m3=None,
        spine_mm=deepest_mm(shaped),
        spine_allowed_mm=deepest_mm(shaped),
        peak_from_toe_mm=_peak_of(weighing),
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
