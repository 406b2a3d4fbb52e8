"""The pages of the supplies."""

from datetime import date

import pytest
from django.urls import reverse

from tests.factories import an_agreed_bat
from tests.workshop.stock.pages import MONEY, send, text
from tests.workshop.stock.shelves import glue, grips
from workshop.stock import supplies
from workshop.stock.models import Movement, Supply

TYPED = {
    "kind": "thread",
    "name": "twisted linen",
    "colour": "black",
    "unit": "metre",
    "amount": "120 m",
    "minimum": "40",
    "mass": "0.4",
    "arrived_on": "2026-01-10",
}
GLUE = {**TYPED, "kind": "glue", "unit": "gram", "amount": "1.5 kg", "use_by": "2099-12-31", "mass": ""}


def test_take_in_understands_amounts_in_their_unit(bench_client, bench_hand):
    send(bench_client, "supply-take-in", **TYPED)
    send(bench_client, "supply-take-in", **GLUE)

    thread, oil = Supply.objects.order_by("pk")
    assert (thread.in_unit, thread.minimum_in_unit, thread.mass_g) == (120, 40, 0.4)
    assert oil.in_unit == 1500
    assert thread.movements.get().by == bench_hand


@pytest.mark.parametrize(
    ("changes", "field", "told"),
    [
        ({"amount": "many"}, "amount", "0 to 20000 m is allowed"),
        ({"amount": "-3"}, "amount", "0 to 20000 m is allowed"),
        ({"unit": "piece", "amount": "1.5"}, "amount", "a whole number"),
        ({"kind": "glue"}, "use_by", "Glue needs the day up to which it holds."),
        ({"opened_on": "2026-01-11"}, "opened_on", "Only glue and oil are opened"),
        ({"arrived_on": "2126-01-01"}, "arrived_on", "not later than today"),
        ({"name": ""}, "name", "This field is required"),
    ],
)
def test_take_in_refuses_what_cannot_be(changes, field, told, bench_client):
    answer = send(bench_client, "supply-take-in", **{**TYPED, **changes})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert f'href="#id_{field}"' in page
    assert told in page
    assert not Supply.objects.exists()


def test_new_batch_stands_as_the_old_one_did(bench_client, maker):
    page = text(bench_client, "supply-take-in", like=grips(maker).code)

    assert 'value="ribbed"' in page
    assert 'value="blue"' in page


def test_price_is_the_makers_alone(maker_client, bench_client):
    send(maker_client, "supply-take-in", **TYPED, price="0.06")
    supply = Supply.objects.get()

    assert supply.price == 6
    assert "£0.06" in text(maker_client, "supply", supply.code)
    page = text(bench_client, "supply", supply.code)
    assert not MONEY.search(page)
    assert 'name="price"' not in page


def test_change_by_a_bench_hand_leaves_the_price(bench_client, maker):
    supply = grips(maker, price=320)

    send(bench_client, "supply-change", supply.code, minimum="9", price="1")

    stored = Supply.objects.get()
    assert (stored.price, stored.minimum_in_unit) == (320, 9)


def test_use_for_a_bat_is_in_its_history(bench_client, player, maker):
    supply, bat = grips(maker), an_agreed_bat(player, maker)
    form = {"verb": "use", "amount": "2", "bat": bat.code, "words": "", "seen": str(supply.left)}

    assert send(bench_client, "supply-move", supply.code, **form).status_code == 302

    assert "Written down: −2 pieces; 8 pieces left." in text(bench_client, "supply", supply.code)
    page = text(bench_client, "supply", supply.code)
    assert "8 pieces left" in page
    assert "−2 pieces" in page
    assert f"commission {bat.commission.reference}" in page


