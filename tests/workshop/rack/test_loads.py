"""Loads: noted once by name, and what became of their wood."""

import pytest
from django.utils import timezone

from fitting.sheets.default_book import DEFAULT_BOOK
from orders.people.models import User
from tests.workshop.rack.noted_wood import a_load, of_load
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack.clefts import CleftRefused, change_standing, grade_again
from workshop.rack.loads import report_on, save_load, with_counts
from workshop.rack.models import Cleft, CleftState, Load

pytestmark = pytest.mark.django_db


def test_save_load_name_once_and_not_over_anothers_change():
    load = save_load(Load(), {"name": "Winter felling", "grower": "Brook Farm"})
    same = Load.objects.get()

    with pytest.raises(CleftRefused, match="load_named_twice"):
        save_load(Load(), {"name": "Winter felling"})
    assert save_load(load, {"grower": "Mill Bank"}).grower == "Mill Bank"
    with pytest.raises(CleftRefused, match="meanwhile"):
        save_load(same, {"grower": "Another"})
    assert Load.objects.get().grower == "Mill Bank"


def test_report_counts_states_grades_yield_and_means(maker: User, an_agreed_bat_of_two):
    load = a_load(count=8)
    clefts = [a_cleft(41 + at, maker, density=400 + 10 * at, grade=1 + at % 2) for at in range(6)]
    of_load(load, *clefts)
    for cleft, (bat, turn) in zip(clefts[:2], an_agreed_bat_of_two, strict=True):
        Cleft.objects.filter(pk=cleft.pk).update(state=CleftState.USED, bat=bat, round=turn)
    change_standing(clefts[2], "reject", by=maker, words="shake")
    change_standing(clefts[3], "mark_smaller", by=maker, words="knot")
    grade_again(clefts[4], grade=4, when="dressing", by=maker)

    report = report_on(load, DEFAULT_BOOK)

    assert (report.on_record, report.missing) == (6, 2)
    assert report.by_state == {"used": 2, "rejected": 1, "smaller": 1, "ready": 2}
    assert (report.made, report.decided, report.yield_percent) == (2, 4, 50)
    assert report.grades_on_arrival == {1: 3, 2: 3}
    assert report.grades_now == {1: 2, 2: 3, 4: 1}
    masses = [cleft.mass / 10 for cleft in clefts]
    assert report.mass is not None
    assert report.mass.value == pytest.approx(sum(masses) / 6)
    assert report.density is not None
    # The clefts were made 10 kg/m3 apart once pressed; the means of both lie a constant factor apart.
    assert report.density.sd / report.density.value == pytest.approx(18.708 / 425, rel=1e-3)


def test_report_on_an_untouched_load_has_no_yield():
    report = report_on(a_load(), DEFAULT_BOOK)

    assert (report.yield_percent, report.mass, report.missing) == (None, None, 40)


def test_with_counts_tells_stock_and_yield_of_all_loads_in_two_questions(
    maker: User, django_assert_num_queries
):
    first, second = a_load("First"), a_load("Second")
    of_load(first, *(a_cleft(41 + at, maker) for at in range(3)))
    change_standing(Cleft.objects.get(number=41), "reject", by=maker, words="shake")

    with django_assert_num_queries(2):
        rows = {row["load"]: row for row in with_counts()}

    assert (rows[first]["on_record"], rows[first]["in_stock"], rows[first]["yield_percent"]) == (3, 2, 0)
    assert (rows[second]["on_record"], rows[second]["yield_percent"]) == (0, None)


def test_cost_of_a_cleft_is_its_own_price_or_else_the_loads(maker: User):
    own, of_the_load, none = a_cleft(41, maker, price=9900), a_cleft(42, maker), a_cleft(43, maker)
    of_load(a_load(price_a_piece=6200), own, of_the_load)

    found = {cleft.number: cleft.cost for cleft in Cleft.objects.select_related("load")}
    assert found == {41: 9900, 42: 6200, none.number: None}


@pytest.fixture
def an_agreed_bat_of_two(player, maker):
    """Two bats with their rounds, to bind a cleft to each."""
    from tests.factories import an_agreed_bat

    return [(bat, bat.round) for bat in (an_agreed_bat(player, maker, at=timezone.now()) for _ in range(2))]
