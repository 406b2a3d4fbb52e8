"""Every wish is followed; where the answers lead elsewhere a conflict tells it and its cost."""

import pytest

from fitting.recommend import recommend
from tests.sheets import LENGTHS, THICKNESS, fitting


@pytest.mark.parametrize("code", LENGTHS)
def test_wished_length_is_made(code):
    found = recommend(fitting(wishes={"length_code": code}))
    assert found.build.length_code == code
    conflict = [one for one in found.conflicts if one.fields[0] == "length_code"]
    assert bool(conflict) == (code != "short_handle")
    if conflict:
        made = found.build.blade.length_mm + found.build.handle.length_mm
        assert conflict[0].given_up == "short_handle"
        assert conflict[0].cost["overall_length_mm"] == pytest.approx(made - 851)


@pytest.mark.parametrize("profile", ["tapered_spine", "spine_to_toe", "scalloped", "full"])
def test_wished_profile_is_made(profile):
    assert recommend(fitting(wishes={"profile": profile})).build.profile == profile


@pytest.mark.parametrize("choice", ["low", "mid", "high", "long"])
def test_wished_sweet_spot_is_made(choice):
    assert recommend(fitting(wishes={"sweet_spot": choice})).build.sweet_spot.choice == choice


def test_wished_edges_and_girth_stand_in_order():
    made = [recommend(fitting(wishes={"edges": one, "handle_thickness": one})).build for one in THICKNESS]
    edges = [max(station.edge_mm for station in build.blade.stations) for build in made]
    girths = [build.handle.girth_mm.middle for build in made]
    assert edges == sorted(set(edges))
    assert girths == [girths[1] - 4, girths[1], girths[1] + 4]


@pytest.mark.parametrize(("bow", "least", "most"), [("none", 0, 3), ("slight", 4, 8), ("full", 9, 15)])
def test_wished_bow_is_made(bow, least, most):
    assert least <= recommend(fitting(wishes={"bow": bow})).build.blade.bow_mm <= most


@pytest.mark.parametrize(
    ("section", "ends"),
    [("round", ("round", "round")), ("oval", ("oval", "oval")), ("round_to_oval", ("round", "oval"))],
)
def test_wished_section_is_made(section, ends):
    handle = recommend(fitting(wishes={"handle_section": section})).build.handle
    assert (handle.section_top, handle.section_bottom) == ends
    assert (handle.oval_ratio > 1) == ("oval" in ends)


def test_wished_grips_thin_the_bound_handle_of_a_known_hand():
    one, two = (
        recommend(fitting(player={"hand_length_mm": 193}, wishes={"grips": count})).build for count in (1, 2)
    )
    assert (one.grips.count, two.grips.count) == (1, 2)
    assert two.handle.girth_mm.middle < one.handle.girth_mm.middle


@pytest.mark.parametrize("grade", [1, 2, 3, 4])
def test_wished_grade_is_the_least_acceptable(grade):
    assert recommend(fitting(wishes={"looks_grade": grade})).build.willow.grade == grade


def test_grade_gives_way_when_looks_give_way_first():
    order = ["looks", "date", "edges", "pickup", "life", "mass"]
    assert recommend(fitting(wishes={"gives_way_first": order})).build.willow.grade == 4


def test_wish_against_the_answers_is_kept_told_and_costed():
    found = recommend(
        fitting(
            game={"approach": "patient", "batting_place": "opener", "shots": {"straight_drive": 3}},
            wishes={"profile": "full"},
        )
    )
    conflict = next(one for one in found.conflicts if one.fields[0] == "profile")
    assert (conflict.kept, conflict.given_up) == ("full", "tapered_spine")
    assert conflict.cost["mass_g"] > 5
    assert conflict.cost["pickup_kg_m2"] > 0
    assert conflict.ways_out == ("wishes.profile",)


def test_wish_with_the_answers_is_no_conflict():
    game = {"approach": "patient", "batting_place": "opener"}
    assert not recommend(fitting(game=game, wishes={"profile": "tapered_spine"})).conflicts


def test_sore_joints_get_softer_canes_and_are_sent_to_somebody_who_treats():
    hitting = {"approach": "big_hitting"}
    found = recommend(fitting(game=hitting, level="first_class", wishes={"easy_on_joints": True}))
    assert found.build.handle.construction == "plain_cane"
    assert "joints.professional" in {one.key for one in found.cautions}
    assert "joints.professional" not in {one.key for one in recommend(fitting()).cautions}


def test_child_is_kept_simple_guarded_and_light():
    found = recommend(
        fitting(
            player={"age_years": 10, "height_mm": 1350, "strength": "strong"},
            game={"approach": "big_hitting", "shots": {"lofted": 3}},
            pitches={"outfield_grass": "long"},
        )
    )
    build = found.build
    assert build.length_code == "size_2"
    assert build.blade.bow_mm == 0
    assert (build.profile, build.handle.construction) == ("tapered_spine", "plain_cane")
    assert build.protection.toe_guard is not None
    assert build.handle.girth_mm.middle == 86
    assert build.mass_g.target < 705
    assert {"child.guardian", "child.lighter"} <= {one.key for one in found.cautions}
    # the swell lies in proportion: 220 on a blade of 558 is 182 on one of 461
    assert build.sweet_spot.swell_from_toe_mm == 182


@pytest.mark.parametrize(
    ("marks", "choice"),
    [([250] * 6, "high"), ([180] * 6, "low"), ([215] * 6, "mid"), ([250] * 3, "mid")],
)
def test_ball_marks_and_the_ground_agree(marks, choice):
    bounce = {"high": "high", "low": "low"}.get(choice, "medium")
    found = recommend(fitting(game={"ball_marks_from_toe_mm": marks}, pitches={"bounce": bounce}))
    assert found.build.sweet_spot.choice == choice


def test_edition_follows_the_day_of_first_play_and_the_bat_stays_lawful():
    early, late = (recommend(fitting(play_from=day)).build for day in ("2026-09-30", "2026-10-01"))
    assert early == late  # both editions print the same sizes
