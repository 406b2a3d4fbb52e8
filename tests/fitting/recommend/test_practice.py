"""The trade's practice, fact by fact: common practice, no source.

Heights are written in mm as the trade's feet and inches come out.
"""

from typing import Any

import pytest

from fitting.recommend import recommend
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.recommendation import Recommendation
from tests.sheets import fitting


def value(found: Recommendation, field: str) -> Any:
    return next(reason.value for reason in found.reasons if reason.field == field)


def facts(found: Recommendation, field: str) -> set[str]:
    return {one.fact for reason in found.reasons if reason.field == field for one in reason.because}


def length_of(height_mm: float, **chapters) -> str:
    return recommend(fitting(player={"height_mm": height_mm}, **chapters)).build.length_code


# common practice, no source: length.short_handle
@pytest.mark.parametrize("height_mm", [1676.4, 1675, 1676, 1700, 1727, 1752, 1777.9, 1778])
def test_short_handle_suits_five_foot_six_to_five_foot_ten(height_mm):
    found = recommend(fitting(player={"height_mm": height_mm}))
    assert found.build.length_code == "short_handle"
    assert facts(found, "length_code") & {"length.short_handle", "length.between"}


# common practice, no source: length.super_short
@pytest.mark.parametrize("height_mm", [1625.6, 1626, 1640, 1660, 1672])
def test_super_short_suits_five_foot_four_to_five_foot_six(height_mm):
    found = recommend(fitting(player={"height_mm": height_mm}))
    assert found.build.length_code == "super_short"
    assert "length.super_short" in facts(found, "length_code")


# common practice, no source: length.long_handle (the heights between are from memory: length.between)
@pytest.mark.parametrize(
    ("height_mm", "hold", "length"),
    [
        (1800, {}, "short_handle"),
        (1800, {"hands": "top"}, "short_handle"),
        (1800, {"hands": "top", "stance": "upright"}, "long_handle"),
        (1740, {"hands": "top", "stance": "upright"}, "short_handle"),
        (1920, {}, "long_handle"),
    ],
)
def test_long_handle_for_the_tall_or_a_high_grip_and_an_upright_stance(height_mm, hold, length):
    assert length_of(height_mm, hold=hold) == length


# common practice, no source: length.long_blade
def test_long_blade_for_the_tall_with_a_low_grip():
    assert length_of(1900, hold={"hands": "bottom"}) == "long_blade"
    assert length_of(1740, hold={"hands": "bottom"}) == "short_handle"


# common practice, no source: length.both_long
def test_handle_and_blade_are_both_long_only_from_six_foot_seven():
    assert length_of(2006.6) == "long_handle_long_blade"
    assert length_of(2040, hold={"hands": "top", "stance": "upright"}) == "long_handle_long_blade"
    assert length_of(2000) == "long_handle"
    found = recommend(fitting(player={"height_mm": 2040}))
    trade = next(reason.trade_off for reason in found.reasons if reason.field == "length_code")
    assert trade == "length.pair_heavy"


# common practice, no source: length.long_handle_short_blade
def test_long_handle_on_short_blade_for_twenty_over_hitting():
    hitting = {"approach": "big_hitting", "overs_mix": {"long": 0, "fifty": 1, "twenty": 4}}
    assert length_of(1800, game=hitting) == "long_handle_short_blade"
    assert length_of(1800, game={**hitting, "approach": "patient"}) == "short_handle"


# common practice, no source: sweet_spot.high
def test_sweet_spot_is_high_for_bouncy_pitches_and_back_foot_play():
    shots = {"cut": 3, "pull_and_hook": 3, "back_foot_punch": 2}
    found = recommend(fitting(pitches={"bounce": "high"}, game={"shots": shots}))
    assert found.build.sweet_spot.choice == "high"
    assert 235 <= found.build.sweet_spot.swell_from_toe_mm <= 260
    assert facts(found, "sweet_spot.choice") == {"sweet_spot.high"}


# common practice, no source: sweet_spot.mid
def test_sweet_spot_stays_mid_on_one_sign_alone():
    assert recommend(fitting(pitches={"bounce": "high"})).build.sweet_spot.choice == "mid"
    assert recommend(fitting(pitches={"bounce": "low"})).build.sweet_spot.choice == "mid"
    found = recommend(fitting())
    assert found.build.sweet_spot.choice == "mid"
    assert 210 <= found.build.sweet_spot.swell_from_toe_mm <= 230


