"""A half-made bat as a body: with the splice's recess still full, its top a square block, its handle raw.

The willow is that of the sheet's own solid, except where it has not been taken away yet: without a handle
the recess is willow, and below the shoulder a block may stand that nobody has shaped. The block is as deep
and as wide as it is told; its face lies in the face's own plane, bow included.
"""

from dataclasses import dataclass

import numpy as np

from fitting.bat.condition import Condition
from fitting.bat.moments import Sections, rectangle
from fitting.bat.outline import bow
from fitting.bat.parts import (
    Cuts,
    binding_body,
    cane_above,
    cane_body,
    cuts_of,
    film_body,
    glue_g,
    grip_body,
    guard_body,
    oil_body,
    surface_mm2,
    tape_body,
)
from fitting.bat.sections import splice_width
from fitting.bat.solid import Body, Rule, rule, solid, together
from fitting.curve import FloatArray
from fitting.sheets.book_materials import Materials
from fitting.sheets.build_sheet import BuildSheet


@dataclass(frozen=True)
class HalfMade:
    """The bodies that lie on the scales, by name, and what the spreads of their masses are told by."""

    cuts: Cuts
    bodies: dict[str, Body]
    whole: Body
    willow_mm3: float
    recess_mm3: float
    glue_g: float
    surface_mm2: float


def lay_out(
    now: BuildSheet, condition: Condition, materials: Materials, density_kg_m3: float, moisture_percent: float
) -> HalfMade:
    """Lay out a half-made bat as bodies.

    Args:
        now: the sheet with the stations that the blade has now.
        condition: in which it lies on the scales.
        materials: of the book.
        density_kg_m3: of the willow at the book's moisture.
        moisture_percent: of willow and cane on the scales.

    Returns:
        Bodies named as the weighing's parts, masses in g, axes as the bat's; ``recess_mm3`` is the willow
        that the splice will take.

    Raises:
        ValueError: a block longer than the blade.
    """
    if condition.square_top_mm >= now.blade.length_mm:
        raise ValueError("square_top_mm below the blade's length")
    damp = (1 + moisture_percent / 100) / (1 + materials.moisture_percent / 100)
    cuts = cuts_of(now, also_at=now.blade.length_mm - condition.square_top_mm)
    willow = _willow(now, condition, cuts, density_kg_m3)
    blade = willow.weighing(willow.mass_g * damp)
    joint_g = glue_g(cuts, materials)
    bodies: dict[str, Body | None] = {"blade": blade}
    if condition.handle:
        cane = _cane(now, condition, cuts, materials)
        weighed = now.handle.cane_mass_g if condition.cane_g is None else condition.cane_g
        cane_g = cane.mass_g if weighed is None else weighed
        bodies["handle"] = cane.weighing(cane_g * damp + joint_g)
    bodies |= {
        "binding": binding_body(now, materials) if condition.bound and condition.handle else None,
        "grip": grip_body(_with_grips(now, condition.grips)) if condition.handle else None,
        "face_film": film_body(cuts) if condition.face_film else None,
        "toe_guard": guard_body(cuts) if condition.toe_guard else None,
        "edge_tape": tape_body(cuts) if condition.edge_tape else None,
        "oil": oil_body(with_coats(cuts, condition.oil_coats), materials, blade),
    }
    there = {name: body for name, body in bodies.items() if body is not None}
    return HalfMade(
        cuts=cuts,
        bodies=there,
        whole=together(list(there.values())),
        willow_mm3=willow.volume_mm3,
        recess_mm3=_recess_mm3(now, condition, cuts),
        glue_g=joint_g if condition.handle else 0.0,
        surface_mm2=surface_mm2(cuts),
    )


def _willow(now: BuildSheet, condition: Condition, cuts: Cuts, density_kg_m3: float) -> Body:
    square_from = now.blade.length_mm - condition.square_top_mm
    below = cuts.between(0.0, square_from) if condition.square_top_mm else cuts
    bodies = [solid(below.willow, below.along, density_kg_m3)]
    tip = now.blade.length_mm - now.handle.splice_length_mm
    if not condition.handle and tip < square_from:
        inside = cuts.between(tip, square_from)
        bodies.append(solid(inside.splice, inside.along, density_kg_m3))
    if condition.square_top_mm:
        along = _block_rule(now, condition)
        block = _block(now, condition, along, np.full_like(along.x, condition.square_width_mm))
        if condition.handle:
            block = block - _block(now, condition, along, splice_width(now, along.x))
        bodies.append(solid(block, along, density_kg_m3))
    return together(bodies)


def _cane(now: BuildSheet, condition: Condition, cuts: Cuts, materials: Materials) -> Body:
    """The cane; through a block its splice is as deep as the block."""
    if not condition.square_top_mm:
        return cane_body(cuts, materials)
    density = materials.cane_kg_m3(now.handle.construction)
    top = now.blade.length_mm
    square_from, tip = top - condition.square_top_mm, top - now.handle.splice_length_mm
    along = _block_rule(now, condition)
    inside = along.x > tip
    within = Rule(along.x[inside], along.weight[inside])
    bodies = [
        solid(_block(now, condition, within, splice_width(now, within.x)), within, density),
        cane_above(now, materials),
    ]
    if tip < square_from:
        below = cuts.between(tip, square_from)
        bodies.append(solid(below.splice, below.along, density))
    return together(bodies)


def _recess_mm3(now: BuildSheet, condition: Condition, cuts: Cuts) -> float:
    """Willow that still stands where the splice will be, in the shape that the sheet gives it, mm3."""
    if condition.handle:
        return 0.0
    inside = cuts.between(now.blade.length_mm - now.handle.splice_length_mm, now.blade.length_mm)
    return float(inside.along.weight @ inside.splice.area)


def _block_rule(now: BuildSheet, condition: Condition) -> Rule:
    top = now.blade.length_mm
    breaks = [
        top - condition.square_top_mm,
        top - now.handle.splice_length_mm,
        now.blade.bow_peak_from_toe_mm,
        top,
    ]
    return rule(place for place in breaks if top - condition.square_top_mm <= place <= top)


def _block(now: BuildSheet, condition: Condition, along: Rule, width_mm: FloatArray) -> Sections:
    depth = np.full_like(along.x, condition.square_depth_mm)
    return rectangle(width_mm, np.zeros_like(depth), depth).raised(bow(now.blade, along.x))


def _with_grips(now: BuildSheet, count: int) -> BuildSheet:
    return now.model_copy(update={"grips": now.grips.model_copy(update={"count": count})})


def with_coats(cuts: Cuts, coats: int) -> Cuts:
    """The same cuts of a sheet that has another number of oil coats."""
    build = cuts.build
    finish = build.finish.model_copy(update={"oil_coats": coats})
    return Cuts(build.model_copy(update={"finish": finish}), cuts.along, cuts.at, cuts.willow, cuts.splice)
