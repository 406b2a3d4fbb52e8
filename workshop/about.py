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
from orders.people.forms import WorkshopForm
from orders.people.models import Workshop
from orders.people.once import once


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(MAKER)
@once
def about(request: SignedInRequest) -> HttpResponse:
    """Show and change the workshop's name, place, tax and zone.

    The currency stays: prices already agreed are in it.
    """
    workshop = Workshop.objects.the_one()
    if workshop is None:
        raise Http404
    said = {**request.POST.dict(), "currency": workshop.currency} if request.method == "POST" else None
    form = WorkshopForm(said, initial=model_to_dict(workshop))
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


def keep(said: Mapping[str, Any], *, seen_version: str) -> bool:
    """Write what is said of the workshop if nobody has since it was read; tell whether it was written."""
    if not (seen_version.isascii() and seen_version.isdigit() and len(seen_version) < 10):
        return False
    as_read = Workshop.objects.filter(version=int(seen_version))
    return bool(as_read.update(version=F("version") + 1, **said))


def differing(form: WorkshopForm, workshop: Workshop) -> list[tuple[str, object, object]]:
    """Return what differs between form and row: the label, what is kept, what was typed."""
    pairs = [(name, getattr(workshop, name), said) for name, said in form.cleaned_data.items()]
    return [(str(form[name].label), kept, said) for name, kept, said in pairs if kept != said]
