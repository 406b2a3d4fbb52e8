"""The store's first page: what is short, what to buy."""

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from orders.people.doors import STAFF, SignedInRequest, open_to
from workshop.stock.seen import currency_for, price_words
from workshop.stock.short import Shortage, what_is_short
from workshop.stock.willow import clefts_short
from workshop.stock.words import amount_words


@require_safe
@open_to(STAFF)
def stock(request: SignedInRequest) -> HttpResponse:
    """Show what is short and what to buy; what it costs is not for bench hands."""
    short = what_is_short(clefts=clefts_short())
    currency = currency_for(request.user)
    costs = [one.cost for one in short.supplies]
    context = {
        "short": short,
        "to_buy": _to_buy(short, currency),
        "sees_prices": currency is not None,
        "sum": price_words(sum(cost for cost in costs if cost is not None), currency),
        "without_price": sum(cost is None for cost in costs),
    }
    return render(request, "stock/stock.html", context)


def _to_buy(short: Shortage, currency: str | None) -> list[dict[str, str]]:
    """Return a line for each thing to be bought: how much is there, should be there, is missing."""
    supplies = [
        {
            "what": f"{one.supply.get_kind_display()}: {one.supply}",
            "code": one.supply.code,
            "there": amount_words(one.left, one.supply.unit),
            "least": amount_words(one.minimum, one.supply.unit),
            "missing": amount_words(one.short, one.supply.unit),
            "cost": price_words(one.cost, currency),
        }
        for one in short.supplies
    ]
    handles = [
        {
            "what": gettext("handle: %(construction)s") % {"construction": need.words},
            "code": "",
            "there": amount_words(need.free, "piece"),
            "least": amount_words(need.wanted, "piece"),
            "missing": amount_words(need.short, "piece"),
            "cost": "",
        }
        for need in short.short_handles
    ]
    return [*handles, *supplies]
