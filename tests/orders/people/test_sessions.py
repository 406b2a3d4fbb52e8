"""How sessions begin, last and end."""

from datetime import timedelta

import pytest
from django.contrib.sessions.models import Session
from django.test import Client
from django.utils import timezone

from orders.people.models import User
from orders.people.sessions import FOR_HOLDERS, FOR_STAFF
from tests.cast import signed_in
from tests.factories import STAFF_PASSWORD

pytestmark = pytest.mark.django_db

SECOND = timedelta(seconds=1)


def is_in(client):
    """Whether a client sees its account."""
    return client.get("/account/").status_code == 200


def handed_over(request, user):
    """Stand in settings.ON_SIGN_IN: leave the address in the session."""
    request.session["handed over to"] = user.email


def sign_in(user):
    """Sign a member of staff in by password."""
    client = Client()
    user.set_password(STAFF_PASSWORD)
    user.save()
    client.post("/sign-in/workshop/", {"email": user.email, "password": STAFF_PASSWORD})
    return client


@pytest.mark.parametrize(("cast", "lasts"), [("player_user", FOR_HOLDERS), ("maker", FOR_STAFF)])
@pytest.mark.parametrize(("late", "kept"), [(-SECOND, True), (SECOND, False)])
def test_unused_session_ends(request, cast, lasts, late, kept, time_machine):
    start = timezone.now()
    time_machine.move_to(start, tick=False)
    client = signed_in(request.getfixturevalue(cast))
    assert is_in(client)
    time_machine.move_to(start + lasts.unused + late, tick=False)
    assert is_in(client) is kept


@pytest.mark.parametrize(("cast", "lasts"), [("player_user", FOR_HOLDERS), ("maker", FOR_STAFF)])
def test_used_session_ends_at_its_absolute_limit(request, cast, lasts, time_machine):
    start = timezone.now()
    time_machine.move_to(start, tick=False)
    client = signed_in(request.getfixturevalue(cast))
    assert is_in(client)
    step = lasts.unused * 0.9
    now = start
    while now + step < start + lasts.in_all:
        now += step
        time_machine.move_to(now, tick=False)
        assert is_in(client)
    time_machine.move_to(start + lasts.in_all - SECOND, tick=False)
    assert is_in(client)
    time_machine.move_to(start + lasts.in_all + SECOND, tick=False)
    assert not is_in(client)


def test_signing_in_gives_the_session_a_new_key(maker):
    maker.set_password(STAFF_PASSWORD)
    maker.save()
    client = Client()
    session = client.session
    session["begun"] = "before"
    session.save()
    old = client.cookies["session"].value
    client.post("/sign-in/workshop/", {"email": maker.email, "password": STAFF_PASSWORD})
    assert client.cookies["session"].value != old
    assert not Session.objects.filter(session_key=old).exists()
    assert is_in(client)


def test_signing_out_ends_the_session_at_the_server(maker):
    client = sign_in(maker)
    key = client.cookies["session"].value
    answer = client.post("/sign-out/")
    assert "cache" in answer["Clear-Site-Data"]
    stolen = Client()
    stolen.cookies["session"] = key
    assert not is_in(stolen)


def test_signing_out_takes_a_post(maker_client):
    assert maker_client.get("/sign-out/").status_code == 405
    assert is_in(maker_client)


def test_signing_out_everywhere_ends_every_session_of_the_account_alone(player_user, other_player_user):
    here, there, stranger = signed_in(player_user), signed_in(player_user), signed_in(other_player_user)
    assert is_in(here)
    assert is_in(there)
    here.post("/sign-out/everywhere/")
    assert not is_in(here)
    assert not is_in(there)
    assert is_in(stranger)


def test_closing_an_account_ends_its_sessions(bench_hand, bench_client):
    assert is_in(bench_client)
    User.objects.filter(pk=bench_hand.pk).update(is_active=False)
    assert not is_in(bench_client)


def test_new_password_ends_the_old_sessions(maker):
    client = sign_in(maker)
    assert is_in(client)
    maker.set_password("another password altogether")
    maker.save()
    assert not is_in(client)


def test_sessions_survive_a_changed_secret_key_while_the_old_one_is_kept(maker, settings):
    client = sign_in(maker)
    settings.SECRET_KEY_FALLBACKS = [settings.SECRET_KEY]
    settings.SECRET_KEY = "a new secret key for this test only, long enough 0123456789"
    assert is_in(client)
    settings.SECRET_KEY_FALLBACKS = []
    settings.SECRET_KEY = "yet another secret key for this test only, long 0123456789"
    assert not is_in(client)


def test_whoever_signs_in_is_handed_what_waits(maker, settings):
    settings.ON_SIGN_IN = ["tests.orders.people.test_sessions.handed_over"]
    client = sign_in(maker)
    assert client.session["handed over to"] == maker.email


def test_reading_pages_does_not_write_the_session_each_time(player_user, django_assert_num_queries):
    client = signed_in(player_user)
    client.get("/account/")
    # session, account, workshop, players
    with django_assert_num_queries(4):
        client.get("/account/")


def test_signed_in_pages_are_kept_out_of_caches(player_client):
    assert player_client.get("/account/")["Cache-Control"] == "no-store, private"
