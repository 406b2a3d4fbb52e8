"""Junior sizes by barefoot height, bounds inclusive with 2 mm of slack; from memory of the trade."""

import pytest

from fitting.recommend import recommend
from tests.sheets import fitting

FEET = 304.8
INCH = 25.4


def size(height_mm: float, age: int = 10, **chapters) -> str:
    return recommend(fitting(player={"age_years": age, "height_mm": height_mm}, **chapters)).build.length_code


@pytest.mark.parametrize(
    ("feet", "inches", "code"),
    [
        (4, 3, "size_1"),
        (4, 6, "size_2"),
        (4, 9, "size_3"),
        (4, 11, "size_4"),
        (5, 2, "size_5"),
        (5, 5, "size_6"),
        (5, 8, "harrow"),
    ],
)
def test_bound_in_inches_includes_the_child_it_names(feet, inches, code):
    bound = feet * FEET + inches * INCH
    assert size(bound, age=13) == code
    assert size(bound + 1.9, age=13) == code
    assert size(bound - 20, age=13) == code


def test_child_just_above_a_bound_takes_the_next_size():
    assert size(4 * FEET + 3 * INCH + 2.1) == "size_2"
    assert size(5 * FEET + 8 * INCH + 2.1, age=14) == "short_handle"


@pytest.mark.parametrize(
    ("age", "level", "code"),
    [
        (15, None, "harrow"),
        (16, None, "short_handle"),
        (17, "junior", "harrow"),
        (17, "club", "short_handle"),
    ],
)
def test_table_ends_with_junior_cricket(age, level, code):
    chapters = {"level": level} if level else {}
    assert size(1700, age=age, **chapters) == code


@pytest.mark.parametrize(
    ("height_mm", "player", "code"),
    [
        (1610, {}, "super_short"),
        (1580, {}, "small_adult"),
        (1530, {}, "harrow"),
        (1580, {"strength": "light"}, "small_adult"),
        (1580, {"wrist_height_mm": 810}, "small_adult"),
        (1430, {}, "size_3"),
    ],
)
def test_small_adult_goes_by_height_strength_and_reach(height_mm, player, code):
    found = recommend(fitting(player={"age_years": 40, "height_mm": height_mm, **player}))
    assert found.build.length_code == code


def test_small_adult_with_strength_and_reach_takes_the_full_blade():
    player = {"age_years": 40, "height_mm": 1590, "strength": "strong", "wrist_height_mm": 800}
    assert recommend(fitting(player=player)).build.length_code == "super_short"


def test_liked_bat_is_the_prior_of_a_grown_player_but_not_of_a_child():
    liked = {"liked": True, "length_code": "long_handle"}
    assert size(1750, age=30, present_bat=liked) == "long_handle"
    assert size(1750, age=30, present_bat={**liked, "liked": False}) == "short_handle"
    assert size(1400, age=10, present_bat={"liked": True, "length_code": "size_1"}) == "size_3"
    assert size(1800, age=16, present_bat={"liked": True, "length_code": "harrow"}) == "short_handle"
