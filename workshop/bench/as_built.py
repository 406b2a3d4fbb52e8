"""A finished bat as it was measured: its build sheet, and what is believed of its willow."""

from collections.abc import Mapping
from typing import Any

from fitting.bat.condition import Believed, Condition, Scales
from fitting.bat.half_made import stand
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import SheetRefused, read_sheet
from orders.commissions.refusals import Refused
from workshop.bench.asks import reading_at
from workshop.bench.press_depths import press_loss_of
from workshop.bench.targets import DENSITY_LEAST, DENSITY_MOST, willow_with
from workshop.bench.work import Work, readings_of
from workshop.rack.clefts import cleft_of

Place = tuple[str, int | None]
GIRTHS = ("girth_top", "girth_middle", "girth_bottom")
SIDES = ("edge_left", "edge_right")


def as_built(work: Work) -> BuildSheet:
    """Return the build sheet with what was measured in the place of what was agreed.

    An edge is the mean of its two sides and the crown of the face; what was not measured stays as it was to
    be shaped. The band of density becomes what is believed of the wood, its spread either way.

    Raises:
        Refused: ``not_a_bat`` when the readings contradict each other.
    """
    readings = _numbers(work)
    sheet = _measured(work, readings, thicker_edge=False)
    cleft = cleft_of(work.bat)
    if cleft is None:
        return sheet
    believed = _willow_now(work, sheet, readings)
    spread = min(
        believed.sd_kg_m3, believed.density_kg_m3 - DENSITY_LEAST, DENSITY_MOST - believed.density_kg_m3
    )
    ends = (believed.density_kg_m3 - spread, believed.density_kg_m3 + spread)
    willow = {
        "density_kg_m3": {"min": round(ends[0], 1), "max": round(ends[1], 1)},
        "grade": cleft.grade,
        "grain": work.build.willow.grain,
    }
    return _read({**sheet.model_dump(mode="json"), "willow": willow})


def as_the_laws_see_it(work: Work) -> BuildSheet:
    """Return the bat as it was measured with the thicker side of each edge; its willow is left as agreed.

    Raises:
        Refused: ``not_a_bat`` when the readings contradict each other.
    """
    return _measured(work, _numbers(work), thicker_edge=True)


def _numbers(work: Work) -> dict[Place, float]:
    return {place: reading.in_unit for place, reading in readings_of(work.bat).items()}


def _willow_now(work: Work, sheet: BuildSheet, readings: Mapping[Place, float]) -> Believed:
    """Return what cleft, press and the last weighing together tell of the wood."""
    cleft = cleft_of(work.bat)
    if cleft is None:
        raise ValueError("no cleft tells of this bat's wood")
    believed = willow_with(work, cleft, press_loss_of(work.bat)).believed
    mass = readings.get(("mass", None))
    if mass is not None:
        moisture = readings.get(("final_moisture", None), work.book.materials.moisture_percent)
        condition = Condition.finished(sheet, moisture_percent=moisture)
        scales = Scales(mass_g=mass, balance_from_toe_mm=readings.get(("balance", None)))
        believed = stand(sheet, condition, scales, believed, aim=sheet, book=work.book).believed
    density = min(max(believed.density_kg_m3, DENSITY_LEAST), DENSITY_MOST)
    return believed.model_copy(update={"density_kg_m3": density})


def _measured(work: Work, readings: Mapping[Place, float], *, thicker_edge: bool) -> BuildSheet:
    sheet = work.paper.build.model_dump(mode="json")
    blade, handle = sheet["blade"], sheet["handle"]
    for station in blade["stations"]:
        _station_as_built(work, station, readings, thicker_edge=thicker_edge)
    widths = [value for (key, _), value in readings.items() if key == "width"]
    if widths:
        blade["width_mm"] = max(widths)
    if ("length", None) in readings:
        handle["length_mm"] = round(readings["length", None] - blade["length_mm"], 1)
    for key in GIRTHS:
        if (key, None) in readings:
            handle["girth_mm"][key.removeprefix("girth_")] = readings[key, None]
    return _read(sheet)


def _station_as_built(
    work: Work, station: dict[str, float], readings: Mapping[Place, float], *, thicker_edge: bool
) -> None:
    at = round(station["from_toe_mm"] * 10)
    aim = next(s for s in work.paper.build.blade.stations if s.from_toe_mm == station["from_toe_mm"])
    if ("spine", at) in readings:
        taken = aim.spine_mm - reading_at(work.paper, "spine", aim)
        station["spine_mm"] = round(readings["spine", at] + taken, 1)
    sides = [readings[key, at] for key in SIDES if (key, at) in readings]
    if sides:
        taken = aim.edge_mm - reading_at(work.paper, "edge", aim)
        edge = max(sides) if thicker_edge else sum(sides) / len(sides)
        # Where back and edge are all but level, the reading of one may pass the other by its own error.
        station["edge_mm"] = min(round(edge + taken, 1), station["spine_mm"])


def _read(sheet: dict[str, Any]) -> BuildSheet:
    try:
        return read_sheet(BuildSheet, sheet)
    except SheetRefused as error:
        raise Refused("not_a_bat", what=tuple(fault.field for fault in error.faults)) from error
