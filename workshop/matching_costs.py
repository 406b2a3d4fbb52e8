"""What one bat would be in each cleft of the rack, what forbids it and what it costs. Pure array arithmetic.

A bat is re-shaped for its cleft, so that it meets its mass and its sweet spot in any willow of its range; the
range and the bats in it come ready from the model (``WillowTable``). Here is only interpolation: how dense a
cleft will be once pressed for this very bat, what bat that makes, what speaks against it.
"""

from dataclasses import dataclass, field

import numpy as np
from scipy.special import ndtr

from fitting.bat.reshaped import WillowTable
from fitting.curve import FloatArray
from fitting.sheets.book import Book
from fitting.sheets.book_matching import MatchingBook
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.values import JUNIOR_CODES
from fitting.sheets.weighing import Weighing
from workshop.matching_marks import BoolArray, IntArray, Marks, Zones, lie
from workshop.willow import Pressing, pressing_of

# What can forbid a pair, each a bit; "kept" is another's cleft, "refused" the maker's own word.
FAULTS = (
    "no_willow",
    "kept",
    "for_smaller",
    "too_short",
    "too_narrow",
    "too_thin",
    "too_light",
    "too_dense",
    "grade",
    "run_out",
    "blemish",
    "refused",
)
FAULT_BITS = np.int32
BIT = {fault: 1 << place for place, fault in enumerate(FAULTS)}
# What a pair's cost is made of.
PARTS = ("mass", "peak", "shape", "risk", "grade", "money", "age", "looks", "kept")
FREE, SOMEBODY_ELSES = -1, -2
_BEYOND_KG_M3 = 1000.0


@dataclass(frozen=True)
class Table:
    """The bat over the density of its pressed willow: arrays of rising density, shape (k,).

    The first and the last row lie far beyond the ends of the range, on the straight lines of the fullest and
    the thinnest blade.
    """

    least_kg_m3: float
    most_kg_m3: float
    density_kg_m3: FloatArray
    mass_g: FloatArray
    mass_sd_g: FloatArray
    peak_mm: FloatArray
    spine_mm: FloatArray
    light_g: float
    dense_g: float


@dataclass(frozen=True)
class Wanted:
    """One bat that wants a cleft. Lengths in mm, densities in kg/m3 of the pressed blade at 12 %.

    Attributes:
        zones: blade, splice and hitting zone along the bat.
        rough_length_mm: least length of the cleft; width and depth likewise.
        rough_depth_mm: what the cleft must have over the deepest place of the blade.
        grade: the least that will do (1 is the finest).
        target_g: finished mass, and ``tolerance_g``.
        peak_mm: where it is to hit hardest.
        drawn_kg_m3: the density at which the bat stays as it was drawn.
        fixed_g: mass of everything that is not the willow.
        density_share: spread of a cleft's density that the model counts; this cleft's own takes its place.
        gain: factor of the press on the density, and its spread.
        days_left: until it is due; None where no day was told.
        table: None where no willow can become it.
        refused: rows of the clefts that the maker does not want for it.
        proposed: whether it is only proposed, so that going without costs less.
        junior: whether it is of a junior's size: wood that was put aside for smaller bats is for these alone.
        has_kept: whether a cleft is kept aside for it, so that any other costs more.
    """

    zones: Zones
    rough_length_mm: float
    rough_width_mm: float
    rough_depth_mm: float
    grade: int
    target_g: float
    tolerance_g: float
    peak_mm: float
    drawn_kg_m3: float
    fixed_g: float
    density_share: float
    gain: float
    gain_sd: float
    days_left: float | None
    table: Table | None
    refused: IntArray = field(default_factory=lambda: np.empty(0, np.intp))
    junior: bool = False
    has_kept: bool = False
    proposed: bool = False


@dataclass(frozen=True)
class Clefts:
    """The clefts of the rack, a row each, shape (m,): mm, kg/m3 of the raw wood at 12 %, days.

    Attributes:
        width_mm: at its narrowest of three places, ``depth_mm`` likewise.
        price: in any unit, NaN where none is known.
        run_out: grain leaves the wood by 1 in so many; NaN where it is straight.
        kept_for: row of the bat that it is kept for; ``FREE`` or ``SOMEBODY_ELSES``.
        for_smaller: whether it was put aside for smaller bats.
    """

    length_mm: FloatArray
    width_mm: FloatArray
    depth_mm: FloatArray
    density_kg_m3: FloatArray
    density_sd_kg_m3: FloatArray
    grade: IntArray
    price: FloatArray
    age_days: FloatArray
    run_out: FloatArray
    kept_for: IntArray
    for_smaller: BoolArray
    marks: Marks

    def __len__(self) -> int:
        return len(self.length_mm)

    def only(self, rows: IntArray) -> "Clefts":
        """Some of them, in the order given."""
        return Clefts(
            length_mm=self.length_mm[rows],
            width_mm=self.width_mm[rows],
            depth_mm=self.depth_mm[rows],
            density_kg_m3=self.density_kg_m3[rows],
            density_sd_kg_m3=self.density_sd_kg_m3[rows],
            grade=self.grade[rows],
            price=self.price[rows],
            age_days=self.age_days[rows],
            run_out=self.run_out[rows],
            kept_for=self.kept_for[rows],
            for_smaller=self.for_smaller[rows],
            marks=self.marks.only(rows),
        )


