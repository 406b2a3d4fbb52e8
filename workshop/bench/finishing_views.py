"""Coats of oil, and what is taken from the store for a bat."""

from django.http import Http404, HttpResponse
from django.views.decorators.http import require_POST

from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from workshop.bench import materials
from workshop.bench.finishing import lay_coat, take_back_coat
from workshop.bench.views import change


@require_POST
@open_to(STAFF)
@once
def coat(request: SignedInRequest, code: str) -> HttpResponse:
    """Note a coat of oil."""
    return change(request, code, lambda work: lay_coat(work, by=request.user), anchor="coats")


@require_POST
@open_to(STAFF)
@once
def take_back(request: SignedInRequest, code: str) -> HttpResponse:
    """Take the note of a coat back."""
    row = _number(request)
    return change(request, code, lambda work: take_back_coat(work, row, by=request.user), anchor="coats")


@require_POST
@open_to(STAFF)
@once
def take(request: SignedInRequest, code: str) -> HttpResponse:
    """Take something from the store for the bat."""
    supply, amount = request.POST.get("supply", ""), request.POST.get("amount", "")
    return change(
        request,
        code,
        lambda work: materials.take(work, code=supply, amount=amount, by=request.user),
        anchor="materials",
        typed={"supply": supply, "amount": amount},
    )


@require_POST
@open_to(STAFF)
@once
def give_back(request: SignedInRequest, code: str) -> HttpResponse:
    """Put back into the store what was noted as taken."""
    row = _number(request)
    return change(
        request, code, lambda work: materials.give_back(work, row, by=request.user), anchor="materials"
    )


def _number(request: SignedInRequest) -> int:
    text = request.POST.get("entry", "")
    if not (text.isascii() and text.isdigit() and len(text) < 12):
        raise Http404
    return int(text)
