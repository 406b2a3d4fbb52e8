"""What a stage asks to be measured on one bat, and what each reading should be. Pure: sheets and book in.

Every ask is one number to be typed. Its aim comes from the agreed build sheet and the model's weighing of it.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import pi, sqrt

import numpy as np

from fitting.bat.in_use import (
    STANDARD_GRAVITY_M_S2,
    USUAL_AMPLITUDE_DEGREES,
    pendulum_inertia_kg_m2,
    small_period_s,
)
from fitting.bat.outline import edge, scoop_depth, spine
from fitting.bat.weigh import PICKUP_AXIS_MM
from fitting.sheets.book_bench import BenchBook, Entry, Places
from fitting.sheets.build_sheet import BuildSheet, Station
from fitting.sheets.weighing import Weighing
from workshop.readings import Plausible, plausible

# Dressings that are not on a bat yet when it is weighed dry, before it is finished.
PUT_ON_IN_FINISHING = frozenset({"grip", "face_film", "toe_guard", "edge_tape", "oil"})
WIDTH_NEAR_TOE_MM = 100.0
WIDTH_BELOW_SHOULDER_MM = 20.0


@dataclass(frozen=True)
class Aim:
    """What a reading should be: the number itself, where there is one, and how far it may lie."""

    target: float | None = None
    low: float | None = None
    high: float | None = None

    def off(self, value: float) -> float | None:
        """Return how far a reading is over (positive) or under the target, else the end that it passes."""
        if self.target is not None:
            return round(value - self.target, 1)
        if self.low is not None and value < self.low:
            return round(value - self.low, 1)
        if self.high is not None and value > self.high:
            return round(value - self.high, 1)
        return None

    def holds(self, value: float) -> bool:
        """Whether a reading is good enough, to the tenth that the instrument shows."""
        slack = 0.05
        over = self.high is not None and value > self.high + slack
        under = self.low is not None and value < self.low - slack
        return not (over or under)


@dataclass(frozen=True)
class Ask:
    """One number to be measured: its key, unit, place along the blade, whether it must be there, its aim."""

    key: str
    unit: str
    from_toe_mm: float | None
    needed: bool
    allowed: Plausible
    aim: Aim | None

    @property
    def place(self) -> int | None:
        """The place as it is stored, 0.1 mm from the toe."""
        return None if self.from_toe_mm is None else round(self.from_toe_mm * 10)

    @property
    def name(self) -> str:
        """The name of its field in a form: ``spine-2200``."""
        return self.key if self.place is None else f"{self.key}-{self.place}"


@dataclass(frozen=True)
class BatOnPaper:
    """One bat on paper at the bench: what was agreed, what the model says of it, and the bench's book."""

    build: BuildSheet
    weighing: Weighing
    bench: BenchBook


def asks_of(bat: BatOnPaper, stage: str) -> tuple[Ask, ...]:
    """Return everything that a stage asks to be measured on a bat, in the order of the book."""
    return tuple(
        _ask(bat, stage, entry, from_toe_mm)
        for entry in bat.bench.work(stage).entries
        for from_toe_mm in places_of(bat, entry.places)
    )


def places_of(bat: BatOnPaper, places: Places) -> tuple[float | None, ...]:
    """Return where along the blade a reading is taken, in mm from the toe; once is no place at all."""
    blade, bench = bat.build.blade, bat.bench
    stations = [station.from_toe_mm for station in blade.stations]
    match places:
        case "once":
            return (None,)
        case "stations":
            return tuple(stations)
        case "stations_below_square":
            return tuple(at for at in stations if at <= blade.length_mm - bench.square_top_mm)
        case "grid":
            share = blade.length_mm / bench.grid_blade_mm
            return tuple(float(5 * round(at * share / 5)) for at in bench.grid_from_toe_mm)
        case "widths":
            top = blade.length_mm - blade.shoulder.length_mm - WIDTH_BELOW_SHOULDER_MM
            return (WIDTH_NEAR_TOE_MM, round((WIDTH_NEAR_TOE_MM + top) / 2), top)


def _ask(bat: BatOnPaper, stage: str, entry: Entry, from_toe_mm: float | None) -> Ask:
    aim = aim_of(bat, stage, entry.key, from_toe_mm)
    return Ask(
        key=entry.key,
        unit=entry.unit,
        from_toe_mm=from_toe_mm,
        needed=entry.needed,
        allowed=plausible(entry.unit, entry.least, entry.most, aim.target if aim else None),
        aim=aim,
    )


def aim_of(bat: BatOnPaper, stage: str, key: str, from_toe_mm: float | None) -> Aim | None:
    """Return what one reading should be, None where nothing was agreed about it."""
    if from_toe_mm is not None and key in ("spine", "edge_left", "edge_right"):
        return _aim_at_station(bat, stage, key, from_toe_mm)
    if from_toe_mm is not None and key.startswith(("depth_before", "depth_after")):
        return _aim_at_grid(bat, key, from_toe_mm)
    found = {**_wood_aims(bat), **_handle_aims(bat), **_finished_aims(bat)}
    return found.get(key)


def reading_at(bat: BatOnPaper, key: str, station: Station) -> float:
    """Return what a calliper finds at a station of the finished bat, mm.

    On the centre line it finds the spine, at the side the edge less the crown of the face; a scoop takes
    its depth from both.
    """
    scooped = float(scoop_depth(bat.build.blade, np.array([station.from_toe_mm]))[0])
    if key == "spine":
        return round(station.spine_mm - scooped, 1)
    return round(station.edge_mm - bat.build.blade.face_crown_mm - scooped, 1)


