"""Cross-sections of the bat: the blade's outline, the splice in it, the handle's ellipse.

Outlines are points (z, y) in mm on the axes of DEVELOPERS.md; depth measures such as a handle's are along y,
widths along z.
"""

import numpy as np

from fitting.bat.outline import Curves, bow, curves_at, local_width, scoop_depth, station_curves
from fitting.curve import FloatArray
from fitting.sheets.build_sheet import Blade, BuildSheet, Handle

SPLICE_TIP_MM = 5.0
NO_RADIUS_MM = 1e-6

_ACROSS, _ROUND = 25, 9


def splice_width(build: BuildSheet, x_mm: FloatArray) -> FloatArray:
    """Width of the splice, mm, at places from the toe: 0 below its tip, 5 at it, full at the shoulder."""
    handle, top = build.handle, build.blade.length_mm
    x = np.asarray(x_mm, dtype=np.float64)
    share = (x - (top - handle.splice_length_mm)) / handle.splice_length_mm
    wedge = SPLICE_TIP_MM + (handle.splice_width_mm - SPLICE_TIP_MM) * np.clip(share, 0.0, 1.0)
    return np.where((share < 0) | (x > top), 0.0, wedge)


def corner_radii(build: BuildSheet, x_mm: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Radii of the blade's corners at face and back, mm, at places from the toe.

    Both shrink in one proportion where the sheet's radii do not fit: into the depth of the edge, into half
    the width at a rounded toe, or into the cheek beside the splice.
    """
    at = curves_at(build.blade, np.asarray(x_mm, dtype=np.float64))
    return corner_radii_of(build, at, splice_width(build, at.x))


def corner_radii_of(build: BuildSheet, at: Curves, splice_mm: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Radii of the corners where curves and splice are known already; see ``corner_radii``."""
    radii = build.blade.edge_radius_mm
    face, back = radii.face, radii.back
    if max(face, back) < NO_RADIUS_MM:
        return np.zeros_like(at.x), np.zeros_like(at.x)
    wood = at.edge - at.scoop - build.blade.face_crown_mm
    cheek = (at.width - splice_mm) / 2
    share = np.clip(np.minimum(wood / (face + back), cheek / max(face, back)), 0.0, 1.0)
    return face * share, back * share


def section_outline(build: BuildSheet, x_mm: float) -> FloatArray:
    """Outline of the whole blade (splice filled) at one place, points (z, y) in mm, bow included.

    The polygon is not closed by a repeated point, has the same number of points at every place and runs along
    the face from negative to positive z, then back along the back. At the sides the corners are arcs.
    """
    blade = build.blade
    x = np.array([x_mm], dtype=np.float64)
    half = float(local_width(blade, x)[0]) / 2
    spines, edges, hollows = station_curves(blade, x)
    face_radius, back_radius = (float(r[0]) for r in corner_radii(build, x))
    scooped, bowed = float(scoop_depth(blade, x)[0]), float(bow(blade, x)[0])

    z_face, drop_face = _half_side(half, face_radius)
    z_back, drop_back = _half_side(half, back_radius)
    y_face = blade.face_crown_mm * _share(z_face, half) ** 2 + drop_face
    hollow = (1 - _share(z_back, half)) ** float(hollows[0])
    y_back = float(edges[0]) - scooped + float(spines[0] - edges[0]) * hollow - drop_back
    face = np.column_stack([z_face, y_face + bowed])
    back = np.column_stack([z_back, y_back + bowed])
    mirror = np.array([-1.0, 1.0])
    return np.concatenate([face[:0:-1] * mirror, face, back[::-1], back[1:] * mirror])


def _half_side(half_mm: float, radius_mm: float) -> tuple[FloatArray, FloatArray]:
    """Places z from the centre line to the side, and how much the rounded corner takes off there."""
    turn = np.linspace(0.0, np.pi / 2, _ROUND)[1:]
    z = np.concatenate(
        [np.linspace(0.0, half_mm - radius_mm, _ACROSS), half_mm - radius_mm * (1 - np.sin(turn))]
    )
    drop = np.concatenate([np.zeros(_ACROSS), radius_mm * (1 - np.cos(turn))])
    return z, drop


def _share(z: FloatArray, half_mm: float) -> FloatArray:
    return np.clip(z / half_mm, 0.0, 1.0) if half_mm > 0 else np.zeros_like(z)


def girth(handle: Handle, blade: Blade, x_mm: FloatArray) -> FloatArray:
    """Tape round the bound handle, mm, at places from the toe: straight from bottom to middle to top."""
    top = blade.length_mm + handle.length_mm
    places = [blade.length_mm, blade.length_mm + handle.length_mm / 2, top]
    tape = handle.girth_mm
    return np.asarray(np.interp(x_mm, places, [tape.bottom, tape.middle, tape.top]))


def handle_axis_mm(handle: Handle, blade: Blade) -> float:
    """Height y of the handle's axis, mm: half the spine of the last station and the line."""
    return blade.stations[-1].spine_mm / 2 + handle.line_mm


def handle_ellipse(handle: Handle, blade: Blade, x_mm: FloatArray) -> tuple[FloatArray, FloatArray, float]:
    """Width and depth of the bound handle, mm, at places from the toe, and the height y of its axis, mm.

    The ellipse has the girth of the sheet by Ramanujan's second perimeter (Ramanujan S. (1914), Modular
    equations and approximations to pi, Quart. J. Math. 45:350-372; from memory); its error is below 1e-9 of
    the girth up to a ratio of 1.5.
    """
    x = np.asarray(x_mm, dtype=np.float64)
    bottom = handle.oval_ratio if handle.section_bottom == "oval" else 1.0
    top = handle.oval_ratio if handle.section_top == "oval" else 1.0
    share = np.clip((x - blade.length_mm) / handle.length_mm, 0.0, 1.0)
    ratio = bottom + (top - bottom) * share
    flatness = ((ratio - 1) / (ratio + 1)) ** 2
    around = np.pi * (1 + ratio) / 2 * (1 + 3 * flatness / (10 + np.sqrt(4 - 3 * flatness)))
    width = girth(handle, blade, x) / around
    return width, ratio * width, handle_axis_mm(handle, blade)
