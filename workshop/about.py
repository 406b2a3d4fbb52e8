"""What is known of the workshop itself, changed by the maker."""

from django.contrib import messages
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
    if request.method == "POST" and form.is_valid():
        for name, value in form.cleaned_data.items():
            setattr(workshop, name, value)
        workshop.save(update_fields=list(form.cleaned_data))
        messages.success(request, _("What you changed about the workshop is kept."))
        return redirect("workshop-about")
    return render(request, "staff/about.html", {"form": form}, status=422 if form.errors else 200)
