"""Mass, mass centre and inertia of blade and handle against trimesh (M. Dawson-Haggerty and others).

The bodies are the program's own triangles, integrated by trimesh as polyhedra (its volume integrals follow
Eberly D. (2002), Polyhedral mass properties (revisited); from memory); the weighing integrates sections in
closed form. ``handle`` of the weighing is cane, splice and glue spread evenly over the handle's shape, and so
its mesh is given that mass.
"""

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings

from fitting.bat.mesh import mesh_bodies
from fitting.bat.parts import cuts_of
from fitting.bat.solid import together
from fitting.bat.weigh import bodies_of
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.builds import a_build, builds

TOLERANCE = 3e-3
DENSITY_KG_M3 = 410


def _weighed(build):
    bodies = bodies_of(
        cuts_of(build), DEFAULT_BOOK.materials, density_kg_m3=DENSITY_KG_M3, moisture_percent=12
    )
    return {name: bodies[name] for name in ("blade", "handle")}


def _solids(build, fineness=1.0):
    return {
        name: trimesh.Trimesh(body.vertices, body.faces, process=False)
        for name, body in mesh_bodies(build, fineness=fineness).items()
    }


def _of_mass(solid, mass_g):
    """Mass, centre and tensor about it of a mesh that is filled evenly; both halves of the bat alike."""
    solid.density = mass_g / solid.volume
    return solid.mass, solid.center_mass, solid.moment_inertia


def _assert_tensors_agree(found, expected):
    assert np.max(np.abs(found - expected)) < TOLERANCE * np.max(np.abs(expected))


def _both(parts):
    """Two bodies as one by the parallel axis theorem."""
    mass = sum(m for m, _, _ in parts)
    centre = sum(m * c for m, c, _ in parts) / mass
    tensor = sum(
        t + m * ((c - centre) @ (c - centre) * np.eye(3) - np.outer(c - centre, c - centre))
        for m, c, t in parts
    )
    return mass, centre, tensor


@settings(max_examples=10, deadline=None, derandomize=True)
@given(builds())
def test_ten_bats_have_the_mass_centre_and_inertia_of_their_meshes(build):
    parts, solids = _weighed(build), _solids(build)
    meshed = []
    for name, part in parts.items():
        solid = solids[name]
        assert solid.is_watertight
        assert solid.is_winding_consistent
        assert solid.volume == pytest.approx(part.volume_mm3, rel=TOLERANCE)
        meshed.append(_of_mass(solid, part.mass_g * solid.volume / part.volume_mm3))
        mass, centre, tensor = meshed[-1]
        assert mass == pytest.approx(part.mass_g, rel=TOLERANCE)
        assert centre == pytest.approx(part.centre_mm, abs=TOLERANCE * part.centre_mm[0])
        _assert_tensors_agree(tensor, part.tensor_g_mm2)
    mass, centre, tensor = _both(meshed)
    bat = together(list(parts.values()))
    assert mass == pytest.approx(bat.mass_g, rel=TOLERANCE)
    assert centre == pytest.approx(bat.centre_mm, abs=TOLERANCE * bat.centre_mm[0])
    _assert_tensors_agree(tensor, bat.tensor_g_mm2)


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {
            "blade__toe": {"corner_radius_mm": 45, "scoop": {"length_mm": 105, "depth_mm": 10}},
            "blade__bow_mm": 15,
            "blade__face_crown_mm": 2.4,
            "handle__line_mm": 4,
        },
    ],
    ids=["plain", "scooped_and_bowed"],
)
def test_volumes_converge_on_the_weighings(changes):
    build = a_build(**changes)
    parts = _weighed(build)
    levels = [_solids(build, fineness) for fineness in (0.5, 1, 2)]
    for name, part in parts.items():
        coarse, standard, fine = (solids[name].volume for solids in levels)
        # Flat triangles: each doubling leaves a quarter of the error, so the next would move a third more.
        assert abs(fine - standard) < 0.5 * abs(standard - coarse)
        limit = fine + (fine - standard) / 3
        assert limit == pytest.approx(part.volume_mm3, rel=1e-4)


@pytest.mark.storm
@settings(max_examples=300, deadline=None)
@given(builds())
def test_many_bats_have_the_volume_and_inertia_of_their_meshes(build):
    for name, solid in _solids(build).items():
        part = _weighed(build)[name]
        assert solid.volume == pytest.approx(part.volume_mm3, rel=1e-3)
        _assert_tensors_agree(_of_mass(solid, part.mass_g)[2], part.tensor_g_mm2)
