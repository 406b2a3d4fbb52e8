"""The pickup aimed at, and what the bat in use is estimated to have."""

from math import pi, sqrt

import pytest

from fitting.recommend import recommend
from fitting.recommend.present import GRAVITY_M_S2, present_pickup_kg_m2
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
    other = recommend(fitting(wishes={"profile": "scalloped"}))
    present = fitting(present_bat=measured(found)).present_bat
    estimate = present_pickup_kg_m2(present, other.weighing)
    # bats of the model: 1.1 % standard deviation by such a balance; three of it
    assert estimate == pytest.approx(found.weighing.inertia_kg_m2.pickup, rel=0.033)


def test_estimate_from_timed_swings_is_that_of_the_compound_pendulum():
    """T = 2 pi sqrt(I / (m g d)), any textbook of mechanics: a known inertia is found again."""
    found = recommend(fitting())
    inertia = found.weighing.inertia_kg_m2
    mass = found.weighing.mass_g / 1000
    pivot = 0.020
    arm = found.weighing.overall_length_mm / 1000 - pivot - found.weighing.balance_from_toe_mm / 1000
    about_pivot = inertia.about_balance + mass * arm**2
    seconds = 20 * 2 * pi * sqrt(about_pivot / (mass * GRAVITY_M_S2 * arm))
    swings = {"pivot_from_handle_top_mm": 20, "swings": 20, "seconds": round(seconds, 3)}
    present = fitting(present_bat=measured(found, pendulum=swings)).present_bat
    heavier = recommend(fitting(wishes={"mass_g": {"min": 1250}})).weighing
    # balance and mass were rounded to 0.1, the time to a thousandth of a second
    assert present_pickup_kg_m2(present, heavier) == pytest.approx(inertia.pickup, rel=1e-3)


@pytest.mark.parametrize("missing", ["mass_g", "balance_from_toe_mm", "overall_length_mm"])
def test_estimate_is_left_out_when_a_measure_is_missing(missing):
    found = recommend(fitting())
    content = measured(found)
    del content[missing]
    assert present_pickup_kg_m2(fitting(present_bat=content).present_bat, found.weighing) is None


@pytest.mark.parametrize("told", [{"pickup": "right"}, {"liked": True}])
def test_target_stays_at_the_bat_in_use_that_feels_right(told):
    found = recommend(fitting())
    present = measured(found, **told)
    present["balance_from_toe_mm"] += 1.5
    again = recommend(fitting(present_bat=present))
    estimate = present_pickup_kg_m2(fitting(present_bat=present).present_bat, again.weighing)
    assert again.build.pickup_kg_m2.target == pytest.approx(estimate, abs=1e-4)
    assert again.build.pickup_kg_m2.target != round(again.weighing.inertia_kg_m2.pickup, 4)
    assert not [one for one in again.conflicts if one.key == "pickup.present"]


def test_target_out_of_reach_at_this_mass_is_told():
    found = recommend(fitting())
    present = measured(found, pickup="right", liked=True)
    present["balance_from_toe_mm"] += 25
    again = recommend(fitting(present_bat=present))
    missed = next(one for one in again.conflicts if one.key == "pickup.present")
    assert missed.cost["pickup_kg_m2"] > 0.03 * again.weighing.inertia_kg_m2.pickup
    assert again.build.pickup_kg_m2.target == pytest.approx(again.weighing.inertia_kg_m2.pickup, abs=1e-4)


def test_target_without_a_measured_bat_is_the_bats_own_within_three_percent():
    found = recommend(fitting())
    target = found.build.pickup_kg_m2
    assert target.target == pytest.approx(found.weighing.inertia_kg_m2.pickup, abs=5e-5)
    assert target.tolerance == pytest.approx(0.03 * target.target, rel=0.01)
