"""One bat's willow as a line: inside its frame, numbers apart, clefts where their densities are."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitting.sheets.book_matching import MatchingBook
from tests.clefts_in_arrays import a_bat, a_table, clefts
from workshop.match.line import MARGIN, WIDTH, Scale, line_of
from workshop.matching import match


def pairs(bat, *densities):
    """The pair of each density, whether or not it would be chosen."""
    rack = [match([bat], clefts(1, density_kg_m3=density), MatchingBook()) for density in densities]
    return [found.assigned[0].pair for found in rack]


@given(densities=st.lists(st.floats(355, 450), min_size=1, max_size=5))
def test_everything_lies_inside_and_in_the_order_of_its_density(densities):
    bat = a_bat()
    marks = pairs(bat, *sorted(densities))
    line = line_of(bat, Scale.over([bat], marks), marks[0], marks[1:])

    assert line is not None
    assert line.chosen is not None
    assert MARGIN <= line.soft_from < line.least < line.drawn < line.most < line.soft_to <= WIDTH - MARGIN
    places = [line.chosen.x, *(mark.x for mark in line.others)]
    assert places == sorted(places)
    for mark in (line.chosen, *line.others):
        assert MARGIN <= mark.reach_from <= mark.x <= mark.reach_to <= WIDTH - MARGIN


def test_scale_is_one_for_all_bats_and_ends_in_whole_steps():
    light = a_bat(table=a_table(least_kg_m3=331.0, most_kg_m3=360.0))

    scale = Scale.over([light, a_bat()], [])

    assert (scale.least, scale.most) == (320, 480)


def test_narrow_stretch_has_one_number_in_place_of_two():
    narrow = a_bat(table=a_table(least_kg_m3=400.0, most_kg_m3=405.0), tolerance_g=2.0)
    line = line_of(narrow, Scale.over([narrow, a_bat()], []), None, [])

    assert line is not None
    assert [number.words for number in line.numbers] == ["399–406"]


def test_bat_without_willow_has_no_line():
    assert line_of(a_bat(table=None), Scale.over([], []), None, []) is None


@pytest.mark.parametrize("bats", [[], [a_bat(table=None)]])
def test_scale_of_nothing_is_a_usual_one(bats):
    assert Scale.over(bats, []) == Scale(340.0, 520.0)
