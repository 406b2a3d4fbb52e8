"""Bats made on paper by hands that err, of willow that is not what was measured.

The truth of a bat is drawn once: its willow 2 to 10 % lighter or denser than the rack says, the meter 1 % of
moisture off, handle, thread, glue and oil as far from the book's figures as the book's own spreads say. Hands
read a depth to 0.2 mm (one standard deviation), cut whole half millimetres and miss by another 0.2 mm;
sanding takes 12 to 20 g. Grip, guard, film and tape are weighed before they go on.
"""

from dataclasses import dataclass, field

import numpy as np

from fitting.bat.condition import Believed, Condition, Scales
from fitting.bat.half_made import leave_mm, stand
from fitting.bat.in_condition import lay_out
from fitting.bat.last_cuts import Aims, CutPlan, last_cuts
from fitting.bat.pending import thinner
from fitting.bat.reshape import reshape
from fitting.bat.reshaped import CannotReshape
from fitting.bat.solid import G_PER_MM3
from fitting.bat.weigh import weigh
from fitting.curve import FloatArray
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet, Station
from fitting.sheets.default_book import DEFAULT_BOOK

OFF_LEAST, OFF_MOST = 0.02, 0.10
METER_OFF_PERCENT = 1.0
CUT_MM = 0.5
HAND_SD_MM = 0.2
READ_SD_MM = 0.2
SCALES_SD_G = 0.5
SANDING_G = (12.0, 20.0)
BLOCK_OVER_MM = 5.0
RACK_SD_SHARE = 0.05
TAKE_AT_ONCE_G = 15.0
GOOD_ENOUGH_G = 2.0
_TRIPS = 5


class OtherCleft(Exception):
    """The first weighing tells that this willow cannot become the bat."""


@dataclass(frozen=True)
class Truth:
    """What nobody at the bench knows: density (kg/m3), masses in shares of the book's, moisture as read."""

    density_kg_m3: float
    moisture_read_percent: float
    shares: dict[str, float]
    sanding_g: float

    @classmethod
    def drawn(cls, measured_kg_m3: float, book: Book, chance: np.random.Generator) -> "Truth":
        """Draw what is true of one bat."""
        spreads = book.materials.spreads
        off = chance.uniform(OFF_LEAST, OFF_MOST) * chance.choice([-1, 1])
        loose = {
            "cane": spreads.cane_share,
            "glue": spreads.glue_share,
            "binding": spreads.binding_share,
            "oil": spreads.oil_share,
            "grip": spreads.grip_share,
            "face_film": spreads.covering_share,
            "toe_guard": spreads.covering_share,
            "edge_tape": spreads.covering_share,
        }
        return cls(
            density_kg_m3=measured_kg_m3 * (1 + off),
            moisture_read_percent=12.0 + METER_OFF_PERCENT * chance.choice([-1, 1]),
            shares={name: float(max(chance.normal(1, share), 0.2)) for name, share in loose.items()},
            sanding_g=float(chance.uniform(*SANDING_G)),
        )

    def again(self) -> "Truth":
        """The same truth for another pair of hands."""
        return Truth(self.density_kg_m3, self.moisture_read_percent, dict(self.shares), self.sanding_g)


