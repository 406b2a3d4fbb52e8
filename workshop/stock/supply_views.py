"""The pages of the supplies: what is there, one taken in, one counted."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders.commissions.refusals import Refused
from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from workshop.stock import supplies
from workshop.stock.forms import MoveForm, SupplyChangeForm, SupplyForm
from workshop.stock.models import Kind, Movement, Supply, Verb
from workshop.stock.seen import currency_for, faults_of, price_to_type, price_words
from workshop.stock.short import short_supplies
from workshop.stock.words import amount_words, change_words, movement_refusal, movement_words, refusal

# Beside which field a movement's refusal stands; the others stand above the form.
FIELD_OF = {
    "not_enough": "amount",
    "nothing": "amount",
    "not_whole": "amount",
    "too_much": "amount",
    "needs_words": "words",
}


@require_safe
@open_to(STAFF)
def supplies_page(request: SignedInRequest) -> HttpResponse:
    """Show the supplies by kind: what is there, or everything that ever was."""
    everything = request.GET.get("shown") == "all"
    rows = list(Supply.objects.all())
    short = {one.supply.pk for one in short_supplies(rows, timezone.localdate())}
    lines = [
        _line(one, is_short=one.pk in short) for one in rows if everything or one.left or one.pk in short
    ]
    groups = [(kind.label, [one for one in lines if one["supply"].kind == kind.value]) for kind in Kind]
    context = {
        "groups": [(words, some) for words, some in groups if some],
        "number": len(lines),
        "everything": everything,
    }
    return render(request, "stock/supplies.html", context)


def _line(supply: Supply, *, is_short: bool) -> dict[str, Any]:
    return {
        "supply": supply,
        "left": amount_words(supply.in_unit, supply.unit),
        "minimum": amount_words(supply.minimum_in_unit, supply.unit) if supply.minimum else "",
        "is_short": is_short,
    }


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def take_in(request: SignedInRequest) -> HttpResponse:
    """Take in a supply that was not there before, or a new batch of one."""
    currency = currency_for(request.user)
    if request.method != "POST":
        form = SupplyForm(currency=currency, initial=_like(request.GET.get("like", "")))
        return render(request, "stock/supply_take_in.html", {"form": form})
    form = SupplyForm(request.POST, currency=currency)
    if form.is_valid():
        try:
            supply = supplies.enter(form.supply(), form.came, by=request.user)
        except Refused as error:
            form.add_error("amount", refusal(error.key))
        else:
            messages.success(request, gettext("%(what)s is in stock.") % {"what": supply})
            return redirect("stock:supply", code=supply.code)
    return render(request, "stock/supply_take_in.html", {"form": form}, status=422)


def _like(code: str) -> dict[str, Any]:
    """Return what a new batch has in common with another of the same thing."""
    like = Supply.objects.filter(code=code).first()
    if like is None:
        return {"unit": "piece"}
    return {
        "kind": like.kind,
        "name": like.name,
        "colour": like.colour,
        "unit": like.unit,
        "mass": "" if like.mass_g is None else f"{like.mass_g:.1f}",
        "minimum": f"{like.minimum_in_unit:.1f}".removesuffix(".0"),
    }


@require_safe
@open_to(STAFF)
def supply_page(request: SignedInRequest, code: str) -> HttpResponse:
    """Show one supply with everything that moved its count."""
    return _show(request, _supply(code))


@require_POST
@open_to(STAFF)
@once
def move(request: SignedInRequest, code: str) -> HttpResponse:
    """Write down what came, went, or was counted."""
    supply = _supply(code)
    form = MoveForm(request.POST, supply=supply)
    if not form.is_valid():
        return _show(request, supply, move_form=form)
    try:
        moved = _carry_out(form, supply, request)
    except Refused as error:
        fresh = _supply(code)
        words = movement_refusal(error.key, form.cleaned_data["amount"], fresh)
        form.add_error(FIELD_OF.get(error.key), words)
        return _show(request, fresh, move_form=form)
    return _written_down(request, moved)


def _carry_out(form: MoveForm, supply: Supply, request: SignedInRequest) -> Movement:
    said = form.cleaned_data
    amount, words = said["amount"], said["words"]
    match Verb(said["verb"]):
        case Verb.TAKE_IN:
            return supplies.take_in(supply, amount, by=request.user, words=words)
        case Verb.COUNT:
            # Against what the page showed, not against what lies there now.
            supply.left = said["seen"]
            return supplies.count_anew(supply, amount, by=request.user, words=words)
        case Verb.THROW_OUT:
            return supplies.throw_out(supply, amount, by=request.user, words=words)
        case _:
            return supplies.use(supply, amount, bat=said["bat"], by=request.user, words=words)


@require_POST
@open_to(STAFF)
@once
def take_back(request: SignedInRequest, code: str) -> HttpResponse:
    """Undo a movement by one the other way."""
    supply, entry = _supply(code), request.POST.get("entry", "")
    movement = supply.movements.filter(pk=entry).first() if entry.isascii() and entry.isdigit() else None
    if movement is None:
        raise Http404
    try:
        moved = supplies.take_back(movement, by=request.user)
    except Refused as error:
        return _show(request, _supply(code), refused=refusal(error.key))
    return _written_down(request, moved)


@require_POST
@open_to(STAFF)
@once
def change(request: SignedInRequest, code: str) -> HttpResponse:
    """Change minimum, days and, for who sees it, the price."""
    supply = _supply(code)
    form = SupplyChangeForm(request.POST, supply=supply, currency=currency_for(request.user))
    if not form.is_valid():
        return _show(request, supply, change_form=form)
    try:
        supplies.change(supply, **form.columns())
    except Refused as error:
        return _show(request, _supply(code), refused=refusal(error.key), change_form=form)
    return redirect("stock:supply", code=code)


def _written_down(request: SignedInRequest, moved: Movement) -> HttpResponse:
    supply = moved.supply
    said = {
        "change": change_words(moved, supply.unit),
        "left": amount_words(supply.in_unit, supply.unit),
    }
    messages.success(request, gettext("Written down: %(change)s; %(left)s left.") % said)
    return redirect("stock:supply", code=supply.code)


def _show(request: SignedInRequest, supply: Supply, refused: str = "", **page_forms: Any) -> HttpResponse:
    currency = currency_for(request.user)
    faults = faults_of(page_forms, refused)
    initial = {
        "minimum": f"{supply.minimum_in_unit:.1f}".removesuffix(".0"),
        "opened_on": supply.opened_on,
        "use_by": supply.use_by,
        "price": price_to_type(supply.price, currency),
    }
    context = {
        "supply": supply,
        "left": amount_words(supply.in_unit, supply.unit),
        "minimum": amount_words(supply.minimum_in_unit, supply.unit) if supply.minimum else "",
        "price": price_words(supply.price, currency),
        "move_form": MoveForm(supply=supply),
        "change_form": SupplyChangeForm(
            supply=supply, currency=currency, initial=initial, auto_id="change_%s"
        ),
        "movements": _history(supply),
        "faults": faults,
        **page_forms,
    }
    return render(request, "stock/supply.html", context, status=422 if faults else 200)


def _history(supply: Supply) -> list[dict[str, Any]]:
    """Return every movement, the newest first; one that stands can be taken back."""
    rows = supply.movements.select_related("by", "bat__commission", "taken_back_by").order_by("-at", "-pk")
    return [
        {
            "at": one.at,
            "pk": one.pk,
            "amount": change_words(one, supply.unit),
            "words": movement_words(one),
            "was_taken_back": hasattr(one, "taken_back_by"),
            "stands": not one.takes_back_id and not hasattr(one, "taken_back_by"),
        }
        for one in rows
    ]


def _supply(code: str) -> Supply:
    supply = Supply.objects.filter(code=code).first()
    if supply is None:
        raise Http404
    return supply
