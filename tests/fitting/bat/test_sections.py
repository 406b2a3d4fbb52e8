import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from fitting.bat.moments import blade_sections, splice_sections
from fitting.bat.outline import bow, edge, local_width, scallop, spine
from fitting.bat.sections import corner_radii, girth, handle_ellipse, section_outline, splice_width
from tests.builds import a_build, builds


def _at(*places):
    return np.array(places, dtype=float)


def test_splice_runs_from_5_mm_at_its_tip_to_its_width_at_the_shoulder():
    build = a_build()
    assert splice_width(build, _at(400, 423, 490.5, 558)) == pytest.approx([0, 5, 23.5, 42])


def test_outline_spans_the_local_width_and_the_calliper_on_the_centre_line():
    build = a_build(blade__bow_mm=9)
    outline = section_outline(build, 220)
    assert np.ptp(outline[:, 0]) == pytest.approx(107)
    centre = outline[np.isclose(outline[:, 0], 0)][:, 1]
    lifted = bow(build.blade, _at(220))[0]
    assert sorted(centre) == pytest.approx([lifted, 63 + lifted])


def test_square_edged_outline_leaves_edge_less_crown_to_the_calliper():
    build = a_build(blade__edge_radius_mm={"face": 0, "back": 0}, blade__bow_mm=0)
    outline = section_outline(build, 220)
    side = outline[np.isclose(outline[:, 0], 53.5)][:, 1]
    assert [side.min(), side.max()] == pytest.approx([1.2, 37])


def test_outline_has_the_same_number_of_points_everywhere():
    build = a_build()
    assert len({section_outline(build, x).shape for x in (0.0, 6.0, 220.0, 500.0, 558.0)}) == 1


@given(builds(), st.floats(0.02, 1))
def test_outline_is_a_simple_mirrored_polygon_of_the_models_area(build, share):
    x = share * build.blade.length_mm
    outline = section_outline(build, x)
    shape = Polygon(outline)
    assert shape.is_valid
    assert shape.symmetric_difference(Polygon(outline * [-1, 1])).area < 1e-6
    place = _at(x)
    area = blade_sections(build, place).area[0] + splice_sections(build, place).area[0]
    # The polygon's chords cut into the hollow of the back: 25 points a side leave under half a per cent.
    assert shape.area == pytest.approx(area, rel=5e-3)


def test_corners_that_do_not_fit_shrink_together():
    stations = [
        {"from_toe_mm": x, "spine_mm": 40, "edge_mm": e, "scallop": 1.4}
        for x, e in [(0, 13.2), (200, 30), (558, 22)]
    ]
    build = a_build(blade__stations=stations, blade__edge_radius_mm={"face": 8, "back": 16})
    face, back = corner_radii(build, _at(0, 200))
    assert face == pytest.approx([4, 8])
    assert back == pytest.approx([8, 16])


def test_corners_stay_clear_of_the_splice():
    build = a_build(blade__edge_radius_mm={"face": 0, "back": 18}, blade__shoulder__width_mm=50)
    assert corner_radii(build, _at(558))[1] == pytest.approx([4])


def test_girth_runs_straight_from_bottom_to_middle_to_top():
    build = a_build(handle__girth_mm={"top": 104, "middle": 106, "bottom": 112})
    x = _at(558, 558 + 293 / 4, 558 + 293 / 2, 558 + 293 * 3 / 4, 851)
    assert girth(build.handle, build.blade, x) == pytest.approx([112, 109, 106, 105, 104])


def test_round_handle_is_as_wide_as_deep_and_its_axis_at_half_the_last_spine_and_the_line():
    build = a_build(handle__section_bottom="round", handle__line_mm=2)
    width, depth, axis = handle_ellipse(build.handle, build.blade, _at(600))
    assert width == pytest.approx(depth)
    assert width == pytest.approx(girth(build.handle, build.blade, _at(600)) / np.pi)
    assert axis == 20


def test_round_to_oval_handle_is_half_as_oval_in_its_middle():
    build = a_build(handle__oval_ratio=1.1)
    width, depth, _ = handle_ellipse(build.handle, build.blade, _at(558, 558 + 146.5, 851))
    assert depth / width == pytest.approx([1.1, 1.05, 1.0])


def test_moments_of_a_plank_are_those_of_a_rectangle():
    stations = [{"from_toe_mm": x, "spine_mm": 30, "edge_mm": 30, "scallop": 1.4} for x in (0, 200, 558)]
    build = a_build(
        blade__stations=stations,
        blade__face_crown_mm=0,
        blade__bow_mm=0,
        blade__edge_radius_mm={"face": 0, "back": 0},
    )
    here = blade_sections(build, _at(200))
    assert here.area == pytest.approx([107 * 30])
    assert here.first_y == pytest.approx([107 * 30 * 15])
    assert here.second_yy == pytest.approx([107 * 30**3 / 3])
    assert here.second_zz == pytest.approx([107**3 * 30 / 12])


@given(builds(), st.floats(0.02, 0.999))
def test_moments_of_a_section_are_those_of_fine_strips(build, share):
    """Each moment against ten thousand strips across, with the formulas of the section spelt out again."""
    blade, x = build.blade, _at(share * build.blade.length_mm)
    half = local_width(blade, x)[0] / 2
    inner = splice_width(build, x)[0] / 2
    strips = 10_000
    z = inner + (half - inner) * (np.arange(strips) + 0.5) / strips
    t = z / half
    scooped = 0.0
    if blade.toe.scoop is not None and 12 < x[0] < 12 + blade.toe.scoop.length_mm:
        scooped = blade.toe.scoop.depth_mm * np.sin(np.pi * (x[0] - 12) / blade.toe.scoop.length_mm)
    power = scallop(blade, x)[0]
    edges, spines = edge(blade, x)[0], spine(blade, x)[0]
    back = edges - scooped + (spines - edges) * (1 - t) ** power
    face = blade.face_crown_mm * t**2
    face_radius, back_radius = (r[0] for r in corner_radii(build, x))
    for radius, sign in ((face_radius, 1), (back_radius, -1)):
        inward = np.clip(radius - (half - z), 0, None)
        drop = radius - np.sqrt(radius**2 - inward**2)
        face, back = (face + drop, back) if sign > 0 else (face, back - drop)
    lifted = bow(blade, x)[0]
    face, back = face + lifted, back + lifted
    strip = 2 * (half - inner) / strips
    here = blade_sections(build, x)
    assert here.area[0] == pytest.approx(strip * np.sum(back - face), rel=2e-6)
    assert here.second_zz[0] == pytest.approx(strip * np.sum(z**2 * (back - face)), rel=2e-6)
    # Along y the model takes each rounded-off piece at one height; it tells in a narrow cheek.
    assert here.first_y[0] == pytest.approx(strip * np.sum(back**2 - face**2) / 2, rel=5e-4)
    assert here.second_yy[0] == pytest.approx(strip * np.sum(back**3 - face**3) / 3, rel=2e-3)
