"""Who sees which sum of money, and how the faults of a page's forms are told."""

from collections.abc import Mapping

from django import forms

from orders.commissions.access import sees_prices
from orders.money.amounts import show_price, typed_price
from orders.people.models import User, Workshop


def currency_for(user: User) -> str | None:
    """Return the workshop's currency for somebody who sees prices, else None."""
    workshop = Workshop.objects.the_one() if sees_prices(user) else None
    return workshop.currency if workshop else None


def price_words(amount: int | None, currency: str | None) -> str:
    """Return a sum in words, empty where there is none or it is not for this reader."""
    return "" if amount is None or currency is None else show_price(amount, currency)


def price_to_type(amount: int | None, currency: str | None) -> str:
    """Return a sum as it would be typed, empty where there is none or it is not for this reader."""
    return "" if amount is None or currency is None else typed_price(amount, currency)


def faults_of(page_forms: Mapping[str, forms.BaseForm | None], refused: str = "") -> list[dict[str, str]]:
    """Return what stands in the error summary: why a verb was refused, then each field's faults."""
    found = [{"field_id": "", "words": refused}] if refused else []
    for form in page_forms.values():
        for name, errors in (form.errors if form else {}).items():
            where = form[name] if form and name in form.fields else None
            before = f"{where.label}: " if where else ""
            found += [
                {
                    "field_id": (where.id_for_label or where.auto_id) if where else "",
                    "words": f"{before}{words}",
                }
                for words in errors
            ]
    return found
