"""Spreads and what the lower hand feels, in words."""

import pytest

from fitting.bat.weigh import weigh
from fitting.sheets.fitting_sheet import PresentBat
from orders.words.forecast import say_lower_hand, say_pickup_spread, say_spread, together
from orders.words.measures import like_mass_g
from orders.words.pickup import pickup_reference
from tests.builds import a_build
from tests.weighings import of_model_1


@pytest.fixture(scope="module")
def weighing():
    return weigh(a_build())


@pytest.mark.parametrize(
    ("sd_g", "system", "said"),
    [
        (26.4, "metric", "give or take 25 g"),
        (28.6, "metric", "give or take 30 g"),
        (0.4, "metric", "give or take 5 g"),
        (28.6, "imperial", "give or take 1 oz"),
        (40.0, "imperial", "give or take 1.5 oz"),
        (1.0, "imperial", "give or take 0.5 oz"),
    ],
)
def test_a_spread_is_said_in_steps_of_5_g_or_half_an_ounce(sd_g, system, said):
    assert say_spread(sd_g, system) == said


def test_the_pickups_spread_is_that_of_the_bat_it_lifts_like(weighing):
    reference = pickup_reference("short_handle")
    pickup, spread = weighing.inertia_kg_m2.pickup, weighing.pickup_sd_kg_m2
    grams = like_mass_g(pickup + spread, reference) - like_mass_g(pickup, reference)
    assert say_pickup_spread(weighing, reference) == say_spread(grams, "imperial")
    assert say_pickup_spread(of_model_1(weighing), reference) == ""


def present(weighing, *, nearer_the_toe_mm=0.0):
    """A bat in use like this one, its balance elsewhere."""
    return PresentBat(
        mass_g=weighing.mass_g,
        balance_from_toe_mm=weighing.balance_from_toe_mm - nearer_the_toe_mm,
        overall_length_mm=weighing.overall_length_mm,
    )


def test_the_lower_hand_is_told_beside_the_bat_in_use(weighing):
    hand = weighing.lower_hand
    arm = hand.axis_from_toe_mm - weighing.balance_from_toe_mm
    assert "as much as" in say_lower_hand(weighing, present(weighing))
    lighter = say_lower_hand(weighing, present(weighing, nearer_the_toe_mm=30))
    assert f"about {100 * (1 - arm / (arm + 30)):.0f} % lighter" in lighter
    heavier = say_lower_hand(weighing, present(weighing, nearer_the_toe_mm=-30))
    assert f"about {100 * (arm / (arm - 30) - 1):.0f} % heavier" in heavier


def test_the_lower_hand_is_not_told_of_what_was_not_measured(weighing):
    assert say_lower_hand(weighing, PresentBat(mass_g=1190, overall_length_mm=851)) == ""
    assert say_lower_hand(of_model_1(weighing), present(weighing)) == ""


def test_notes_stand_in_a_row_without_the_empty_ones():
    assert together("give or take 25 g", "", "2 lb 9.1 oz").replace("\N{NO-BREAK SPACE}", " ") == (
        "give or take 25 g · 2 lb 9.1 oz"
    )
