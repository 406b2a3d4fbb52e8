"""What pulls apart is told: what was kept, what it costs in true numbers, and what was let give way."""

from math import pi

import pytest

from fitting.bat.weigh import heft, weigh
from fitting.recommend import recommend
from fitting.recommend.answer import answer
from fitting.recommend.draft import Draft
from fitting.recommend.solve import Solved
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.recommendation import Conflict, Recommendation
from fitting.sheets.weighing import Weighing
from orders.words.reasons import CONFLICT_WORDS
from tests.fitting.recommend.test_every_sheet import check_lawful, check_mass
from tests.sheets import fitting
from tests.trade_limits import check_trade_limits

RULES = DEFAULT_BOOK.rules
CHILD = {"age_years": 10, "height_mm": 1350}
LIGHT_AND_BIG = {"mass_g": {"max": 1040}, "edges": "thick", "profile": "full"}
LIFTED = {"mass_g": 1150.0, "balance_from_toe_mm": 400.0, "overall_length_mm": 851.0}

# One made sheet for each thing that can pull apart.
MADE: dict[str, dict] = {
    "wish_against_rule": {
        "pitches": {"bounce": "low"},
        "game": {"shots": {"straight_drive": 3, "sweep": 3}},
        "wishes": {"sweet_spot": "high"},
    },
    "sweet_spot.long_light": {"wishes": {"sweet_spot": "long", "mass_g": {"max": 1110}}},
    "bow.largest": {"wishes": {"bow": "full", "sweet_spot": "long"}},
    "willow.choose_two": {"wishes": {"mass_g": {"max": 1080}, "edges": "thick"}},
    "length.pair": {"player": {"height_mm": 2040}},
    "handle.stiff_easy": {"wishes": {"feel": "stiff", "easy_on_joints": True}},
    "mass.wish": {
        "present_bat": {"mass_g": 1200, "pickup": "too_heavy"},
        "wishes": {"mass_g": {"min": 1230}},
    },
    "mass.trade_limit": {"wishes": {"mass_g": {"max": 900}}},
    "mass.child_ceiling": {"player": CHILD, "wishes": {"mass_g": {"min": 1100}}},
    "mass.unreached_light": {"game": {"approach": "big_hitting"}, "wishes": LIGHT_AND_BIG},
    "mass.unreached_heavy": {
        "wishes": {"mass_g": {"min": 1290}, "edges": "thin", "profile": "scalloped"},
    },
    "girth.limit": {"player": {"hand_length_mm": 218}},
    "edges.gave_way": {
        "game": {"approach": "big_hitting"},
        "wishes": {**LIGHT_AND_BIG, "gives_way_first": ["edges", "mass"]},
    },
    "mass.gave_way": {
        "present_bat": {**LIFTED, "pickup": "too_heavy"},
        "wishes": {"mass_g": {"min": 1150, "max": 1160}, "gives_way_first": ["mass", "pickup"]},
    },
    "pickup.present": {
        "present_bat": {**LIFTED, "pickup": "too_heavy"},
        "wishes": {"mass_g": {"min": 1150, "max": 1160}},
    },
}


def made(key: str) -> tuple[Recommendation, Conflict]:
    """The bat of a made sheet, and what it was made for."""
    found = recommend(fitting(**MADE[key]))
    return found, next(one for one in found.conflicts if one.key == key)


def found_for(key: str) -> tuple[Draft, Solved]:
    """The choices behind the bat of a made sheet."""
    found = answer(fitting(**MADE[key]), DEFAULT_BOOK)
    return found.draft, found.solved


def in_the_same_shape(draft: Draft, solved: Solved) -> BuildSheet:
    """Another choice at the fullness, density and tilt of the bat that was made."""
    return draft.build(draft.shapes(), solved.fullness, solved.density_kg_m3, tilt_mm=solved.tilt_mm)


def at_mass(build: BuildSheet, mass_g: float) -> Weighing:
    """A bat weighed with the willow that gives it a mass, found by halving."""
    low, high = 250.0, 700.0
    for _ in range(40):
        middle = (low + high) / 2
        heavy = heft(build, density_kg_m3=middle).mass_g > mass_g
        low, high = (low, middle) if heavy else (middle, high)
    return weigh(build, density_kg_m3=low)


