"""A half-made bat against trimesh (M. Dawson-Haggerty and others) on a mesh of the same solid.

The mesh is made of rings of the blade's own outline (splice filled), of a block below the shoulder and, where
the handle is in, of the wedge that is cane instead of willow; trimesh integrates it as polyhedra. What a
kitchen scale and two pencils would tell of that solid (mass and mass centre) is what the model must say of it
in the same condition, and the forecast from that reading must be the finished bat's own mesh.
"""

from itertools import pairwise

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from fitting.bat.condition import Believed, Condition, Scales
from fitting.bat.half_made import stand
from fitting.bat.in_condition import lay_out
from fitting.bat.mesh import mesh_bodies
from fitting.bat.outline import bow
from fitting.bat.parts import cane_above
from fitting.bat.sections import section_outline, splice_width
from fitting.bat.solid import G_PER_MM3
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.builds import a_build, builds

TOLERANCE = 3e-3
MATERIALS = DEFAULT_BOOK.materials
DENSITY = 418.0
STEP_MM = 1.5
BLOCK_DEPTH, BLOCK_WIDTH = 68.0, 112.0


def _places(low, high, kinks):
    """Places from low to high with every kink among them, closer together in the toe."""
    ends = sorted({low, high, *(kink for kink in kinks if low < kink < high)})
    places = []
    for start, stop in pairwise(ends):
        count = max(3, round((stop - start) / STEP_MM))
        share = np.linspace(0, 1, count + 1)[:-1]
        places.append(start + (stop - start) * (share**2 if start == 0 else share))
    return np.append(np.concatenate(places), high)


def _loft(places, ring):
    """A closed mesh of rings with the same number of points, an end closed by a fan."""
    rings = [ring(x) for x in places]
    count, points = len(rings[0]), []
    for x, outline in zip(places, rings, strict=True):
        points.append(np.column_stack([np.full(count, x), outline[:, 1], outline[:, 0]]))
    middles = [points[0].mean(axis=0), points[-1].mean(axis=0)]
    vertices = np.vstack([*points, *middles])
    first, last = len(vertices) - 2, len(vertices) - 1
    faces = []
    for row in range(len(places) - 1):
        for column in range(count):
            a, b = row * count + column, row * count + (column + 1) % count
            faces += [(a, b, b + count), (a, b + count, a + count)]
    top = (len(places) - 1) * count
    for column in range(count):
        after = (column + 1) % count
        faces += [(first, after, column), (last, top + column, top + after)]
    solid = trimesh.Trimesh(vertices, np.array(faces), process=False)
    assert solid.is_watertight
    if solid.volume < 0:
        solid.invert()
    return solid


def _rectangle(width, low, high):
    half = width / 2
    return np.array([(-half, low), (half, low), (half, high), (-half, high)])


def _blade(build, stop):
    blade = build.blade
    kinks = [s.from_toe_mm for s in blade.stations]
    kinks += [blade.toe.corner_radius_mm, blade.length_mm - blade.shoulder.length_mm]
    kinks += [blade.length_mm - build.handle.splice_length_mm, blade.bow_peak_from_toe_mm]
    kinks += [] if blade.toe.scoop is None else [12.0, 12.0 + blade.toe.scoop.length_mm]
    # The very tip of a round toe is a line: the ring a hair above it stands for it.
    return _loft(_places(0.002, stop, kinks), lambda x: section_outline(build, float(x)))


def _through_block(build, condition, width_at, start):
    blade = build.blade
    kinks = [blade.bow_peak_from_toe_mm, blade.length_mm - build.handle.splice_length_mm + 1e-6]

    def ring(x):
        raised = float(bow(blade, np.array([x]))[0])
        return _rectangle(width_at(x), raised, raised + condition.square_depth_mm)

    return _loft(_places(start, blade.length_mm, kinks), ring)


def _wedge_width(build, x):
    return float(splice_width(build, np.array([max(x, 0.0)]))[0])


def _weighed(parts):
    """Mass and mass centre along the bat of (solid, density in kg/m3) pairs; a mass is given as it is."""
    masses = [solid.volume * density * G_PER_MM3 for solid, density in parts]
    centres = [solid.center_mass[0] for solid, _ in parts]
    total = sum(masses)
    return total, sum(m * c for m, c in zip(masses, centres, strict=True)) / total


