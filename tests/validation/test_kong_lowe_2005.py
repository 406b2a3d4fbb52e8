"""Hand length against handle girth.

Kong Y.-K., Lowe B. D. (2005) Optimal cylindrical handle diameter for grip force tasks. International Journal
of Industrial Ergonomics 35(6):495-507: the diameter that feels best is 19.7 % of hand length (24 people,
cylinders of 25 to 50 mm, hard grips). Hand lengths: ANSUR II (Gordon C. C. et al. (2014) NATICK/TR-15/007),
means and 5th and 95th percentiles of men (4,082) and women (1,986), in mm. Diameters and girths below were
worked out by hand from the two: 19.7 % of the hand, and pi times that, to 0.1 mm.
"""

from math import pi

import pytest

from fitting.recommend import recommend
from fitting.recommend.handle import bound_girth_mm, girth_over_grip_for_hand_mm
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.sheets import fitting


@pytest.mark.parametrize(
    ("hand_mm", "diameter_mm", "girth_mm"),
    [
        (193.3, 38.1, 119.6),  # men, mean
        (177.0, 34.9, 109.5),  # men, 5th percentile
        (210.0, 41.4, 130.0),  # men, 95th percentile
        (181.1, 35.7, 112.1),  # women, mean
        (165.0, 32.5, 102.1),  # women, 5th percentile
        (199.0, 39.2, 123.2),  # women, 95th percentile
    ],
)
def test_girth_over_grip_is_that_of_the_best_diameter(hand_mm, diameter_mm, girth_mm):
    girth = girth_over_grip_for_hand_mm(hand_mm, DEFAULT_BOOK)
    # both columns are printed to 0.1 mm
    assert girth / pi == pytest.approx(diameter_mm, abs=0.06)
    assert girth == pytest.approx(girth_mm, abs=0.06)


@pytest.mark.parametrize("hand_mm", [172, 181.1, 190, 193.3, 200])
def test_recommended_handle_has_that_girth_over_its_grip(hand_mm):
    build = recommend(fitting(player={"hand_length_mm": hand_mm})).build
    over_grip = build.handle.girth_mm.middle + 2 * pi * build.grips.wall_mm * build.grips.count
    # the bound girth is given to 0.1 mm
    assert over_grip / pi / hand_mm == pytest.approx(0.197, abs=0.0003)


def test_large_hand_stops_at_what_the_trade_makes_and_says_so():
    found = recommend(fitting(player={"hand_length_mm": 218}))  # men, 99th percentile
    asked = bound_girth_mm(girth_over_grip_for_hand_mm(218, DEFAULT_BOOK), 1.5, 1)
    limit = DEFAULT_BOOK.trade_limits_adult.girth_most_mm
    assert found.build.handle.girth_mm.middle == limit < asked
    conflict = next(one for one in found.conflicts if one.key == "girth.limit")
    assert conflict.cost["girth_mm"] == pytest.approx(limit - asked, abs=0.06)


def test_rule_is_not_applied_to_children_for_whom_it_is_not_known():
    child = {"age_years": 9, "height_mm": 1350}
    plain = recommend(fitting(player=child)).build.handle.girth_mm
    measured = recommend(fitting(player={**child, "hand_length_mm": 180})).build.handle.girth_mm
    assert measured == plain
