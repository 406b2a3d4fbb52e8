"""Words for a half-made bat: held against what was agreed, its condition, gains and losses, limits."""

from typing import get_args

import pytest

from fitting.bat.additions import Addition
from fitting.bat.blade_room import Limit
from fitting.bat.condition import Condition
from orders.words.standing import (
    addition_words,
    condition_words,
    held_mass,
    held_pickup,
    held_place,
    limit_words,
    pending_words,
    warning_words,
)


@pytest.mark.parametrize(
    ("mass", "said"),
    [
        (1164.0, "4 g over, inside 14"),
        (1146.4, "14 g under, inside 14"),
        (1175.0, "15 g over, outside 14"),
        (1160.3, "on the number"),
    ],
)
def test_held_mass_says_how_far_and_whether_inside(mass: float, said: str):
    assert held_mass(mass, 1160, 14) == said


def test_held_place_says_towards_which_end():
    assert held_place(353, 350, 6) == "3 mm nearer the hands, inside 6"
    assert held_place(341, 350, 6) == "9 mm nearer the toe, outside 6"
    assert held_place(350.2, 350, 6) == "on the number"


def test_held_pickup_is_a_share_of_what_was_agreed():
    assert held_pickup(0.012, 0.025) == "1.2 % heavier to lift, inside 2.5 %"
    assert held_pickup(-0.03, 0.025) == "3.0 % lighter to lift, outside 2.5 %"
    assert held_pickup(0.0004, 0.025) == "as agreed"


def test_condition_of_a_blade_and_of_a_finished_bat():
    blade = Condition(square_top_mm=180, square_depth_mm=71.5, square_width_mm=107, moisture_percent=11.5)
    done = Condition(handle=True, bound=True, sanded=True, grips=1, toe_guard=True, oil_coats=2)

    words = ", ".join(condition_words(blade)).replace("\N{NO-BREAK SPACE}", " ")
    assert words == "without handle, top 180 mm square, 71.5 mm deep, not sanded, 11.5 % moisture"
    words = ", ".join(condition_words(done)).replace("\N{NO-BREAK SPACE}", " ")
    assert words == "handle in, bound, sanded, 1 grip, guard at the toe, 2 coats of oil, 12 % moisture"


def test_raw_handle_is_said_with_its_mass():
    assert "handle not turned yet, 265 g" in condition_words(Condition(handle=True, cane_g=265))


def test_gains_and_losses_are_told_apart():
    keys = ["splice_recess", "square_top", "outline", "sanding", "handle", "glue", "turning", "binding"]
    keys += ["grip", "face_film", "toe_guard", "edge_tape", "oil", "drying", "thread"]

    words = [pending_words(key) for key in keys]

    assert len(set(words)) == len(keys)
    assert pending_words("drying") == "moisture, back to 12 %"
    assert not any("_" in one for one in words)


@pytest.mark.parametrize("key", [*get_args(Limit), "toe"])
def test_every_limit_has_words(key: str):
    assert len(limit_words(key).split()) > 2


@pytest.mark.parametrize("key", ["no_way_back_toe", "at_the_limit", "below_target"])
def test_every_warning_says_that_wood_does_not_come_back(key: str):
    words = warning_words(key)

    assert any(sign in words for sign in ("cannot be put back", "no way back", "stays off"))


def test_addition_says_what_it_does():
    grip = Addition(key="grip", mass_g=50, balance_mm=15.5, pickup_share=0.002)

    assert addition_words(grip) == "another grip: 50 g, balance 16 mm up, 0.2 % heavier to lift"
