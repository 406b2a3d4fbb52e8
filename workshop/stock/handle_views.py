"""The pages of the handles: what lies there, one taken in, one handle."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders.commissions.refusals import Refused
from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from workshop.stock import handles
from workshop.stock.forms import HandleForm, HandleMassForm, WordsForm
from workshop.stock.models import Construction, Handle, HandleState
from workshop.stock.seen import currency_for, faults_of, price_words
from workshop.stock.short import handle_needs
from workshop.stock.words import entry_words, refusal

# What the list can be narrowed to; "here" is whatever is neither glued in nor thrown out.
SHOWN = ("here", *HandleState.values)


@require_safe
@open_to(STAFF)
def handles_page(request: SignedInRequest) -> HttpResponse:
    """Show the handles by construction."""
    shown = request.GET.get("shown", "here")
    if shown not in SHOWN:
        raise Http404
    found = Handle.objects.lying_here() if shown == "here" else Handle.objects.filter(state=shown)
    rows = list(found.select_related("bat__commission"))
    groups = [(one.label, [row for row in rows if row.construction == one.value]) for one in Construction]
    context = {
        "groups": [(words, some) for words, some in groups if some],
        "number": len(rows),
        "needs": handle_needs(),
        "shown": shown,
        "states": [("here", gettext("in stock and reserved")), *HandleState.choices],
    }
    return render(request, "stock/handles.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def take_in(request: SignedInRequest) -> HttpResponse:
    """Take a handle in; the next one is likely of the same batch, so that its fields stand as they were."""
    currency = currency_for(request.user)
    if request.method != "POST":
        form = HandleForm(currency=currency, initial=_like_the_last())
        return render(request, "stock/handle_take_in.html", {"form": form})
    form = HandleForm(request.POST, currency=currency)
    if form.is_valid():
        try:
            handle = handles.take_in(form.handle(), by=request.user)
        except Refused as error:
            form.add_error("number", refusal(error.key))
        else:
            messages.success(request, gettext("Handle %(number)s is in stock.") % {"number": handle.label})
            return redirect("stock:handle-take-in")
    return render(request, "stock/handle_take_in.html", {"form": form}, status=422)


def _like_the_last() -> dict[str, Any]:
    last = Handle.objects.order_by("-number").first()
    same = {"construction": last.construction, "springs": last.springs, "batch": last.batch} if last else {}
    return {**same, "number": HandleForm.next_number()}


@require_safe
@open_to(STAFF)
def handle_page(request: SignedInRequest, code: str) -> HttpResponse:
    """Show one handle with what befell it."""
    return _show(request, _handle(code))


@require_POST
@open_to(STAFF)
@once
def weigh(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep a new reading of a raw handle's mass."""
    handle, form = _handle(code), HandleMassForm(request.POST)
    if not form.is_valid():
        return _show(request, handle, mass_form=form)
    return _done(request, handle, handles.weigh_again, mass=form.cleaned_data["mass"], by=request.user)


@require_POST
@open_to(STAFF)
@once
def lay_back(request: SignedInRequest, code: str) -> HttpResponse:
    """Take a reserved handle from its bat, back into stock."""
    handle = _handle(code)
    if handle.bat is None:
        return _show(request, handle, refused=refusal("not_now"))
    return _done(request, handle, lambda _handle: handles.lay_back_handle(handle.bat, by=request.user))


@require_POST
@open_to(STAFF)
@once
def reject(request: SignedInRequest, code: str) -> HttpResponse:
    """Throw a handle out, and say why."""
    handle, form = _handle(code), WordsForm(request.POST)
    if not form.is_valid():
        return _show(request, handle, words_form=form)
    return _done(request, handle, handles.reject_handle, form.cleaned_data["words"], request.user)


def _done(request: SignedInRequest, handle: Handle, verb: Any, *args: Any, **kwargs: Any) -> HttpResponse:
    """Carry a verb out on a handle, or say on its page why not."""
    try:
        verb(handle, *args, **kwargs)
    except Refused as error:
        return _show(request, _handle(handle.code), refused=refusal(error.key))
    return redirect("stock:handle", code=handle.code)


def _show(request: HttpRequest, handle: Handle, refused: str = "", **page_forms: Any) -> HttpResponse:
    raw = handle.state in (HandleState.IN_STOCK, HandleState.RESERVED)
    faults = faults_of(page_forms, refused)
    context = {
        "handle": handle,
        "price": price_words(handle.price, currency_for(request.user)),  # type: ignore[arg-type]
        "can_lay_back": handles.can("lay_back", handle),
        "mass_form": HandleMassForm(auto_id="mass_%s") if raw else None,
        "words_form": WordsForm(auto_id="reject_%s") if handles.can("reject", handle) else None,
        "entries": [
            {"at": entry.at, "words": entry_words(entry)} for entry in handle.entries.select_related("by")
        ],
        "faults": faults,
        **page_forms,
    }
    return render(request, "stock/handle.html", context, status=422 if faults else 200)


def _handle(code: str) -> Handle:
    handle = Handle.objects.select_related("bat__commission__player").filter(code=code).first()
    if handle is None:
        raise Http404
    return handle
