"""The bat as a beam: how stiff its sections are, and how it bends free at both ends.

The beam is straight: bow, and the step from the blade's middle to the handle's axis, turn its line by a few
degrees at most and are left out of the stiffness (not out of the mass). In the splice willow and cane bend
as one section about their common neutral axis. Thread, grip, film, guard and tape add mass, no stiffness:
they are thin or soft. The pressed face is not stiffer than the rest of the willow here. Held hands damp a
bat but hardly move its modes (Russell D. A. (2017), Acoustics Today 13(4):35-42), so it is free at both ends.
"""

from collections.abc import Mapping

import numpy as np

from fitting.bat.beam import POINT_WEIGHTS, Beam, MassLine, Modes, beam_of, modes_of, stiffness_places
from fitting.bat.moments import Sections, blade_and_splice, ellipse
from fitting.bat.outline import curves_at
from fitting.bat.sections import handle_ellipse
from fitting.bat.solid import KG_M2, Body
from fitting.curve import FloatArray
from fitting.sheets.book_materials import Materials
from fitting.sheets.build_sheet import BuildSheet

ELEMENTS = (22, 8, 14)
"""Elements below the splice, in it and above it: 44 were enough, see the convergence test."""

MODES = 8
"""Bending modes kept for a blow: up to some 3 kHz, where a blow of about 1 ms has no force left."""

# Shear coefficients at Poisson's ratio 0.3: a rectangle for the blade and its splice, a circle for the handle
# (Cowper G. R. (1966), The shear coefficient in Timoshenko's beam theory, J. Appl. Mech. 33:335-340; the
# formulas from memory: 10(1 + v)/(12 + 11 v) and 6(1 + v)/(7 + 6 v)).
_KAPPA_BLADE = 10 * 1.3 / (12 + 11 * 0.3)
_KAPPA_HANDLE = 6 * 1.3 / (7 + 6 * 0.3)

_PA_MM2 = 1e-6
"""One Pa over one mm2, in N."""
_PA_MM4 = 1e-12
"""One Pa times one mm4, in N m2."""


def bend(
    build: BuildSheet,
    materials: Materials,
    bodies: Mapping[str, Body],
    whole: Body,
    *,
    density_kg_m3: float,
    moisture_percent: float,
    count: int = MODES,
) -> Modes:
    """Bending modes of a bat.

    Args:
        build: its shape.
        materials: moduli of willow and cane.
        bodies: its parts by name, see ``bodies_of``.
        whole: all of them together.
        density_kg_m3: of the pressed blade at the book's moisture; it moves the willow's modulus.
        moisture_percent: of willow and cane; it moves both moduli.
        count: modes wanted.
    """
    beam = bat_beam(
        build, materials, bodies, whole, density_kg_m3=density_kg_m3, moisture_percent=moisture_percent
    )
    return modes_of(beam, count)


def bat_beam(
    build: BuildSheet,
    materials: Materials,
    bodies: Mapping[str, Body],
    whole: Body,
    *,
    density_kg_m3: float,
    moisture_percent: float,
    elements: tuple[int, int, int] = ELEMENTS,
) -> Beam:
    """The bat's matrices; arguments as in ``bend``."""
    nodes = _nodes(build, elements)
    places = stiffness_places(nodes / 1000) * 1000
    along = _Along(build, materials, places.ravel())
    willow = materials.willow_modulus_pa(density_kg_m3, moisture_percent)
    cane = materials.cane_modulus_pa(build.handle.construction, moisture_percent)
    bending, shearing = along.stiffness(materials, willow=willow, cane=cane)
    lengths = (np.diff(nodes)[:, None] * POINT_WEIGHTS).ravel()
    return beam_of(
        nodes / 1000,
        bending.reshape(places.shape),
        shearing.reshape(places.shape),
        along.mass(bodies, float(whole.centre_mm[1]), lengths),
    )