@dataclass(frozen=True)
class Priced:
    """One bat against clefts, shape (m,): what it would be in each, what forbids it (bits), what it costs."""

    density_kg_m3: FloatArray
    density_sd_kg_m3: FloatArray
    mass_g: FloatArray
    mass_sd_g: FloatArray
    peak_mm: FloatArray
    faults: IntArray
    parts: dict[str, FloatArray]
    way: IntArray

    @property
    def cost(self) -> FloatArray:
        """Sum of the parts, whether or not the pair is allowed."""
        return np.sum(list(self.parts.values()), axis=0)


@dataclass(frozen=True)
class Standing:
    """What is the same for every bat: points for money and for age of each cleft."""

    money: FloatArray
    age: FloatArray
    straight: BoolArray

    @classmethod
    def of(cls, clefts: Clefts, book: MatchingBook) -> "Standing":
        """Price over the middle price of the rack; a cleft without one counts as such a cleft."""
        known = clefts.price[~np.isnan(clefts.price)]
        middle = float(np.median(known)) if len(known) else 0.0
        share = np.nan_to_num(clefts.price / middle, nan=1.0) if middle else np.zeros(len(clefts))
        return cls(
            money=book.money_points * share,
            age=book.age_points * (1 - np.clip(clefts.age_days / book.age_full_days, 0, 1)),
            straight=~(clefts.run_out < book.run_out_least),
        )

    def only(self, rows: IntArray) -> "Standing":
        """The same of some clefts."""
        return Standing(self.money[rows], self.age[rows], self.straight[rows])


def wanted_of(
    build: BuildSheet, table: WillowTable, weighing: Weighing, *, book: Book, days_left: float | None = None
) -> Wanted:
    """Put down what a bat wants.

    Args:
        build: what was agreed.
        table: its willow, from ``fitting.bat.willow_table``.
        weighing: of the build sheet: its volume, and how far its sweet spot reaches.
        book: allowances, press, spreads.
        days_left: until the bat is due.

    Raises:
        ValueError: the weighing is an older model's, without a sweet spot.
    """
    spot, blade = weighing.sweet_spot, build.blade
    if spot is None:
        raise ValueError("a weighing with a sweet spot")
    bench, line = book.bench, table.willow.as_drawn
    splice_from = blade.length_mm - build.handle.splice_length_mm
    asked = build.sweet_spot.peak_from_toe_mm
    gain, gain_sd = _gain(pressing_of(build, weighing, bench))
    return Wanted(
        zones=Zones(blade.length_mm, splice_from, spot.from_mm, spot.to_mm, bench.rough_length_mm),
        rough_length_mm=blade.length_mm + bench.rough_length_mm,
        rough_width_mm=blade.width_mm + bench.rough_width_mm,
        rough_depth_mm=bench.rough_depth_mm,
        grade=build.willow.grade,
        target_g=build.mass_g.target,
        tolerance_g=build.mass_g.tolerance,
        peak_mm=spot.peak_from_toe_mm if asked is None else asked,
        drawn_kg_m3=line.density_kg_m3(build.mass_g.target),
        fixed_g=line.other_g,
        density_share=book.materials.spreads.density_share,
        gain=gain,
        gain_sd=gain_sd,
        days_left=days_left,
        table=_table(table),
        junior=build.length_code in JUNIOR_CODES,
    )


def usable_kg_m3(wanted: Wanted) -> tuple[float, float] | None:
    """Return the pressed densities with which the bat is within its mass tolerance; None where none is."""
    table = wanted.table
    if table is None:
        return None
    return (
        table.least_kg_m3 - wanted.tolerance_g / table.light_g,
        table.most_kg_m3 + wanted.tolerance_g / table.dense_g,
    )


