"""The pages of the handles."""

import pytest
from django.urls import reverse

from tests.factories import an_agreed_bat
from tests.workshop.stock.pages import MONEY, send, text
from tests.workshop.stock.shelves import a_handle
from workshop.stock import handles
from workshop.stock.models import Handle, HandleState

TYPED = {
    "number": "7",
    "mass": "283.5",
    "construction": "plain_cane",
    "springs": "2",
    "line": "straight",
    "batch": "spring",
}


def test_take_in_keeps_what_was_typed_and_offers_the_next(bench_client, bench_hand):
    answer = send(bench_client, "handle-take-in", **TYPED)

    handle = Handle.objects.get()
    assert answer.status_code == 302
    assert (handle.mass, handle.springs, handle.construction) == (2835, 2, "plain_cane")
    assert handle.entries.get().by == bench_hand
    assert 'value="8"' in text(bench_client, "handle-take-in")


@pytest.mark.parametrize(
    ("field", "typed", "told"),
    [
        ("mass", "2835", "Did you mean 283.5 g?"),
        ("mass", "4 kg/m³", "120 to 600 g is allowed"),
        ("springs", "1.5", "a whole number"),
        ("number", "0", "greater than or equal to 1"),
    ],
)
def test_take_in_refuses_what_cannot_be_and_keeps_what_was_typed(field, typed, told, bench_client):
    answer = send(bench_client, "handle-take-in", **{**TYPED, field: typed})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert f'href="#id_{field}"' in page
    assert told in page
    assert f'value="{typed}"' in page
    assert not Handle.objects.exists()


def test_take_in_number_taken_is_told_at_the_number(bench_client, maker):
    a_handle(7, maker)

    answer = send(bench_client, "handle-take-in", **TYPED)

    assert answer.status_code == 422
    assert "Another handle has this number already." in answer.content.decode()


def test_price_is_the_makers_alone(maker_client, bench_client):
    send(maker_client, "handle-take-in", **TYPED, price="14.50")
    handle = Handle.objects.get()

    assert handle.price == 1450
    assert "£14.50" in text(maker_client, "handle", handle.code)
    assert not MONEY.search(text(bench_client, "handle", handle.code))
    assert 'name="price"' not in text(bench_client, "handle-take-in")


def test_price_sent_by_a_bench_hand_is_not_taken(bench_client):
    send(bench_client, "handle-take-in", **TYPED, price="1")

    assert Handle.objects.get().price is None


def test_list_shows_handles_by_construction_with_their_bats(bench_client, player, maker):
    bat = an_agreed_bat(player, maker)
    handles.choose_handle(a_handle(1, maker), bat, by=maker)
    a_handle(2, maker, construction="stiffened_cane")
    handles.reject_handle(a_handle(3, maker), "bent", maker)

    page = text(bench_client, "handles")

    assert "Plain cane" in page
    assert "Stiffened cane" in page
    assert bat.commission.reference in page
    assert "H003" not in page
    assert "H003" in text(bench_client, "handles", shown="rejected")


def test_list_of_an_unknown_kind_is_not_there(bench_client):
    assert bench_client.get(reverse("stock:handles"), {"shown": "golden"}).status_code == 404


def test_empty_list_says_what_to_do(bench_client):
    assert "Take a handle in" in text(bench_client, "handles")


@pytest.mark.parametrize("count", [1, 3])
def test_list_asks_the_database_as_often_for_many(count, bench_client, maker, django_assert_num_queries):
    for number in range(count):
        a_handle(number + 1, maker)
    text(bench_client, "handles")

    # Session, account, handles, their states, bats without one, open proposals, the workshop.
    with django_assert_num_queries(7):
        text(bench_client, "handles")


def test_weigh_keeps_the_new_mass(bench_client, maker):
    handle = a_handle(1, maker)

    send(bench_client, "handle-weigh", handle.code, mass="276,4")

    page = text(bench_client, "handle", handle.code)
    assert "276.4 g" in page
    assert "280 g before" in page


def test_lay_back_frees_it(bench_client, player, maker):
    handle = a_handle(1, maker)
    handles.choose_handle(handle, an_agreed_bat(player, maker), by=maker)

    send(bench_client, "handle-lay-back", handle.code)

    assert Handle.objects.get().state == HandleState.IN_STOCK
    assert "laid back into stock" in text(bench_client, "handle", handle.code)


def test_lay_back_of_a_free_handle_is_refused_in_words(bench_client, maker):
    answer = send(bench_client, "handle-lay-back", a_handle(1, maker).code)

    assert answer.status_code == 422
    assert "no longer stands where that can be done" in answer.content.decode()


def test_throw_out_without_words_is_refused_at_the_field(bench_client, maker):
    answer = send(bench_client, "handle-reject", a_handle(1, maker).code, words="")

    assert answer.status_code == 422
    assert Handle.objects.get().state == HandleState.IN_STOCK


def test_throw_out_is_in_the_history(bench_client, maker):
    handle = a_handle(1, maker)

    send(bench_client, "handle-reject", handle.code, words="split at the top")

    assert Handle.objects.get().state == HandleState.REJECTED
    assert "thrown out · split at the top" in text(bench_client, "handle", handle.code)


@pytest.mark.parametrize("name", ["handle-weigh", "handle-lay-back", "handle-reject"])
def test_verb_by_get_is_refused(name, maker_client, maker):
    assert maker_client.get(reverse(f"stock:{name}", args=[a_handle(1, maker).code])).status_code == 405


def test_handle_is_not_there_for_players(player_client, maker):
    assert player_client.get(reverse("stock:handle", args=[a_handle(1, maker).code])).status_code == 404