def _nodes(build: BuildSheet, elements: tuple[int, int, int]) -> FloatArray:
    """Places of the beam's nodes, mm: toe, tip of the splice, shoulder and top among them."""
    blade, handle = build.blade, build.handle
    ends = [
        0.0,
        blade.length_mm - handle.splice_length_mm,
        blade.length_mm,
        blade.length_mm + handle.length_mm,
    ]
    stretches = [
        np.linspace(low, high, count + 1)[:-1]
        for low, high, count in zip(ends[:-1], ends[1:], elements, strict=True)
    ]
    return np.append(np.concatenate(stretches), ends[-1])


class _Along:
    """Sections of willow, splice and handle at places along the bat, for stiffness and mass alike."""

    def __init__(self, build: BuildSheet, materials: Materials, x_mm: FloatArray) -> None:
        self.x = x_mm
        self.in_blade = x_mm < build.blade.length_mm
        self.wood, self.splice = blade_and_splice(build, curves_at(build.blade, x_mm[self.in_blade]))
        width, depth, axis = handle_ellipse(build.handle, build.blade, x_mm[~self.in_blade])
        self.bound = ellipse(width, depth).raised(axis)
        bare = ellipse(width - 2 * materials.binding_mm, depth - 2 * materials.binding_mm)
        self.bare_second = bare.second_yy
        self.bare = bare.raised(axis)

    def stiffness(self, materials: Materials, *, willow: float, cane: float) -> tuple[FloatArray, FloatArray]:
        """EI (N m2) and kappa G A (N)."""
        bending = self._whole(_one_section(self.wood, willow, self.splice, cane), cane * self.bare_second)
        of_willow, of_cane = willow * materials.willow_shear_share, cane * materials.cane_shear_share
        shearing = self._whole(
            _KAPPA_BLADE * (self.wood.area * of_willow + self.splice.area * of_cane),
            _KAPPA_HANDLE * self.bare.area * of_cane,
        )
        return bending * _PA_MM4, shearing * _PA_MM2

    def mass(self, bodies: Mapping[str, Body], height: float, lengths: FloatArray) -> MassLine:
        """All mass along the line, rotary inertia about the height of the bat's mass centre.

        About one height for the whole bat, so that a turn of the rigid beam has the inertia of the solid.
        Willow, splice and handle are weighed here anew, at enough places for every element; the dress lies
        where its body says.
        """
        willow = sum(bodies[name].mass_g for name in ("blade", "oil") if name in bodies)
        willow /= bodies["blade"].volume_mm3
        cane, thread = (bodies[name].mass_g / bodies[name].volume_mm3 for name in ("handle", "binding"))
        blade, splice, bare = self.wood, self.splice, self.bare
        shell = self.bound - bare
        grams = self._whole(willow * blade.area + cane * splice.area, cane * bare.area + thread * shell.area)
        first = self._whole(
            willow * blade.first_y + cane * splice.first_y, cane * bare.first_y + thread * shell.first_y
        )
        second = self._whole(
            willow * blade.second_yy + cane * splice.second_yy,
            cane * bare.second_yy + thread * shell.second_yy,
        )
        dress = [
            strand for name, body in bodies.items() if name not in _WEIGHED_HERE for strand in body.strands
        ]
        x = np.concatenate([self.x, *(strand.x_mm for strand in dress)])
        mass = np.concatenate([lengths * grams, *(strand.mass_g for strand in dress)])
        first = np.concatenate([lengths * first, *(strand.first_y_g_mm for strand in dress)])
        second = np.concatenate([lengths * second, *(strand.second_yy_g_mm2 for strand in dress)])
        rotary = second - 2 * height * first + height**2 * mass
        return MassLine(x / 1000, mass / 1000, rotary * KG_M2)

    def _whole(self, blade: FloatArray, handle: FloatArray) -> FloatArray:
        whole = np.empty_like(self.x)
        whole[self.in_blade], whole[~self.in_blade] = blade, handle
        return whole


_WEIGHED_HERE = frozenset({"blade", "oil", "handle", "binding"})


def _one_section(wood: Sections, willow: float, splice: Sections, cane: float) -> FloatArray:
    """EI of two materials that bend as one section about their common neutral axis, Pa mm4."""
    stretch = willow * wood.area + cane * splice.area
    first = willow * wood.first_y + cane * splice.first_y
    second = willow * wood.second_yy + cane * splice.second_yy
    return np.asarray(second - first**2 / stretch)
