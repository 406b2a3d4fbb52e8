"""The returns desk: what came back, and deciding on one."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from fitting.bat.weigh import weigh
from orders.care import returns
from orders.care.models import Return
from orders.care.record import (
    return_told,
    returns_told,
    rounds_told,
)
from orders.commissions.built import built_told
from orders.commissions.refusals import Refused
from orders.messages.models import Photo
from orders.messages.photographs import photographs_listed
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.people.models import Workshop
from orders.people.once import once
from orders.words.drawing import drawing_for
from orders.words.returns import decision_words
from orders.words.states import refusal_words
from workshop.returns.adjustments import NotPossible, aimed
from workshop.returns.deciding import OnDesk, decide, effects, on_desk, together
from workshop.returns.forms import DecideForm
from workshop.returns.words import (
    BEYOND_REPAIR,
    DESK_CAUTIONS,
    cannot_words,
    changes_words,
    not_possible_words,
    offered,
)

CLOSED_SHOWN = 20


@require_safe
@open_to(MAKER)
def desk(request: SignedInRequest) -> HttpResponse:
    """Show what came back: to be decided, on its way over the bench, done with."""
    rows = Return.objects.select_related("commission__player", "bat")
    context = {
        "asked": [_line(row) for row in rows.filter(state=Return.State.ASKED).order_by("asked_at")],
        "decided": [_line(row) for row in rows.filter(state=Return.State.DECIDED).order_by("decided_at")],
        "closed": [
            _line(row) for row in rows.filter(state=Return.State.CLOSED).order_by("-closed_at")[:CLOSED_SHOWN]
        ],
    }
    return render(request, "returns/desk.html", context)


def _line(row: Return) -> dict[str, Any]:
    return {"found": row, "decision": decision_words(row.decision), "commission": row.commission}


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(MAKER)
@once
def one(request: SignedInRequest, code: str) -> HttpResponse:
    """Show one return with the bat beside it, and decide on it."""
    on = _on_desk(code)
    form = _form(request, on)
    if request.method != "POST" or not form.is_valid():
        return _page(request, on, form)
    try:
        decide(on, form, by=request.user)
    except NotPossible as refused:
        form.add_error("adjustments", not_possible_words(refused.why))
        return _page(request, on, form)
    except Refused as refused:
        return _page(request, _on_desk(code), form, refusal=refusal_words(refused))
    messages.success(request, _("Decided. The letter to the player is on its way."))
    return redirect("returns:one", code=code)


@require_POST
@open_to(MAKER)
def look(request: SignedInRequest, code: str) -> HttpResponse:
    """Say what the ticked adjustments come to, keeping nothing; just that for htmx."""
    on = _on_desk(code)
    form = _form(request, on)
    form.is_valid()
    return _page(request, on, form, looking=True)


def _on_desk(code: str) -> OnDesk:
    found = (
        Return.objects.select_related(
            "commission__player", "commission__holder", "bat__agreed__build_version", "bat__commission"
        )
        .filter(code=code)
        .first()
    )
    if found is None:
        raise Http404
    try:
        return on_desk(found)
    except Refused as error:
        raise Http404 from error


def _form(request: SignedInRequest, on: OnDesk) -> DecideForm:
    agreed, workshop = on.found.bat.agreed, Workshop.objects.the_one()
    return DecideForm(
        request.POST or None,
        currency=agreed.currency if agreed else workshop.currency if workshop else "",
        agreed=agreed.price if agreed else 0,
        today=timezone.localdate(),
    )


def _page(
    request: SignedInRequest,
    on: OnDesk,
    form: DecideForm,
    *,
    refusal: str = "",
    looking: bool = False,
) -> HttpResponse:
    found = on.found
    inspection = found.bat.inspections.order_by("-at", "-pk").first()
    can_decide = returns.can_decide(found, request.user)
    chosen = form.chosen() if form.is_bound and hasattr(form, "cleaned_data") else ()
    context: dict[str, Any] = {
        "told": return_told(found, prices=True),
        "found": found,
        "commission": found.commission,
        "bat": found.bat,
        "built": built_told(on.built, inspection, book=on.book, staff=True),
        "rounds": rounds_told(found.bat, on.book),
        "others": [told for told in returns_told(found.commission, prices=True) if told.found != found],
        "photos": photographs_listed(
            Photo.objects.filter(commission=found.commission, stage=returns.picture_mark(found))
        ),
        "can_decide": can_decide,
        "form": form,
        "refusal": refusal,
        "sum": _sum(on, chosen),
        "looking": looking,
    }
    if looking and request.headers.get("HX-Request") == "true":
        return render(request, "returns/one.html#sum", context)
    context["drawing"] = _drawing(on, chosen)
    if can_decide:
        kinds, not_possible = offered(effects(on), set(chosen))
        context |= {
            "kinds": kinds,
            "not_possible": not_possible,
            "cannot": cannot_words(),
            "beyond": str(BEYOND_REPAIR),
            "cautions": [str(words) for words in DESK_CAUTIONS],
        }
    status = 409 if refusal else 422 if form.errors and not looking else 200
    return render(request, "returns/one.html", context, status=status)


def _sum(on: OnDesk, chosen: tuple[str, ...]) -> dict[str, str] | None:
    """Say what the ticked adjustments come to together, from what the scales said."""
    if not chosen:
        return None
    effect = together(on, chosen)
    if effect.not_possible:
        return {"not_possible": not_possible_words(effect.not_possible)}
    mass, balance, pickup = changes_words(effect)
    return {
        "mass": mass,
        "balance": balance,
        "pickup": pickup,
        "then": f"{on.mass_g + effect.mass_g:.0f} g",
    }


def _drawing(on: OnDesk, chosen: tuple[str, ...]) -> dict[str, Any]:
    """Draw the bat as it was built, the agreed or the adjusted one in broken lines."""
    other = on.agreed
    if chosen:
        try:
            other = (
                aimed(on.built, chosen, on.book, mass_g=on.mass_g, pickup_kg_m2=on.pickup_kg_m2) or on.agreed
            )
        except NotPossible:
            other = on.agreed
    return drawing_for(on.built, weigh(on.built, book=on.book), compare=other)
