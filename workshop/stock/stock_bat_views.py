"""The pages of the bats without an owner: what lies there, one laid by, one bat."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders.commissions.refusals import Refused
from orders.people.doors import MAKER, STAFF, SignedInRequest, open_to
from orders.people.once import once
from orders.words.fields import VALUES
from workshop.stock import stock_bats
from workshop.stock.forms import KeepForm, SellForm, StockBatForm, WordsForm
from workshop.stock.models import StockBat, StockBatState
from workshop.stock.seen import currency_for, faults_of, price_to_type, price_words
from workshop.stock.words import entry_words, refusal

# What the list can be narrowed to; "here" is whatever is neither sold nor cut up.
SHOWN = ("here", *StockBatState.values)


@require_safe
@open_to(STAFF)
def bats_page(request: SignedInRequest) -> HttpResponse:
    """Show the bats without an owner."""
    shown = request.GET.get("shown", "here")
    if shown not in SHOWN:
        raise Http404
    found = StockBat.objects.here() if shown == "here" else StockBat.objects.filter(state=shown)
    currency = currency_for(request.user)
    context = {
        "rows": [
            {
                "bat": one,
                "length": VALUES[one.length_code],
                "price": price_words(one.price, currency),
            }
            for one in found.select_related("cleft", "commission")
        ],
        "shown": shown,
        "states": [("here", gettext("here")), *StockBatState.choices],
        "sees_prices": currency is not None,
    }
    return render(request, "stock/bats.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def lay_by(request: SignedInRequest) -> HttpResponse:
    """Put a bat without an owner on the shelf."""
    form = StockBatForm(request.POST or None, currency=currency_for(request.user))
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        laid = stock_bats.lay_by(
            **said, bat=None, by=request.user, cost=said["cleft"].cost if said["cleft"] else None
        )
        messages.success(request, gettext("%(number)s is on the shelf.") % {"number": laid.label})
        return redirect("stock:bat", code=laid.code)
    return render(request, "stock/bat_lay_by.html", {"form": form}, status=422 if form.errors else 200)


@require_safe
@open_to(STAFF)
def bat_page(request: SignedInRequest, code: str) -> HttpResponse:
    """Show one bat without an owner, with what befell it."""
    return _show(request, _stock_bat(code))


@require_POST
@open_to(MAKER)
@once
def keep(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep a bat for a commission that is not agreed yet."""
    stock_bat = _stock_bat(code)
    form = KeepForm(request.POST, length_code=stock_bat.length_code)
    if not form.is_valid():
        return _show(request, stock_bat, keep_form=form)
    return _done(request, stock_bat, stock_bats.keep_for, form.cleaned_data["commission"])


@require_POST
@open_to(MAKER)
@once
def let_go(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep a bat no longer."""
    return _done(request, _stock_bat(code), stock_bats.let_go)


@require_POST
@open_to(MAKER)
@once
def sell(request: SignedInRequest, code: str) -> HttpResponse:
    """Note that a bat was sold."""
    stock_bat = _stock_bat(code)
    form = SellForm(request.POST, currency=currency_for(request.user) or "")
    if not form.is_valid():
        return _show(request, stock_bat, sell_form=form)
    return _done(request, stock_bat, stock_bats.sell, **form.cleaned_data)


@require_POST
@open_to(MAKER)
@once
def cut_up(request: SignedInRequest, code: str) -> HttpResponse:
    """Note that a bat was cut up, and what for."""
    stock_bat, form = _stock_bat(code), WordsForm(request.POST)
    if not form.is_valid():
        return _show(request, stock_bat, words_form=form)
    return _done(request, stock_bat, stock_bats.cut_up, words=form.cleaned_data["words"])


def _done(
    request: SignedInRequest, stock_bat: StockBat, verb: Any, *args: Any, **kwargs: Any
) -> HttpResponse:
    """Carry a verb out on a bat, or say on its page why not."""
    try:
        verb(stock_bat, *args, by=request.user, **kwargs)
    except Refused as error:
        return _show(request, _stock_bat(stock_bat.code), refused=refusal(error.key))
    return redirect("stock:bat", code=stock_bat.code)


def _show(
    request: SignedInRequest, stock_bat: StockBat, refused: str = "", **page_forms: Any
) -> HttpResponse:
    currency = currency_for(request.user)
    faults = faults_of(page_forms, refused)
    price = price_to_type(stock_bat.price, currency)
    context = {
        "stock_bat": stock_bat,
        "length": VALUES[stock_bat.length_code],
        "price": price_words(stock_bat.price, currency),
        "cost": price_words(stock_bat.cost, currency),
        **(_forms(stock_bat, currency, price) if currency else {}),
        "can_let_go": currency is not None and stock_bats.can("let_go", stock_bat),
        "entries": [
            {"at": entry.at, "words": entry_words(entry)} for entry in stock_bat.entries.select_related("by")
        ],
        "faults": faults,
        **page_forms,
    }
    return render(request, "stock/bat.html", context, status=422 if faults else 200)


def _forms(stock_bat: StockBat, currency: str, price: str) -> dict[str, Any]:
    """Return the forms of what its state lets, for the maker."""
    found: dict[str, Any] = {}
    if stock_bats.can("keep", stock_bat):
        found["keep_form"] = KeepForm(length_code=stock_bat.length_code, auto_id="keep_%s")
    if stock_bats.can("sell", stock_bat):
        found["sell_form"] = SellForm(currency=currency, initial={"price": price}, auto_id="sell_%s")
    if stock_bats.can("cut_up", stock_bat):
        found["words_form"] = WordsForm(auto_id="cut_up_%s")
    return found


def _stock_bat(code: str) -> StockBat:
    rows = StockBat.objects.select_related("cleft", "bat__commission", "commission__player")
    stock_bat = rows.filter(code=code).first()
    if stock_bat is None:
        raise Http404
    return stock_bat
