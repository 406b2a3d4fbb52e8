"""Handing a ready bat over, by its page."""

import pytest
from django.test import Client
from django.urls import reverse

from orders.commissions.models import Commission
from orders.commissions.states import State
from orders.messages.models import Letter
from orders.people.models import Player, User
from tests.factories import a_commission
from tests.finished import a_ready_bat, post


def page_of(commission: Commission) -> str:
    return reverse("returns:deliver", args=[commission.code])


def test_deliver_by_form(player: Player, maker: User, maker_client: Client):
    bat = a_ready_bat(player, maker)
    response = post(maker_client, page_of(bat.commission), how="handed_over", words="Good to meet you.")
    assert response["Location"] == reverse("review:review", args=[bat.commission.code])
    assert Commission.objects.get().state == State.DELIVERED
    assert Letter.objects.get(kind="delivered").context["words"] == "Good to meet you."


def test_deliver_without_how_keeps_the_words_and_changes_nothing(
    player: Player, maker: User, maker_client: Client
):
    bat = a_ready_bat(player, maker)
    response = post(maker_client, page_of(bat.commission), words="Parcel 12345.")
    assert response.status_code == 422
    assert "Parcel 12345." in response.content.decode()
    assert Commission.objects.get().state == State.READY


def test_deliver_what_is_not_ready_says_so(player: Player, maker_client: Client):
    commission = a_commission(player)
    response = maker_client.get(page_of(commission))
    assert response.status_code == 409
    assert Commission.objects.get().state == State.SENT


@pytest.mark.parametrize("client", ["bench_client", "player_client", "other_player_client"])
def test_deliver_is_the_makers(client: str, player: Player, maker: User, request: pytest.FixtureRequest):
    bat = a_ready_bat(player, maker)
    assert request.getfixturevalue(client).get(page_of(bat.commission)).status_code == 404
