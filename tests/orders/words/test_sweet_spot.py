"""Where a bat hits hardest, in words no sharper than it is known."""

import pytest

from fitting.bat.weigh import weigh
from fitting.sheets.weighing import SweetSpot
from orders.words.sweet_spot import (
    blow_in_numbers,
    blow_words,
    has_moved,
    say_peak,
    say_reach,
    say_speed,
    soft_place,
    where_words,
)
from tests.builds import a_build
from tests.weighings import of_model_1

SWEET = SweetSpot(peak_from_toe_mm=208.4, from_mm=163, to_mm=257.4, half_width_mm=10.6)


@pytest.fixture(scope="module")
def weighing():
    return weigh(a_build())


@pytest.mark.parametrize(
    ("system", "peak", "reach"),
    [
        ("metric", "about 210 mm", "nearly as hard from 165 to 255 mm"),
        ("imperial", "about 8 1/4 in", "nearly as hard from 6 1/2 to 10 1/4 in"),
    ],
)
def test_peak_and_reach_are_said_to_5_mm_or_a_quarter_inch(system, peak, reach):
    assert say_peak(SWEET, system).replace("\N{NO-BREAK SPACE}", " ") == peak
    assert say_reach(SWEET, system).replace("\N{NO-BREAK SPACE}", " ") == reach


def test_a_place_a_millimetre_off_is_said_the_same():
    assert {soft_place(place) for place in (208, 209, 210, 211, 212)} == {"210 mm"}


@pytest.mark.parametrize(("by", "moved"), [(4.9, False), (-4.9, False), (5, True), (-5, True)])
def test_moved_is_what_moved_by_5_mm(by, moved):
    other = SWEET.model_copy(update={"peak_from_toe_mm": SWEET.peak_from_toe_mm + by})
    assert has_moved(SWEET, other) is moved


@pytest.mark.parametrize(("system", "said"), [("metric", "90 km/h"), ("imperial", "55 mph")])
def test_speeds_are_said_as_people_know_them(system, said):
    assert say_speed(25, system) == said


def test_the_blow_is_said_in_plain_words_as_a_convention(weighing):
    where, across, blow = where_words(weighing)
    assert say_peak(weighing.sweet_spot) in where
    assert soft_place(weighing.sweet_spot.half_width_mm) in across
    assert "a ball of 159 g comes straight at 90 km/h" in blow
    impact = weighing.reference_impact
    arm = (impact.pivot_from_toe_mm - weighing.sweet_spot.peak_from_toe_mm) / 1000
    assert f"the sweet spot at {say_speed(impact.swing_rad_s * arm)}" in blow
    assert "convention" in blow
    assert blow == blow_words(weighing)
    assert "a ball of 5.6 oz comes straight at 55 mph" in blow_words(weighing, "imperial")


def test_the_blow_in_numbers_is_the_weighings_own(weighing):
    impact = weighing.reference_impact
    words = blow_in_numbers(weighing)
    assert "159 g at 25 m/s" in words
    assert f"{impact.swing_rad_s:.1f} rad/s" in words
    assert f"contact {impact.contact_ms:.1f} ms" in words


def test_an_older_model_says_so(weighing):
    old = of_model_1(weighing)
    assert where_words(old) == ()
    assert "older model" in blow_words(old)
    assert "older model" in blow_in_numbers(old)
