"""What a stage asks of a bat, and how a reading is held against it."""

import pytest

from fitting.bat.weigh import weigh
from fitting.sheets.book_bench import DEFAULT_BENCH, STAGES
from tests.builds import a_build
from workshop.bench.asks import Aim, Ask, BatOnPaper, asks_of, places_of

BUILD = a_build(blade__toe__scoop={"length_mm": 95, "depth_mm": 10})
PAPER = BatOnPaper(BUILD, weigh(BUILD), DEFAULT_BENCH)


def the(stage: str, name: str) -> Ask:
    """Return one ask by its field name."""
    return next(ask for ask in asks_of(PAPER, stage) if ask.name == name)


def test_asks_of_shaping_leave_the_top_square():
    """The lower two thirds are shaped; from 180 mm below the shoulder on nothing is read yet."""
    places = {ask.from_toe_mm for ask in asks_of(PAPER, "shaping") if ask.key == "spine"}

    assert places == {0, 60, 140, 220, 320}
    assert {ask.from_toe_mm for ask in asks_of(PAPER, "handle_fitting") if ask.key == "spine"} == {
        station.from_toe_mm for station in BUILD.blade.stations
    }


def test_asks_spine_is_a_millimetre_over_in_shaping_and_on_the_number_after():
    shaping, last = the("shaping", "spine-2200").aim, the("handle_fitting", "spine-2200").aim

    assert shaping == Aim(64.0, 63.0, 65.0)
    assert last == Aim(63.0, 62.0, 64.0)


def test_asks_edge_is_less_the_crown():
    assert the("handle_fitting", "edge_left-2200").aim == Aim(35.8, 34.8, 36.8)


def test_asks_in_the_scoop_are_less_its_depth():
    """At 60 mm the half sine of the scoop (12 to 107 mm, 10 mm deep) takes 10 sin(pi 48/95) = 9.9986 mm."""
    aim = the("handle_fitting", "spine-600").aim

    assert aim is not None
    assert aim.target == pytest.approx(34 - 10.0, abs=0.05)


def test_asks_of_the_grid_follow_the_length_of_the_blade():
    small = a_build(
        blade__length_mm=427,
        blade__stations=[
            {"from_toe_mm": at, "spine_mm": 50, "edge_mm": 25, "scallop": 1.2} for at in (0, 200, 427)
        ],
    )

    assert places_of(PAPER, "grid") == (150, 250, 350, 450)
    assert places_of(BatOnPaper(small, weigh(small), DEFAULT_BENCH), "grid") == (115, 190, 270, 345)


def test_asks_dry_mass_is_the_agreed_one_less_what_finishing_puts_on_and_with_what_it_takes_off():
    """Guard 9 g, grip 50 g and the oil of two coats are still to come; sanding takes 16 g."""
    aim = the("handle_fitting", "mass_dry").aim
    oil = next(part.mass_g for part in PAPER.weighing.parts if part.name == "oil")

    assert aim is not None
    assert aim.target == pytest.approx(1150 - 9 - 50 - oil + 16, abs=0.5)


@pytest.mark.parametrize("stage", STAGES)
def test_asks_have_names_of_their_own(stage: str):
    names = [ask.name for ask in asks_of(PAPER, stage)]

    assert len(names) == len(set(names))
    assert names


@pytest.mark.parametrize("stage", STAGES)
def test_asks_allow_what_they_aim_at(stage: str):
    """No number to hit may be one that the field would refuse."""
    for ask in asks_of(PAPER, stage):
        for value in (ask.aim.target, ask.aim.low) if ask.aim else ():
            assert value is None or ask.allowed.hold(value), ask


@pytest.mark.parametrize(
    ("value", "off", "inside"),
    [(63.0, 0.0, True), (64.0, 1.0, True), (64.1, 1.1, False), (62.0, -1.0, True), (61.9, -1.1, False)],
)
def test_aim_holds_up_to_its_tolerance(value: float, off: float, inside: bool):
    aim = Aim(63.0, 62.0, 64.0)

    assert aim.off(value) == off
    assert aim.holds(value) is inside


@pytest.mark.parametrize(
    ("aim", "value", "off", "inside"),
    [
        (Aim(low=69.0), 68.5, -0.5, False),
        (Aim(low=69.0), 73.0, None, True),
        (Aim(high=0.3), 0.5, 0.2, False),
        (Aim(low=8, high=13), 10.5, None, True),
        (Aim(target=206.0), 231.0, 25.0, True),
    ],
)
def test_aim_without_both_ends(aim: Aim, value: float, off: float | None, inside: bool):
    assert aim.off(value) == off
    assert aim.holds(value) is inside