@dataclass
class Bench:
    """One bat on the bench: what it truly is now, and the hands that make it."""

    agreed: BuildSheet
    measured_kg_m3: float
    truth: Truth
    chance: np.random.Generator
    book: Book = DEFAULT_BOOK
    weighings: int = 0
    depths: FloatArray = field(default_factory=lambda: np.zeros(0))

    @property
    def count(self) -> int:
        """Stations along the blade."""
        return len(self.agreed.blade.stations)

    def sheet(self, depths: FloatArray, like: BuildSheet) -> BuildSheet:
        """A sheet with some depths (spines, then edges) and another sheet's hollows."""
        stations = tuple(
            Station.model_construct(
                from_toe_mm=station.from_toe_mm,
                spine_mm=float(spine),
                edge_mm=float(min(edge, spine)),
                scallop=station.scallop,
            )
            for station, spine, edge in zip(
                like.blade.stations, depths[: self.count], depths[self.count :], strict=True
            )
        )
        return like.model_copy(update={"blade": like.blade.model_copy(update={"stations": stations})})

    def shaped_to(self, targets: BuildSheet, left_on: float) -> None:
        """Shape the whole blade to some numbers as hands do, something left on."""
        wanted = depths_of(targets) + left_on
        self.depths = np.round(wanted / CUT_MM) * CUT_MM + self.chance.normal(0, HAND_SD_MM, len(wanted))

    def read(self) -> FloatArray:
        """Depths as the calliper finds them."""
        return self.depths + self.chance.normal(0, READ_SD_MM, len(self.depths))

    def cut(self, plan: CutPlan, share: float) -> None:
        """Take off what is advised, or half of it, in whole half millimetres."""
        wanted = share * np.array([c.spine_mm for c in plan.cuts] + [c.edge_mm for c in plan.cuts])
        steps = np.round(wanted / CUT_MM) * CUT_MM
        missed = self.chance.normal(0, HAND_SD_MM, len(steps))
        self.depths = self.depths - np.where(steps > 0, np.clip(steps + missed, 0.0, None), 0.0)

    def true_mass_g(self, like: BuildSheet, condition: Condition) -> float:
        """What the bat truly weighs in a condition."""
        bodies = lay_out(
            self.sheet(self.depths, like), condition, self.book.materials, self.truth.density_kg_m3, 12.0
        )
        shares = self.truth.shares
        total = bodies.bodies["blade"].mass_g
        for name, body in bodies.bodies.items():
            if name == "handle":
                total += (body.mass_g - bodies.glue_g) * shares["cane"] + bodies.glue_g * shares["glue"]
            elif name != "blade":
                total += body.mass_g * shares[name]
        return total

    def on_scales(self, like: BuildSheet, condition: Condition) -> Scales:
        """What the scales show."""
        self.weighings += 1
        return Scales(mass_g=self.true_mass_g(like, condition) + float(self.chance.normal(0, SCALES_SD_G)))

    def sand(self, like: BuildSheet) -> None:
        """Sand the whole blade."""
        sheet = self.sheet(self.depths, like)
        area = sheet.blade.length_mm * sheet.blade.width_mm
        layer = self.truth.sanding_g / (self.truth.density_kg_m3 * G_PER_MM3) / area
        self.depths = depths_of(thinner(sheet, layer))

    def finished_g(self, like: BuildSheet) -> float:
        """Mass of the finished bat."""
        return self.true_mass_g(like, Condition.finished(self.agreed))


def depths_of(sheet: BuildSheet) -> FloatArray:
    """Spines, then edges, of a sheet's stations, mm."""
    stations = sheet.blade.stations
    return np.array([s.spine_mm for s in stations] + [s.edge_mm for s in stations])


def without_advice(bench: Bench) -> float:
    """Finish a bat by its rack density and its numbers alone; its mass, g."""
    targets = reshape(bench.agreed, bench.measured_kg_m3, bench.agreed.mass_g.target).build
    layer = bench.book.bench.sanding_loss_g / (bench.measured_kg_m3 * G_PER_MM3)
    bench.shaped_to(targets, layer / (targets.blade.length_mm * targets.blade.width_mm))
    bench.sand(targets)
    return bench.finished_g(targets)


def with_advice(bench: Bench) -> float:
    """Finish a bat as the program says: weighed half-made, its targets and last cuts solved anew."""
    agreed = _with_weighed_dressings(bench)
    believed = Believed(density_kg_m3=bench.measured_kg_m3, sd_kg_m3=RACK_SD_SHARE * bench.measured_kg_m3)
    targets, believed = _from_the_block(bench, agreed, believed)
    square = Condition(
        square_top_mm=bench.book.bench.square_top_mm,
        square_depth_mm=_block_depth(agreed),
        square_width_mm=agreed.blade.width_mm + 1.0,
        moisture_percent=bench.truth.moisture_read_percent,
    )
    unknown = stand(targets, square, None, believed, aim=targets, book=bench.book)
    bench.shaped_to(targets, leave_mm(unknown, book=bench.book))
    targets, believed = _anew(bench, agreed, targets, square, believed)
    bound = square.model_copy(
        update={"square_top_mm": 0.0, "square_depth_mm": 0.0, "handle": True, "bound": True}
    )
    _last_cuts(bench, agreed, targets, bound, believed)
    bench.sand(targets)
    _last_cuts(bench, agreed, targets, bound.model_copy(update={"sanded": True}), believed)
    return bench.finished_g(targets)


