"""The parts of a bat as bodies: willow, handle, binding, and everything it is dressed with.

Where each part lies is told in DEVELOPERS.md (axes and shape). The masses of grips and coverings come from
the build sheet and are spread over where they lie. Volumes are those at the moisture of the book: swelling
is left out, so is the pressed layer (the blade has one mean density).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from fitting.bat.moments import Sections, blade_and_splice, ellipse, rectangle
from fitting.bat.outline import Curves, curves_at
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


@dataclass(frozen=True)
class Cuts:
    """The blade cut at every place of a rule: its curves, and the sections of its willow and its splice."""

    build: BuildSheet
    along: Rule
    at: Curves
    willow: Sections
    splice: Sections

    def between(self, low_mm: float, high_mm: float) -> "Cuts":
        """Only the cuts of one stretch; both ends must be ends of the rule's own stretches."""
        here = (self.along.x > low_mm) & (self.along.x < high_mm)
        at, willow, splice = self.at, self.willow, self.splice
        return Cuts(
            self.build,
            Rule(self.along.x[here], self.along.weight[here]),
            Curves(
                at.x[here],
                at.width[here],
                at.spine[here],
                at.edge[here],
                at.scallop[here],
                at.bow[here],
                at.scoop[here],
            ),
            _those(willow, here),
            _those(splice, here),
        )


def cuts_of(build: BuildSheet, *, points: int = POINTS, also_at: float | None = None) -> Cuts:
    """Cut a blade where its quadrature wants it, and at one more place."""
    along = blade_rule(build, points=points, also_at=also_at)
    at = curves_at(build.blade, along.x)
    willow, splice = blade_and_splice(build, at)
    return Cuts(build, along, at, willow, splice)


def _those(of: Sections, here: NDArray[np.bool_]) -> Sections:
    return Sections(of.area[here], of.first_y[here], of.second_yy[here], of.second_zz[here])


def blade_rule(build: BuildSheet, *, points: int = POINTS, also_at: float | None = None) -> Rule:
    """Quadrature along the blade, broken wherever a curve changes its formula or a covering ends."""
    blade = build.blade
    stop = blade.length_mm
    radius = blade.toe.corner_radius_mm
    # Somewhere in the shoulder the rounded corners begin to shrink beside the splice; a few short stretches
    # there keep that kink from being felt.
    shoulder = np.linspace(stop - blade.shoulder.length_mm, stop, SHOULDER_PARTS + 1)
    breaks = [
        radius,
        GUARD_REACH_MM,
        *shoulder[:-1].tolist(),
        stop - build.handle.splice_length_mm,
        blade.bow_peak_from_toe_mm,
        *(s.from_toe_mm for s in blade.stations),
    ]
    if blade.toe.scoop is not None:
        breaks += [SCOOP_START_MM, SCOOP_START_MM + blade.toe.scoop.length_mm]
    if also_at is not None:
        breaks.append(also_at)
    inside = [b for b in breaks if 0.0 < b < stop]
    return rule([0.0, *inside, stop], root_until_mm=radius, points=points)


def blade_body(cuts: Cuts, density_kg_m3: float) -> Body:
    """The willow, splice recess and scoop taken out, corners rounded."""
    return solid(cuts.willow, cuts.along, density_kg_m3)


def cane_body(cuts: Cuts, materials: Materials, *, points: int = POINTS) -> Body:
    """The handle without its binding: the splice inside the blade and the cane above it, of one density."""
    inside = in_splice(cuts)
    density = materials.cane_kg_m3(cuts.build.handle.construction)
    above = cane_above(cuts.build, materials, points=points)
    return together([solid(inside.splice, inside.along, density), above])


def cane_above(build: BuildSheet, materials: Materials, *, points: int = POINTS) -> Body:
    """The cane above the blade, without its binding."""
    along = handle_rule(build, points=points)
    cane = _handle_sections(build, along.x, -materials.binding_mm)
    return solid(cane, along, materials.cane_kg_m3(build.handle.construction))


