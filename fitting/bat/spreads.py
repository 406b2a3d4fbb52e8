"""How far a finished bat may be from its forecast: one standard deviation of mass, balance and pickup.

Each thing that differs from bat to bat (the cleft's density, moisture, depth of the hand-work, handle, glue,
binding, grips, coverings, oil) moves all three figures at once and independently of the others; to first
order the three spreads are the roots of the sums of squares.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from fitting.bat.parts import Cuts
from fitting.bat.sections import splice_width
from fitting.bat.solid import G_PER_MM3, KG_M2, Body, tensor_about
from fitting.curve import FloatArray
from fitting.sheets.book_materials import Materials

COVERINGS = ("face_film", "toe_guard", "edge_tape")


@dataclass(frozen=True)
class Spread:
    """Standard deviations of the finished bat."""

    mass_g: float
    balance_mm: float
    pickup_kg_m2: float


@dataclass(frozen=True)
class Change:
    """One standard deviation of one cause: mass more (g), its moment about the toe (g mm), pickup (kg m2)."""

    mass_g: float
    moment_g_mm: float
    pickup_kg_m2: float


def spread_of(
    cuts: Cuts,
    materials: Materials,
    bodies: Mapping[str, Body],
    bat: Body,
    pivot: FloatArray,
    *,
    density_kg_m3: float,
    density_given: bool,
    glue_g: float,
) -> Spread:
    """Spread of a finished bat about its forecast.

    Args:
        cuts: the blade of what is made.
        materials: the spreads of its things.
        bodies: its parts by name.
        bat: all of them together.
        pivot: a point of the pickup axis (x, y, z in mm).
        density_kg_m3: of the willow.
        density_given: whether that is a cleft's own; else the sheet's whole band counts as evenly likely.
        glue_g: of the handle's mass.
    """
    spreads, build = materials.spreads, cuts.build
    band = build.willow.density_kg_m3
    even = 0.0 if density_given else (band.max - band.min) / math.sqrt(12) / density_kg_m3
    wet = spreads.moisture_percent / (100 + materials.moisture_percent)
    glue_share = glue_g / bodies["handle"].mass_g
    cane = spreads.cane_share * (1 - glue_share) if build.handle.cane_mass_g is None else 0.0
    shares = {
        "binding": spreads.binding_share,
        "grip": spreads.grip_share / math.sqrt(max(build.grips.count, 1)),
        "oil": spreads.oil_share,
        **dict.fromkeys(COVERINGS, spreads.covering_share),
    }
    changes = [
        scaled(bodies["blade"], even, pivot),
        scaled(bodies["blade"], spreads.density_share, pivot),
        _both(scaled(bodies["blade"], wet, pivot), scaled(bodies["handle"], wet, pivot)),
        scaled(bodies["handle"], cane, pivot),
        scaled(bodies["handle"], spreads.glue_share * glue_share, pivot),
        *depth_changes(cuts, density_kg_m3, pivot, spreads.depth_mm, spreads.depth_tilt_mm),
        *(scaled(bodies[name], share, pivot) for name, share in shares.items() if name in bodies),
    ]
    mass, balance = bat.mass_g, float(bat.centre_mm[0])
    return Spread(
        mass_g=math.hypot(*(change.mass_g for change in changes)),
        balance_mm=math.hypot(*((c.moment_g_mm - c.mass_g * balance) / mass for c in changes)),
        pickup_kg_m2=math.hypot(*(change.pickup_kg_m2 for change in changes)),
    )


def scaled(body: Body, share: float, pivot: FloatArray) -> Change:
    """A part heavier by a share of itself."""
    mass = body.mass_g * share
    pickup = float(tensor_about(body, pivot)[2, 2]) * KG_M2
    return Change(mass, mass * float(body.centre_mm[0]), pickup * share)


def _both(one: Change, other: Change) -> Change:
    """Two parts that one cause makes heavier together."""
    return Change(
        one.mass_g + other.mass_g,
        one.moment_g_mm + other.moment_g_mm,
        one.pickup_kg_m2 + other.pickup_kg_m2,
    )


def depth_changes(
    cuts: Cuts, density: float, pivot: FloatArray, depth: float, tilt: float
) -> tuple[Change, Change]:
    """A back left higher everywhere; and one left higher at the toe by as much as it is lower at the top.

    A layer of the blade's width along the back, 1 mm deep, weighed; its own depth is left out of the pickup.
    """
    build, along = cuts.build, cuts.along
    width = cuts.at.width - splice_width(build, along.x)
    layer = density * G_PER_MM3 * along.weight * width
    middle = float(layer @ along.x) / float(layer.sum())
    lean = 2 * (middle - along.x) / build.blade.length_mm
    return _layered(layer * depth, along.x, pivot), _layered(layer * lean * tilt, along.x, pivot)


def _layered(grams: FloatArray, x: FloatArray, pivot: FloatArray) -> Change:
    return Change(float(grams.sum()), float(grams @ x), float(grams @ (x - float(pivot[0])) ** 2) * KG_M2)
