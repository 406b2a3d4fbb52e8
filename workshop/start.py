"""The first page of the site: what is made here, and where to begin."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from orders.people.doors import ANYONE, open_to
from orders.people.models import Workshop


@require_safe
@open_to(ANYONE)
def start(request: HttpRequest) -> HttpResponse:
    """Show what this workshop does; lead those who work here to their day, and a first visitor to opening."""
    if Workshop.objects.the_one() is None:
        return redirect("people:open")
    user = request.user
    if user.is_authenticated and user.is_staff_role:
        return redirect("review:morning" if user.is_maker else "bench:bats")
    return render(request, "people/start.html")
