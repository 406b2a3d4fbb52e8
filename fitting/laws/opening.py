"""The opening of the gauge of Appendix B.8 as a shape, in both printed units.

Source: MCC, Laws of Cricket, 2017 Code, Appendix B.8. The numbers that are printed give one figure more than
the shape needs: an arc of the printed radius over the printed width drops 0.197 in, not 0.20 in, below its
ends (in metric, exactly 0.5 cm). The apex is taken at the printed depth less the printed drop, above the line
of the lower corners, and the arc with its printed radius through those corners: by 0.08 mm the stricter way.

Axes: z across from the centre line, y from the line of the lower corners towards the apex, mm.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from fitting.curve import FloatArray

Dimension = Literal["depth", "width"]


@dataclass(frozen=True)
class GaugeOpening:
    """One opening, mm."""

    unit: Literal["in", "cm"]
    depth_mm: float
    width_mm: float
    side_mm: float
    radius_mm: float
    drop_mm: float

    @property
    def half_mm(self) -> float:
        """Half of the width."""
        return self.width_mm / 2

    @property
    def apex_mm(self) -> float:
        """Height of the apex above the line of the lower corners."""
        return self.depth_mm - self.drop_mm

    def roof(self, z_mm: FloatArray) -> FloatArray:
        """Height of the upper side, mm; beyond the opening's half width that of its corner."""
        share = np.minimum(z_mm, self.half_mm) / self.half_mm
        return np.asarray(self.apex_mm - (self.apex_mm - self.side_mm) * share)

    def floor(self, z_mm: FloatArray) -> FloatArray:
        """Height of the arc below, mm, zero at the lower corners and negative between them."""
        at = np.minimum(z_mm, self.half_mm)
        ends = np.sqrt(self.radius_mm**2 - self.half_mm**2)
        return np.asarray(ends - np.sqrt(self.radius_mm**2 - at**2))


# The two openings as printed, inches and centimetres: a bat goes through both.
_INCHES = (2.68, 4.33, 1.61, 12.0, 0.20)
_CENTIMETRES = (6.8, 11.0, 4.1, 30.5, 0.5)
CLAUSE = "B.8"


def _opening(unit: Literal["in", "cm"], printed: tuple[float, ...], mm: float) -> GaugeOpening:
    depth, width, side, radius, drop = (round(value * mm, 6) for value in printed)
    return GaugeOpening(unit, depth, width, side, radius, drop)


GAUGE = (_opening("in", _INCHES, 25.4), _opening("cm", _CENTIMETRES, 10.0))


def printed(dimension: Dimension) -> tuple[float, str]:
    """Return the gauge's depth or width: the smaller of the two printed, mm, and both as printed."""
    place = 0 if dimension == "depth" else 1
    smaller = min(GAUGE, key=lambda one: one.depth_mm if dimension == "depth" else one.width_mm)
    value = smaller.depth_mm if dimension == "depth" else smaller.width_mm
    return value, f"{_INCHES[place]:g} in / {_CENTIMETRES[place]:g} cm"
