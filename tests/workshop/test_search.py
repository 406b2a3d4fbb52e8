import pytest
from django.urls import reverse

from orders.commissions import stages
from orders.commissions.states import Stage
from tests.factories import PlayerFactory, a_bat_in, a_commission

pytestmark = pytest.mark.django_db


def page_for(client, words, **headers):
    return client.get(reverse("review:search"), {"q": words}, headers=headers).content.decode()


def test_a_holder_does_not_search(player_client):
    assert player_client.get(reverse("review:search")).status_code == 404


def test_a_commission_is_found_by_name_number_serial_and_cleft(maker_client, maker):
    player = PlayerFactory.create(name="Mesut ÖZIL")
    bat = a_bat_in(Stage.CLEFT_SELECTION, player, maker)
    stages.name_cleft(bat, "7742", by=maker)
    done = a_bat_in(Stage.DONE, player, maker)
    link = reverse("review:review", args=[bat.commission.code])
    other = reverse("review:review", args=[done.commission.code])

    assert link in page_for(maker_client, "özil")
    assert link in page_for(maker_client, "7742")
    assert other not in page_for(maker_client, "7742")
    assert other in page_for(maker_client, done.serial)
    assert link in page_for(maker_client, "0001")


def test_nothing_found_says_what_to_try(maker_client):
    assert "Nothing is called “<b>”" not in page_for(maker_client, "<b>")
    assert "Nothing is called “nobody”" in page_for(maker_client, "nobody")


def test_a_bench_hand_finds_what_is_at_the_bench_and_is_led_there(bench_client, player, maker):
    a_commission(player)
    bat = a_bat_in(Stage.SHAPING, player, maker)

    page = page_for(bench_client, "ash")

    assert reverse("bench:bat", args=[bat.code]) in page
    assert page.count('class="what"') == 1


def test_htmx_gets_just_the_hits(maker_client, player):
    a_commission(player)

    fragment = page_for(maker_client, "ash", **{"HX-Request": "true"})

    assert fragment.strip().startswith('<div id="hits"')
    assert "0001" in fragment


def test_more_than_fits_is_told(maker_client, player, monkeypatch):
    monkeypatch.setattr("workshop.search.MOST_FOUND", 2)
    for _ in range(3):
        a_commission(player)

    page = page_for(maker_client, "ash")

    assert page.count('class="what"') == 2
    assert "These are the newest 2" in page


@pytest.mark.parametrize("rows", [1, 3])
def test_the_search_asks_the_database_as_often_for_any_number_of_hits(
    rows, maker_client, player, maker, django_assert_num_queries
):
    for _ in range(rows):
        a_bat_in(Stage.DONE, player, maker)
    page_for(maker_client, "ash")

    with django_assert_num_queries(5):
        page = page_for(maker_client, "ash")

    assert page.count('class="what"') == rows
