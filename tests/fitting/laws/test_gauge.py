"""The gauge of Appendix B.8: what goes through, by how much, where, bare and covered.

The polygons of tests/validation/test_gauge_polygons.py check the geometry; here stand its known corners.
"""

import numpy as np
import pytest
from hypothesis import given, settings

from fitting.laws import law_check
from fitting.laws.gauge import gauge_margin, places_along, through_gauge
from fitting.laws.opening import GAUGE
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.builds import a_build, builds, extreme_builds

SQUARE = {"face": 0, "back": 0}
BARE = {"toe_guard": None, "face_film": None, "edge_tape": None}
INCHES, METRIC = GAUGE


def evenly(spine, edge, scallop=1.4):
    """Stations of one depth all along."""
    return [{"from_toe_mm": x, "spine_mm": spine, "edge_mm": edge, "scallop": scallop} for x in (0, 200, 558)]


def a_plain_build(spine, edge=30.0, scallop=1.4, **changes):
    plain = {
        "blade__face_crown_mm": 0,
        "blade__edge_radius_mm": SQUARE,
        "blade__toe": {"corner_radius_mm": 0, "scoop": None},
        "protection": BARE,
    }
    return a_build(blade__stations=evenly(spine, edge, scallop), **(plain | changes))


def gauge_rows(build):
    return {row.coverings: row for row in law_check(build, level="club") if row.clause == "B.8"}


def test_apex_stands_63_mm_above_the_lower_corners():
    assert METRIC.apex_mm == pytest.approx(63)
    assert METRIC.floor(np.array([0.0, 55.0])) == pytest.approx([-5, 0])
    assert METRIC.roof(np.array([0.0, 27.5, 55.0])) == pytest.approx([63, 52, 41])
    assert INCHES.roof(np.array([0.0, INCHES.half_mm])) == pytest.approx([2.48 * 25.4, 1.61 * 25.4])


def test_depth_of_the_book_on_a_flat_face_is_what_leaves_the_books_margin():
    """62 mm and the crown, the trade's rule: a flat face with square corners as wide as the opening."""
    spine = DEFAULT_BOOK.gauge_depth_on_flat_face_mm
    wide = a_plain_build(spine, blade__width_mm=2 * INCHES.half_mm)
    rows = law_check(wide, level="club")
    # as wide as the opening there is no slack in width: that of the depth is read with one hair less
    hair = a_plain_build(spine, blade__width_mm=107.9)
    assert {row.dimension for row in rows if row.what == "gauge"} == {"width"}
    # where the face is narrower than the opening the arc has already dropped away from it
    lift = -float(INCHES.floor(np.array([107.9 / 2]))[0])
    assert 0.1 < lift < 0.25
    assert gauge_margin(hair) - lift == pytest.approx(DEFAULT_BOOK.law_margin_mm, abs=0.01)


@pytest.mark.parametrize("opening", GAUGE)
def test_spine_up_to_the_apex_passes_and_a_hair_more_fails(opening):
    lift = -float(opening.floor(np.array([50.0]))[0])
    deepest = opening.apex_mm + lift
    # the other unit's opening may be the tighter one: the least of both decides
    least = min(one.apex_mm - float(one.floor(np.array([50.0]))[0]) for one in GAUGE)
    assert 0 <= deepest - least < 0.05
    for spine, passes in ((least - 0.001, True), (least + 0.001, False)):
        row = gauge_rows(a_plain_build(spine, blade__width_mm=100))["off"]
        assert (row.passes, row.dimension) == (passes, "depth")


def test_row_tells_the_printed_depth_less_what_is_left():
    row = gauge_rows(a_plain_build(62.0, blade__width_mm=100))["off"]
    assert (row.limit, row.limit_as_printed) == (68.0, "2.68 in / 6.8 cm")
    assert row.value == pytest.approx(row.limit - row.margin)
    assert row.margin == pytest.approx(62.992 - 62 + 0.880, abs=0.01)


def test_edge_fouls_the_roof_before_the_apex_does():
    """A slab as deep at its sides as in its middle is stopped where the roof is low."""
    slab = a_plain_build(41.0, edge=41.0, blade__width_mm=106)
    low = min(float(one.roof(np.array([53.0]))[0] - one.floor(np.array([53.0]))[0]) for one in GAUGE)
    assert gauge_margin(slab) == pytest.approx(low - 41, abs=1e-3)


def test_full_back_is_stopped_between_apex_and_edge():
    """A back fuller than the roof fouls it away from the centre line: less is left than at either end."""
    full = a_plain_build(60.0, edge=34.0, scallop=0.6, blade__width_mm=106)
    z = np.linspace(0, 53, 20001)
    back = 34 + 26 * (1 - z / 53) ** 0.6
    for_each = [np.min(one.roof(z) - back) + min(0 - one.floor(np.array([53.0]))[0], 5) for one in GAUGE]
    at = z[np.argmin(METRIC.roof(z) - back)]
    assert 10 < at < 50
    assert gauge_margin(full) == pytest.approx(min(for_each), abs=1e-3)
    hollow = a_plain_build(60.0, edge=34.0, scallop=1.0, blade__width_mm=106)
    assert gauge_margin(full) < gauge_margin(hollow) - 1


