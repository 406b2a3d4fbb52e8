"""The pages of what was lost: by cause, by load, piece by piece; and wood written off by hand."""

from collections.abc import Iterable
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_safe

from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from orders.words.states import stage_words
from workshop.stock import scrap
from workshop.stock.forms import ScrapForm
from workshop.stock.models import Scrap
from workshop.stock.scrap import Sum
from workshop.stock.seen import currency_for, price_words

# The sums count every piece; one by one only the newest are told.
TOLD = 50


@require_safe
@open_to(STAFF)
def scrap_page(request: SignedInRequest) -> HttpResponse:
    """Show what was lost; what it cost is not for bench hands."""
    rows = list(Scrap.objects.select_related("cleft__load", "bat__commission", "by"))
    currency = currency_for(request.user)
    context = {
        "number": len(rows),
        "by_cause": _sums(scrap.by_cause(rows), currency),
        "by_load": _sums(scrap.by_load(rows, unnamed=gettext("no load named")), currency),
        "whole": next(iter(_sums([scrap.sum_of(gettext("together"), rows)], currency))),
        "rows": [_line(row, currency) for row in rows[:TOLD]],
        "sees_prices": currency is not None,
    }
    return render(request, "stock/scrap.html", context)


def _sums(sums: Iterable[Sum], currency: str | None) -> list[dict[str, Any]]:
    return [
        {
            "words": one.words,
            "pieces": one.pieces,
            "hours": f"{one.minutes / 60:.1f}",
            "wood": price_words(one.wood_cost, currency),
            "work": price_words(one.work_cost, currency),
            "cost": price_words(one.cost, currency),
            "without_price": one.without_price,
        }
        for one in sums
    ]


def _line(row: Scrap, currency: str | None) -> dict[str, Any]:
    return {
        "row": row,
        "stage": stage_words(row.stage) if row.stage else "",
        "cost": price_words((row.wood_cost or 0) + row.work_cost, currency),
    }


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def write_off(request: SignedInRequest) -> HttpResponse:
    """Write wood off by hand: what never came to the bench, or was lost there without its page."""
    form = ScrapForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        scrap.write_off(**{**said, "minutes": said["minutes"] or 0}, bat=None, stage="", by=request.user)
        messages.success(request, gettext("Written off."))
        return redirect("stock:scrap")
    return render(request, "stock/write_off.html", {"form": form}, status=422 if form.errors else 200)
