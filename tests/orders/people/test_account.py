"""One's own account."""

import pytest

from orders.people.once import new_key
from tests.factories import ChildFactory

pytestmark = pytest.mark.django_db


def test_account_names_its_players_and_no_others(guardian_client, guardian_user, player):
    ChildFactory.create(holder=guardian_user, name="Robin")
    page = guardian_client.get("/account/").content.decode()
    assert guardian_user.email in page
    assert "Robin" in page
    assert player.name not in page


def test_account_tells_how_long_a_session_lasts(player_client, maker_client):
    assert "30 days at most, or 14 without use" in player_client.get("/account/").content.decode()
    assert "12 hours at most, or 4 without use" in maker_client.get("/account/").content.decode()


def test_name_is_changed(player_client, player_user):
    answer = player_client.post("/account/", {"once": new_key(), "name": " Ashley "})
    assert answer["Location"] == "/account/"
    player_user.refresh_from_db()
    assert player_user.name == "Ashley"
    assert 'value="Ashley"' in player_client.get("/account/").content.decode()


def test_name_that_is_none_is_refused(player_client, player_user):
    answer = player_client.post("/account/", {"once": new_key(), "name": "  "})
    assert answer.status_code == 422
    assert "Give the name by which we may call you." in answer.content.decode()
    player_user.refresh_from_db()
    assert player_user.name == "Ash Alder"


def test_nothing_else_of_the_account_can_be_sent_along(player_client, player_user):
    player_client.post(
        "/account/",
        {"once": new_key(), "name": "Ash", "role": "maker", "email": "x@y.example"},
    )
    player_user.refresh_from_db()
    assert (player_user.role, player_user.email) == ("player", "player@players.example")
