"""Weighing a build sheet: mass by parts, balance, inertia, how it bends, and where it hits.

``heft`` computes what a bat weighs and how it swings from the numeric solid; ``weigh`` adds bending and the
reference impact, which take most of the time. Solving for a mass asks ``heft``, solving for a sweet spot and
everything that is shown asks ``weigh``.

How mass answers, for whoever sets stations to meet one: the willow's mass is its volume times the mean
density of the pressed blade, so it is straight in the density (1 % of density is 1 % of the blade, some 8 g
of an adult bat) and all but straight in any depth (1 mm off the whole back of an adult blade is some 23 g).
The volume does not depend on the density: for a wanted mass ``density = (wanted - other parts) / volume``.
Handle, binding and glue answer to the handle's numbers (splice and glue to the depth there besides), oil to
the blade's surface, grips and coverings to the sheet's masses.

Left out, each on purpose: swelling (volumes stay those at 12 %), the pressed layer (one mean density), the
under-layer below the thread, marks and stickers, the grip's cap.
"""

import math
from dataclasses import dataclass

import numpy as np

from fitting.bat.beam import Modes, standstills
from fitting.bat.bending import bend
from fitting.bat.outline import swell_from_toe_mm
from fitting.bat.parts import (
    Cuts,
    binding_body,
    blade_body,
    cane_body,
    cuts_of,
    film_body,
    glue_g,
    grip_body,
    guard_body,
    oil_body,
    tape_body,
)
from fitting.bat.response import respond
from fitting.bat.sections import handle_axis_mm
from fitting.bat.solid import KG_M2, Body, tensor_about, together
from fitting.bat.spreads import COVERINGS, spread_of
from fitting.curve import FloatArray
from fitting.sheets.book import Book
from fitting.sheets.book_materials import Materials
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.weighing import Inertia, LowerHand, Mode, Part, Weighing

PICKUP_AXIS_MM = 152.4
"""Pickup axis below the handle's top: 6 in, the axis of ASTM F2398 (from memory of the standard)."""

MODES_TOLD = 3


@dataclass(frozen=True)
class Solid:
    """A bat as a body: its parts by name, all of them together, and what they were computed for."""

    cuts: Cuts
    materials: Materials
    density_kg_m3: float
    density_given: bool
    moisture_percent: float
    bodies: dict[str, Body]
    whole: Body

    @property
    def build(self) -> BuildSheet:
        """The sheet."""
        return self.cuts.build

    @property
    def pivot(self) -> FloatArray:
        """Point of the pickup axis in the bat's plane, x, y and z in mm."""
        return np.array([*pickup_axis_mm(self.build), 0.0])

    def about(self, point_mm: FloatArray) -> float:
        """Moment of inertia about an axis across the bat through a point, kg m2."""
        return float(tensor_about(self.whole, point_mm)[2, 2]) * KG_M2


def weigh(
    build: BuildSheet,
    *,
    book: Book = DEFAULT_BOOK,
    density_kg_m3: float | None = None,
    moisture_percent: float = 12.0,
) -> Weighing:
    """Weigh a build sheet: mass, balance, inertia, bending modes, response and sweet spot.

    Args:
        build: what is to be made.
        book: whose materials count.
        density_kg_m3: mean density of the pressed blade at the book's moisture; None is the middle of the
            sheet's band, whose width then counts in the spreads.
        moisture_percent: moisture of willow and cane; a fixed dry piece weighs (1 + M/100) times its dry mass
            (USDA Wood Handbook FPL-GTR-282, eq. 4-2) and bends more easily the wetter it is. Shape and volume
            stay: swelling is left out.

    Returns:
        The weighing; masses in g, places in mm from the toe, inertia in kg m2. The parts add up to the mass
        exactly. Quadrature error of mass, balance and inertia below 1e-5 of each figure; frequencies within
        0.1 % of many more elements, the peak within 2 mm of many more steps and modes. The model's own error
        is not in that: see "The model" in DEVELOPERS.md.

    Raises:
        ValueError: a density not above 0 or a moisture below 0, or either not a number.
    """
    return weigh_with(build, book.materials, density_kg_m3=density_kg_m3, moisture_percent=moisture_percent)


def heft(
    build: BuildSheet,
    *,
    book: Book = DEFAULT_BOOK,
    density_kg_m3: float | None = None,
    moisture_percent: float = 12.0,
) -> Weighing:
    """Weigh a build sheet without bending and impact: arguments and errors as in ``weigh``."""
    return _hefted(solid_of(build, book.materials, density_kg_m3, moisture_percent))


def weigh_with(
    build: BuildSheet,
    materials: Materials,
    *,
    density_kg_m3: float | None = None,
    moisture_percent: float = 12.0,
) -> Weighing:
    """Weigh a build sheet with materials alone; see ``weigh``."""
    bat = solid_of(build, materials, density_kg_m3, moisture_percent)
    hefted = _hefted(bat)
    modes = bend(
        build,
        materials,
        bat.bodies,
        bat.whole,
        density_kg_m3=bat.density_kg_m3,
        moisture_percent=moisture_percent,
    )
    response = respond(build, materials.impact, bat.whole, modes, pickup_kg_m2=hefted.inertia_kg_m2.pickup)
    return hefted.model_copy(
        update={
            "modes": tuple(
                _mode(modes, number, still) for number, still in enumerate(standstills(modes, MODES_TOLD))
            ),
            "reference_impact": response.impact,
            "response": response.points,
            "sweet_spot": response.sweet_spot,
        }
    )