def priced(wanted: Wanted, clefts: Clefts, standing: Standing, book: MatchingBook, *, row: int) -> Priced:
    """Hold one bat against clefts.

    Args:
        wanted: the bat.
        clefts: the clefts, m of them.
        standing: the points that are the same for every bat.
        book: the points.
        row: the bat's own, for clefts that are kept for it.
    """
    density = clefts.density_kg_m3 * wanted.gain
    sd = np.hypot(clefts.density_sd_kg_m3 * wanted.gain, clefts.density_kg_m3 * wanted.gain_sd)
    lying = lie(clefts.marks, clefts.length_mm, wanted.zones, book)
    faults = _general_faults(wanted, clefts, standing, row)
    faults[lying.spoilt] |= BIT["blemish"]
    bat = _bat_at(wanted, density)
    parts = {
        "grade": book.grade_points * np.maximum(wanted.grade - clefts.grade, 0),
        "money": standing.money,
        "age": standing.age,
        "looks": lying.points,
        "kept": np.where(clefts.kept_for == row, 0.0, book.kept_points * wanted.has_kept),
    }
    if wanted.table is None:
        faults |= BIT["no_willow"]
        return Priced(density, sd, bat.mass_g, bat.mass_sd_g, bat.peak_mm, faults, parts, lying.way)
    low, high = usable_kg_m3(wanted) or (0.0, 0.0)
    faults[density + book.reach_sds * sd < low] |= BIT["too_light"]
    faults[density - book.reach_sds * sd > high] |= BIT["too_dense"]
    faults[clefts.depth_mm < bat.spine_mm + wanted.rough_depth_mm] |= BIT["too_thin"]
    willow_g = bat.mass_g - wanted.fixed_g
    own = (sd / density) ** 2 - wanted.density_share**2
    parts = {
        "mass": book.mass_points * ((bat.mass_g - wanted.target_g) / wanted.tolerance_g) ** 2,
        "peak": book.peak_points * ((bat.peak_mm - wanted.peak_mm) / book.peak_off_mm) ** 2,
        "shape": book.shape_points * _from_drawn(wanted, wanted.table, density) ** 2,
        "risk": book.risk_points * (ndtr((low - density) / sd) + ndtr((density - high) / sd)),
        **parts,
    }
    spread = np.sqrt(np.maximum(bat.mass_sd_g**2 + willow_g**2 * own, 0.0))
    return Priced(density, sd, bat.mass_g, spread, bat.peak_mm, faults, parts, lying.way)


@dataclass(frozen=True)
class _Bat:
    """The bat in each cleft, as the table has it."""

    mass_g: FloatArray
    mass_sd_g: FloatArray
    peak_mm: FloatArray
    spine_mm: FloatArray


def _bat_at(wanted: Wanted, density: FloatArray) -> _Bat:
    """Interpolate the table: one search for all its columns."""
    table = wanted.table
    if table is None:
        nothing = np.full(len(density), np.nan)
        return _Bat(nothing, nothing, nothing, nothing)
    knots = table.density_kg_m3
    left = np.clip(np.searchsorted(knots, density, side="right") - 1, 0, len(knots) - 2)
    share = np.clip((density - knots[left]) / np.diff(knots)[left], 0.0, 1.0)
    columns = (table.mass_g, table.mass_sd_g, table.peak_mm, table.spine_mm)
    return _Bat(*(column[left] + share * np.diff(column)[left] for column in columns))


def _general_faults(wanted: Wanted, clefts: Clefts, standing: Standing, row: int) -> IntArray:
    """What forbids a pair whatever the bat's willow."""
    faults = np.zeros(len(clefts), FAULT_BITS)
    faults[(clefts.kept_for != FREE) & (clefts.kept_for != row)] |= BIT["kept"]
    faults[clefts.for_smaller & (not wanted.junior)] |= BIT["for_smaller"]
    faults[clefts.length_mm < wanted.rough_length_mm] |= BIT["too_short"]
    faults[clefts.width_mm < wanted.rough_width_mm] |= BIT["too_narrow"]
    faults[clefts.grade > wanted.grade] |= BIT["grade"]
    faults[~standing.straight] |= BIT["run_out"]
    return faults


def _from_drawn(wanted: Wanted, table: Table, density: FloatArray) -> FloatArray:
    """How far the shape goes from the drawn one: 0 as drawn, 1 at either end of what the bat can be."""
    fuller = max(wanted.drawn_kg_m3 - table.least_kg_m3, 1.0)
    thinner = max(table.most_kg_m3 - wanted.drawn_kg_m3, 1.0)
    off = density - wanted.drawn_kg_m3
    return np.minimum(np.where(off > 0, off / thinner, -off / fuller), 1.0)


def _gain(pressing: Pressing) -> tuple[float, float]:
    """Factor of the press on the density, and one standard deviation of it."""
    gain = pressing.gain()
    return gain, pressing.gain(pressing.loss_mm + pressing.loss_sd_mm) - gain


def _table(found: WillowTable) -> Table | None:
    """Put the model's points into arrays, with a row far beyond either end."""
    willow, points = found.willow, found.points
    if willow.least_kg_m3 is None or willow.most_kg_m3 is None or not points:
        return None
    rows = np.array(
        [
            (p.density_kg_m3, p.mass_g, p.mass_sd_g, p.peak_from_toe_mm, p.spine_mm)
            for p in sorted(points, key=lambda point: point.density_kg_m3)
        ]
    )
    light_g, dense_g = willow.fullest.volume_mm3 / 1e6, willow.thinnest.volume_mm3 / 1e6
    before, after = rows[0].copy(), rows[-1].copy()
    before[:2] -= (_BEYOND_KG_M3, _BEYOND_KG_M3 * light_g)
    after[:2] += (_BEYOND_KG_M3, _BEYOND_KG_M3 * dense_g)
    density, mass, mass_sd, peak, spine = np.vstack([before, rows, after]).T
    return Table(
        least_kg_m3=willow.least_kg_m3,
        most_kg_m3=willow.most_kg_m3,
        density_kg_m3=density,
        mass_g=mass,
        mass_sd_g=mass_sd,
        peak_mm=peak,
        spine_mm=spine,
        light_g=light_g,
        dense_g=dense_g,
    )
