"""The bodies of triangles: closed, of the weighing's volumes and centres, and the same when read back."""

import io
from dataclasses import replace

import numpy as np
import pytest
import trimesh
from hypothesis import HealthCheck, given, settings
from shapely import Point, Polygon, box
from shapely.affinity import scale, translate

from fitting.bat.mesh import HEADER, TRIANGLE, mesh_bodies, write_stl
from fitting.bat.outline import local_width
from fitting.bat.parts import cuts_of
from fitting.bat.sections import handle_ellipse, section_outline
from fitting.bat.weigh import bodies_of
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.builds import a_build, builds, extreme_builds

SHARP = {
    "blade__width_mm": 108,
    "blade__toe": {"corner_radius_mm": 54, "scoop": {"length_mm": 105, "depth_mm": 10}},
}


def weighed(build, book=DEFAULT_BOOK):
    return bodies_of(cuts_of(build), book.materials, density_kg_m3=410, moisture_percent=12)


def open_edges(body):
    """How many edges are not run along exactly once in each way."""
    edges = body.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
    there, back = edges @ [len(body.vertices), 1], edges @ [1, len(body.vertices)]
    there, back = np.sort(there), np.sort(back)
    twice = np.count_nonzero(np.diff(there) == 0)
    return twice + np.count_nonzero(~np.isin(there, back, assume_unique=True, kind="sort"))


def areas(body):
    a, b, c = body.corners.transpose(1, 0, 2)
    return np.linalg.norm(np.cross(b - a, c - a), axis=1) / 2


def assert_closed(body):
    assert open_edges(body) == 0
    # What single precision resolves at a metre from the toe is 6e-5 mm.
    assert areas(body).min() > 1e-6
    assert len(np.unique(body.vertices.astype(np.float32), axis=0)) == len(body.vertices)
    assert set(np.unique(body.faces)) == set(range(len(body.vertices)))


def off(build, fineness=1.0):
    """Volume in shares of the weighing's and distance between the mass centres in mm, by body."""
    parts = weighed(build)
    return {
        name: (
            abs(body.volume_mm3 / parts[name].volume_mm3 - 1),
            np.linalg.norm(body.centre_mm - parts[name].centre_mm),
        )
        for name, body in mesh_bodies(build, fineness=fineness).items()
    }


def test_open_edges_finds_a_hole_and_a_turned_triangle():
    body = mesh_bodies(a_build(), fineness=0.5)["blade"]
    assert open_edges(replace(body, faces=body.faces[1:])) == 3
    turned = body.faces.copy()
    turned[0] = turned[0, ::-1]
    assert open_edges(replace(body, faces=turned)) > 0


@settings(max_examples=15, deadline=None)
@given(builds())
def test_any_bat_is_two_closed_bodies_of_the_weighings_volumes_and_centres(build):
    for name, body in mesh_bodies(build).items():
        assert_closed(body)
        assert trimesh.Trimesh(body.vertices, body.faces, process=False).body_count == 1
        part = weighed(build)[name]
        assert body.volume_mm3 == pytest.approx(part.volume_mm3, rel=1e-3)
        assert body.centre_mm == pytest.approx(part.centre_mm, abs=0.1)


@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(extreme_builds())
def test_whatever_the_sheet_lets_in_is_closed_and_has_its_volume(build):
    for name, body in mesh_bodies(build).items():
        assert_closed(body)
        assert body.volume_mm3 == pytest.approx(weighed(build)[name].volume_mm3, rel=3e-3)


def test_a_round_toe_comes_to_a_point():
    blade = mesh_bodies(a_build(**SHARP))["blade"]
    assert_closed(blade)
    assert np.count_nonzero(blade.vertices[:, 0] == 0) == 2
    assert all(off(a_build(**SHARP))["blade"] < np.array([1e-3, 0.1]))


def test_corners_that_meet_leave_a_sharp_edge():
    stations = [{"from_toe_mm": x, "spine_mm": 40, "edge_mm": 12, "scallop": 0.6} for x in (0, 150, 300, 558)]
    build = a_build(blade__stations=stations, blade__edge_radius_mm={"face": 8, "back": 8})
    blade = mesh_bodies(build)["blade"]
    assert_closed(blade)
    # One vertex of the side in every full row, not one of the face and one of the back above it.
    side = blade.vertices[blade.vertices[:, 2] > 53.5 - 1e-4]
    assert len(np.unique(side[:, 0])) == len(side) > 50
    assert all(off(build)["blade"] < np.array([1e-3, 0.1]))


def test_a_handle_that_misses_its_splice_is_two_closed_shells():
    stations = [
        {"from_toe_mm": x, "spine_mm": s, "edge_mm": 8, "scallop": 1}
        for x, s in ((0, 20), (300, 40), (558, 8))
    ]
    tape = {"top": 90, "middle": 90, "bottom": 64}
    build = a_build(blade__stations=stations, handle__line_mm=15, handle__girth_mm=tape)
    handle = mesh_bodies(build)["handle"]
    assert_closed(handle)
    assert trimesh.Trimesh(handle.vertices, handle.faces, process=False).body_count == 2
    assert all(off(build)["handle"] < np.array([1e-3, 0.1]))


