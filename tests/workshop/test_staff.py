"""Who works here."""

import pytest
from django.test import Client

from orders.messages.models import Letter, LetterState
from orders.people.models import StaffInvitation, User
from orders.people.once import new_key
from tests.cast import signed_in

pytestmark = pytest.mark.django_db

PAGE = "/floor/people/"
INVITED = {"name": "Hazel Hook", "email": "Hook@Workshop.Example", "role": "bench_hand"}


def send(client, path=PAGE, **said):
    """Send a form of the page."""
    return client.post(path, {"once": new_key(), **said})


def test_maker_invites_and_a_letter_is_written(maker_client):
    answer = send(maker_client, **INVITED)
    assert answer["Location"] == PAGE
    invitation = StaffInvitation.objects.get()
    assert (invitation.email, invitation.role) == ("hook@workshop.example", "bench_hand")
    assert Letter.objects.get().to == "hook@workshop.example"
    assert "Hazel Hook" in maker_client.get(PAGE).content.decode()


def test_invitation_sent_twice_is_one(maker_client):
    key = new_key()
    for _ in range(2):
        maker_client.post(PAGE, {"once": key, **INVITED})
    assert StaffInvitation.objects.count() == Letter.objects.count() == 1


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"email": "hook"}, "name@example.org"),
        ({"name": ""}, "Give the name"),
        ({"role": "player"}, "not one of the available choices"),
        ({"email": "maker@workshop.example"}, "your own address"),
        ({"email": "player@players.example"}, "player or guardian has this address"),
    ],
)
def test_faulty_invitation_keeps_what_was_typed(maker_client, player_user, changed, words):
    answer = send(maker_client, **{**INVITED, **changed})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert words in page
    assert "Hazel Hook" in page or "name" in changed
    assert not StaffInvitation.objects.exists()
    assert not Letter.objects.exists()


def test_invitation_is_taken_back(maker_client):
    send(maker_client, **INVITED)
    invitation = StaffInvitation.objects.get()
    send(maker_client, f"/floor/people/invitations/{invitation.code}/withdraw/")
    invitation.refresh_from_db()
    assert invitation.ended_at is not None


def test_closed_account_is_signed_out_and_stays_out(maker_client, bench_hand):
    bench = signed_in(bench_hand)
    assert bench.get("/account/").status_code == 200
    send(maker_client, "/floor/people/let-go/", email=bench_hand.email)
    assert bench.get("/account/").status_code == 302
    bench_hand.refresh_from_db()
    assert not bench_hand.is_active


def test_maker_cannot_close_their_own_account_nor_a_players(maker, maker_client, player_user):
    send(maker_client, "/floor/people/let-go/", email=maker.email)
    assert send(maker_client, "/floor/people/let-go/", email=player_user.email).status_code == 404
    assert User.objects.filter(is_active=True).count() == 2


def test_letter_that_was_given_up_is_shown_and_tried_again(maker_client):
    letter = Letter.objects.create(
        to="a@players.example",
        kind="no_account",
        message_id="<1@testserver>",
        state=LetterState.FAILED,
        fault="OSError",
    )
    assert "a@players.example" in maker_client.get(PAGE).content.decode()
    send(maker_client, "/floor/people/letters/", letter=letter.message_id)
    letter.refresh_from_db()
    assert letter.state == LetterState.WAITING
    assert "could not be sent" not in maker_client.get(PAGE).content.decode()


@pytest.mark.parametrize("path", [PAGE, "/floor/people/let-go/", "/floor/people/letters/"])
def test_page_is_the_makers_alone(path, bench_client, player_client, anyone):
    assert send(bench_client, path, **INVITED).status_code == 404
    assert send(player_client, path, **INVITED).status_code == 404
    assert send(anyone, path, **INVITED)["Location"].startswith("/sign-in/")
    assert not StaffInvitation.objects.exists()


def test_forms_need_the_token_against_forgery(maker):
    client = Client(enforce_csrf_checks=True)
    client.force_login(maker)
    assert send(client, **INVITED).status_code == 403
