"""Forms that count once."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.template import Context, Template
from django.test import Client

from orders.people.models import OneTimeKey, Player
from orders.people.once import new_key
from tests.cast import signed_in

pytestmark = [pytest.mark.django_db, pytest.mark.urls("tests.orders.people.one_form")]


def send(client, key, **said):
    """Send the form of one_form."""
    return client.post("/name/", {"once": key, "name": "Ash", **said})


@pytest.fixture
def client(player_user):
    """A client whose form makes players."""
    return signed_in(player_user)


def test_form_sent_twice_counts_once_and_leads_to_the_same_place(client):
    key = new_key()
    first = send(client, key)
    again = send(client, key)
    assert Player.objects.count() == 1
    assert first.status_code == again.status_code == 302
    assert first["Location"] == again["Location"] == f"/{Player.objects.get().code}/"


def test_two_forms_count_twice(client):
    assert send(client, new_key())["Location"] != send(client, new_key())["Location"]
    assert Player.objects.count() == 2


def test_same_key_with_other_content_is_refused(client):
    key = new_key()
    send(client, key)
    answer = send(client, key, name="Bo")
    assert answer.status_code == 422
    assert list(Player.objects.values_list("name", flat=True)) == ["Ash"]


def test_same_key_with_another_file_is_refused(client):
    key = new_key()
    send(client, key, file=SimpleUploadedFile("a.txt", b"one"))
    assert send(client, key, file=SimpleUploadedFile("a.txt", b"one")).status_code == 302
    assert send(client, key, file=SimpleUploadedFile("a.txt", b"two")).status_code == 422


def test_same_key_of_another_person_is_refused(client, other_player_user):
    key = new_key()
    send(client, key)
    assert send(signed_in(other_player_user), key).status_code == 422
    assert Player.objects.count() == 1


@pytest.mark.parametrize("key", ["", "short", "x" * 27, "i" * 26, "0123456789abcdefghjkmnpqr\n"])
def test_form_without_a_proper_key_is_refused(client, key):
    answer = send(client, key)
    assert answer.status_code == 400
    assert "Open the page again" in answer.content.decode()
    assert not Player.objects.exists()
    assert not OneTimeKey.objects.exists()


def test_refused_form_leaves_its_key_unused_and_nothing_written(client):
    key = new_key()
    assert send(client, key, name="refuse").status_code == 422
    assert not Player.objects.exists()
    assert send(client, key).status_code == 302
    assert Player.objects.count() == 1


def test_crash_leaves_its_key_unused_and_nothing_written(client):
    key = new_key()
    with pytest.raises(RuntimeError, match="crashed after writing"):
        send(client, key, name="crash")
    assert not Player.objects.exists()
    assert send(client, key).status_code == 302


def test_repeated_fragment_leaves_the_page_alone(client):
    key = new_key()
    first = client.post("/name/", {"once": key, "name": "fragment"}, headers={"hx-request": "true"})
    again = client.post("/name/", {"once": key, "name": "fragment"}, headers={"hx-request": "true"})
    assert first.content == b"made"
    assert (again.status_code, again.content) == (204, b"")
    assert Player.objects.count() == 1


def test_get_needs_no_key(client):
    assert client.get("/name/").content == b"form"


def test_each_rendering_has_a_key_of_its_own():
    template = Template("{% load people_forms %}{% once %}")
    one, other = template.render(Context()), template.render(Context())
    assert one != other
    assert one.startswith('<input type="hidden" name="once" value="')


@pytest.mark.django_db(transaction=True)
def test_form_sent_twenty_times_at_once_counts_once(player_user):
    clients = [signed_in(player_user) for _ in range(20)]
    key = new_key()

    def press(client: Client):
        try:
            answer = send(client, key)
            return answer.status_code, answer["Location"]
        finally:
            connection.close()

    with ThreadPoolExecutor(8) as pool:
        answers = set(pool.map(press, clients))
    assert Player.objects.count() == 1
    assert answers == {(302, f"/{Player.objects.get().code}/")}
