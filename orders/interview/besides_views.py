"""The page of other whole bats, asked for from the draft."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from fitting.questions import FIRST_PAGE
from orders.interview.access import fitting_for
from orders.interview.besides import told_bats
from orders.interview.drafts import is_complete
from orders.interview.views import kept_from_caches
from orders.people.doors import ANYONE, open_to
from orders.words.units import system_of


@require_http_methods(["GET", "HEAD"])
@open_to(ANYONE)
@kept_from_caches
def besides(request: HttpRequest, code: str) -> HttpResponse:
    """Show other whole bats beside the recommended one."""
    fitting = fitting_for(request, code)
    if not is_complete(fitting):
        return redirect("interview:page", code, FIRST_PAGE)
    bats = told_bats(fitting.sheet, system_of(fitting.answers))
    name = "interview/besides.html#besides" if request.headers.get("HX-Request") else "interview/besides.html"
    return render(request, name, {"fitting": fitting, "bats": bats})
