import numpy as np
import pytest
from hypothesis import given

from fitting.bat.outline import bow, edge, local_width, scallop, scoop_depth, spine, swell_from_toe_mm
from tests.builds import a_build, builds


def _at(*places):
    return np.array(places, dtype=float)


def test_width_is_full_between_toe_corners_and_shoulder():
    blade = a_build().blade
    assert local_width(blade, _at(30, 200, 513)) == pytest.approx([107, 107, 107])


def test_width_at_a_rounded_toe_follows_the_corner():
    blade = a_build(blade__toe__corner_radius_mm=30).blade
    assert local_width(blade, _at(0, 12)) == pytest.approx([47, 107 - 2 * (30 - 24)])


def test_square_toe_is_as_wide_as_the_blade():
    assert local_width(a_build(blade__toe__corner_radius_mm=0).blade, _at(0)) == pytest.approx([107])


def test_shoulder_narrows_on_a_half_cosine_to_its_width():
    blade = a_build().blade
    assert local_width(blade, _at(558 - 22.5, 558)) == pytest.approx([(107 + 62) / 2, 62])


def test_depths_at_a_station_are_the_stations():
    blade = a_build().blade
    assert spine(blade, _at(0, 140, 558)) == pytest.approx([20, 54, 36])
    assert edge(blade, _at(0, 140, 558)) == pytest.approx([14, 33, 22])
    assert scallop(blade, _at(0, 140, 558)) == pytest.approx([1, 1.4, 1.2])


def test_place_outside_the_blade_is_taken_at_its_nearer_end():
    blade = a_build().blade
    for curve in (spine, edge, scallop, local_width, bow):
        assert curve(blade, _at(-5, 600)) == pytest.approx(curve(blade, _at(0, 558)))


def test_bow_is_nothing_at_toe_and_shoulder_and_whole_at_its_peak():
    blade = a_build(blade__bow_mm=8, blade__bow_peak_from_toe_mm=200).blade
    assert bow(blade, _at(0, 100, 200, 379, 558)) == pytest.approx([0, 6, 8, 6, 0], abs=1e-12)


def test_scoop_is_a_half_sine_that_begins_12_mm_above_the_toe():
    blade = a_build(blade__toe__scoop={"length_mm": 80, "depth_mm": 7}).blade
    assert scoop_depth(blade, _at(0, 12, 52, 92, 200)) == pytest.approx([0, 0, 7, 0, 0], abs=1e-12)
    assert not scoop_depth(a_build().blade, _at(0, 52)).any()


def test_swell_is_the_thickest_station():
    assert swell_from_toe_mm(a_build().blade) == 220


def test_swell_of_an_even_stretch_is_its_middle():
    rows = [(0, 20), (200, 60), (260, 60), (558, 36)]
    stations = [{"from_toe_mm": x, "spine_mm": y, "edge_mm": 15, "scallop": 1.4} for x, y in rows]
    assert swell_from_toe_mm(a_build(blade__stations=stations).blade) == 230


def test_scoop_at_a_low_swell_moves_the_swell_up():
    rows = [(0, 40, 25), (60, 55, 30), (558, 36, 20)]
    stations = [{"from_toe_mm": x, "spine_mm": s, "edge_mm": e, "scallop": 1.4} for x, s, e in rows]
    scoop = {"length_mm": 120, "depth_mm": 8}
    assert swell_from_toe_mm(a_build(blade__stations=stations).blade) == 60
    assert swell_from_toe_mm(a_build(blade__stations=stations, blade__toe__scoop=scoop).blade) > 100


@given(builds())
def test_wood_is_left_everywhere(build):
    blade = build.blade
    x = np.linspace(0, blade.length_mm, 800)
    wood = edge(blade, x) - scoop_depth(blade, x) - blade.face_crown_mm
    assert wood.min() > 1.9
    assert (spine(blade, x) >= edge(blade, x) - 1e-9).all()
    assert (local_width(blade, x[1:]) > 0).all()
