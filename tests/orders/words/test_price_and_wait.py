"""What is stated of price and wait before a fitting."""

from decimal import Decimal

import pytest

from orders.people.models import Workshop
from orders.words.price_and_wait import price_and_wait


def a_workshop(**stated) -> Workshop:
    return Workshop(**{"currency": "GBP", "tax_percent": Decimal(0), **stated})


@pytest.mark.parametrize(
    ("stated", "words"),
    [
        ({}, ""),
        ({"price_from": 36000, "price_to": 56050}, "£360.00 to £560.50"),
        ({"price_from": 36000}, "from £360.00"),
        ({"price_from": 36000, "price_to": 36000}, "about £360.00"),
        ({"price_from": 40000, "price_to": 60000, "currency": "JPY"}, "JP¥40,000 to JP¥60,000"),
    ],
)
def test_price_band(stated, words):
    assert price_and_wait(a_workshop(**stated)).price == words


@pytest.mark.parametrize(
    ("percent", "with_tax", "words"),
    [(0, True, ""), (20, True, "tax is in it"), (20, False, "tax comes on top")],
)
def test_tax(percent, with_tax, words):
    workshop = a_workshop(price_from=36000, tax_percent=Decimal(percent), prices_with_tax=with_tax)
    assert price_and_wait(workshop).tax == words


@pytest.mark.parametrize(
    ("least", "most", "words"),
    [
        (None, None, ""),
        (8, 12, "8 to 12 weeks"),
        (8, 8, "about 8 weeks"),
        (1, 1, "about 1 week"),
        (8, None, "from 8 weeks on"),
    ],
)
def test_wait(least, most, words):
    assert price_and_wait(a_workshop(wait_weeks_from=least, wait_weeks_to=most)).wait == words


def test_before_the_first_day_nothing_is_stated():
    assert (price_and_wait(None).price, price_and_wait(None).wait) == ("", "")
