"""Weighing a build sheet: mass by parts, balance, inertia, from the numeric solid.

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

import numpy as np

from fitting.bat.outline import local_width, swell_from_toe_mm
from fitting.bat.parts import (
    binding_body,
    blade_body,
    blade_rule,
    cane_body,
    film_body,
    glue_g,
    grip_body,
    guard_body,
    oil_body,
    tape_body,
)
from fitting.bat.sections import handle_axis_mm, splice_width
from fitting.bat.solid import G_PER_MM3, KG_M2, Body, tensor_about, together
from fitting.sheets.book import Book
from fitting.sheets.book_materials import Materials
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.weighing import Inertia, Part, Weighing

PICKUP_AXIS_MM = 152.4
"""Pickup axis below the handle's top: 6 in, the axis of ASTM F2398 (from memory of the standard)."""

COVERINGS = ("face_film", "toe_guard", "edge_tape")


def weigh(
    build: BuildSheet,
    *,
    book: Book = DEFAULT_BOOK,
    density_kg_m3: float | None = None,
    moisture_percent: float = 12.0,
) -> Weighing:
    """Weigh a build sheet.

    Args:
        build: what is to be made.
        book: whose materials count.
        density_kg_m3: mean density of the pressed blade at the book's moisture; None is the middle of the
            sheet's band, whose width then counts in ``mass_sd_g``.
        moisture_percent: moisture of willow and cane; a fixed dry piece weighs (1 + M/100) times its dry mass
            (USDA Wood Handbook FPL-GTR-282, eq. 4-2). Shape and volume stay: swelling is left out.

    Returns:
        The weighing; masses in g, places in mm from the toe, inertia in kg m2. The parts add up to the mass
        exactly. Quadrature error below 1e-5 of each figure; the model's own error is not in that.

    Raises:
        ValueError: a density not above 0 or a moisture below 0, or either not a number.
    """
    return weigh_with(build, book.materials, density_kg_m3=density_kg_m3, moisture_percent=moisture_percent)


def weigh_with(
    build: BuildSheet,
    materials: Materials,
    *,
    density_kg_m3: float | None = None,
    moisture_percent: float = 12.0,
) -> Weighing:
    """Weigh a build sheet with materials alone; see ``weigh``."""
    band = build.willow.density_kg_m3
    density = (band.min + band.max) / 2 if density_kg_m3 is None else density_kg_m3
    if not (math.isfinite(density) and density > 0):
        raise ValueError("density_kg_m3 above 0")
    if not (math.isfinite(moisture_percent) and moisture_percent >= 0):
        raise ValueError("moisture_percent 0 or above")
    bodies = bodies_of(build, materials, density_kg_m3=density, moisture_percent=moisture_percent)
    bat = together(list(bodies.values()))
    pivot = pickup_axis_mm(build)
    pickup = tensor_about(bat, np.array([*pivot, 0.0]))[2, 2]
    reach = pivot[0] - bat.centre_mm[0]
    return Weighing(
        mass_g=bat.mass_g,
        mass_sd_g=_mass_sd_g(build, materials, bodies, density_kg_m3, density),
        density_kg_m3=density,
        moisture_percent=moisture_percent,
        parts=tuple(_part(name, body) for name, body in bodies.items()),
        balance_from_toe_mm=float(bat.centre_mm[0]),
        inertia_kg_m2=Inertia(
            about_balance=float(bat.tensor_g_mm2[2, 2]) * KG_M2,
            pickup=float(pickup) * KG_M2,
            about_long_axis=float(bat.tensor_g_mm2[0, 0]) * KG_M2,
        ),
        centre_of_percussion_from_toe_mm=float(pivot[0] - pickup / (bat.mass_g * reach)),
        swell_from_toe_mm=swell_from_toe_mm(build.blade),
        overall_length_mm=build.blade.length_mm + build.handle.length_mm,
    )


def pickup_axis_mm(build: BuildSheet) -> tuple[float, float]:
    """Where the pickup axis crosses the bat's plane: x from the toe and y of the handle's axis, mm."""
    top = build.blade.length_mm + build.handle.length_mm
    return top - PICKUP_AXIS_MM, handle_axis_mm(build.handle, build.blade)


def bodies_of(
    build: BuildSheet, materials: Materials, *, density_kg_m3: float, moisture_percent: float
) -> dict[str, Body]:
    """Every part that is there as a body, by name; willow and cane at the moisture given.

    ``handle`` is cane, splice and glue spread evenly over the shape of the handle, so that its mass centre is
    that of its mesh. A weighed cane mass stands in place of the computed one, weighed at the book's moisture.
    """
    damp = (1 + moisture_percent / 100) / (1 + materials.moisture_percent / 100)
    blade = blade_body(build, density_kg_m3)
    cane = cane_body(build, materials)
    cane_g = cane.mass_g if build.handle.cane_mass_g is None else build.handle.cane_mass_g
    bodies: dict[str, Body | None] = {
        "blade": blade.weighing(blade.mass_g * damp),
        "handle": cane.weighing(cane_g * damp + glue_g(build, materials)),
        "binding": binding_body(build, materials),
        "grip": grip_body(build),
        "face_film": film_body(build),
        "toe_guard": guard_body(build),
        "edge_tape": tape_body(build),
        "oil": oil_body(build, materials, blade),
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


def _mass_sd_g(
    build: BuildSheet, materials: Materials, bodies: dict[str, Body], given: float | None, density: float
) -> float:
    """One standard deviation of the finished mass, g: root of the sum of squares of independent spreads.

    Counted: the cleft's density (the even spread over the sheet's band where no density is given, and the
    measuring of a cleft), depth of the shaping, cane (unless weighed), glue, binding, grips, coverings, oil.
    """
    spreads = materials.spreads
    band = build.willow.density_kg_m3
    even = (band.max - band.min) / math.sqrt(12) / density if given is None else 0.0
    blade = bodies["blade"]
    along = blade_rule(build)
    face_mm2 = float(along.weight @ (local_width(build.blade, along.x) - splice_width(build, along.x)))
    shares = {
        "binding": spreads.binding_share,
        "grip": spreads.grip_share / math.sqrt(max(build.grips.count, 1)),
        "oil": spreads.oil_share,
        **dict.fromkeys(COVERINGS, spreads.covering_share),
    }
    glue = glue_g(build, materials)
    cane = bodies["handle"].mass_g - glue if build.handle.cane_mass_g is None else 0.0
    terms = [
        cane * spreads.cane_share,
        glue * spreads.glue_share,
        blade.mass_g * even,
        blade.mass_g * spreads.density_share,
        density * G_PER_MM3 * face_mm2 * spreads.depth_mm,
        *(bodies[name].mass_g * share for name, share in shares.items() if name in bodies),
    ]
    return math.hypot(*terms)