def test_bow_does_not_matter_and_crown_helps():
    straight = a_build(blade__bow_mm=0)
    assert gauge_margin(a_build(blade__bow_mm=25)) == gauge_margin(straight)
    assert gauge_margin(a_build(blade__face_crown_mm=0.2)) < gauge_margin(straight)


@pytest.mark.parametrize(
    ("width", "passes"), [(4.33 * 25.4 - 0.001, True), (4.33 * 25.4 + 0.001, False), (110.0, False)]
)
def test_width_of_the_smaller_unit_rules(width, passes):
    row = gauge_rows(a_plain_build(40.0, blade__width_mm=width))["off"]
    assert (row.passes, row.dimension) == (passes, "width")
    assert row.limit == pytest.approx(4.33 * 25.4)
    assert row.limit_as_printed == "4.33 in / 11 cm"
    assert row.value == pytest.approx(width)


def test_film_takes_its_thickness_from_the_depth():
    bare = a_plain_build(62.0)
    film = a_plain_build(62.0, protection=BARE | {"face_film": {"thickness_mm": 0.4, "mass_g": 15}})
    assert gauge_margin(bare) - gauge_margin(film) == pytest.approx(0.4)
    rows = gauge_rows(film)
    assert rows["off"].margin == pytest.approx(gauge_margin(bare))
    assert rows["on"].margin == pytest.approx(gauge_margin(film))


def test_tape_takes_twice_its_thickness_from_the_width():
    tape = {"edge_tape": {"thickness_mm": 0.5, "mass_g": 6}}
    rows = gauge_rows(a_plain_build(40.0, blade__width_mm=109.5, protection=BARE | tape))
    assert rows["off"].passes
    assert rows["off"].margin - rows["on"].margin == pytest.approx(1.0)
    assert not rows["on"].passes


@pytest.mark.parametrize(("guard", "passes"), [(0.2, True), (0.25, False)])
def test_guard_is_all_round_on_the_lowest_6_mm(guard, passes):
    dress = BARE | {"toe_guard": {"thickness_mm": guard, "mass_g": 9}}
    row = gauge_rows(a_plain_build(40.0, blade__width_mm=109.55, protection=dress))["on"]
    assert row.passes is passes
    assert row.station_from_toe_mm <= 6


def test_tape_on_the_sides_fouls_the_low_ends_of_the_roof():
    tape = {"edge_tape": {"thickness_mm": 0.5, "mass_g": 6}}
    slab = a_plain_build(41.0, edge=41.0, blade__width_mm=106, protection=BARE | tape)
    z = np.array([53.5])
    # the face's own corners lie inside the tape's, on the same line
    low = min(float(one.roof(z)[0] - one.floor(z)[0]) for one in GAUGE)
    assert gauge_margin(slab) == pytest.approx(low - 41, abs=1e-3)


def test_guard_adds_to_face_and_back():
    dress = BARE | {"toe_guard": {"thickness_mm": 0.5, "mass_g": 9}}
    bare, covered = through_gauge(a_plain_build(62.0, blade__width_mm=100, protection=dress))
    z = np.array([50.5])
    left = min(one.apex_mm - float(one.floor(z)[0]) for one in GAUGE) - 62 - 2 * 0.5
    assert covered.margin_mm == pytest.approx(left, abs=1e-6)
    assert covered.from_toe_mm <= 6
    assert bare.margin_mm > covered.margin_mm + 1


def test_scoop_makes_room():
    places = [(0, 30, 20), (112, 66, 30), (300, 50, 28), (558, 36, 22)]
    stations = [{"from_toe_mm": x, "spine_mm": s, "edge_mm": e, "scallop": 1.2} for x, s, e in places]
    scoop = {"length_mm": 200, "depth_mm": 8}
    deep = a_build(blade__stations=stations)
    dug = a_build(blade__stations=stations, blade__toe={"corner_radius_mm": 30, "scoop": scoop})
    whole, left = through_gauge(deep)[0], through_gauge(dug)[0]
    assert whole.from_toe_mm == 112
    # 8 mm are gone where it was tightest; now the width decides, or a place beside the middle of the scoop
    assert whole.margin_mm < 0 < left.margin_mm - 1
    x = places_along(dug)
    assert np.sum((x >= 12) & (x <= 212)) >= 40


@given(builds())
def test_sections_stand_at_most_5_mm_apart_and_at_every_beginning(build):
    x = places_along(build)
    blade = build.blade
    assert np.all(np.diff(x) <= 5 + 1e-9)
    assert (x[0], x[-1]) == (0, pytest.approx(blade.length_mm))
    marks = [station.from_toe_mm for station in blade.stations]
    marks += [6, blade.toe.corner_radius_mm, blade.length_mm - blade.shoulder.length_mm]
    if blade.toe.scoop is not None:
        marks += [12, 12 + blade.toe.scoop.length_mm, 12 + blade.toe.scoop.length_mm / 2]
    for mark in marks:
        assert np.min(np.abs(x - mark)) < 1e-9


@settings(deadline=None)
@given(extreme_builds())
def test_coverings_never_make_room(build):
    bare, covered = through_gauge(build)
    assert covered.margin_mm <= bare.margin_mm + 1e-9
    assert gauge_margin(build) == covered.margin_mm