@pytest.mark.parametrize(
    ("form", "field", "told"),
    [
        ({"verb": "use", "amount": "11"}, "amount", "11 pieces given; 10 pieces left."),
        ({"verb": "use", "amount": "0"}, "amount", "an amount above 0 is needed"),
        ({"verb": "use", "amount": "1.5"}, "amount", "a whole number"),
        ({"verb": "throw_out", "amount": "1"}, "words", "Say why"),
        ({"verb": "borrow", "amount": "1"}, "verb", "borrow"),
    ],
)
def test_movement_that_cannot_be_changes_nothing_and_stays_typed(form, field, told, bench_client, maker):
    supply = grips(maker)

    answer = send(
        bench_client, "supply-move", supply.code, **{"words": "", "bat": "", "seen": str(supply.left), **form}
    )

    page = answer.content.decode()
    assert answer.status_code == 422
    assert told in page
    assert f'href="#id_{field}' in page
    assert f'value="{form["amount"]}"' in page
    assert (Supply.objects.get().left, Movement.objects.count()) == (100, 1)


def test_glue_past_its_day_is_refused_in_words(bench_client, maker):
    supply = glue(maker, use_by=date(2020, 1, 1))
    form = {"verb": "use", "amount": "5", "words": "", "bat": "", "seen": str(supply.left)}

    answer = send(bench_client, "supply-move", supply.code, **form)

    assert answer.status_code == 422
    assert "Its day is over" in answer.content.decode()


def test_count_against_an_older_page_is_refused(bench_client, maker):
    supply = grips(maker)
    supplies.use(supply, 1, bat=None, by=maker)

    answer = send(
        bench_client, "supply-move", supply.code, verb="count", amount="10", seen="100", words="", bat=""
    )

    assert answer.status_code == 422
    assert "Somebody else has just changed this." in answer.content.decode()
    assert Supply.objects.get().in_unit == 9


def test_take_back_is_seen_in_the_history(bench_client, maker):
    supply = grips(maker)
    wrong = supplies.use(supply, 3, bat=None, by=maker)

    send(bench_client, "supply-take-back", supply.code, entry=str(wrong.pk))

    page = text(bench_client, "supply", supply.code)
    assert "10 pieces left" in page
    assert "(taken back)" in page
    assert "+3 pieces" in page


@pytest.mark.parametrize("entry", ["", "0", "x", "-1", "²"])
def test_take_back_of_no_movement_is_not_there(entry, bench_client, maker):
    assert send(bench_client, "supply-take-back", grips(maker).code, entry=entry).status_code == 404


def test_take_back_of_another_supplys_movement_is_not_there(bench_client, maker):
    other = grips(maker, colour="red").movements.get()

    answer = send(bench_client, "supply-take-back", grips(maker).code, entry=str(other.pk))

    assert answer.status_code == 404


def test_list_marks_what_is_short_and_what_is_past(bench_client, maker):
    grips(maker, came=1)
    glue(maker, use_by=date(2020, 1, 1))
    grips(maker, came=0, minimum=0, colour="green")

    page = text(bench_client, "supplies")

    assert page.count("short</strong>") == 1
    assert page.count("past</strong>") == 1
    assert "green" not in page
    assert "green" in text(bench_client, "supplies", shown="all")


@pytest.mark.parametrize("count", [1, 3])
def test_list_asks_the_database_as_often_for_many(count, bench_client, maker, django_assert_num_queries):
    for number in range(count):
        grips(maker, colour=f"colour {number}")
    text(bench_client, "supplies")

    # Session, account, supplies, the workshop.
    with django_assert_num_queries(4):
        text(bench_client, "supplies")


@pytest.mark.parametrize("name", ["supply-move", "supply-take-back", "supply-change"])
def test_verb_by_get_is_refused(name, maker_client, maker):
    assert maker_client.get(reverse(f"stock:{name}", args=[grips(maker).code])).status_code == 405


def test_supply_is_not_there_for_players(player_client, maker):
    assert player_client.get(reverse("stock:supply", args=[grips(maker).code])).status_code == 404