def check_cost_of_hefts(cost: dict[str, float], kept: Weighing, given_up: Weighing) -> None:
    """Mass, pickup and balance of a cost are the differences of two bats, rounded."""
    assert cost["mass_g"] == pytest.approx(kept.mass_g - given_up.mass_g, abs=0.051)
    pickups = [one.inertia_kg_m2.pickup for one in (kept, given_up)]
    assert cost["pickup_kg_m2"] == pytest.approx(pickups[0] - pickups[1], abs=5.1e-5)
    if "balance_from_toe_mm" in cost:
        balances = kept.balance_from_toe_mm - given_up.balance_from_toe_mm
        assert cost["balance_from_toe_mm"] == pytest.approx(balances, abs=0.051)


def test_there_is_a_sheet_for_every_conflict_that_has_words():
    assert set(MADE) == set(CONFLICT_WORDS)


@pytest.mark.parametrize("key", MADE)
def test_made_sheet_tells_its_conflict_with_sides_numbers_and_ways_out(key):
    found, conflict = made(key)
    assert conflict.kept != conflict.given_up
    # what a second pressing does to the middle is said by the trade and not known in numbers
    assert bool(conflict.cost) == (key != "bow.largest")
    assert conflict.ways_out
    assert conflict.fields
    check_lawful(found, fitting(**MADE[key]))
    check_trade_limits(found.build)
    check_mass(found)


@pytest.mark.parametrize("key", MADE)
def test_conflict_is_not_told_where_nothing_pulls_apart(key):
    plain = {"player": CHILD} if MADE[key].get("player") == CHILD else {}
    assert key not in {one.key for one in recommend(fitting(**plain)).conflicts}


def test_low_pitches_and_a_high_sweet_spot_cost_what_the_two_bats_differ():
    found, conflict = made("wish_against_rule")
    assert conflict.fields == ("sweet_spot.choice", "wishes.sweet_spot")
    assert (conflict.kept, conflict.given_up) == ("high", "low")
    draft, solved = found_for("wish_against_rule")
    other = heft(in_the_same_shape(draft.deciding("sweet_spot", "low"), solved))
    check_cost_of_hefts(conflict.cost, weigh(found.build), other)


def test_long_and_light_costs_what_a_shorter_sweet_spot_of_the_same_mass_would_not():
    found, conflict = made("sweet_spot.long_light")
    draft, solved = found_for("sweet_spot.long_light")
    mine = weigh(found.build)
    other = at_mass(in_the_same_shape(draft.deciding("sweet_spot", "mid"), solved), mine.mass_g)
    ours, theirs = mine.sweet_spot, other.sweet_spot
    assert ours
    assert theirs
    reach = (ours.to_mm - ours.from_mm) - (theirs.to_mm - theirs.from_mm)
    assert reach > 0
    assert conflict.cost["reach_mm"] == pytest.approx(reach, abs=0.1)
    assert conflict.cost["peak_from_toe_mm"] == pytest.approx(
        ours.peak_from_toe_mm - theirs.peak_from_toe_mm, abs=0.1
    )
    pickup = mine.inertia_kg_m2.pickup - other.inertia_kg_m2.pickup
    assert conflict.cost["pickup_kg_m2"] == pytest.approx(pickup, abs=6e-5)
    speeds = [max(point.exit_speed_m_s for point in one.response) for one in (mine, other)]
    assert conflict.cost["exit_speed_percent"] == pytest.approx(100 * (speeds[0] / speeds[1] - 1), abs=0.06)


def test_long_handle_with_long_blade_costs_what_the_pair_weighs_more():
    found, conflict = made("length.pair")
    assert (conflict.kept, found.build.length_code) == ("long_handle_long_blade", "long_handle_long_blade")
    draft, solved = found_for("length.pair")
    row = DEFAULT_BOOK.length("long_handle")
    shorter = Draft(**{**vars(draft), "row": row})
    other = heft(in_the_same_shape(shorter, solved))
    assert other.overall_length_mm == row.overall_mm
    check_cost_of_hefts(conflict.cost, weigh(found.build), other)
    assert conflict.cost["pickup_kg_m2"] > 0


def test_stiff_and_easy_on_the_joints_costs_what_plain_cane_would_not():
    found, conflict = made("handle.stiff_easy")
    draft, solved = found_for("handle.stiff_easy")
    other = heft(in_the_same_shape(draft.deciding("construction", "plain_cane"), solved))
    check_cost_of_hefts(conflict.cost, weigh(found.build), other)
    assert conflict.cost["mass_g"] > 5