# common practice, no source: sweet_spot.low
def test_sweet_spot_is_low_for_straight_play_on_low_pitches():
    found = recommend(fitting(pitches={"bounce": "low"}, game={"shots": {"straight_drive": 3}}))
    assert found.build.sweet_spot.choice == "low"
    assert 190 <= found.build.sweet_spot.swell_from_toe_mm <= 205


# common practice, no source: sweet_spot.long
def test_sweet_spot_is_long_for_driving_on_the_up():
    found = recommend(fitting(game={"shots": {"drive_on_the_up": 3}}))
    assert found.build.sweet_spot.choice == "long"

    def kept_above(build):
        deepest = max(station.spine_mm for station in build.blade.stations)
        half_way = build.blade.stations[5]
        return half_way.spine_mm / deepest

    assert kept_above(found.build) > kept_above(recommend(fitting()).build)


# common practice, no source: sweet_spot.size_costs_mass, profile.full
def test_full_profile_costs_mass_or_density():
    full = recommend(fitting(wishes={"profile": "full"}))
    tapered = recommend(fitting(wishes={"profile": "tapered_spine"}))
    assert full.build.mass_g.target == tapered.build.mass_g.target
    assert full.build.willow.density_kg_m3.min < tapered.build.willow.density_kg_m3.min
    assert next(r.trade_off for r in full.reasons if r.field == "profile") == "profile.heavier"


# common practice, no source: profile.tapered_spine
def test_spine_fades_out_for_the_orthodox_batter():
    game = {"approach": "patient", "batting_place": "opener", "shots": {"straight_drive": 2}}
    found = recommend(fitting(game=game))
    assert found.build.profile == "tapered_spine"
    assert "profile.tapered_spine" in facts(found, "profile")


# common practice, no source: profile.spine_to_toe
def test_spine_runs_to_the_toe_where_wood_is_wanted_low_down():
    low = recommend(fitting(pitches={"bounce": "low"}, game={"shots": {"straight_drive": 3}}))
    assert low.build.profile == "spine_to_toe"
    fading = recommend(
        fitting(
            pitches={"bounce": "low"},
            game={"shots": {"straight_drive": 3}},
            wishes={"profile": "tapered_spine"},
        )
    )
    at_quarter = [found.build.blade.stations[1].spine_mm for found in (low, fading)]
    assert at_quarter[0] > at_quarter[1]


# common practice, no source: profile.scalloped
def test_scalloped_back_for_the_touch_player():
    found = recommend(fitting(game={"shots": {"leg_glance": 3, "cut": 3}}, player={"strength": "light"}))
    assert found.build.profile == "scalloped"
    assert max(station.scallop for station in found.build.blade.stations) > 1.5


# common practice, no source: profile.full
def test_full_profile_for_the_big_hitter():
    found = recommend(fitting(game={"approach": "big_hitting", "shots": {"lofted": 3}}))
    assert found.build.profile == "full"


# common practice, no source: profile.before_edges
def test_edges_grow_only_by_a_wish():
    hitting = {"approach": "big_hitting", "shots": {"lofted": 3, "pull_and_hook": 3}}
    found = recommend(fitting(game=hitting, player={"strength": "strong"}))
    assert facts(found, "blade.stations.edge_mm") == {"profile.before_edges"}
    wished = recommend(fitting(game=hitting, wishes={"edges": "thick"}))
    assert value(wished, "blade.stations.edge_mm") > value(found, "blade.stations.edge_mm")


# common practice, no source: bow.for, bow.against
def test_bow_for_lofted_strokes_and_long_grass():
    found = recommend(fitting(game={"shots": {"lofted": 3}}, pitches={"outfield_grass": "long"}))
    assert 9 <= found.build.blade.bow_mm <= 15
    assert facts(found, "blade.bow_mm") == {"bow.for"}
    assert next(r.trade_off for r in found.reasons if r.field == "blade.bow_mm") == "bow.against"
    assert 4 <= recommend(fitting()).build.blade.bow_mm <= 8


# common practice, no source: face.flat, face.rounded
def test_face_follows_the_wish_and_says_what_it_does():
    flat = recommend(fitting(wishes={"face": "flat"}))
    assert flat.build.blade.face_crown_mm <= 0.5
    assert "face.flat" in facts(flat, "blade.face_crown_mm")
    rounded = recommend(fitting(wishes={"face": "rounded"}))
    assert 1.5 <= rounded.build.blade.face_crown_mm <= 2.5
    assert "face.rounded" in facts(rounded, "blade.face_crown_mm")


