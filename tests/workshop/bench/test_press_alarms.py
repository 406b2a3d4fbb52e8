"""What is wrong with wood in the press."""

from fitting.sheets.book_bench import DEFAULT_BENCH
from workshop.bench.press_alarms import Pressed, alarms_of
from workshop.bench.press_depths import Depths

BEFORE: Depths = {("left", 1500): 70.0, ("centre", 1500): 70.0, ("right", 1500): 70.0}


def said(left: float, centre: float, right: float, *, rested: bool = True, least: float = 0.0) -> list[str]:
    """Return the alarms of one place of the grid."""
    now = {("left", 1500): left, ("centre", 1500): centre, ("right", 1500): right}
    needs = {("centre", 1500): least} if least else {}
    return [alarm.words for alarm in alarms_of(Pressed(BEFORE, now, rested, needs), DEFAULT_BENCH)]


def test_wood_that_went_well_raises_none():
    assert said(67.0, 67.2, 67.5, least=66.0) == []


def test_loss_over_the_books_most_says_stop():
    assert said(64.9, 65.0, 65.0) == [
        "5.1 mm lost at 150 mm from the toe, left edge, more than 5.0 mm: stop pressing."
    ]
    assert said(65.0, 65.0, 65.0) == []


def test_worst_loss_is_named_and_the_others_are_counted():
    assert said(64.8, 64.5, 64.9) == [
        "5.5 mm lost at 150 mm from the toe, centre, more than 5.0 mm: stop pressing. At 2 more points it is "
        "too much."
    ]


def test_centre_that_lost_more_than_the_edges_is_cupped():
    assert said(68.0, 66.8, 68.0) == ["Cupped by 1.2 mm at 150 mm from the toe: stop, over 1.0 mm."]
    assert said(68.0, 67.0, 68.0) == []


def test_crowned_face_is_no_cup():
    assert said(66.5, 68.0, 66.5) == []


def test_side_that_is_thinner_than_the_other_is_named():
    assert said(66.0, 67.0, 67.6) == ["Left edge is 1.6 mm thinner than the other at 150 mm from the toe."]
    assert said(67.6, 67.0, 66.0) == ["Right edge is 1.6 mm thinner than the other at 150 mm from the toe."]


def test_wood_too_thin_for_the_bat_fails_once_it_is_rested():
    now = {("centre", 1500): 63.0}
    pressed = Pressed({}, now, rested=True, least={("centre", 1500): 64.2})

    alarm = alarms_of(pressed, DEFAULT_BENCH)[0]

    assert alarm.fails
    assert alarm.words == "Too thin at 150 mm from the toe, centre: 63.0 mm, and the bat needs 64.2 mm."


def test_wood_too_thin_straight_after_a_pass_may_come_back():
    pressed = Pressed({}, {("centre", 1500): 63.0}, rested=False, least={("centre", 1500): 63.3})

    alarm = alarms_of(pressed, DEFAULT_BENCH)[0]

    assert not alarm.fails
    assert "comes back overnight: press no further" in alarm.words
