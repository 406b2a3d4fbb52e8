"""What is known of the workshop itself, changed by the maker."""

from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.db.models import F
from django.forms.models import model_to_dict
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.people.models import Workshop
from orders.people.once import once
from workshop.about_form import AboutForm, as_typed

SUMS = ("price_from", "price_to")


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(MAKER)
@once
def about(request: SignedInRequest) -> HttpResponse:
    """Show and change the workshop's name, place, tax, zone, and what it states of price and wait.

    The currency stays: prices already agreed are in it.
    """
    workshop = Workshop.objects.the_one()
    if workshop is None:
        raise Http404
    said = {**request.POST.dict(), "currency": workshop.currency} if request.method == "POST" else None
    form = AboutForm(said, initial=_initial(workshop))
    context: dict[str, Any] = {"form": form, "seen_version": request.POST.get("version", workshop.version)}
    if request.method == "POST" and form.is_valid():
        if keep(form.cleaned_data, seen_version=request.POST.get("version", "")):
            messages.success(request, _("What you changed about the workshop is kept."))
            return redirect("workshop-about")
        now = Workshop.objects.get(pk=workshop.pk)
        # Sending it once more means: knowing of the other one's changes.
        context |= {"seen_version": now.version, "theirs": differing(form, now)}
        return render(request, "staff/about.html", context, status=409)
    return render(request, "staff/about.html", context, status=422 if form.errors else 200)


def _initial(workshop: Workshop) -> dict[str, Any]:
    sums = {name: as_typed(getattr(workshop, name), workshop.currency) for name in SUMS}
    return {**model_to_dict(workshop), **sums}


def keep(said: Mapping[str, Any], *, seen_version: str) -> bool:
    """Write what is said of the workshop if nobody has since it was read; tell whether it was written."""
    if not (seen_version.isascii() and seen_version.isdigit() and len(seen_version) < 10):
        return False
    as_read = Workshop.objects.filter(version=int(seen_version))
    return bool(as_read.update(version=F("version") + 1, **said))


def differing(form: AboutForm, workshop: Workshop) -> list[tuple[str, object, object]]:
    """Return what differs between form and row: the label, what is kept, what was typed."""
    pairs = [(name, getattr(workshop, name), said) for name, said in form.cleaned_data.items()]
    return [
        (str(form[name].label), _shown(name, kept, workshop), _shown(name, said, workshop))
        for name, kept, said in pairs
        if kept != said
    ]


def _shown(name: str, value: Any, workshop: Workshop) -> object:
    """Show a sum as one types it, and nothing for what is empty."""
    if name in SUMS:
        return as_typed(value, workshop.currency)
    return "" if value is None else value
