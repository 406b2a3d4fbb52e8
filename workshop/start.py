"""The first page of the site: what is made here, and where to begin."""

from functools import lru_cache

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.safestring import SafeString
from django.utils.translation import get_language
from django.views.decorators.http import require_safe

from fitting.recommend import recommend
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from orders.people.doors import ANYONE, open_to
from orders.people.models import Workshop
from orders.words.drawing import drawing_for

# Whose bat is drawn on the first page: a grown club player who has said no more than must be said.
SOMEBODY = {"sheet": 1, "player": {"age_years": 30, "height_mm": 1780}, "level": "club"}


@require_safe
@open_to(ANYONE)
def start(request: HttpRequest) -> HttpResponse:
    """Show what this workshop does; lead those who work here to their day, and a first visitor to opening."""
    if Workshop.objects.the_one() is None:
        return redirect("people:open")
    user = request.user
    if user.is_authenticated and user.is_staff_role:
        return redirect("review:morning" if user.is_maker else "bench:bats")
    return render(request, "people/start.html", {"drawing": _somebodys_bat(get_language())})


@lru_cache(maxsize=16)
def _somebodys_bat(language: str | None) -> dict[str, SafeString | None]:
    """Draw the bat that the program would recommend; the same for everybody, so once a language."""
    found = recommend(read_sheet(FittingSheet, SOMEBODY))
    return drawing_for(found.build, found.weighing)
