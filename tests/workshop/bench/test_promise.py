"""The page that promises later days: one act with its letter, or none."""

import pytest
from django.test import Client
from django.urls import reverse

from orders.commissions.models import Bat, Commission
from orders.commissions.states import Stage
from orders.messages.models import Letter
from orders.messages.rendering import text_of
from orders.people.models import Player, User
from orders.people.once import new_key
from tests.factories import a_bat_in


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    """A bat being shaped."""
    return a_bat_in(Stage.SHAPING, player, maker)


def promised(client: Client, bat: Bat, **fields: str) -> int:
    version = str(Commission.objects.get().version)
    form = {"once": new_key(), "version": version, "days": "8", "why": "Two of us are ill.", **fields}
    return client.post(reverse("bench:promise", args=[bat.code]), form).status_code


def test_days_move_and_the_player_is_told_why(bat: Bat, maker_client: Client, player: Player):
    before = Commission.objects.get().promised_to

    assert promised(maker_client, bat) == 302

    after = Commission.objects.get().promised_to
    assert before is not None
    assert after is not None
    assert (after - before).days == 8
    letter = Letter.objects.get(kind="date_moved")
    assert letter.to == player.holder.email
    body = text_of(letter).body
    assert "takes 8 days longer than was promised" in body
    assert "Two of us are ill." in body


@pytest.mark.parametrize("fields", [{"days": "0"}, {"days": "soon"}, {"why": " "}, {"version": "0"}])
def test_what_is_refused_moves_nothing_and_writes_nothing(
    bat: Bat, maker_client: Client, fields: dict[str, str]
):
    before = Commission.objects.values().get()

    assert promised(maker_client, bat, **fields) == 422

    assert Commission.objects.values().get() == before
    assert not Letter.objects.filter(kind="date_moved").exists()


def test_bat_that_is_ready_has_no_days_to_move(player: Player, maker: User, maker_client: Client):
    bat = a_bat_in(Stage.DONE, player, maker)

    assert maker_client.get(reverse("bench:promise", args=[bat.code])).status_code == 302


def test_only_the_maker_sees_the_way_there(bat: Bat, maker_client: Client, bench_client: Client):
    stage, way = reverse("bench:bat", args=[bat.code]), reverse("bench:promise", args=[bat.code])

    assert way in maker_client.get(stage).content.decode()
    assert way not in bench_client.get(stage).content.decode()
    assert bench_client.get(way).status_code == 404
