from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from orders.commissions import lifecycle
from orders.commissions.states import Stage
from orders.messages.models import Letter, LetterState
from tests.factories import a_bat_in, a_commission, a_delivered_bat, propose_to

pytestmark = pytest.mark.django_db


def section(page, name):
    """The part of the page under one heading."""
    start = page.find(f'<h2 id="{name}"')
    return "" if start < 0 else page[start : page.index("</section>", start)]


@pytest.mark.parametrize("client", ["player_client", "bench_client"])
def test_the_morning_is_the_makers(client, request):
    assert request.getfixturevalue(client).get(reverse("review:morning")).status_code == 404


def test_an_empty_morning_says_so(maker_client):
    page = maker_client.get(reverse("review:morning")).content.decode()

    assert "Nothing waits for you" in page


def test_each_commission_stands_where_it_wants_something(maker_client, player, maker):
    now = timezone.now()
    new = a_commission(player, at=now - timedelta(days=2))
    changed = a_commission(player, at=now)
    propose_to(changed, maker, at=now)
    lifecycle.ask_change(changed, by=player.holder, field="price", words="less")
    waits_for_player = a_commission(player, at=now)
    propose_to(waits_for_player, maker, at=now)
    late = a_bat_in(Stage.SHAPING, player, maker, at=now - timedelta(days=100)).commission
    in_time = a_bat_in(Stage.SHAPING, player, maker, at=now).commission
    ready = a_bat_in(Stage.DONE, player, maker, at=now).commission
    back = a_delivered_bat(player, maker, at=now).commission
    lifecycle.send_back(back, by=player.holder)

    page = maker_client.get(reverse("review:morning")).content.decode()

    waiting = section(page, "waiting")
    assert new.code in waiting
    assert "for 2 days" in waiting
    assert changed.code in waiting
    assert "asks for a change: the price" in waiting
    assert late.code in section(page, "late")
    assert "30 days late" in section(page, "late")
    assert back.code in section(page, "back")
    assert ready.code in section(page, "ready")
    for quiet in (waits_for_player, in_time):
        assert quiet.code not in page


def test_a_lapsed_proposal_comes_back_to_the_maker(maker_client, player, maker):
    commission = a_commission(player, at=timezone.now() - timedelta(days=30))
    propose_to(commission, maker, at=timezone.now() - timedelta(days=29))
    lifecycle.lapse_due()

    page = maker_client.get(reverse("review:morning")).content.decode()

    assert "proposal 1 lapsed" in section(page, "waiting")


def test_letters_that_were_given_up_are_told(maker_client, player):
    a_commission(player)
    Letter.objects.update(state=LetterState.FAILED)

    page = maker_client.get(reverse("review:morning")).content.decode()

    assert "2 letters could not be sent" in page


@pytest.mark.parametrize("rows", [1, 3])
def test_the_morning_asks_the_database_as_often_for_any_number_of_rows(
    rows, maker_client, player, maker, django_assert_num_queries
):
    for _ in range(rows):
        a_commission(player)
        a_bat_in(Stage.DONE, player, maker)
    maker_client.get(reverse("review:morning"))

    with django_assert_num_queries(15):
        page = maker_client.get(reverse("review:morning")).content.decode()

    assert page.count("a new fitting") == rows
