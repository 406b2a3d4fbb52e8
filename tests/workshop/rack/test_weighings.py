"""The weighings of a cleft out of its history, and which clefts want the scales again."""

from datetime import date, timedelta

import pytest
from django.utils import timezone

from fitting.sheets.default_book import DEFAULT_BOOK
from orders.people.models import User
from tests.workshop.rack.noted_wood import seasoned
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack.clefts import amend, change_standing, weigh_again
from workshop.rack.course import draw_course
from workshop.rack.models import Cleft, CleftState
from workshop.rack.weighings import Weighed, outlook_of, outlooks, to_weigh_again, wanted_of, weighings_of

pytestmark = pytest.mark.django_db
TODAY = date(2026, 11, 25)


def days_ago(days: int) -> date:
    return timezone.localdate() - timedelta(days=days)


def weighed(cleft: Cleft) -> list[tuple[date, float, float]]:
    return [(one.on, one.mass_g, one.moisture_percent) for one in weighings_of([cleft])[cleft.pk]]


def weigh(cleft: Cleft, by: User, *, days: int, mass: int, moisture: int = 130) -> None:
    weigh_again(cleft, mass=mass, moisture=moisture, read_on=days_ago(days), by=by)


@pytest.fixture
def cleft(maker: User) -> Cleft:
    return a_cleft(41, maker, mass=25000, moisture=160, read_on=days_ago(28), state=CleftState.SEASONING)


def test_weighings_in_the_order_of_their_days_one_a_day(cleft: Cleft, maker: User):
    weigh(cleft, maker, days=14, mass=24400)
    weigh(cleft, maker, days=21, mass=24700)
    weigh(cleft, maker, days=14, mass=24410)

    assert [(on, mass) for on, mass, _ in weighed(cleft)] == [
        (days_ago(28), 2500),
        (days_ago(21), 2470),
        (days_ago(14), 2441),
    ]


def test_weigh_an_older_sheet_typed_later_leaves_the_cleft_as_it_is(cleft: Cleft, maker: User):
    weigh(cleft, maker, days=7, mass=24000)
    weigh(cleft, maker, days=21, mass=24700)

    cleft.refresh_from_db()
    assert (cleft.mass, cleft.read_on) == (24000, days_ago(7))
    assert len(weighed(cleft)) == 3


def test_weighings_begin_anew_when_a_cleft_goes_back_to_season(cleft: Cleft, maker: User):
    weigh(cleft, maker, days=14, mass=24400)
    change_standing(cleft, "make_ready", by=maker)
    change_standing(cleft, "season", by=maker)
    weigh(cleft, maker, days=7, mass=24800)

    assert [mass for _, mass, _ in weighed(cleft)] == [2440, 2480]


def test_weighings_follow_what_was_put_right(cleft: Cleft, maker: User):
    amend(cleft, {"mass": 26000, "read_on": days_ago(30)}, by=maker)

    assert weighed(cleft) == [(days_ago(30), 2600, 16.0)]


def test_weighings_of_many_in_one_question(maker: User, django_assert_num_queries):
    clefts = [a_cleft(41 + at, maker) for at in range(5)]

    with django_assert_num_queries(1):
        assert len(weighings_of(clefts)) == 5


def test_outlook_of_nothing_weighed_is_none():
    assert outlook_of([], DEFAULT_BOOK, TODAY) is None


def test_outlook_is_ready_when_moisture_and_change_say_so():
    at_rest = [
        Weighed(TODAY - timedelta(7 * (4 - at)), 2300 + 20 / 4**at, 11.1 + 0.9 / 4**at) for at in range(5)
    ]

    found = outlook_of(at_rest, DEFAULT_BOOK, TODAY)

    assert found is not None
    assert found.is_ready
    assert found.change_percent_a_week == pytest.approx(-0.01, abs=0.01)
    assert found.ready_on is not None
    assert found.ready_on <= TODAY


def test_outlook_of_a_wet_cleft_names_a_day_ahead_with_its_spread():
    wet = [Weighed(TODAY - timedelta(7 * (2 - at)), 2500 - 30 * at, 20 - 1.4 * at) for at in range(3)]

    found = outlook_of(wet, DEFAULT_BOOK, TODAY)

    assert found is not None
    assert not found.is_ready
    assert found.ready_on is not None
    assert found.ready_on > TODAY + timedelta(7)
    assert found.sd_days >= 1


def test_outlook_one_weighing_inside_is_not_ready_yet():
    """Whether it is at rest shows only a second weighing."""
    found = outlook_of([Weighed(TODAY - timedelta(60), 2300, 11.0)], DEFAULT_BOOK, TODAY)

    assert found is not None
    assert not found.is_ready


def test_outlook_in_a_damp_room_says_that_it_never_will_be():
    room = DEFAULT_BOOK.room.model_copy(update={"room_humidity_percent": 88.0})
    book = DEFAULT_BOOK.model_copy(update={"room": room})

    found = outlook_of([Weighed(TODAY, 2500, 20.0)], book, TODAY)

    assert found is not None
    assert found.ready_on is None
    assert found.ready.why_never == "too_damp"


def test_to_weigh_again_are_seasoning_clefts_left_too_long(maker: User):
    a_cleft(41, maker, read_on=days_ago(6), state=CleftState.SEASONING)
    a_cleft(42, maker, read_on=days_ago(7), state=CleftState.SEASONING)
    a_cleft(43, maker, read_on=days_ago(20), state=CleftState.SEASONING)
    a_cleft(44, maker, read_on=days_ago(20), state=CleftState.READY)

    found = to_weigh_again(DEFAULT_BOOK, timezone.localdate())

    assert [cleft.number for cleft in found] == [43, 42]


def test_drawing_keeps_every_point_inside_its_frame(maker: User):
    cleft = a_cleft(41, maker, moisture=180)
    seasoned(cleft, maker, weeks=5)
    today = timezone.localdate()
    outlook = outlooks([cleft], DEFAULT_BOOK, today)[cleft.pk]

    drawn = draw_course(outlook, wanted_of(DEFAULT_BOOK), today)

    assert len(drawn["points"]) == 6
    for point in drawn["points"]:
        assert drawn["left"] <= point["x"] <= drawn["right"]
        assert drawn["top"] < point["y"] < drawn["floor"]
    assert drawn["ready"] is None or drawn["left"] <= drawn["ready"]["x"] <= drawn["right"]
    across = [point["x"] for point in drawn["points"]]
    assert across == sorted(across)
