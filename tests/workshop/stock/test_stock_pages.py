"""What is short, and what was lost, as pages."""

from datetime import date

import pytest
from django.template.loader import render_to_string

from orders.people.models import Role
from tests.factories import an_agreed_bat
from tests.workshop.stock.pages import MONEY, send, text
from tests.workshop.stock.shelves import a_handle, glue, grips, recommended_construction
from tests.workshop.stock.test_scrap import written_off
from tests.workshop.willow_on_rack import a_cleft
from workshop.match.wanting import work_out_due
from workshop.page import ROADS
from workshop.rack.models import Load
from workshop.stock.models import Construction, Scrap
from workshop.stock.short import what_is_short


def another_construction():
    """A construction that the agreed bats of these tests do not want."""
    return next(one.value for one in Construction if one.value != recommended_construction())


@pytest.mark.parametrize("role", [Role.MAKER, Role.BENCH_HAND])
def test_stock_is_in_the_floors_menu(role):
    assert "stock:stock" in dict(ROADS[role])


def test_nothing_short_says_so(bench_client):
    assert "Nothing is short." in text(bench_client, "stock")


def test_short_page_lists_what_to_buy_with_its_cost_for_the_maker(maker_client, bench_client, player, maker):
    grips(maker, came=1, price=320)
    a_handle(1, maker, construction=another_construction())
    an_agreed_bat(player, maker)

    page = text(maker_client, "stock")

    assert "Grip: ribbed, blue" in page
    assert "3 pieces" in page
    assert f"Handle: {Construction(recommended_construction()).label}" in page
    assert page.count("£9.60") == 2
    assert not MONEY.search(text(bench_client, "stock"))
    assert "Grip: ribbed, blue" in text(bench_client, "stock")


@pytest.mark.parametrize("count", [1, 3])
def test_short_page_asks_the_database_as_often_for_many(
    count, bench_client, maker, player, django_assert_num_queries
):
    for number in range(count):
        grips(maker, came=1, colour=f"colour {number}")
        a_handle(number + 1, maker)
        an_agreed_bat(player, maker)
    text(bench_client, "stock")

    # Session, account, seven of the matching, supplies, handles, bats without one, proposals, workshop.
    with django_assert_num_queries(14):
        text(bench_client, "stock")


def test_block_for_other_pages_tells_each_thing_once_and_no_price(maker, player):
    grips(maker, came=1, price=320)
    a_handle(1, maker, construction=another_construction())
    an_agreed_bat(player, maker)

    block = render_to_string("stock/short.html", {"short": what_is_short(clefts=["Two find no cleft."])})

    assert "Two find no cleft." in block
    assert "Grip, ribbed, blue" in block
    assert "0 free, 1 wanted" in block
    assert not MONEY.search(block)


def test_clefts_that_the_matching_finds_lacking_are_told(bench_client, player, maker):
    bat = an_agreed_bat(player, maker)
    assert "Nothing is short." in text(bench_client, "stock")
    work_out_due()

    page = text(bench_client, "stock")

    assert "1 cleft, grade" in page
    assert f"for {bat.commission.reference}" in page


@pytest.mark.django_db
def test_block_for_other_pages_is_empty_where_nothing_is_short():
    assert render_to_string("stock/short.html", {"short": what_is_short()}).strip() == ""


def test_scrap_by_cause_and_load_with_cost_for_the_maker_alone(maker_client, bench_client, maker):
    winter = Load.objects.create(name="winter felling", price_a_piece=4000)
    written_off(maker, cleft=a_cleft(41, maker, load=winter))
    written_off(maker, cleft=a_cleft(42, maker, load=winter), cause="split_in_press")

    page = text(maker_client, "scrap")

    assert "£110.00" in page
    assert "Winter felling" in page
    assert "Split in the press" in page
    bench = text(bench_client, "scrap")
    assert "Winter felling" in bench
    assert not MONEY.search(bench)


def test_write_off_by_hand_counts_wood_and_work(bench_client, maker):
    a_cleft(41, maker, price=6200)
    form = {"cause": "hidden_fault", "cleft": "41", "minutes": "30", "words": "rot inside"}

    assert send(bench_client, "scrap-write-off", **form).status_code == 302

    row = Scrap.objects.get()
    assert (row.wood_cost, row.minutes, row.work_cost, row.words) == (6200, 30, 1500, "rot inside")


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"cause": "bad luck"}, "cause"),
        ({"cleft": "99"}, "cleft"),
        ({"minutes": "-5"}, "minutes"),
        ({"words": ""}, "words"),
    ],
)
def test_write_off_refuses_what_cannot_be(changes, field, bench_client):
    form = {"cause": "other", "cleft": "", "minutes": "", "words": "fell off the bench"}

    answer = send(bench_client, "scrap-write-off", **{**form, **changes})

    assert answer.status_code == 422
    assert f'href="#id_{field}"' in answer.content.decode()
    assert not Scrap.objects.exists()


@pytest.mark.parametrize("count", [1, 3])
def test_scrap_asks_the_database_as_often_for_many(count, bench_client, maker, django_assert_num_queries):
    load = Load.objects.create(name="winter felling")
    for number in range(count):
        written_off(maker, cleft=a_cleft(number + 1, maker, load=load))
    text(bench_client, "scrap")

    # Session, account, scrap with wood and bat, the workshop.
    with django_assert_num_queries(4):
        text(bench_client, "scrap")


def test_glue_past_its_day_is_on_the_page(bench_client, maker):
    glue(maker, use_by=date(2020, 1, 1))

    assert "use by 1 Jan 2020" in text(bench_client, "stock")
