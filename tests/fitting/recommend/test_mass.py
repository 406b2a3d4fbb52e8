"""The mass aimed at: from the bat in use, else the usual of the size; defaults from memory of the trade."""

import pytest

from fitting.recommend import recommend
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.sheets import fitting

CHILD = {"age_years": 10, "height_mm": 1350}


def target(**chapters) -> float:
    return recommend(fitting(**chapters)).build.mass_g.target


def conflicts(**chapters) -> dict[str, dict[str, float]]:
    return {one.key: one.cost for one in recommend(fitting(**chapters)).conflicts}


def test_mass_without_answers_is_the_middle_of_the_usual():
    assert target() == DEFAULT_BOOK.length("short_handle").mass_middle_g


@pytest.mark.parametrize("approach", ["balanced", "attacking", "big_hitting"])
@pytest.mark.parametrize("strength", ["average", "strong"])
def test_mass_never_rises_for_strength_or_hitting(strength, approach):
    assert target(player={"strength": strength}, game={"approach": approach}) <= target()


@pytest.mark.parametrize(
    "chapters",
    [
        {"player": {"strength": "light"}},
        {"wishes": {"easy_on_joints": True}},
        {"present_bat": {"pickup": "too_heavy"}},
    ],
)
def test_mass_falls_for_a_light_player_sore_joints_or_a_heavy_bat(chapters):
    assert target(**chapters) < target()


@pytest.mark.parametrize(
    ("pickup", "moved"), [("right", 0), (None, 0), ("too_heavy", -30), ("too_light", 30)]
)
def test_mass_starts_from_the_bat_in_use(pickup, moved):
    present = {"mass_g": 1150.0, "liked": True} | ({"pickup": pickup} if pickup else {})
    assert target(present_bat=present) == 1150 + moved


def test_mass_of_a_bat_of_another_size_moves_with_the_size():
    present = {"mass_g": 1030.0, "length_code": "harrow"}
    rows = DEFAULT_BOOK.length("short_handle"), DEFAULT_BOOK.length("harrow")
    assert target(present_bat=present) == round(1030 + rows[0].mass_middle_g - rows[1].mass_middle_g)


@pytest.mark.parametrize(
    ("wish", "wanted", "tolerance"),
    [
        ({"min": 1130, "max": 1190}, 1165, 14),
        ({"min": 1100, "max": 1120}, 1110, 10),
        ({"min": 1110, "max": 1110}, 1110, 7),
        ({"max": 1120}, 1106, 14),
        ({"min": 1200}, 1214, 14),
        ({"min": 1180, "max": 1240}, 1194, 14),
        ({}, 1165, 14),
    ],
)
def test_wished_mass_is_met_inside_its_bounds(wish, wanted, tolerance):
    mass = recommend(fitting(wishes={"mass_g": wish})).build.mass_g
    assert (mass.target, mass.tolerance) == (wanted, tolerance)


def test_wish_against_the_bat_in_use_is_followed_and_told():
    chapters = {"present_bat": {"mass_g": 1200, "pickup": "too_heavy"}, "wishes": {"mass_g": {"min": 1230}}}
    assert target(**chapters) == 1244
    assert conflicts(**chapters)["mass.wish"] == {"mass_g": 1244 - 1170}


def test_wish_beyond_the_trade_stops_at_its_limit_with_the_difference():
    chapters = {"wishes": {"mass_g": {"max": 900}}}
    least = DEFAULT_BOOK.length("short_handle").mass_low_g * 0.95
    assert target(**chapters) == least
    assert conflicts(**chapters)["mass.trade_limit"] == {"mass_g": round(least - 886, 1)}


def test_heavy_bat_that_no_lawful_shape_reaches_is_told_with_numbers():
    chapters = {"wishes": {"mass_g": {"min": 1290}, "edges": "thin", "profile": "scalloped"}}
    found = recommend(fitting(**chapters))
    missed = next(one for one in found.conflicts if one.key == "mass.unreached_heavy")
    assert missed.cost["mass_g"] == found.build.mass_g.target - 1304
    assert missed.cost["mass_g"] < -14
    assert abs(found.weighing.mass_g - found.build.mass_g.target) <= found.build.mass_g.tolerance


@pytest.mark.parametrize(
    "chapters",
    [
        {"wishes": {"mass_g": {"min": 1100}}},
        {"present_bat": {"mass_g": 1050, "pickup": "too_light"}},
    ],
)
def test_child_never_gets_more_than_the_usual_of_its_size(chapters):
    ceiling = DEFAULT_BOOK.length("size_2").mass_high_g
    assert target(player=CHILD, **chapters) == ceiling


def test_wish_above_a_childs_ceiling_is_told():
    assert "mass.child_ceiling" in conflicts(player=CHILD, wishes={"mass_g": {"min": 1100}})


def test_big_edges_little_mass_and_long_life_are_told_apart():
    light = {"mass_g": {"max": 1080}, "edges": "thick"}
    assert conflicts(wishes=light)["willow.choose_two"]["density_kg_m3"] < -20
    assert "willow.choose_two" not in conflicts(wishes={"edges": "thick"})


def test_hard_hitter_is_refused_the_lightest_willow():
    wishes = {"mass_g": {"max": 1040}, "edges": "thick", "profile": "full"}
    hitting = recommend(fitting(game={"approach": "big_hitting"}, wishes=wishes))
    patient = recommend(fitting(game={"approach": "patient"}, wishes=wishes))
    assert hitting.build.willow.density_kg_m3.min >= 370
    assert patient.build.willow.density_kg_m3.min < 370
