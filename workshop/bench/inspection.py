"""The final inspection: the bat as built against the bat as agreed, row by row."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from fitting.bat.weigh import PICKUP_AXIS_MM
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import SheetRefused, read_sheet
from orders.commissions import stages
from orders.commissions.builds import add_build
from orders.commissions.models import Inspection, Reading
from orders.commissions.refusals import Refused
from orders.commissions.states import Origin
from orders.people.models import User
from workshop.bench.asks import Aim, aim_of, places_of, reading_at
from workshop.bench.work import Work, readings_of
from workshop.rack.candidates import raw_cleft
from workshop.rack.clefts import cleft_of
from workshop.willow import cleft_density, pickup_from_swings, pressing_of

Place = tuple[str, int | None]
GIRTHS = ("girth_top", "girth_middle", "girth_bottom")
# The pickup needs a rig that not every bench has; everything else is measured on every bat.
OPTIONAL = frozenset({"pickup"})


@dataclass(frozen=True)
class Row:
    """One number agreed and built, in its own unit (pickup in kg m2)."""

    key: str
    from_toe_mm: float | None
    unit: str
    agreed: float
    low: float
    high: float
    built: float | None
    off: float | None
    in_tolerance: bool

    @property
    def counts(self) -> bool:
        """Whether it speaks against passing the bat when it is not in tolerance."""
        return self.built is not None or self.key not in OPTIONAL


def rows_of(work: Work) -> list[Row]:
    """Return every row of the inspection, from the last reading of each."""
    readings = readings_of(work.bat)
    rows = [_row(work, key, None, readings) for key in ("mass", "balance", "length")]
    rows += [_row(work, "width", at, readings) for at in places_of(work.paper, "widths")]
    for key in ("spine", "edge_left", "edge_right"):
        rows += [_row(work, key, at, readings) for at in places_of(work.paper, "stations")]
    rows += [_row(work, key, None, readings) for key in GIRTHS]
    return [*rows, _pickup_row(work, readings)]


def in_tolerance(rows: list[Row]) -> bool:
    """Whether every row that counts was measured and lies within its tolerance."""
    return all(row.in_tolerance for row in rows if row.counts)


@transaction.atomic
def pass_bat(work: Work, *, by: User, reason: str = "", at: datetime | None = None) -> Inspection:
    """Pass the finished bat: keep it as built, give it its serial number.

    Raises:
        Refused: ``reason_needed`` when a row is out of tolerance and no reason is written, or what
            ``stages.pass_inspection`` refuses.
    """
    rows = rows_of(work)
    good = in_tolerance(rows)
    if not stages.can_pass_inspection(work.bat, by):
        raise Refused("wrong_stage", what=("pass_inspection", work.bat.stage))
    if not good and not reason.strip():
        raise Refused("reason_needed")
    add_build(work.bat.commission, as_built(work), origin=Origin.AS_BUILT, by=by, parent=work.version, at=at)
    return stages.pass_inspection(
        work.bat,
        rows=[asdict(row) for row in rows],
        in_tolerance=good,
        by=by,
        reason=reason,
        at=at,
    )


def as_built(work: Work) -> BuildSheet:
    """Return the build sheet with what was measured in the place of what was agreed.

    An edge is the mean of its two sides and the crown of the face; what was not measured stays as agreed.
    The band of density becomes that of the cleft the bat was made of, its spread either way.
    """
    sheet = work.build.model_dump(mode="json")
    readings = {place: reading.in_unit for place, reading in readings_of(work.bat).items()}
    blade, handle = sheet["blade"], sheet["handle"]
    for station in blade["stations"]:
        _station_as_built(work, station, readings)
    widths = [value for (key, _), value in readings.items() if key == "width"]
    if widths:
        blade["width_mm"] = max(widths)
    if ("length", None) in readings:
        handle["length_mm"] = round(readings["length", None] - blade["length_mm"], 1)
    for key in GIRTHS:
        if (key, None) in readings:
            handle["girth_mm"][key.removeprefix("girth_")] = readings[key, None]
    sheet["willow"] = _willow_as_built(work, sheet["willow"])
    try:
        return read_sheet(BuildSheet, sheet)
    except SheetRefused as error:
        raise Refused("not_a_bat", what=tuple(fault.field for fault in error.faults)) from error


def _station_as_built(work: Work, station: dict[str, float], readings: Mapping[Place, float]) -> None:
    at = round(station["from_toe_mm"] * 10)
    agreed = next(s for s in work.build.blade.stations if s.from_toe_mm == station["from_toe_mm"])
    if ("spine", at) in readings:
        taken = agreed.spine_mm - reading_at(work.paper, "spine", agreed)
        station["spine_mm"] = round(readings["spine", at] + taken, 1)
    sides = [readings[key, at] for key in ("edge_left", "edge_right") if (key, at) in readings]
    if sides:
        taken = agreed.edge_mm - reading_at(work.paper, "edge", agreed)
        # Where back and edge are all but level, the reading of one may pass the other by its own error.
        station["edge_mm"] = min(round(sum(sides) / len(sides) + taken, 1), station["spine_mm"])


def _willow_as_built(work: Work, agreed: dict[str, Any]) -> dict[str, Any]:
    cleft = cleft_of(work.bat)
    if cleft is None:
        return agreed
    bench = work.book.bench
    density = cleft_density(raw_cleft(cleft), pressing_of(work.build, work.weighing, bench), bench)
    low, high = density.pressed - density.pressed_sd, density.pressed + density.pressed_sd
    return {"density_kg_m3": {"min": round(low, 1), "max": round(high, 1)}, "grade": cleft.grade}


def _row(work: Work, key: str, from_toe_mm: float | None, readings: Mapping[Place, Reading]) -> Row:
    place = None if from_toe_mm is None else round(from_toe_mm * 10)
    reading = readings.get((key, place))
    aim = aim_of(work.paper, "inspection", key, from_toe_mm)
    if aim is None or aim.target is None or aim.low is None or aim.high is None:
        raise ValueError(f"{key} has no agreed number")
    unit = "g" if key == "mass" else "mm"
    return _held_against(aim, key, from_toe_mm, unit, None if reading is None else reading.in_unit)


def _held_against(aim: Aim, key: str, from_toe_mm: float | None, unit: str, built: float | None) -> Row:
    return Row(
        key=key,
        from_toe_mm=from_toe_mm,
        unit=unit,
        agreed=round(aim.target or 0.0, 1),
        low=round(aim.low or 0.0, 1),
        high=round(aim.high or 0.0, 1),
        built=built,
        off=None if built is None else aim.off(built),
        in_tolerance=built is not None and aim.holds(built),
    )


def _pickup_row(work: Work, readings: Mapping[Place, Reading]) -> Row:
    aim = work.build.pickup_kg_m2
    built = _pickup_as_built(work, readings)
    return Row(
        key="pickup",
        from_toe_mm=None,
        unit="kg_m2",
        agreed=round(aim.target, 5),
        low=round(aim.target - aim.tolerance, 5),
        high=round(aim.target + aim.tolerance, 5),
        built=built,
        off=None if built is None else round(built - aim.target, 5),
        in_tolerance=built is not None and abs(built - aim.target) <= aim.tolerance,
    )


def _pickup_as_built(work: Work, readings: Mapping[Place, Reading]) -> float | None:
    """Return the pickup of the timed swings in kg m2, None where mass, balance, length or time is missing."""
    needed = [readings.get((key, None)) for key in ("mass", "balance", "length", "swing_time")]
    values = [reading.in_unit for reading in needed if reading is not None]
    if len(values) < len(needed):
        return None
    mass, balance, length, seconds = values
    inertia = pickup_from_swings(
        mass_g=mass,
        seconds=seconds,
        swings=work.book.bench.swing_count,
        axis_to_balance_mm=length - PICKUP_AXIS_MM - balance,
    )
    return round(inertia, 5)
