"""Signing in with a password, for those who work in the workshop."""

from datetime import timedelta

import pytest
from django.contrib.auth.hashers import MD5PasswordHasher
from django.test import Client
from django.utils import timezone

from tests.factories import STAFF_PASSWORD

pytestmark = pytest.mark.django_db

PAGE = "/sign-in/workshop/"


@pytest.fixture
def maker_with_password(maker):
    """The maker, with a password."""
    maker.set_password(STAFF_PASSWORD)
    maker.save()
    return maker


def who(client):
    """Return the account that a client is signed in to, if any."""
    return client.session.get("_auth_user_id")


def give(client, email, password):
    """Send the form."""
    return client.post(PAGE, {"email": email, "password": password})


def test_password_signs_in(maker_with_password, anyone):
    answer = give(anyone, "Maker@Workshop.Example", STAFF_PASSWORD)
    assert answer.status_code == 302
    assert who(anyone) == str(maker_with_password.pk)


def test_wrong_password_says_so_and_keeps_the_address(maker_with_password, anyone):
    answer = give(anyone, maker_with_password.email, "not the password at all")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "do not belong together" in page
    assert maker_with_password.email in page
    assert "not the password" not in page
    assert who(anyone) is None


def test_unknown_address_gets_the_answer_of_a_wrong_password(maker_with_password):
    known = give(Client(), maker_with_password.email, "not the password at all")
    unknown = give(Client(), "nobody@workshop.example", "not the password at all")
    assert known.status_code == unknown.status_code == 422
    assert "do not belong together" in unknown.content.decode()


def test_holder_with_a_password_is_not_let_in_this_way(player_user, anyone):
    player_user.set_password(STAFF_PASSWORD)
    player_user.save()
    assert give(anyone, player_user.email, STAFF_PASSWORD).status_code == 422
    assert who(anyone) is None


def test_closed_account_is_not_let_in(maker_with_password, anyone):
    maker_with_password.is_active = False
    maker_with_password.save()
    assert give(anyone, maker_with_password.email, STAFF_PASSWORD).status_code == 422
    assert who(anyone) is None


def test_sixth_try_is_refused_before_the_password_is_hashed(maker_with_password, monkeypatch):
    hashed = []
    real = MD5PasswordHasher.encode

    def counted(self, *given):
        hashed.append(given)
        return real(self, *given)

    monkeypatch.setattr(MD5PasswordHasher, "encode", counted)
    for _ in range(5):
        assert give(Client(), maker_with_password.email, "wrong again and again").status_code == 422
    assert hashed
    hashed.clear()
    answer = give(Client(), maker_with_password.email, STAFF_PASSWORD)
    assert answer.status_code == 429
    assert int(answer["Retry-After"]) <= 15 * 60 + 1
    assert hashed == []


def test_another_account_is_not_kept_waiting(maker_with_password, bench_hand):
    bench_hand.set_password(STAFF_PASSWORD)
    bench_hand.save()
    for _ in range(6):
        give(Client(), maker_with_password.email, "wrong again and again")
    client = Client()
    give(client, bench_hand.email, STAFF_PASSWORD)
    assert who(client) == str(bench_hand.pk)


def test_right_password_works_after_the_window(maker_with_password, anyone, time_machine):
    start = timezone.now()
    time_machine.move_to(start, tick=False)
    for _ in range(6):
        answer = give(anyone, maker_with_password.email, "wrong again and again")
    assert answer.status_code == 429
    time_machine.move_to(start + timedelta(seconds=int(answer["Retry-After"])), tick=False)
    give(anyone, maker_with_password.email, STAFF_PASSWORD)
    assert who(anyone) == str(maker_with_password.pk)


def test_right_password_begins_the_count_anew(maker_with_password):
    for _ in range(3):
        for _ in range(4):
            assert give(Client(), maker_with_password.email, "wrong again").status_code == 422
        assert give(Client(), maker_with_password.email, STAFF_PASSWORD).status_code == 302


def test_password_field_can_be_filled_by_the_browser(workshop, anyone):
    page = anyone.get(PAGE).content.decode()
    assert 'autocomplete="current-password"' in page
    assert "onpaste" not in page