def in_splice(cuts: Cuts) -> Cuts:
    """The cuts from the splice's tip to the shoulder."""
    top = cuts.build.blade.length_mm
    return cuts.between(top - cuts.build.handle.splice_length_mm, top)


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


def film_body(cuts: Cuts) -> Body | None:
    """The film on the face, from the toe to where the shoulder begins; None without one."""
    film, blade = cuts.build.protection.face_film, cuts.build.blade
    if film is None or film.mass_g == 0:
        return None
    below = cuts.between(0.0, blade.length_mm - blade.shoulder.length_mm)
    width, crown = below.at.width, blade.face_crown_mm
    sheet = Sections(width, width * crown / 3, width * crown**2 / 5, width**3 / 12)
    return solid(sheet.raised(below.at.bow), below.along, 1.0).weighing(film.mass_g)


def guard_body(cuts: Cuts) -> Body | None:
    """The toe guard, spread over the sections from 0 to 6 mm; None without one."""
    guard = cuts.build.protection.toe_guard
    if guard is None or guard.mass_g == 0:
        return None
    toe = cuts.between(0.0, GUARD_REACH_MM)
    return solid(toe.willow, toe.along, 1.0).weighing(guard.mass_g)


def tape_body(cuts: Cuts) -> Body | None:
    """Tape on the flat of both edges, from the toe to where the shoulder begins; None without one."""
    tape, blade = cuts.build.protection.edge_tape, cuts.build.blade
    if tape is None or tape.mass_g == 0:
        return None
    below = cuts.between(0.0, blade.length_mm - blade.shoulder.length_mm)
    at = below.at
    strips = rectangle(np.full_like(at.x, 2.0), np.full_like(at.x, blade.face_crown_mm), at.edge - at.scoop)
    at_sides = Sections(strips.area, strips.first_y, strips.second_yy, strips.area * at.width**2 / 4)
    return solid(at_sides.raised(at.bow), below.along, 1.0).weighing(tape.mass_g)


def oil_body(cuts: Cuts, materials: Materials, blade: Body) -> Body | None:
    """The oil that stays, by the blade's surface; it lies as the willow does. None without a coat."""
    mass = cuts.build.finish.oil_coats * materials.oil_coat_g_m2 * surface_mm2(cuts) * M2_PER_MM2
    return blade.weighing(mass) if mass > 0 else None


def glue_g(cuts: Cuts, materials: Materials) -> float:
    """Glue in the joint, g, by the area of the splice's two sides."""
    blade, handle = cuts.build.blade, cuts.build.handle
    inside = in_splice(cuts)
    at = inside.at
    share = splice_width(cuts.build, at.x) / at.width
    depth = at.edge + (at.spine - at.edge) * (1 - share) ** at.scallop - blade.face_crown_mm * share**2
    slant = np.hypot(1.0, (handle.splice_width_mm - SPLICE_TIP_MM) / 2 / handle.splice_length_mm)
    return materials.glue_g_m2 * 2 * float(inside.along.weight @ depth) * float(slant) * M2_PER_MM2


def surface_mm2(cuts: Cuts) -> float:
    """Surface of the blade's face, back and edges, mm2; the back's slopes and the rounding are left out."""
    at = cuts.at
    side = at.edge - at.scoop - cuts.build.blade.face_crown_mm
    return float(cuts.along.weight @ (2 * at.width + 2 * side))


def handle_rule(build: BuildSheet, *, start: float | None = None, points: int = POINTS) -> Rule:
    """Quadrature along the handle above the blade, broken at its middle where the girth may turn."""
    low, length = build.blade.length_mm, build.handle.length_mm
    ends: Iterable[float] = (low if start is None else start, low + length / 2, low + length)
    return rule(ends, points=points)


def _handle_sections(build: BuildSheet, x_mm: FloatArray, out_mm: float) -> Sections:
    """Full ellipses of the handle, moved out from the bound one by a wall, mm (inwards below 0)."""
    width, depth, axis = handle_ellipse(build.handle, build.blade, x_mm)
    return ellipse(width + 2 * out_mm, depth + 2 * out_mm).raised(axis)
