"""The first day."""

import io
from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from orders.people.models import User, Workshop
from orders.people.opening import AlreadyOpen, FirstDay, open_workshop, opening_word

pytestmark = pytest.mark.django_db

FORM = {
    "name": "Millrace Bats",
    "place": "Weir Lane 2, Nowhere",
    "country": "GB",
    "email": "Bench@Millrace.Example",
    "currency": "gbp",
    "tax_percent": "20",
    "prices_with_tax": "on",
    "zone": "Europe/London",
    "maker_name": "Moss Miller",
    "maker_email": "Moss@Millrace.Example",
    "maker_password": "four dry winters of willow",
}


def first_day():
    """Return what FORM says, as the domain takes it."""
    given: dict[str, Any] = {**FORM, "tax_percent": Decimal(20), "prices_with_tax": True, "currency": "GBP"}
    return FirstDay(**given)


def test_first_visit_is_led_to_opening(client):
    answer = client.get("/")
    assert answer["Location"] == "/open/"
    assert "Nobody has been here before you" in client.get("/open/").content.decode()


def test_opening_makes_the_workshop_and_signs_the_maker_in(client):
    answer = client.post("/open/", {**FORM, "word": opening_word()})
    assert answer.status_code == 302
    workshop = Workshop.objects.get()
    maker = User.objects.get()
    assert (workshop.name, workshop.currency, workshop.tax_percent) == ("Millrace Bats", "GBP", Decimal(20))
    assert workshop.prices_with_tax
    assert (maker.email, maker.role) == ("moss@millrace.example", "maker")
    assert maker.check_password(FORM["maker_password"])
    assert client.session["_auth_user_id"] == str(maker.pk)


def test_open_workshop_is_not_opened_again(client, workshop):
    assert client.get("/open/").status_code == 404
    assert client.post("/open/", {**FORM, "word": opening_word()}).status_code == 404
    assert Workshop.objects.get() == workshop
    with pytest.raises(AlreadyOpen):
        open_workshop(first_day())


@pytest.mark.parametrize(
    ("field", "given", "words"),
    [
        ("word", "guessed", "not the word"),
        ("name", "", "Give the name under which"),
        ("currency", "xyz", "XYZ is no currency"),
        ("tax_percent", "-1", "greater than or equal to 0"),
        ("tax_percent", "NaN", "Give a number from 0 to 100"),
        ("tax_percent", "120", "less than or equal to 100"),
        ("zone", "Middle/Earth", "not one of the available choices"),
        ("country", "XX", "not one of the available choices"),
        ("maker_email", "moss", "name@example.org"),
        ("maker_password", "too short", "at least 15"),
    ],
)
def test_faulty_opening_keeps_what_was_typed(client, field, given, words):
    answer = client.post("/open/", {**FORM, "word": opening_word(), field: given})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert words in page
    assert field == "name" or 'value="Millrace Bats"' in page
    assert not Workshop.objects.exists()
    assert not User.objects.exists()


def test_long_common_password_is_refused(client):
    answer = client.post("/open/", {**FORM, "word": opening_word(), "maker_password": "1qaz2wsx3edc4rfv"})
    assert "too common" in answer.content.decode()


def test_long_password_with_spaces_is_taken_as_it_is(client):
    password = " " + "cane and willow " * 5
    assert len(password) > 64
    client.post("/open/", {**FORM, "word": opening_word(), "maker_password": password})
    assert User.objects.get().check_password(password)


def test_guessing_the_word_is_limited(client):
    statuses = [client.post("/open/", {**FORM, "word": "guessed"}).status_code for _ in range(11)]
    assert statuses == [422] * 10 + [429]


def test_command_prints_the_word():
    out = io.StringIO()
    call_command("open-workshop", "--word", stdout=out)
    assert out.getvalue().strip() == opening_word()


def options():
    """Return FORM as options of the command."""
    return {
        **{name: value for name, value in FORM.items() if name not in {"maker_password", "prices_with_tax"}},
        "password_stdin": True,
    }


def test_command_opens_the_workshop(monkeypatch):
    monkeypatch.setattr("sys.stdin", io.StringIO(FORM["maker_password"] + "\n"))
    out = io.StringIO()
    call_command("open-workshop", **options(), stdout=out)
    assert "Millrace Bats is open" in out.getvalue()
    assert User.objects.get().check_password(FORM["maker_password"])
    assert Workshop.objects.get().prices_with_tax is False


def test_command_names_each_fault_and_writes_nothing(monkeypatch):
    monkeypatch.setattr("sys.stdin", io.StringIO("short\n"))
    out = io.StringIO()
    with pytest.raises(CommandError) as refused:
        call_command("open-workshop", **{**options(), "currency": "XYZ", "zone": "Nowhere"}, stdout=out)
    lines = str(refused.value).splitlines()
    assert [line.split(":")[0] for line in lines] == ["--zone", "--currency", "--maker-password"]
    assert refused.value.returncode == 2
    assert out.getvalue() == ""
    assert not Workshop.objects.exists()


def test_command_refuses_a_second_workshop(workshop):
    with pytest.raises(CommandError, match="already") as refused:
        call_command("open-workshop", **options())
    assert refused.value.returncode == 2


@pytest.mark.django_db(transaction=True)
def test_two_people_opening_at_once_make_one_workshop():
    def attempt(n):
        day = FirstDay(**{**first_day().__dict__, "maker_email": f"maker{n}@millrace.example"})
        try:
            open_workshop(day)
        except AlreadyOpen:
            return 0
        finally:
            connection.close()
        return 1

    with ThreadPoolExecutor(4) as pool:
        assert sum(pool.map(attempt, range(4))) == 1
    assert Workshop.objects.count() == 1
    assert User.objects.count() == 1
