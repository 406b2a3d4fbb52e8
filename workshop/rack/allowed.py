"""What the readings of a cleft can be at all; beyond it something was mistyped. From memory of the trade."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from workshop.readings import plausible
from workshop.willow import RawCleft, density_at, mass_at, volume_mm3

NUMBER_LEAST, NUMBER_MOST = 1, 999_999
LENGTH = plausible("mm", 450, 900)
WIDTH = plausible("mm", 80, 160)
DEPTH = plausible("mm", 35, 120)
MASS = plausible("g", 700, 4500)
# A meter reads nothing sound above the fibre saturation of about 30 % (Wood Handbook ch. 4).
MOISTURE = plausible("percent", 4, 30)
GRAINS = plausible("count", 2, 30)
HEARTWOOD = plausible("percent", 0, 100)
RUN_OUT = plausible("count", 2, 100)
# Where a blemish lies: along from end 1, across from edge 1 or side A.
ALONG = plausible("mm", 0, 900)
ACROSS = plausible("mm", 0, 160)
BLEMISH_SIZE = plausible("mm", 0.5, 900)
# Signs that no printer and no workbook knows.
UNPRINTABLE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")
# Of raw willow at 12 %: far outside what any of it has (TRADA's mean is 450, Wood Handbook's spread 10 %).
DENSITY_KG_M3 = (250.0, 700.0)
# Wood keeps its dry mass: so far may a weighing be from the one before, the meter's error at both counted.
MASS_OFF_SHARE = 0.1
# The readings that together make a density, as the columns are named.
SIZES = ("length", "width_1", "width_2", "width_3", "depth_1", "depth_2", "depth_3")
WEIGHED = (*SIZES, "mass", "moisture")


@dataclass(frozen=True)
class NoWillow:
    """Mass and sizes that make no willow together: mass in g, sizes in mm, density in kg/m3 at 12 %."""

    density: float
    mass_g: float
    length_mm: float
    width_mm: float
    depth_mm: float


@dataclass(frozen=True)
class OtherWood:
    """A weighing that cannot be of the same piece: its mass, and what it should be at this moisture, g."""

    mass_g: float
    expected_g: float
    moisture_percent: float


def other_wood(before: tuple[int, int], *, mass: int, moisture: int) -> OtherWood | None:
    """Hold a weighing against the one before (mass and moisture, tenths): wood only gains or loses water."""
    expected = mass_at(before[0] / 10, moisture_percent=before[1] / 10, to_percent=moisture / 10)
    if abs(mass / 10 / expected - 1) <= MASS_OFF_SHARE:
        return None
    return OtherWood(mass / 10, expected, moisture / 10)


def no_willow(columns: Mapping[str, Any]) -> NoWillow | None:
    """Return what is wrong with mass and sizes together (tenths of mm, g and percent), if anything is."""
    if not all(columns.get(name) for name in WEIGHED):
        return None
    raw = RawCleft(
        length_mm=columns["length"] / 10,
        widths_mm=(columns["width_1"] / 10, columns["width_2"] / 10, columns["width_3"] / 10),
        depths_mm=(columns["depth_1"] / 10, columns["depth_2"] / 10, columns["depth_3"] / 10),
        mass_g=columns["mass"] / 10,
        moisture_percent=columns["moisture"] / 10,
    )
    as_read = raw.mass_g / volume_mm3(raw) * 1e6
    density = density_at(as_read, moisture_percent=raw.moisture_percent, to_percent=12)
    if DENSITY_KG_M3[0] <= density <= DENSITY_KG_M3[1]:
        return None
    return NoWillow(density, raw.mass_g, raw.length_mm, raw.widths_mm[1], raw.depths_mm[1])
