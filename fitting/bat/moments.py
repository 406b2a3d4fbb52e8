"""Moments of cross-sections in closed form, so that the only quadrature is along the bat.

A ``Sections`` holds one section at each of n places along x: its area and moments about the axes y = 0 and
z = 0, all in mm, mm2, mm3, mm4. Every section here is symmetric about z = 0.
"""

from dataclasses import dataclass

import numpy as np

from fitting.bat.outline import Curves, curves_at
from fitting.bat.sections import corner_radii_of, splice_width
from fitting.curve import FloatArray
from fitting.sheets.build_sheet import BuildSheet

# A square corner less its quarter circle, for radius 1 and axes through the circle's centre.
CORNER_AREA = 1 - np.pi / 4
CORNER_FIRST = 1 / 6
CORNER_SECOND = 1 / 3 - np.pi / 16
# How far from the side the mass centre of that piece lies.
CORNER_INWARD = 1 - CORNER_FIRST / CORNER_AREA


@dataclass(frozen=True)
class Sections:
    """Area and moments of sections at n places: each an array of shape (n,)."""

    area: FloatArray
    first_y: FloatArray
    second_yy: FloatArray
    second_zz: FloatArray

    def __sub__(self, other: "Sections") -> "Sections":
        """Take another section's material out."""
        return Sections(
            self.area - other.area,
            self.first_y - other.first_y,
            self.second_yy - other.second_yy,
            self.second_zz - other.second_zz,
        )

    def raised(self, by_mm: FloatArray | float) -> "Sections":
        """The same sections moved along y."""
        return Sections(
            self.area,
            self.first_y + by_mm * self.area,
            self.second_yy + 2 * by_mm * self.first_y + by_mm**2 * self.area,
            self.second_zz,
        )


def ellipse(width_mm: FloatArray, depth_mm: FloatArray) -> Sections:
    """Full ellipses centred on the x axis; a circle where width and depth agree."""
    area = np.pi / 4 * width_mm * depth_mm
    return Sections(area, np.zeros_like(area), area * depth_mm**2 / 16, area * width_mm**2 / 16)


def rectangle(width_mm: FloatArray, low_mm: FloatArray, high_mm: FloatArray) -> Sections:
    """Rectangles of a width across, from y = low to y = high."""
    return Sections(
        width_mm * (high_mm - low_mm),
        width_mm * (high_mm**2 - low_mm**2) / 2,
        width_mm * (high_mm**3 - low_mm**3) / 3,
        width_mm**3 * (high_mm - low_mm) / 12,
    )


def blade_sections(build: BuildSheet, x_mm: FloatArray) -> Sections:
    """Sections of the willow: outline less splice, corners rounded, bow included."""
    return blade_and_splice(build, curves_at(build.blade, x_mm))[0]


def splice_sections(build: BuildSheet, x_mm: FloatArray) -> Sections:
    """Sections of the splice, from the blade's face to its back, bow included."""
    return blade_and_splice(build, curves_at(build.blade, x_mm))[1]


def blade_and_splice(build: BuildSheet, at: Curves) -> tuple[Sections, Sections]:
    """Sections of the willow and of the splice in it, where the curves are known already."""
    splice = splice_width(build, at.x)
    crown = build.blade.face_crown_mm
    wood = _between(at, crown, splice, at.width)
    inner = _between(at, crown, np.zeros_like(splice), splice)
    return (wood - _corners(build, at, splice)).raised(at.bow), inner.raised(at.bow)


def _between(at: Curves, crown_mm: float, inner_mm: FloatArray, outer_mm: FloatArray) -> Sections:
    """Both strips of the unbowed section with square corners where inner <= |2z| <= outer.

    With u = 1 - t the back is depth = e + d u^n and the face fall = c t^2 (t = |2z| / w), so every moment
    is a sum of powers. Exact.
    """
    width, n, c = at.width, at.scallop, crown_mm
    e, d = at.edge - at.scoop, at.spine - at.edge
    t0, t1 = inner_mm / width, outer_mm / width
    u0, u1 = np.clip(1 - t1, 0.0, 1.0), np.clip(1 - t0, 0.0, 1.0)

    def of_u(power: FloatArray) -> FloatArray:
        return np.asarray((u1 ** (power + 1) - u0 ** (power + 1)) / (power + 1))

    def of_t(power: int) -> FloatArray:
        return np.asarray((t1 ** (power + 1) - t0 ** (power + 1)) / (power + 1))

    p1, p2, p3 = of_u(n), of_u(2 * n), of_u(3 * n)
    across = p1 - 2 * of_u(n + 1) + of_u(n + 2)
    one, t_2, t_4, t_6 = of_t(0), of_t(2), of_t(4), of_t(6)
    return Sections(
        width * (e * one + d * p1 - c * t_2),
        width / 2 * (e**2 * one + 2 * e * d * p1 + d**2 * p2 - c**2 * t_4),
        width / 3 * (e**3 * one + 3 * e**2 * d * p1 + 3 * e * d**2 * p2 + d**3 * p3 - c**3 * t_6),
        width**3 / 4 * (e * t_2 + d * across - c * t_4),
    )


def _corners(build: BuildSheet, at: Curves, splice_mm: FloatArray) -> Sections:
    """What rounding takes off the four corners of the unbowed section, each taken as square.

    Area and moment across are exact for the outline of ``section_outline``. Along y the corner's height is
    that of face or back above the mass centre of what is taken off: against the curve itself the section's
    moments are off by 1e-6, at the most, in a narrow cheek beside the splice, by 1e-3.
    """
    side = at.width / 2
    face, back = corner_radii_of(build, at, splice_mm)
    inward_face, inward_back = CORNER_INWARD * face / side, CORNER_INWARD * back / side
    low = _corner_pair(side, build.blade.face_crown_mm * (1 - inward_face) ** 2, face, -1.0)
    height = at.edge - at.scoop + (at.spine - at.edge) * inward_back**at.scallop
    high = _corner_pair(side, height, back, 1.0)
    return Sections(
        low.area + high.area,
        low.first_y + high.first_y,
        low.second_yy + high.second_yy,
        low.second_zz + high.second_zz,
    )


def _corner_pair(side: FloatArray, height: FloatArray, radius: FloatArray, outward: float) -> Sections:
    """The spandrels at (+-side, height), the wood inward of both; ``outward`` is the corner's way in y."""
    area = CORNER_AREA * radius**2
    first, second = CORNER_FIRST * radius**3, CORNER_SECOND * radius**4
    y, z = height - outward * radius, side - radius
    return Sections(
        2 * area,
        2 * (area * y + outward * first),
        2 * (area * y**2 + 2 * outward * first * y + second),
        2 * (area * z**2 + 2 * first * z + second),
    )
