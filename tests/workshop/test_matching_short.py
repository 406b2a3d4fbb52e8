"""What is lacking, as a buyer needs it told."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.clefts_in_arrays import a_bat, a_table
from workshop.matching_costs import usable_kg_m3
from workshop.matching_short import short_of


def bat_from(least, most, **changes):
    density = np.array([least - 200, least, most, most + 200])
    table = a_table(
        least_kg_m3=least,
        most_kg_m3=most,
        density_kg_m3=density,
        mass_g=np.array([765.0, 1165, 1165, 1565]),
        mass_sd_g=np.full(4, 20.0),
        peak_mm=np.full(4, 208.0),
        spine_mm=np.array([64.0, 64, 60, 60]),
    )
    return a_bat(table=table, **changes)


def test_bats_that_the_same_cleft_would_serve_share_a_line():
    (line,) = short_of([(3, bat_from(370.0, 440.0)), (5, bat_from(400.0, 480.0))])

    assert line.bats == (3, 5)
    assert (line.raw_from_kg_m3, line.raw_to_kg_m3) == pytest.approx((393 / 1.05, 447 / 1.05))
    assert (line.length_mm, line.width_mm, line.depth_mm) == (583, 113, 70)
    assert line.mass_kg == pytest.approx([583 * 113 * 70 * raw / 1e9 for raw in (393 / 1.05, 447 / 1.05)])


@pytest.mark.parametrize(
    "other",
    [bat_from(470.0, 520.0), bat_from(370.0, 440.0, grade=1), bat_from(370.0, 440.0, rough_length_mm=500.0)],
)
def test_bats_of_another_density_grade_or_length_have_a_line_of_their_own(other):
    assert [line.count for line in short_of([(0, bat_from(370.0, 440.0)), (1, other)])] == [1, 1]


def test_bat_that_no_willow_can_become_asks_for_none():
    assert short_of([(0, a_bat(table=None))]) == []


@given(st.lists(st.tuples(st.floats(330, 450), st.floats(5, 90)), max_size=8))
def test_every_cleft_of_a_line_serves_every_bat_of_it(ranges):
    bats = [bat_from(least, least + span) for least, span in ranges]

    lines = short_of(enumerate(bats))

    assert sorted(row for line in lines for row in line.bats) == list(range(len(bats)))
    for line in lines:
        assert line.raw_from_kg_m3 <= line.raw_to_kg_m3
        for row in line.bats:
            low, high = usable_kg_m3(bats[row]) or (0.0, 0.0)
            assert low / 1.05 <= line.raw_from_kg_m3 + 1e-9
            assert line.raw_to_kg_m3 <= high / 1.05 + 1e-9