def test_bow_with_the_largest_sweet_spot_costs_nothing_that_the_model_could_tell():
    found, conflict = made("bow.largest")
    draft, solved = found_for("bow.largest")
    mine, other = weigh(found.build), weigh(in_the_same_shape(draft.deciding("bow", "slight"), solved))
    assert mine.sweet_spot
    assert other.sweet_spot
    assert mine.mass_g == pytest.approx(other.mass_g, abs=0.5)
    assert mine.inertia_kg_m2.pickup == pytest.approx(other.inertia_kg_m2.pickup, rel=1e-3)
    reaches = [one.to_mm - one.from_mm for one in (mine.sweet_spot, other.sweet_spot)]
    assert reaches[0] == pytest.approx(reaches[1], abs=0.5)
    assert conflict.cost == {}


def test_big_edges_light_and_durable_is_true_of_usual_willow():
    found, conflict = made("willow.choose_two")
    band = found.build.willow.density_kg_m3
    usual = RULES.density_usual_kg_m3
    assert conflict.cost["density_kg_m3"] == pytest.approx((band.min + band.max) / 2 - usual, abs=0.06)
    mass = found.build.mass_g
    assert weigh(found.build, density_kg_m3=usual).mass_g > mass.target + mass.tolerance


@pytest.mark.parametrize("key", ["mass.unreached_light", "mass.unreached_heavy"])
def test_mass_out_of_reach_is_missed_by_what_is_told(key):
    found, conflict = made(key)
    missed = weigh(found.build).mass_g - float(conflict.given_up)
    assert conflict.cost["mass_g"] == pytest.approx(missed, abs=0.51)
    assert found.build.mass_g.target == float(conflict.kept)


def test_girth_that_no_handle_has_is_missed_by_what_is_told():
    found, conflict = made("girth.limit")
    wanted = pi * 0.197 * 218 - 2 * pi * found.build.grips.wall_mm
    assert conflict.cost["girth_mm"] == pytest.approx(found.build.handle.girth_mm.middle - wanted, abs=0.06)


def deepest_edge(found: Recommendation) -> float:
    return max(station.edge_mm for station in found.build.blade.stations)


def test_edges_that_give_way_first_are_given_up_for_the_mass():
    found, conflict = made("edges.gave_way")
    chapters = MADE["edges.gave_way"]
    held = recommend(fitting(**{**chapters, "wishes": LIGHT_AND_BIG}))
    assert "mass.unreached_light" in {one.key for one in held.conflicts}
    thinner, lighter = (
        deepest_edge(found) - deepest_edge(held),
        weigh(found.build).mass_g - weigh(held.build).mass_g,
    )
    assert thinner < 0
    assert lighter < 0
    assert conflict.cost["edge_mm"] == pytest.approx(thinner, abs=0.06)
    assert conflict.cost["mass_g"] == pytest.approx(lighter, abs=0.06)
    later = recommend(
        fitting(**{**chapters, "wishes": {**LIGHT_AND_BIG, "gives_way_first": ["mass", "edges"]}})
    )
    assert later.build == held.build


def test_life_that_gives_way_before_the_mass_lets_a_hard_hitter_have_lighter_willow():
    hitting = {"game": {"approach": "big_hitting"}}
    by_order = {
        order: recommend(fitting(**hitting, wishes={**LIGHT_AND_BIG, "gives_way_first": list(order)}))
        for order in (("life", "mass"), ("mass", "life"))
    }
    lighter, kept = by_order["life", "mass"], by_order["mass", "life"]
    assert kept.build.willow.density_kg_m3.min >= RULES.density_hard_hitter_least_kg_m3
    assert lighter.build.willow.density_kg_m3.min < RULES.density_hard_hitter_least_kg_m3
    assert lighter.build.willow.density_kg_m3.min >= RULES.density_least_kg_m3
    assert weigh(lighter.build).mass_g < weigh(kept.build).mass_g
    assert "willow.choose_two" in {one.key for one in lighter.conflicts}


def test_date_that_gives_way_before_the_mass_lets_willow_be_rare_and_says_so():
    rare, usual = (
        recommend(fitting(wishes={**LIGHT_AND_BIG, "feel": "stiff", "grips": 3, "gives_way_first": order}))
        for order in (["date", "mass"], ["mass", "date"])
    )
    assert usual.build.willow.density_kg_m3.min >= RULES.density_least_kg_m3
    assert rare.build.willow.density_kg_m3.min < RULES.density_least_kg_m3
    assert weigh(rare.build).mass_g < weigh(usual.build).mass_g
    cautions = [{one.key for one in found.cautions} for found in (rare, usual)]
    assert "willow.rare" in cautions[0]
    assert "willow.rare" not in cautions[1]
