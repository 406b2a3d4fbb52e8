"""Inviting staff, and what an invitation opens."""

import re
from datetime import timedelta

import pytest
from django.core.exceptions import ValidationError
from django.test import Client
from django.utils import timezone

from orders.messages.models import Letter
from orders.messages.rendering import text_of
from orders.people.invitations import (
    InvitationRefused,
    accept_invitation,
    invitation_of_token,
    invite,
    withdraw,
)
from orders.people.link_tokens import token_of
from orders.people.models import StaffInvitation, User

pytestmark = pytest.mark.django_db

PASSWORD = "seven grains across the face"


def invite_hazel(maker, **more):
    """Invite a bench hand; return the invitation and its token."""
    given = {"name": "Hazel", "role": "bench_hand", **more}
    invitation = invite("Hazel@Workshop.Example", by=maker, **given)
    return invitation, token_of(invitation.seed)


def test_invited_person_chooses_a_password_and_is_in(maker):
    invite_hazel(maker)
    letter = text_of(Letter.objects.get())
    (path,) = re.findall(r"http://testserver(/invitation/[\w-]+/)", letter.body)
    client = Client()
    first = client.get(path)
    assert (first["Location"], first["Referrer-Policy"]) == ("/invitation/", "no-referrer")
    assert "hazel@workshop.example" in client.get("/invitation/").content.decode()
    client.post("/invitation/", {"password": PASSWORD})
    hazel = User.objects.get(email="hazel@workshop.example")
    assert (hazel.role, hazel.name, hazel.check_password(PASSWORD)) == ("bench_hand", "Hazel", True)
    assert client.session["_auth_user_id"] == str(hazel.pk)


def test_invitation_counts_once(maker):
    _invitation, token = invite_hazel(maker)
    accept_invitation(token, password=PASSWORD)
    with pytest.raises(InvitationRefused, match="over"):
        accept_invitation(token, password="another password of length")
    assert Client().get(f"/invitation/{token}/", follow=True).status_code == 410


@pytest.mark.parametrize(
    ("after", "good"), [(timedelta(hours=47, minutes=59), True), (timedelta(hours=48, minutes=1), False)]
)
def test_invitation_is_good_for_two_days(maker, time_machine, after, good):
    start = timezone.now()
    time_machine.move_to(start, tick=False)
    _invitation, token = invite_hazel(maker)
    time_machine.move_to(start + after, tick=False)
    assert (invitation_of_token(token) is not None) is good


def test_newer_invitation_ends_the_older_and_withdrawn_ones_are_over(maker):
    _old, old_token = invite_hazel(maker)
    new, new_token = invite_hazel(maker)
    assert invitation_of_token(old_token) is None
    assert invitation_of_token(new_token) == new
    withdraw(new)
    assert invitation_of_token(new_token) is None


def test_short_password_is_refused_and_the_invitation_stays_good(maker):
    _invitation, token = invite_hazel(maker)
    client = Client()
    client.get(f"/invitation/{token}/")
    answer = client.post("/invitation/", {"password": "short"})
    assert answer.status_code == 422
    assert "at least 15" in answer.content.decode()
    with pytest.raises(ValidationError):
        accept_invitation(token, password="short")
    assert invitation_of_token(token) is not None
    assert not User.objects.filter(email="hazel@workshop.example").exists()


def test_invitation_opens_a_closed_account_again_with_a_new_password(maker, bench_hand):
    User.objects.filter(pk=bench_hand.pk).update(is_active=False)
    stamp = bench_hand.session_stamp
    invitation = invite(bench_hand.email, name="Hazel", role="bench_hand", by=maker)
    accept_invitation(token_of(invitation.seed), password=PASSWORD)
    bench_hand.refresh_from_db()
    assert bench_hand.is_active
    assert bench_hand.check_password(PASSWORD)
    assert bench_hand.session_stamp != stamp


def test_holder_and_oneself_cannot_be_invited(maker, player_user):
    for email, why in ((player_user.email, "holder_account"), (maker.email.upper(), "self")):
        with pytest.raises(InvitationRefused, match=why):
            invite(email, name="X", role="bench_hand", by=maker)
    assert not Letter.objects.exists()


def test_invitation_never_takes_a_holders_account(maker, workshop):
    _invitation, token = invite_hazel(maker)
    User.objects.create_holder("hazel@workshop.example")
    with pytest.raises(InvitationRefused, match="holder_account"):
        accept_invitation(token, password=PASSWORD)
    assert User.objects.get(email="hazel@workshop.example").role == "player"
    assert StaffInvitation.objects.get().used_at is None


def test_no_log_holds_what_opens_a_door(maker, caplog):
    caplog.set_level("DEBUG")
    _invitation, token = invite_hazel(maker)
    client = Client()
    client.get(f"/invitation/{token}/")
    client.post("/invitation/", {"password": "short"})
    client.post("/invitation/", {"password": PASSWORD})
    assert "staff invitation" in caplog.text
    for secret in (token, PASSWORD, "hazel@workshop.example"):
        assert secret not in caplog.text
