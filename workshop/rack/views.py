"""The rack's pages: what lies there, a cleft taken in, one cleft."""

from typing import Any

from django.contrib import messages
from django.db.models import Max
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from orders.commissions.access import sees_prices
from orders.commissions.book_in_force import book_in_force
from orders.commissions.refusals import Refused
from orders.money.amounts import show_price
from orders.people.doors import MAKER, STAFF, SignedInRequest, open_to
from orders.people.models import Workshop
from orders.people.once import once
from workshop.rack import clefts, holds
from workshop.rack.candidates import density_of
from workshop.rack.forms import HoldForm, StandingForm, TakeInForm, WeighForm
from workshop.rack.models import FREE_STATES, Cleft, CleftHold, CleftState
from workshop.rack.picture import NARROW, WIDE, draw_rack
from workshop.rack.wanted import wanted_willow
from workshop.rack.words import TO_DO, entry_words, refusal

# What the list can be narrowed to; "stock" is everything that is neither cut nor thrown out.
SHOWN = ("stock", *CleftState.values)


@require_GET
@open_to(STAFF)
def clefts_page(request: SignedInRequest) -> HttpResponse:
    """Show the rack as a picture and as a table."""
    shown = request.GET.get("shown", "stock")
    if shown not in SHOWN:
        raise Http404
    found = Cleft.objects.in_stock() if shown == "stock" else Cleft.objects.filter(state=shown)
    book = book_in_force()
    rows = [
        (cleft, density_of(cleft, book))
        for cleft in found.with_hold(timezone.localdate()).select_related("bat__commission", "load")
    ]
    wanted = wanted_willow()
    context = {
        "rows": rows,
        "pictures": [draw_rack(rows, wanted, frame) for frame in (WIDE, NARROW)],
        "wanted": wanted,
        "shown": shown,
        "states": [("stock", gettext("in stock")), *CleftState.choices],
    }
    return render(request, "rack/clefts.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def take_in(request: SignedInRequest) -> HttpResponse:
    """Take a cleft in."""
    currency = _currency(request)
    if request.method != "POST":
        last = Cleft.objects.aggregate(last=Max("number"))["last"] or 0
        form = TakeInForm(currency=currency, initial={"number": last + 1})
        return render(request, "rack/take_in.html", {"form": form})
    form = TakeInForm(request.POST, currency=currency)
    if form.is_valid():
        try:
            cleft = clefts.take_in(form.cleft(), by=request.user)
        except Refused as error:
            form.add_error("number", refusal(error.key))
        else:
            messages.success(request, gettext("Cleft %(number)s is on the rack.") % {"number": cleft.label})
            return redirect("rack:cleft", code=cleft.code)
    return render(request, "rack/take_in.html", {"form": form}, status=422)


@require_GET
@open_to(STAFF)
def cleft_page(request: SignedInRequest, code: str) -> HttpResponse:
    """Show one cleft with what befell it."""
    return _show(request, _cleft(code))


@require_POST
@open_to(STAFF)
@once
def weigh(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep a new reading of mass and moisture."""
    cleft = _cleft(code)
    form = WeighForm(request.POST)
    if not form.is_valid():
        return _show(request, cleft, weigh_form=form)
    return _done(request, cleft, clefts.weigh_again, by=request.user, **form.cleaned_data)


@require_POST
@open_to(STAFF)
@once
def standing(request: SignedInRequest, code: str) -> HttpResponse:
    """Say that a cleft is ready, needs more seasoning, suits a smaller size, or is thrown out."""
    cleft = _cleft(code)
    form = StandingForm(request.POST, verbs=_verbs(cleft))
    if not form.is_valid():
        return _show(request, cleft, standing_form=form)
    said = form.cleaned_data
    return _done(request, cleft, clefts.change_standing, said["verb"], by=request.user, words=said["words"])


@require_POST
@open_to(MAKER)
@once
def hold(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep a cleft aside for an open proposal."""
    cleft = _cleft(code)
    form = HoldForm(request.POST, proposals=holds.open_proposals())
    if not form.is_valid():
        return _show(request, cleft, hold_form=form)
    return _done(request, cleft, holds.hold, form.cleaned_data["proposal"], by=request.user)


@require_POST
@open_to(MAKER)
@once
def release(request: SignedInRequest, code: str) -> HttpResponse:
    """End the hold on a cleft."""
    cleft = _cleft(code)
    kept = CleftHold.objects.filter(cleft=cleft, released_at__isnull=True).first()
    if kept is not None:
        holds.release(kept, by=request.user)
    return redirect("rack:cleft", code=code)


def _done(request: HttpRequest, cleft: Cleft, verb: Any, *args: Any, **kwargs: Any) -> HttpResponse:
    """Carry a verb out on a cleft, or say on its page why not."""
    try:
        verb(cleft, *args, **kwargs)
    except Refused as error:
        return _show(request, _cleft(cleft.code), refused=refusal(error.key))
    return redirect("rack:cleft", code=cleft.code)


def _show(request: HttpRequest, cleft: Cleft, refused: str = "", **forms: Any) -> HttpResponse:
    today = timezone.localdate()
    verbs = _verbs(cleft)
    active = (
        CleftHold.objects.active(today).filter(cleft=cleft).select_related("proposal__commission__player")
    )
    kept = active.first()
    proposals = holds.open_proposals() if cleft.state in FREE_STATES and kept is None else []
    faults = [{"field_id": "", "words": refused}] if refused else _faults(forms)
    context = {
        "cleft": cleft,
        "density": density_of(cleft, book_in_force()),
        "price": _price(request, cleft),
        "kept": kept,
        "verbs": verbs,
        "weigh_form": WeighForm() if cleft.state not in (CleftState.USED, CleftState.REJECTED) else None,
        "standing_form": StandingForm(verbs=verbs) if verbs else None,
        "hold_form": HoldForm(proposals=proposals) if proposals else None,
        "entries": [
            {"at": entry.at, "words": entry_words(entry)} for entry in cleft.entries.select_related("by")
        ],
        "faults": faults,
        **forms,
    }
    return render(request, "rack/cleft.html", context, status=422 if faults else 200)


def _faults(forms: dict[str, Any]) -> list[dict[str, str]]:
    return [
        {"field_id": form[name].id_for_label, "words": f"{form[name].label}: {words}"}
        for form in forms.values()
        for name, errors in form.errors.items()
        for words in errors
    ]


def _cleft(code: str) -> Cleft:
    cleft = Cleft.objects.select_related("bat__commission__player", "load").filter(code=code).first()
    if cleft is None:
        raise Http404
    return cleft


def _verbs(cleft: Cleft) -> list[tuple[str, Any]]:
    return [(verb, TO_DO[verb]) for verb in clefts.verbs_by_hand(cleft)]


def _currency(request: HttpRequest) -> str | None:
    """Return the currency for somebody who sees prices, else None."""
    workshop = Workshop.objects.the_one()
    return workshop.currency if workshop and sees_prices(request.user) else None  # type: ignore[arg-type]


def _price(request: HttpRequest, cleft: Cleft) -> str:
    """Return what a cleft cost, empty for somebody who sees no prices."""
    currency = _currency(request)
    return "" if cleft.cost is None or currency is None else show_price(cleft.cost, currency)