# common practice, no source: willow.density, willow.match
def test_willow_is_of_middle_density_and_chosen_for_shape_and_mass():
    found = recommend(fitting())
    band = found.build.willow.density_kg_m3
    assert abs((band.min + band.max) / 2 - DEFAULT_BOOK.rules.density_usual_kg_m3) <= 10
    assert facts(found, "willow.density_kg_m3") == {"willow.density", "willow.match"}
    light = recommend(fitting(wishes={"mass_g": {"max": 1080}, "edges": "thick"}))
    assert light.build.willow.density_kg_m3.min < band.min


# common practice, no source: handle.section
def test_handle_is_round_on_top_and_turns_oval():
    handle = recommend(fitting()).build.handle
    assert (handle.section_top, handle.section_bottom) == ("round", "oval")
    assert handle.oval_ratio > 1


# common practice, no source: handle.thick, handle.thin
def test_handle_grows_with_the_hand_and_shrinks_for_a_tight_grip():
    small, large = (
        recommend(fitting(player={"hand_length_mm": hand})).build.handle.girth_mm.middle
        for hand in (175, 195)
    )
    assert small < large
    tight = recommend(fitting(hold={"tightness": "tight"}))
    assert tight.build.handle.girth_mm.middle < recommend(fitting()).build.handle.girth_mm.middle
    assert "handle.thin" in facts(tight, "handle.girth_mm")


# common practice, no source: handle.plain_cane, handle.lightened_cane, handle.stiffened_cane
@pytest.mark.parametrize(
    ("chapters", "construction"),
    [
        ({}, "plain_cane"),
        ({"wishes": {"feel": "traditional"}}, "plain_cane"),
        ({"present_bat": {"pickup": "too_heavy"}}, "lightened_cane"),
        ({"game": {"approach": "big_hitting"}, "level": "first_class"}, "stiffened_cane"),
    ],
)
def test_handle_is_made_for_feel_balance_or_performance(chapters, construction):
    found = recommend(fitting(**chapters))
    assert found.build.handle.construction == construction
    assert f"handle.{construction}" in facts(found, "handle.construction")


# common practice, no source: toe.thick
@pytest.mark.parametrize(
    "chapters",
    [
        {"present_bat": {"broke_at": ["toe"]}},
        {"pitches": {"surface": "artificial"}, "hold": {"taps_ground": True}},
    ],
)
def test_toe_is_strong_where_it_chips(chapters):
    found = recommend(fitting(**chapters))
    assert 24 <= found.build.blade.stations[0].spine_mm <= 26
    assert "toe.thick" in facts(found, "blade.stations.0.spine_mm")


# common practice, no source: toe.thin
def test_slim_toe_lifts_easier():
    light = recommend(fitting(wishes={"toe": "light"}))
    strong = recommend(fitting(wishes={"toe": "strong"}))
    assert light.build.blade.stations[0].spine_mm == pytest.approx(18)
    assert light.build.mass_g.target == strong.build.mass_g.target
    assert light.weighing.inertia_kg_m2.pickup < strong.weighing.inertia_kg_m2.pickup


# common practice, no source: toe.scoop
def test_scoop_is_cut_into_a_full_profile_that_should_lift_better():
    present = {"pickup": "too_heavy", "mass_g": 1200}
    scooped = recommend(fitting(wishes={"profile": "full"}, present_bat=present))
    assert scooped.build.blade.toe.scoop is not None
    assert "toe.scoop" in facts(scooped, "blade.toe.scoop")
    whole = recommend(fitting(wishes={"profile": "full", "toe": "strong"}, present_bat=present))
    assert whole.build.blade.toe.scoop is None


# common practice, no source: protect.toe_guard, protect.face_film, protect.edge_tape
def test_protection_answers_damp_ground_and_broken_edges():
    dry = recommend(fitting()).build.protection
    assert dry.toe_guard is not None
    assert dry.face_film is None
    damp = recommend(fitting(pitches={"often_damp": True}))
    assert damp.build.protection.face_film is not None
    assert facts(damp, "protection.face_film") == {"protect.face_film"}
    edges = recommend(fitting(present_bat={"broke_at": ["edge"]}))
    assert edges.build.protection.edge_tape is not None
    assert facts(edges, "protection.edge_tape") == {"protect.edge_tape"}
