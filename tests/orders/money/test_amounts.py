from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from orders.money.amounts import PriceRefused, parse_price, price_of, show_price, typed_price


@pytest.mark.parametrize(
    ("text", "currency", "pence"),
    [
        ("420", "GBP", 42000),
        (" £420.50 ", "GBP", 42050),
        ("420,5", "EUR", 42050),
        ("1,250.00", "GBP", 125000),
        ("1.250,50 €", "EUR", 125050),
        ("1 250", "EUR", 125000),
        ("1'250.00", "CHF", 125000),
        ("1,250", "GBP", 125000),
        ("100.250,00", "EUR", 10025000),
        ("1,000,000", "EUR", 100000000),
        (".5", "GBP", 50),
        ("0", "GBP", 0),
        ("42000", "JPY", 42000),
        ("12.34", "KWD", 12340),
        ("420 GBP", "GBP", 42000),
    ],
)
def test_sums_as_people_type_them(text, currency, pence):
    assert parse_price(text, currency) == pence


@pytest.mark.parametrize(
    ("text", "currency", "kind"),
    [
        ("", "GBP", "not_a_sum"),
        ("-3", "GBP", "not_a_sum"),
        ("dear", "GBP", "not_a_sum"),
        ("NaN", "GBP", "not_a_sum"),
        ("1e9", "GBP", "not_a_sum"),
        ("٣", "GBP", "not_a_sum"),
        ("4,20.1,5", "GBP", "not_a_sum"),
        ("12,34,567", "GBP", "not_a_sum"),
        ("1.2.3", "GBP", "not_a_sum"),
        ("420.505", "GBP", "ambiguous"),
        ("12,345", "KWD", "ambiguous"),
        ("420.5555", "GBP", "too_fine"),
        ("12.5", "JPY", "too_fine"),
        ("1000001", "GBP", "too_much"),
        ("1.000.001", "EUR", "too_much"),
    ],
)
def test_what_is_no_sum_is_refused(text, currency, kind):
    with pytest.raises(PriceRefused) as refused:
        parse_price(text, currency)

    assert (refused.value.kind, refused.value.given) == (kind, text)


def test_tax_is_in_the_sum_or_comes_on_top():
    within = price_of(42000, currency="GBP", tax_percent=Decimal("20.00"), with_tax=True)
    on_top = price_of(42000, currency="GBP", tax_percent=Decimal("20.00"), with_tax=False)
    none = price_of(42000, currency="GBP", tax_percent=Decimal(0), with_tax=True)

    assert (within.total, within.tax, within.net, within.tax_percent) == (42000, 7000, 35000, "20")
    assert (on_top.total, on_top.tax, on_top.net) == (50400, 8400, 42000)
    assert (none.total, none.tax, none.tax_percent) == (42000, 0, "0")


def test_tax_is_rounded_half_up_once():
    assert price_of(10, currency="GBP", tax_percent=Decimal("5"), with_tax=False).tax == 1
    assert price_of(101, currency="GBP", tax_percent=Decimal("8.1"), with_tax=True).tax == 8


@given(st.integers(0, 100_000_000))
def test_a_sum_shown_is_read_back_exactly(pence):
    assert parse_price(show_price(pence, "GBP"), "GBP") == pence


@given(st.integers(0, 10**8), st.decimals(0, 100, places=2), st.booleans())
def test_net_and_tax_add_up(amount, percent, with_tax):
    price = price_of(amount, currency="EUR", tax_percent=percent, with_tax=with_tax)

    assert price.net + price.tax == price.total
    assert price.tax >= 0
    assert (price.total if with_tax else price.net) == amount


@pytest.mark.parametrize(
    ("amount", "currency", "text"),
    [
        (42000, "GBP", "420"),
        (42050, "GBP", "420.50"),
        (5, "GBP", "0.05"),
        (40000, "JPY", "40000"),
        (12340, "KWD", "12.34"),
    ],
)
def test_sum_as_it_would_be_typed(amount, currency, text):
    assert typed_price(amount, currency) == text


@given(st.integers(0, 10**6), st.sampled_from(["GBP", "JPY", "EUR"]))
def test_typed_sum_is_read_again(amount, currency):
    assert parse_price(typed_price(amount, currency), currency) == amount