def _aim_at_station(bat: BatOnPaper, stage: str, key: str, from_toe_mm: float) -> Aim | None:
    station = next((s for s in bat.build.blade.stations if abs(s.from_toe_mm - from_toe_mm) < 0.06), None)
    if station is None:
        return None
    left_on = bat.bench.shaping_leave_mm if stage == "shaping" else 0.0
    tolerances = bat.bench.tolerances
    tolerance = tolerances.spine_mm if key == "spine" else tolerances.edge_mm
    target = round(reading_at(bat, key, station) + left_on, 1)
    return Aim(target, target - tolerance, target + tolerance)


def _aim_at_grid(bat: BatOnPaper, key: str, from_toe_mm: float) -> Aim:
    """Enough wood for spine or edge there, and before the press for what the press takes too."""
    depth = edge if key.endswith(("_left", "_right")) else spine
    least = float(depth(bat.build.blade, np.array([from_toe_mm]))[0])
    taken = bat.bench.press_loss_mm if key.startswith("depth_before") else 0.0
    return Aim(low=round(least + taken, 1))


def _wood_aims(bat: BatOnPaper) -> dict[str, Aim]:
    build, bench = bat.build, bat.bench
    deepest = max(station.spine_mm for station in build.blade.stations)
    blade_g = _mass_of(bat.weighing, lambda name: name == "blade")
    moisture = Aim(low=bench.moisture_least_percent, high=bench.moisture_most_percent)
    return {
        "moisture": moisture,
        "final_moisture": moisture,
        "cleft_depth": Aim(low=deepest + bench.rough_depth_mm),
        "pressed_width": Aim(low=build.blade.width_mm),
        "shaped_width": Aim(low=build.blade.width_mm - bench.tolerances.width_under_mm),
        # Wood cannot be added: a bare blade lighter than the finished one has been overcut.
        "blade_mass": Aim(low=round(blade_g)),
    }


def _handle_aims(bat: BatOnPaper) -> dict[str, Aim]:
    handle, bench, weighing = bat.build.handle, bat.bench, bat.weighing
    around, tolerance = handle.girth_mm, bench.tolerances.girth_mm
    dry = _mass_of(weighing, lambda name: name not in PUT_ON_IN_FINISHING)
    aim = bat.build.mass_g
    # The dry bat is to come out at the agreed mass, not at the model's forecast of it; it is not sanded yet.
    dry_target = round(dry + aim.target - weighing.mass_g + bench.sanding_loss_g)
    return {
        "splice_length": Aim(target=handle.splice_length_mm),
        "splice_gap": Aim(high=bench.splice_gap_most_mm),
        "handle_offset": Aim(high=bench.handle_offset_most_mm),
        "girth_top": Aim(around.top, around.top - tolerance, around.top + tolerance),
        "girth_middle": Aim(around.middle, around.middle - tolerance, around.middle + tolerance),
        "girth_bottom": Aim(around.bottom, around.bottom - tolerance, around.bottom + tolerance),
        "mass_dry": Aim(dry_target, dry_target - aim.tolerance, dry_target + aim.tolerance),
    }


def _finished_aims(bat: BatOnPaper) -> dict[str, Aim]:
    build, tolerances = bat.build, bat.bench.tolerances
    balance = round(bat.weighing.balance_from_toe_mm, 1)
    length = build.blade.length_mm + build.handle.length_mm
    mass, width = build.mass_g, build.blade.width_mm
    return {
        "mass": Aim(mass.target, mass.target - mass.tolerance, mass.target + mass.tolerance),
        "balance": Aim(balance, balance - tolerances.balance_mm, balance + tolerances.balance_mm),
        "length": Aim(length, length - tolerances.length_mm, length + tolerances.length_mm),
        "width": Aim(width, width - tolerances.width_under_mm, width + tolerances.width_over_mm),
        "swing_time": _swing_aim(bat),
    }


def _swing_aim(bat: BatOnPaper) -> Aim:
    """Return how long the timed swings take at the agreed pickup, mass and balance."""
    pickup = bat.build.pickup_kg_m2
    times = [swing_seconds(bat, pickup.target + part * pickup.tolerance) for part in (0, -1, 1)]
    return Aim(*times)


def swing_seconds(bat: BatOnPaper, pickup_kg_m2: float) -> float:
    """Return the time of the book's count of swings about the pickup axis, as wide as usual.

    T = 2 pi sqrt(I / m g d) for small swings; wider ones take longer (``fitting.bat.in_use``).
    """
    arm_mm = bat.weighing.overall_length_mm - PICKUP_AXIS_MM - bat.weighing.balance_from_toe_mm
    torque = bat.build.mass_g.target / 1000 * STANDARD_GRAVITY_M_S2 * arm_mm / 1000
    wider = 1 / small_period_s(1.0, 1, USUAL_AMPLITUDE_DEGREES)
    return round(bat.bench.swing_count * wider * 2 * pi * sqrt(pickup_kg_m2 / torque), 1)


def pickup_of_swings(
    *, mass_g: float, balance_mm: float, length_mm: float, seconds: float, count: int
) -> float | None:
    """Return the pickup that timed swings tell, kg m2; None where the readings make no bat.

    The bat hangs on a collar at the pickup axis itself and swings as wide as usual.
    """
    arm_mm = length_mm - PICKUP_AXIS_MM - balance_mm
    if arm_mm <= 0:
        return None
    period = small_period_s(seconds, count, USUAL_AMPLITUDE_DEGREES)
    return round(pendulum_inertia_kg_m2(mass_g / 1000, arm_mm / 1000, period), 5)


def _mass_of(weighing: Weighing, belongs: Callable[[str], bool]) -> float:
    return sum(part.mass_g for part in weighing.parts if belongs(part.name))
