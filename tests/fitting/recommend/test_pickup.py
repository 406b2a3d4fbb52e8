"""The pickup aimed at, and what the bat in use is estimated to have."""

from math import pi, radians, sin, sqrt

import pytest
from scipy.special import ellipk

from fitting.bat.in_use import STANDARD_GRAVITY_M_S2
from fitting.recommend import recommend
from fitting.recommend.pickup import PRESENT_SD
from fitting.recommend.present import present_pickup
from tests.sheets import fitting


def measured(found, **more):
    """The bat that was just computed, as its owner would measure it."""
    weighing = found.weighing
    return {
        "mass_g": round(weighing.mass_g, 1),
        "balance_from_toe_mm": round(weighing.balance_from_toe_mm, 1),
        "overall_length_mm": weighing.overall_length_mm,
        **more,
    }


def test_estimate_from_home_measures_finds_a_bat_of_the_model_again():
    found = recommend(fitting(wishes={"profile": "full", "toe": "strong"}))
    estimate = in_use(measured(found))
    assert estimate.by == "regression"
    # bats of the model scatter by 1.2 %; three of it
    assert estimate.pickup_kg_m2 == pytest.approx(found.weighing.inertia_kg_m2.pickup, rel=0.037)


def in_use(measures):
    """The estimate that these measures give."""
    estimate = present_pickup(fitting(present_bat=measures).present_bat)
    assert estimate is not None
    return estimate


def timed(found, swings=20):
    """The bat that was just computed, hung 20 mm below its top and timed at 8 degrees to each side.

    T = 2 pi sqrt(I / (m g d)) (2 / pi) K(sin^2(a / 2)), any textbook of mechanics.
    """
    inertia = found.weighing.inertia_kg_m2
    mass = found.weighing.mass_g / 1000
    pivot = 0.020
    arm = found.weighing.overall_length_mm / 1000 - pivot - found.weighing.balance_from_toe_mm / 1000
    about_pivot = inertia.about_balance + mass * arm**2
    small = 2 * pi * sqrt(about_pivot / (mass * STANDARD_GRAVITY_M_S2 * arm))
    seconds = swings * small * 2 / pi * float(ellipk(sin(radians(4)) ** 2))
    return {"pivot_from_handle_top_mm": 20, "swings": swings, "seconds": round(seconds, 3)}


def test_estimate_from_timed_swings_finds_a_known_inertia_again():
    found = recommend(fitting())
    estimate = in_use(measured(found, pendulum=timed(found)))
    assert estimate.by == "swings"
    # balance and mass were rounded to 0.1, the time to a thousandth of a second
    assert estimate.pickup_kg_m2 == pytest.approx(found.weighing.inertia_kg_m2.pickup, rel=2e-3)
    assert 0 < estimate.sd_share < 0.03


def pickup_facts(found):
    reason = next(one for one in found.reasons if one.field == "pickup_kg_m2")
    return {(one.answer, one.fact) for one in reason.because}


def test_reason_names_the_measures_that_the_estimate_rests_on():
    bat = recommend(fitting())
    scales = recommend(fitting(present_bat=measured(bat, liked=True)))
    assert ("present_bat.mass_g", "pickup.present_estimate") in pickup_facts(scales)
    swung = recommend(fitting(present_bat=measured(bat, liked=True, pendulum=timed(bat))))
    assert ("present_bat.pendulum", "pickup.present_swings") in pickup_facts(swung)
    assert "pickup.present_estimate" not in {fact for _, fact in pickup_facts(swung)}
    wrong = timed(bat) | {"seconds": 12.0}
    refused = recommend(fitting(present_bat=measured(bat, liked=True, pendulum=wrong)))
    assert pickup_facts(refused) == pickup_facts(scales) | {("present_bat.pendulum", "pickup.swings_refused")}


@pytest.mark.parametrize("missing", ["mass_g", "balance_from_toe_mm", "overall_length_mm"])
def test_estimate_is_left_out_when_a_measure_is_missing(missing):
    found = recommend(fitting())
    content = measured(found, pendulum=timed(found))
    del content[missing]
    assert present_pickup(fitting(present_bat=content).present_bat) is None


@pytest.mark.parametrize("told", [{"pickup": "right"}, {"liked": True}])
def test_target_stays_at_the_bat_in_use_that_feels_right(told):
    found = recommend(fitting())
    present = measured(found, **told)
    present["balance_from_toe_mm"] += 1.5
    again = recommend(fitting(present_bat=present))
    estimate = in_use(present)
    assert again.build.pickup_kg_m2.target == pytest.approx(estimate.pickup_kg_m2, abs=1e-4)
    assert again.build.pickup_kg_m2.target != round(again.weighing.inertia_kg_m2.pickup, 4)
    assert not [one for one in again.conflicts if one.key == "pickup.present"]


def test_target_out_of_reach_at_this_mass_is_told():
    found = recommend(fitting())
    present = measured(found, pickup="right", liked=True)
    present["balance_from_toe_mm"] += 25
    again = recommend(fitting(present_bat=present))
    missed = next(one for one in again.conflicts if one.key == "pickup.present")
    assert missed.cost["pickup_kg_m2"] > 0.03 * again.weighing.inertia_kg_m2.pickup
    assert missed.cost[PRESENT_SD] == pytest.approx(0.03 * float(missed.given_up), abs=1e-4)
    assert again.build.pickup_kg_m2.target == pytest.approx(again.weighing.inertia_kg_m2.pickup, abs=1e-4)


def test_target_without_a_measured_bat_is_the_bats_own_within_three_percent():
    found = recommend(fitting())
    target = found.build.pickup_kg_m2
    assert target.target == pytest.approx(found.weighing.inertia_kg_m2.pickup, abs=5e-5)
    assert target.tolerance == pytest.approx(0.03 * target.target, rel=0.01)
