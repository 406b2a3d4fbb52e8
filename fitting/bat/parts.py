"""The parts of a bat as bodies: willow, handle, binding, and everything it is dressed with.

Where each part lies is told in DEVELOPERS.md (axes and shape). The masses of grips and coverings come from
the build sheet and are spread over where they lie. Volumes are those at the moisture of the book: swelling
is left out, so is the pressed layer (the blade has one mean density).
"""

from collections.abc import Iterable
from itertools import pairwise

import numpy as np

from fitting.bat.moments import Sections, blade_sections, ellipse, rectangle, splice_sections
from fitting.bat.outline import bow, local_width, scoop_depth, station_curves
from fitting.bat.sections import SPLICE_TIP_MM, handle_ellipse, splice_width
from fitting.bat.solid import POINTS, Body, Rule, rule, solid, together
from fitting.curve import FloatArray
from fitting.sheets.book_materials import Materials
from fitting.sheets.build_sheet import SCOOP_START_MM, BuildSheet

GUARD_REACH_MM = 6.0
GRIP_STOP_MM = 25.0
SHOULDER_PARTS = 8

M2_PER_MM2 = 1e-6
THIN_MM = 0.01
"""Wall given to a grip of no thickness, so that its mass still lies round the handle."""


def blade_rule(
    build: BuildSheet, *, start: float = 0.0, end: float | None = None, points: int = POINTS
) -> Rule:
    """Quadrature along the blade, or from start to end of it, broken wherever a curve changes its formula."""
    blade = build.blade
    stop = blade.length_mm if end is None else end
    radius = blade.toe.corner_radius_mm
    # Somewhere in the shoulder the rounded corners begin to shrink beside the splice; a few short stretches
    # there keep that kink from being felt.
    shoulder = np.linspace(blade.length_mm - blade.shoulder.length_mm, blade.length_mm, SHOULDER_PARTS + 1)
    breaks = [
        radius,
        *shoulder[:-1].tolist(),
        blade.length_mm - build.handle.splice_length_mm,
        blade.bow_peak_from_toe_mm,
        *(s.from_toe_mm for s in blade.stations),
    ]
    if blade.toe.scoop is not None:
        breaks += [SCOOP_START_MM, SCOOP_START_MM + blade.toe.scoop.length_mm]
    inside = [b for b in breaks if start < b < stop]
    return rule([start, *inside, stop], root_until_mm=min(radius, stop), points=points)


def blade_body(build: BuildSheet, density_kg_m3: float, *, points: int = POINTS) -> Body:
    """The willow, splice recess and scoop taken out, corners rounded."""
    along = blade_rule(build, points=points)
    return solid(blade_sections(build, along.x), along, density_kg_m3)


def cane_body(build: BuildSheet, materials: Materials, *, points: int = POINTS) -> Body:
    """The handle without its binding: the splice inside the blade and the cane above it, of one density."""
    density = materials.cane_kg_m3(build.handle.construction)
    tip = build.blade.length_mm - build.handle.splice_length_mm
    inside = blade_rule(build, start=tip, points=points)
    above = handle_rule(build, points=points)
    cane = _handle_sections(build, above.x, -materials.binding_mm)
    return together(
        [solid(splice_sections(build, inside.x), inside, density), solid(cane, above, density)],
    )


def binding_body(build: BuildSheet, materials: Materials) -> Body:
    """The thread with its glue: a shell inside the girth, over the whole handle above the blade."""
    along = handle_rule(build)
    shell = _handle_sections(build, along.x, 0.0) - _handle_sections(build, along.x, -materials.binding_mm)
    return solid(shell, along, materials.binding_kg_m3)


def grip_body(build: BuildSheet) -> Body | None:
    """All grips one over the other, from the handle's top to 25 mm above the blade; None without one."""
    grips = build.grips
    if grips.count == 0 or grips.mass_g == 0:
        return None
    along = handle_rule(build, start=build.blade.length_mm + GRIP_STOP_MM)
    wall = max(grips.wall_mm, THIN_MM)
    rings = [_handle_sections(build, along.x, wall * number) for number in range(grips.count + 1)]
    layers = [solid(outer - inner, along, 1.0).weighing(grips.mass_g) for inner, outer in pairwise(rings)]
    return together(layers)