def test_recess_is_open_at_the_shoulder_and_the_wedge_stands_clear_in_it():
    build = a_build()
    bodies = mesh_bodies(build)
    top, tip = build.blade.length_mm, build.blade.length_mm - build.handle.splice_length_mm
    at_top = np.abs(bodies["blade"].vertices[bodies["blade"].vertices[:, 0] == top][:, 2])
    assert at_top.min() == pytest.approx(21, abs=1e-5)
    assert at_top.max() == pytest.approx(local_width(build.blade, np.array([top]))[0] / 2)
    handle = bodies["handle"].vertices
    assert handle[:, 0].min() == pytest.approx(tip + 0.002, abs=1e-4)
    inside = handle[handle[:, 0] < top]
    flank = 2.5 + 18.5 * (inside[:, 0] - tip) / 135
    assert np.max(np.abs(inside[:, 2]) - flank) == pytest.approx(-0.002, abs=3e-4)


def flat_at(body, x):
    """Area of the triangles that lie in a plane across the bat, mm2, by the way they look along it."""
    corners = body.corners[np.all(np.abs(body.corners[:, :, 0] - x) < 1e-4, axis=1)]
    area = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])[:, 0] / 2
    return area[area > 0].sum(), -area[area < 0].sum()


@settings(max_examples=10, deadline=None)
@given(builds())
def test_handle_is_flat_at_the_shoulder_where_wedge_and_cane_are_not_one_above_the_other(build):
    top = build.blade.length_mm
    splice = build.handle.splice_width_mm / 2
    wedge = Polygon(section_outline(build, top)) & box(-splice, -100, splice, 100)
    width, depth, axis = handle_ellipse(build.handle, build.blade, np.array([top]))
    binding = 2 * DEFAULT_BOOK.materials.binding_mm
    disc = Point(0, 0).buffer(0.5, quad_segs=64)
    cane = translate(scale(disc, width[0] - binding, depth[0] - binding, origin=(0, 0)), yoff=axis)
    upwards, downwards = flat_at(mesh_bodies(build)["handle"], top)
    # The hollow of the back between two columns and the cane's flat cells: under 2 mm2 of some 900.
    assert upwards == pytest.approx((wedge - cane).area, abs=2)
    assert downwards == pytest.approx((cane - wedge).area, abs=2)


def test_cane_has_the_girth_less_its_binding():
    build = a_build(handle__section_top="round")
    handle = mesh_bodies(build, fineness=2)["handle"].vertices
    ring = handle[handle[:, 0] == 851]
    radius = 104 / (2 * np.pi) - DEFAULT_BOOK.materials.binding_mm
    around = ring[np.abs(ring[:, 1:] - [18, 0]).max(axis=1) > 0]  # without the middle of the cap
    assert len(around) > 100
    assert np.hypot(around[:, 1] - 18, around[:, 2]) == pytest.approx(radius, abs=1e-5)


def test_another_book_takes_another_binding_off():
    build = a_build()
    materials = DEFAULT_BOOK.materials.model_copy(update={"binding_mm": 2.0})
    book = DEFAULT_BOOK.model_copy(update={"materials": materials})
    bodies = mesh_bodies(build, book=book)
    part = weighed(build, book)["handle"]
    assert bodies["handle"].volume_mm3 == pytest.approx(part.volume_mm3, rel=1e-3)
    assert part.volume_mm3 < 0.9 * weighed(build)["handle"].volume_mm3


@pytest.mark.parametrize("changes", [{}, SHARP], ids=["plain", "round_toe"])
def test_volumes_come_nearer_when_the_fineness_is_doubled(changes):
    build = a_build(**changes)
    coarse, fine = off(build, 0.5), off(build, 1.0)
    for name in ("blade", "handle"):
        assert fine[name][0] < 0.5 * coarse[name][0]


@pytest.mark.parametrize("fineness", [0, -1, 9, float("nan")])
def test_an_impossible_fineness_is_refused(fineness):
    with pytest.raises(ValueError, match="fineness"):
        mesh_bodies(a_build(), fineness=fineness)


def written(build):
    file = io.BytesIO()
    write_stl(mesh_bodies(build).values(), file)
    return file.getvalue()


def test_file_is_read_back_as_the_same_two_bodies():
    bodies = mesh_bodies(a_build())
    read = trimesh.load_mesh(io.BytesIO(written(a_build())), file_type="stl")
    assert read.is_watertight
    assert read.is_winding_consistent
    found = sorted(read.split(), key=lambda body: body.centroid[0])
    assert len(found) == 2
    for body, one in zip(bodies.values(), found, strict=True):
        assert len(one.faces) == len(body.faces)
        assert one.volume == pytest.approx(body.volume_mm3, rel=1e-6)
        assert one.center_mass == pytest.approx(body.centre_mm, abs=1e-4)


def test_file_is_the_same_every_time_and_not_too_large():
    content = written(a_build())
    assert content == written(a_build())
    assert content[:80] == HEADER
    assert not content.startswith(b"solid")  # which would announce text
    assert len(content) == 84 + TRIANGLE.itemsize * int.from_bytes(content[80:84], "little")
    assert len(content) < 6_000_000


def test_normals_of_the_file_point_outwards():
    records = np.frombuffer(written(a_build()), dtype=TRIANGLE, offset=84)
    a, b, c = records["corners"].transpose(1, 0, 2).astype(float)
    across = np.cross(b - a, c - a)
    across /= np.linalg.norm(across, axis=1, keepdims=True)
    assert np.allclose(np.linalg.norm(records["normal"], axis=1), 1, atol=1e-5)
    assert np.einsum("ij,ij->i", across, records["normal"]).min() > 0.999
