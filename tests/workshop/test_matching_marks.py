"""How a cleft may lie: its faults kept out of the splice and of where the ball is hit."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitting.sheets.book_matching import MatchingBook
from tests.clefts_in_arrays import marks
from workshop.matching_marks import WAYS, Marks, Zones, lie

BOOK = MatchingBook()
# Blade 558, splice from 423, hit from 150 to 270; a cleft of 583 has no surplus: 12.5 mm go at either end.
ZONES = Zones(blade_mm=558, splice_from_mm=423, reach_from_mm=150, reach_to_mm=270, rough_mm=25)


def lying(*rows, length=583.0):
    found = lie(marks(*((0, *row) for row in rows)), np.array([length]), ZONES, BOOK)
    return WAYS[found.way[0]], float(found.points[0]), bool(found.spoilt[0])


def test_clean_clefts_lie_as_they_like():
    found = lie(Marks.none(), np.array([600.0, 700.0]), ZONES, BOOK)

    assert found.points.tolist() == [0, 0]
    assert not found.spoilt.any()


def test_fault_near_one_end_makes_that_end_the_toe():
    """40 mm from end 1 it lies in the splice when end 2 is the toe."""
    way, points, spoilt = lying(("knot", "a", 40.0, 6.0, True))

    assert (way.toe_end, points, spoilt) == (1, BOOK.blemish_points, False)


def test_fault_of_one_side_where_the_ball_is_hit_goes_to_the_back():
    """One of the two is where the ball is hit, whichever end is toe."""
    way, _points, spoilt = lying(("knot", "a", 220.0, 8.0, False), ("knot", "a", 370.0, 8.0, False))

    assert (way.face_side, spoilt) == ("b", False)


@pytest.mark.parametrize(
    ("side", "through"), [("a", True), ("b", True), ("edge_1", False), ("edge_2", False)]
)
def test_fault_through_or_on_an_edge_where_the_ball_is_hit_spoils_whichever_side_is_face(side, through):
    ends = (("shake", side, 222.0, 8.0, through), ("shake", side, 361.0, 8.0, through))

    assert lying(*ends)[2]


@pytest.mark.parametrize("kind", ["speck", "stain", "butterfly"])
def test_speck_or_stain_on_the_surface_is_looks_and_turned_to_the_back(kind):
    way, points, spoilt = lying((kind, "a", 222.0, 8.0, False))

    assert (way.face_side, points, spoilt) == ("b", 0, False)


@pytest.mark.parametrize("kind", ["speck", "stain"])
def test_speck_or_stain_that_goes_through_is_a_fault(kind):
    ends = ((kind, "a", 222.0, 8.0, True), (kind, "a", 361.0, 8.0, True))

    assert lying(*ends)[2]


def test_looks_on_both_sides_cost_points():
    way, points, _spoilt = lying(("speck", "a", 300.0, 2.0, False), ("speck", "b", 320.0, 2.0, False))

    assert points == BOOK.looks_points
    assert way == WAYS[0]


def test_fault_in_the_waste_costs_nothing():
    assert lying(("knot", "a", 3.0, 8.0, True))[1:] == (0, False)


def test_surplus_is_cut_off_where_the_fault_lies():
    """A long cleft with a knot 60 mm from one end: cut off there, it is gone."""
    way, points, spoilt = lying(("knot", "a", 60.0, 8.0, True), length=710.0)

    assert not spoilt
    assert points == 0
    assert (way.toe_end, way.surplus_at) in {(1, "toe"), (2, "shoulder")}


def test_size_of_a_fault_reaches_into_the_splice():
    """Its middle 4 mm below the splice: a small one stays out, a large one does not."""
    from_end = 12.5 + 423 - 4
    other_end = ("knot", "b", 583 - from_end, 2.0, True)

    assert not lying(("knot", "b", from_end, 6.0, True), other_end)[2]
    assert lying(("knot", "b", from_end, 10.0, True), ("knot", "b", 583 - from_end, 10.0, True))[2]


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["knot", "speck", "worm"]),
            st.sampled_from(["a", "b", "edge_1", "edge_2"]),
            st.floats(0, 700),
            st.floats(1, 30),
            st.booleans(),
        ),
        min_size=1,
        max_size=5,
    )
)
def test_cleft_turned_end_for_end_is_as_good(rows):
    """End 1 and end 2 exchanged, the whole lies mirrored: nothing else may change."""
    turned = [(kind, side, 700 - from_end, size, deep) for kind, side, from_end, size, deep in rows]

    assert lying(*rows, length=700.0)[1:] == lying(*turned, length=700.0)[1:]


def test_marks_of_some_clefts_keep_their_order():
    several = marks(
        (4, "knot", "a", 10.0, 5.0, True),
        (1, "speck", "b", 20.0, 5.0, False),
        (4, "worm", "a", 30.0, 5.0, False),
    )

    picked = several.only(np.array([4, 0, 1]))

    told = sorted(zip(picked.marked[picked.at].tolist(), picked.from_end_mm.tolist(), strict=True))
    assert told == [(0, 10.0), (0, 30.0), (2, 20.0)]
    assert len(several.only(np.array([0, 2])).marked) == 0
