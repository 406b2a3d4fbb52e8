"""What a bat costs and how long it takes here, as the maker states it before anybody begins."""

from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from orders.money.amounts import show_price
from orders.people.models import Workshop


@dataclass(frozen=True)
class PriceAndWait:
    """Both in words, empty where not stated; ``tax`` says whether it is in the price, if there is any."""

    price: str
    tax: str
    wait: str


def price_and_wait(workshop: Workshop | None) -> PriceAndWait:
    """Say the workshop's price band and usual wait; empty words for what its maker has not stated."""
    if workshop is None:
        return PriceAndWait("", "", "")
    return PriceAndWait(
        _say_price(workshop),
        _say_tax(workshop),
        _say_wait(workshop.wait_weeks_from, workshop.wait_weeks_to),
    )


def _say_price(workshop: Workshop) -> str:
    if workshop.price_from is None:
        return ""
    low = show_price(workshop.price_from, workshop.currency)
    if workshop.price_to is None:
        return _("from %(low)s") % {"low": low}
    if workshop.price_to == workshop.price_from:
        return _("about %(low)s") % {"low": low}
    return _("%(low)s to %(high)s") % {"low": low, "high": show_price(workshop.price_to, workshop.currency)}


def _say_tax(workshop: Workshop) -> str:
    if not workshop.tax_percent:
        return ""
    return _("tax is in it") if workshop.prices_with_tax else _("tax comes on top")


def _say_wait(least: int | None, most: int | None) -> str:
    if least is None:
        return ""
    if most is None:
        weeks = ngettext("from %(least)d week on", "from %(least)d weeks on", least) % {"least": least}
    elif most == least:
        weeks = ngettext("about %(least)d week", "about %(least)d weeks", least) % {"least": least}
    else:
        weeks = _("%(least)d to %(most)d weeks") % {"least": least, "most": most}
    return weeks