def _with_weighed_dressings(bench: Bench) -> BuildSheet:
    """The agreed sheet with the masses that grip, guard, film and tape have on the scales."""
    agreed, shares = bench.agreed, bench.truth.shares
    grips = agreed.grips.model_copy(update={"mass_g": agreed.grips.mass_g * shares["grip"]})
    coverings = {
        name: covering.model_copy(update={"mass_g": covering.mass_g * shares[name]})
        for name in ("face_film", "toe_guard", "edge_tape")
        if (covering := getattr(agreed.protection, name)) is not None
    }
    shares |= dict.fromkeys(("grip", *coverings), 1.0)
    bench.agreed = agreed.model_copy(
        update={"grips": grips, "protection": agreed.protection.model_copy(update=coverings)}
    )
    return bench.agreed


def _block_depth(agreed: BuildSheet) -> float:
    return max(station.spine_mm for station in agreed.blade.stations) + BLOCK_OVER_MM


def _from_the_block(bench: Bench, agreed: BuildSheet, believed: Believed) -> tuple[BuildSheet, Believed]:
    """Weigh the pressed piece with its outline cut, and solve the targets for the willow that it tells of."""
    bench.depths = np.full(2 * bench.count, _block_depth(agreed))
    condition = Condition(moisture_percent=bench.truth.moisture_read_percent)
    scales = bench.on_scales(agreed, condition)
    told = stand(
        bench.sheet(bench.read(), agreed), condition, scales, believed, aim=agreed, book=bench.book
    ).believed
    try:
        return reshape(agreed, told.density_kg_m3, agreed.mass_g.target, book=bench.book).build, told
    except CannotReshape as stopped:
        raise OtherCleft from stopped


def _anew(
    bench: Bench, agreed: BuildSheet, targets: BuildSheet, condition: Condition, believed: Believed
) -> tuple[BuildSheet, Believed]:
    """Weigh the roughed-out blade and solve the targets once more, where a shape is found."""
    scales = bench.on_scales(targets, condition)
    told = stand(
        bench.sheet(bench.read(), targets), condition, scales, believed, aim=targets, book=bench.book
    ).believed
    try:
        return reshape(agreed, told.density_kg_m3, agreed.mass_g.target, book=bench.book).build, told
    except CannotReshape:
        return targets, told


def _last_cuts(
    bench: Bench, agreed: BuildSheet, targets: BuildSheet, condition: Condition, believed: Believed
) -> None:
    """Weigh, cut what is advised (half of it while it is much), weigh again, until nothing is advised."""
    agreed_bat = weigh(agreed, book=bench.book)
    assert agreed_bat.sweet_spot is not None
    tolerances = bench.book.bench.tolerances
    aims = Aims(
        mass_g=agreed.mass_g.target,
        mass_tolerance_g=agreed.mass_g.tolerance,
        balance_from_toe_mm=agreed_bat.balance_from_toe_mm,
        balance_tolerance_mm=tolerances.balance_mm,
        peak_from_toe_mm=agreed_bat.sweet_spot.peak_from_toe_mm,
        peak_tolerance_mm=5.0,
    )
    for _ in range(_TRIPS):
        scales = bench.on_scales(targets, condition)
        now = bench.sheet(bench.read(), targets)
        standing = stand(now, condition, scales, believed, aim=targets, book=bench.book)
        plan = last_cuts(standing, aims, aim=targets, book=bench.book, step_mm=CUT_MM)
        if plan.takes_g < GOOD_ENOUGH_G:
            return
        before = bench.depths
        bench.cut(plan, 0.5 if plan.takes_g > TAKE_AT_ONCE_G else 1.0)
        if np.array_equal(before, bench.depths):
            return