def film_body(build: BuildSheet) -> Body | None:
    """The film on the face, from the toe to where the shoulder begins; None without one."""
    film, blade = build.protection.face_film, build.blade
    if film is None or film.mass_g == 0:
        return None
    along = blade_rule(build, end=blade.length_mm - blade.shoulder.length_mm)
    width, crown = local_width(blade, along.x), blade.face_crown_mm
    sheet = Sections(width, width * crown / 3, width * crown**2 / 5, width**3 / 12)
    return solid(sheet.raised(bow(blade, along.x)), along, 1.0).weighing(film.mass_g)


def guard_body(build: BuildSheet) -> Body | None:
    """The toe guard, spread over the sections from 0 to 6 mm; None without one."""
    guard = build.protection.toe_guard
    if guard is None or guard.mass_g == 0:
        return None
    along = blade_rule(build, end=GUARD_REACH_MM)
    return solid(blade_sections(build, along.x), along, 1.0).weighing(guard.mass_g)


def tape_body(build: BuildSheet) -> Body | None:
    """Tape on the flat of both edges, from the toe to where the shoulder begins; None without one."""
    tape, blade = build.protection.edge_tape, build.blade
    if tape is None or tape.mass_g == 0:
        return None
    along = blade_rule(build, end=blade.length_mm - blade.shoulder.length_mm)
    low = np.full_like(along.x, blade.face_crown_mm)
    high = station_curves(blade, along.x)[1] - scoop_depth(blade, along.x)
    strips = rectangle(np.full_like(along.x, 2.0), low, high)
    at_sides = Sections(
        strips.area, strips.first_y, strips.second_yy, strips.area * local_width(blade, along.x) ** 2 / 4
    )
    return solid(at_sides.raised(bow(blade, along.x)), along, 1.0).weighing(tape.mass_g)


def oil_body(build: BuildSheet, materials: Materials, blade: Body) -> Body | None:
    """The oil that stays, by the blade's surface; it lies as the willow does. None without a coat."""
    mass = build.finish.oil_coats * materials.oil_coat_g_m2 * surface_mm2(build) * M2_PER_MM2
    return blade.weighing(mass) if mass > 0 else None


def glue_g(build: BuildSheet, materials: Materials) -> float:
    """Glue in the joint, g, by the area of the splice's two sides."""
    blade, handle = build.blade, build.handle
    along = blade_rule(build, start=blade.length_mm - handle.splice_length_mm)
    share = splice_width(build, along.x) / local_width(blade, along.x)
    spine, edge, hollow = station_curves(blade, along.x)
    depth = edge + (spine - edge) * (1 - share) ** hollow - blade.face_crown_mm * share**2
    slant = np.hypot(1.0, (handle.splice_width_mm - SPLICE_TIP_MM) / 2 / handle.splice_length_mm)
    return materials.glue_g_m2 * 2 * float(along.weight @ depth) * float(slant) * M2_PER_MM2


def surface_mm2(build: BuildSheet) -> float:
    """Surface of the blade's face, back and edges, mm2; the back's slopes and the rounding are left out."""
    blade = build.blade
    along = blade_rule(build)
    edge = station_curves(blade, along.x)[1] - scoop_depth(blade, along.x) - blade.face_crown_mm
    return float(along.weight @ (2 * local_width(blade, along.x) + 2 * edge))


def handle_rule(build: BuildSheet, *, start: float | None = None, points: int = POINTS) -> Rule:
    """Quadrature along the handle above the blade, broken at its middle where the girth may turn."""
    low, length = build.blade.length_mm, build.handle.length_mm
    ends: Iterable[float] = (low if start is None else start, low + length / 2, low + length)
    return rule(ends, points=points)


def _handle_sections(build: BuildSheet, x_mm: FloatArray, out_mm: float) -> Sections:
    """Full ellipses of the handle, moved out from the bound one by a wall, mm (inwards below 0)."""
    width, depth, axis = handle_ellipse(build.handle, build.blade, x_mm)
    return ellipse(width + 2 * out_mm, depth + 2 * out_mm).raised(axis)