def solid_of(
    build: BuildSheet, materials: Materials, density_kg_m3: float | None, moisture_percent: float
) -> Solid:
    """Lay out a bat as a body; arguments and errors as in ``weigh``."""
    band = build.willow.density_kg_m3
    density = (band.min + band.max) / 2 if density_kg_m3 is None else density_kg_m3
    if not (math.isfinite(density) and density > 0):
        raise ValueError("density_kg_m3 above 0")
    if not (math.isfinite(moisture_percent) and moisture_percent >= 0):
        raise ValueError("moisture_percent 0 or above")
    cuts = cuts_of(build)
    bodies = bodies_of(cuts, materials, density_kg_m3=density, moisture_percent=moisture_percent)
    return Solid(
        cuts=cuts,
        materials=materials,
        density_kg_m3=density,
        density_given=density_kg_m3 is not None,
        moisture_percent=moisture_percent,
        bodies=bodies,
        whole=together(list(bodies.values())),
    )


def _hefted(bat: Solid) -> Weighing:
    build, whole, pivot = bat.build, bat.whole, bat.pivot
    pickup = bat.about(pivot)
    reach = float(pivot[0] - whole.centre_mm[0])
    spread = spread_of(
        bat.cuts,
        bat.materials,
        bat.bodies,
        whole,
        pivot,
        density_kg_m3=bat.density_kg_m3,
        density_given=bat.density_given,
        glue_g=glue_g(bat.cuts, bat.materials),
    )
    return Weighing(
        mass_g=whole.mass_g,
        mass_sd_g=spread.mass_g,
        density_kg_m3=bat.density_kg_m3,
        moisture_percent=bat.moisture_percent,
        parts=tuple(_part(name, body) for name, body in bat.bodies.items()),
        balance_from_toe_mm=float(whole.centre_mm[0]),
        balance_sd_mm=spread.balance_mm,
        inertia_kg_m2=Inertia(
            about_balance=float(whole.tensor_g_mm2[2, 2]) * KG_M2,
            pickup=pickup,
            about_long_axis=float(whole.tensor_g_mm2[0, 0]) * KG_M2,
        ),
        pickup_sd_kg_m2=spread.pickup_kg_m2,
        lower_hand=_lower_hand(bat),
        centre_of_percussion_from_toe_mm=float(pivot[0]) - pickup / KG_M2 / (whole.mass_g * reach),
        swell_from_toe_mm=swell_from_toe_mm(build.blade),
        overall_length_mm=build.blade.length_mm + build.handle.length_mm,
    )


def _lower_hand(bat: Solid) -> LowerHand:
    """What the lower hand feels at its place on the handle; at the shoulder where the handle is too short."""
    blade, handle = bat.build.blade, bat.build.handle
    below_top = bat.materials.impact.lower_hand_from_handle_top_mm
    axis = blade.length_mm + max(handle.length_mm - below_top, 0.0)
    return LowerHand(
        axis_from_toe_mm=axis,
        static_moment_kg_m=bat.whole.mass_g * (axis - float(bat.whole.centre_mm[0])) / 1e6,
        inertia_kg_m2=bat.about(np.array([axis, handle_axis_mm(handle, blade), 0.0])),
    )


def _mode(modes: Modes, number: int, still: FloatArray) -> Mode:
    return Mode(
        frequency_hz=float(modes.frequency_hz[number]), nodes_from_toe_mm=tuple((still * 1000).tolist())
    )


def pickup_axis_mm(build: BuildSheet) -> tuple[float, float]:
    """Where the pickup axis crosses the bat's plane: x from the toe and y of the handle's axis, mm."""
    top = build.blade.length_mm + build.handle.length_mm
    return top - PICKUP_AXIS_MM, handle_axis_mm(build.handle, build.blade)


def bodies_of(
    cuts: Cuts, materials: Materials, *, density_kg_m3: float, moisture_percent: float
) -> dict[str, Body]:
    """Every part that is there as a body, by name; willow and cane at the moisture given.

    ``handle`` is cane, splice and glue spread evenly over the shape of the handle, so that its mass centre is
    that of its mesh. A weighed cane mass stands in place of the computed one, weighed at the book's moisture.
    """
    build = cuts.build
    damp = (1 + moisture_percent / 100) / (1 + materials.moisture_percent / 100)
    blade = blade_body(cuts, density_kg_m3)
    cane = cane_body(cuts, materials)
    cane_g = cane.mass_g if build.handle.cane_mass_g is None else build.handle.cane_mass_g
    bodies: dict[str, Body | None] = {
        "blade": blade.weighing(blade.mass_g * damp),
        "handle": cane.weighing(cane_g * damp + glue_g(cuts, materials)),
        "binding": binding_body(build, materials),
        "grip": grip_body(build),
        "face_film": film_body(cuts),
        "toe_guard": guard_body(cuts),
        "edge_tape": tape_body(cuts),
        "oil": oil_body(cuts, materials, blade),
    }
    return {name: body for name, body in bodies.items() if body is not None}


def _part(name: str, body: Body) -> Part:
    # A covering's and the oil's volume is not computed: only where their mass lies.
    volume = None if name in COVERINGS or name == "oil" else body.volume_mm3
    return Part(
        name=name,
        mass_g=body.mass_g,
        volume_mm3=volume,
        centre_from_toe_mm=float(body.centre_mm[0]),
    )
