"""What is known of the workshop, changed by the maker."""

from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from orders.people.models import Workshop
from orders.people.once import new_key

pytestmark = pytest.mark.django_db

PAGE = "/floor/workshop/"
SAID = {
    "name": "Weir Bats",
    "place": "Weir Lane 3, Nowhere",
    "country": "IE",
    "email": "Bench@Weir.Example",
    "zone": "Europe/Dublin",
    "tax_percent": "23",
    "prices_with_tax": "on",
}


def send(client, **changed):
    """Send the form."""
    return client.post(PAGE, {"once": new_key(), "version": "0", **SAID, **changed})


def test_page_shows_what_is_kept(maker_client, workshop):
    page = maker_client.get(PAGE).content.decode()
    assert f'value="{workshop.name}"' in page
    assert f'value="{workshop.place}"' in page
    assert '<option value="Europe/London" selected>' in page


def test_maker_changes_all_but_the_currency(maker_client, workshop):
    assert send(maker_client, currency="EUR")["Location"] == PAGE
    workshop.refresh_from_db()
    assert (workshop.name, workshop.country, workshop.zone) == ("Weir Bats", "IE", "Europe/Dublin")
    assert (workshop.email, workshop.tax_percent) == ("bench@weir.example", Decimal(23))
    assert workshop.currency == "GBP"


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"name": ""}, "Give the name under which"),
        ({"tax_percent": "101"}, "less than or equal to 100"),
        ({"tax_percent": "much"}, "Give a number from 0 to 100"),
        ({"email": "bench"}, "name@example.org"),
    ],
)
def test_fault_is_told_and_nothing_changed(maker_client, workshop, changed, words):
    answer = send(maker_client, **changed)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert "Weir Lane 3" in answer.content.decode()
    workshop.refresh_from_db()
    assert workshop.name == "Test Workshop"


def test_page_is_the_makers_alone(bench_client, player_client, anyone, workshop):
    assert send(bench_client).status_code == 404
    assert send(player_client).status_code == 404
    assert send(anyone)["Location"].startswith("/sign-in/")
    workshop.refresh_from_db()
    assert workshop.name == "Test Workshop"


def test_second_of_two_who_change_it_at_once_is_shown_both(maker_client, workshop):
    assert 'name="version" value="0"' in maker_client.get(PAGE).content.decode()
    send(maker_client, name="Theirs")

    answer = send(maker_client, name="Mine", tax_percent="23")

    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Somebody else has been here" in page
    assert ">Theirs</td>" in page
    assert ">Mine</td>" in page
    assert ">Tax on a bat, in percent</th>" not in page
    workshop.refresh_from_db()
    assert (workshop.name, workshop.version) == ("Theirs", 1)
    assert 'name="version" value="1"' in page
    assert send(maker_client, name="Mine", version="1")["Location"] == PAGE
    workshop.refresh_from_db()
    assert (workshop.name, workshop.version) == ("Mine", 2)


@pytest.mark.parametrize("version", ["", "x", "-1", "²", "9" * 30])
def test_form_without_the_version_it_was_read_in_is_not_kept(maker_client, workshop, version):
    assert send(maker_client, version=version).status_code == 409
    workshop.refresh_from_db()
    assert workshop.name == "Test Workshop"


STATED = {"price_from": "360", "price_to": "1,250.50", "wait_weeks_from": "8", "wait_weeks_to": "12"}


def test_maker_states_price_and_wait_and_a_stranger_reads_them_first(maker_client, anyone, workshop):
    assert send(maker_client, **STATED)["Location"] == PAGE
    workshop.refresh_from_db()
    assert (workshop.price_from, workshop.price_to) == (36000, 125050)
    page = maker_client.get(PAGE).content.decode()
    assert 'name="price_from" value="360"' in page
    assert 'name="price_to" value="1250.50"' in page
    page = anyone.get("/fitting/").content.decode()
    assert page.index("£360.00 to £1,250.50") < page.index('name="once"')
    assert "tax is in it; the proposal tells the price of yours" in page
    assert page.index("8 to 12 weeks") < page.index('name="once"')


def test_workshop_that_states_nothing_says_that_price_and_wait_come_later(anyone, workshop):
    page = anyone.get("/fitting/").content.decode()
    assert "What it costs and how long it takes, the workshop tells you after the fitting" in page


def test_what_was_stated_can_be_taken_back(maker_client, workshop):
    send(maker_client, **STATED)
    assert send(maker_client, version="1")["Location"] == PAGE
    workshop.refresh_from_db()
    assert (workshop.price_from, workshop.price_to) == (None, None)
    assert (workshop.wait_weeks_from, workshop.wait_weeks_to) == (None, None)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"price_from": "much"}, "much was given, which is no sum of money"),
        ({"price_from": "500", "price_to": "400"}, "This is less than the lower end."),
        ({"price_to": "400"}, "Give the lower end too, or empty both."),
        ({"wait_weeks_from": "12", "wait_weeks_to": "8"}, "This is less than the lower end."),
        ({"wait_weeks_from": "0"}, "Give whole weeks, 1 to 104"),
        ({"wait_weeks_from": "soon"}, "Give whole weeks, 1 to 104"),
        ({"wait_weeks_to": "8"}, "Give the lower end too, or empty both."),
    ],
)
def test_band_that_cannot_be_is_told_at_its_field(maker_client, workshop, changed, words):
    answer = send(maker_client, **changed)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    workshop.refresh_from_db()
    assert (workshop.price_from, workshop.wait_weeks_from, workshop.version) == (None, None, 0)


def test_second_of_two_sees_the_other_ones_price_as_it_is_typed(maker_client, workshop):
    send(maker_client, **STATED)
    page = send(maker_client, **{**STATED, "price_to": "600"}).content.decode()
    assert ">1250.50</td>" in page
    assert ">600</td>" in page


@pytest.mark.parametrize(
    "wrong",
    [
        {"price_from": 2, "price_to": 1},
        {"price_to": 1},
        {"wait_weeks_from": 2, "wait_weeks_to": 1},
        {"wait_weeks_to": 1},
    ],
)
def test_database_holds_bands_that_run_upwards_only(workshop, wrong):
    with pytest.raises(IntegrityError), transaction.atomic():
        Workshop.objects.filter(pk=workshop.pk).update(**wrong)
