"""Which clefts can become a bat, and what mass the bat would have in each."""

from collections.abc import Iterable
from dataclasses import dataclass

from fitting.bat.weigh import heft
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.values import JUNIOR_CODES
from workshop.rack.models import Cleft, CleftState
from workshop.willow import Density, Pressing, RawCleft, cleft_density, pressing_of, usual_pressing


@dataclass(frozen=True)
class Needs:
    """What a cleft must have for one bat: rough sizes in mm, density band in kg/m3, least grade."""

    length_mm: float
    width_mm: float
    depth_mm: float
    density_min: float
    density_max: float
    grade: int


@dataclass(frozen=True)
class Candidate:
    """One cleft, and the bat in it: mass in g with its spread and how far it is off the target."""

    cleft: Cleft
    density: Density
    mass_g: float
    mass_sd_g: float
    off_target_g: float
    in_tolerance: bool
    in_band: bool

    @property
    def over_g(self) -> float:
        """How far off the target, without its sign."""
        return abs(self.off_target_g)


def raw_cleft(cleft: Cleft) -> RawCleft:
    """Return the readings of a cleft in mm, g and percent."""
    return RawCleft(
        length_mm=cleft.length_mm,
        widths_mm=cleft.widths_mm,
        depths_mm=cleft.depths_mm,
        mass_g=cleft.mass_g,
        moisture_percent=cleft.moisture_percent,
    )


def density_of(cleft: Cleft, book: Book, pressing: Pressing | None = None) -> Density:
    """Return a cleft's density, as for an adult blade where no bat is named."""
    return cleft_density(raw_cleft(cleft), pressing or usual_pressing(book.bench), book.bench)


def needs_of(build: BuildSheet, book: Book) -> Needs:
    """Return what a cleft must have to become this bat, allowances for dressing and pressing included."""
    blade, bench = build.blade, book.bench
    return Needs(
        length_mm=blade.length_mm + bench.rough_length_mm,
        width_mm=blade.width_mm + bench.rough_width_mm,
        depth_mm=max(station.spine_mm for station in blade.stations) + bench.rough_depth_mm,
        density_min=build.willow.density_kg_m3.min,
        density_max=build.willow.density_kg_m3.max,
        grade=build.willow.grade,
    )


def candidates_for(build: BuildSheet, book: Book, clefts: Iterable[Cleft] | None = None) -> list[Candidate]:
    """Return the clefts that can become this bat, the nearest to its target mass first.

    A cleft must hold the rough size and be of the grade or finer; its density as a pressed blade may lie
    outside the band by no more than its own spread. Without ``clefts`` the free ones of the rack are
    looked through.
    """
    if clefts is None:
        clefts = Cleft.objects.free_today()
    needs = needs_of(build, book)
    bodies = _Masses(build, book)
    found = [
        bodies.in_cleft(cleft, density)
        for cleft in clefts
        if suits_size(cleft, build)
        if big_enough(cleft, needs) and cleft.grade <= needs.grade and cleft.is_straight
        for density in [density_of(cleft, book, bodies.pressing)]
        if needs.density_min - density.pressed_sd <= density.pressed <= needs.density_max + density.pressed_sd
    ]
    return sorted(found, key=lambda one: (abs(one.off_target_g), one.cleft.grade, one.cleft.number))


def bat_in(cleft: Cleft, build: BuildSheet, book: Book) -> Candidate:
    """Return what a bat would be in one cleft, whether or not the cleft is one that the rack would offer."""
    bodies = _Masses(build, book)
    return bodies.in_cleft(cleft, density_of(cleft, book, bodies.pressing))


def suits_size(cleft: Cleft, build: BuildSheet) -> bool:
    """Whether a cleft may become a bat of this size: one put aside for smaller bats is for juniors' alone."""
    return cleft.state != CleftState.SMALLER or build.length_code in JUNIOR_CODES


def big_enough(cleft: Cleft, needs: Needs) -> bool:
    """Whether the rough size of a bat lies inside a cleft, at its narrowest and thinnest."""
    raw = raw_cleft(cleft)
    return (
        raw.length_mm >= needs.length_mm
        and min(raw.widths_mm) >= needs.width_mm
        and min(raw.depths_mm) >= needs.depth_mm
    )


class _Masses:
    """The mass of one bat over the density of its willow: a straight line, so two weighings are enough."""

    def __init__(self, build: BuildSheet, book: Book) -> None:
        band = build.willow.density_kg_m3
        self.build = build
        self.low_density = band.min
        low = heft(build, book=book, density_kg_m3=band.min)
        high = heft(build, book=book, density_kg_m3=band.min + 100)
        self.low_mass_g = low.mass_g
        self.grams_per_density = (high.mass_g - low.mass_g) / 100
        self.pressing = pressing_of(build, low, book.bench)

    def in_cleft(self, cleft: Cleft, density: Density) -> Candidate:
        """Return the bat in one cleft."""
        mass = self.low_mass_g + self.grams_per_density * (density.pressed - self.low_density)
        aim, band = self.build.mass_g, self.build.willow.density_kg_m3
        return Candidate(
            cleft=cleft,
            density=density,
            mass_g=mass,
            mass_sd_g=self.grams_per_density * density.pressed_sd,
            off_target_g=mass - aim.target,
            in_tolerance=abs(mass - aim.target) <= aim.tolerance,
            in_band=band.min <= density.pressed <= band.max,
        )