@settings(max_examples=8, deadline=None, derandomize=True)
@given(builds(), st.sampled_from([0.0, 60.0, 150.0, 200.0]))
def test_blade_with_its_recess_full_and_its_top_square_weighs_as_its_mesh(build, square):
    condition = Condition(square_top_mm=square, square_depth_mm=BLOCK_DEPTH, square_width_mm=BLOCK_WIDTH)
    found = lay_out(build, condition, MATERIALS, DENSITY, 12.0).whole
    parts = [(_blade(build, build.blade.length_mm - square), DENSITY)]
    if square:
        start = build.blade.length_mm - square
        parts.append((_through_block(build, condition, lambda _: BLOCK_WIDTH, start), DENSITY))
    mass, centre = _weighed(parts)
    assert found.mass_g == pytest.approx(mass, rel=TOLERANCE)
    assert found.centre_mm[0] == pytest.approx(centre, rel=TOLERANCE)


@pytest.mark.parametrize("square", [160.0, 220.0])
def test_bat_with_its_handle_in_and_its_top_square_weighs_as_its_mesh(square):
    build, cane_g = a_build(), 310.0
    condition = Condition(
        handle=True,
        cane_g=cane_g,
        square_top_mm=square,
        square_depth_mm=BLOCK_DEPTH,
        square_width_mm=BLOCK_WIDTH,
    )
    laid = lay_out(build, condition, MATERIALS, DENSITY, 12.0)
    start, tip = build.blade.length_mm - square, build.blade.length_mm - build.handle.splice_length_mm
    assert start < tip
    wedge = _through_block(build, condition, lambda x: _wedge_width(build, x), tip + 1e-6)
    block = _through_block(build, condition, lambda _: BLOCK_WIDTH, start)
    willow, centre = _weighed([(_blade(build, start), DENSITY), (block, DENSITY), (wedge, -DENSITY)])
    assert laid.bodies["blade"].mass_g == pytest.approx(willow, rel=TOLERANCE)
    assert laid.bodies["blade"].centre_mm[0] == pytest.approx(centre, rel=TOLERANCE)
    above = cane_above(build, MATERIALS)
    cane_kg_m3 = MATERIALS.cane_kg_m3(build.handle.construction)
    in_wedge = wedge.volume * cane_kg_m3 * G_PER_MM3
    cane_centre = (in_wedge * wedge.center_mass[0] + above.mass_g * float(above.centre_mm[0])) / (
        in_wedge + above.mass_g
    )
    handle = laid.bodies["handle"]
    assert handle.mass_g == pytest.approx(cane_g + laid.glue_g, rel=1e-9)
    assert handle.centre_mm[0] == pytest.approx(cane_centre, rel=TOLERANCE)


@settings(max_examples=6, deadline=None, derandomize=True)
@given(builds(), st.floats(-0.08, 0.08))
def test_forecast_from_a_meshed_blade_is_the_mesh_of_the_finished_bat(build, off):
    """The rack says one density, the scales show the mesh's mass: the forecast is of the mesh's willow."""
    square = 150.0
    condition = Condition(
        square_top_mm=square, square_depth_mm=BLOCK_DEPTH, square_width_mm=BLOCK_WIDTH, sanded=True
    )
    start = build.blade.length_mm - square
    block = _through_block(build, condition, lambda _: BLOCK_WIDTH, start)
    mass, _ = _weighed([(_blade(build, start), DENSITY), (block, DENSITY)])
    told = stand(
        build,
        condition,
        Scales(mass_g=mass),
        # So wide that the scales alone decide.
        Believed(density_kg_m3=DENSITY * (1 + off), sd_kg_m3=400),
        aim=build,
    )
    assert told.believed.density_kg_m3 == pytest.approx(DENSITY, rel=2 * TOLERANCE)
    meshes = {
        name: trimesh.Trimesh(body.vertices, body.faces, process=False)
        for name, body in mesh_bodies(told.after, fineness=1.0).items()
    }
    finished = meshes["blade"].volume * DENSITY * G_PER_MM3
    rest = sum(part.mass_g for part in told.weighing.parts if part.name != "blade")
    assert told.weighing.mass_g == pytest.approx(finished + rest, rel=TOLERANCE)
