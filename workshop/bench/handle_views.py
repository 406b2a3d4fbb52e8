"""The handle of a bat: taken from stock, laid back, thrown out; why a joint past its limit goes on."""

from django.http import HttpResponse
from django.utils.translation import gettext
from django.views.decorators.http import require_POST

from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from workshop.bench import handle
from workshop.bench.reasons import give_reason
from workshop.bench.views import change
from workshop.stock.handles import lay_back_handle


@require_POST
@open_to(STAFF)
@once
def choose(request: SignedInRequest, code: str) -> HttpResponse:
    """Reserve a handle of the stock for the bat."""
    chosen = request.POST.get("handle", "")
    return change(request, code, lambda work: handle.choose(work, chosen, by=request.user), anchor="handle")


@require_POST
@open_to(STAFF)
@once
def lay_back(request: SignedInRequest, code: str) -> HttpResponse:
    """Lay the handle back that is not glued in yet."""
    return change(request, code, lambda work: lay_back_handle(work.bat, by=request.user), anchor="handle")


@require_POST
@open_to(STAFF)
@once
def reject(request: SignedInRequest, code: str) -> HttpResponse:
    """Throw the bat's handle out, with the reason."""
    words = request.POST.get("words", "")
    return change(
        request,
        code,
        lambda work: handle.reject(work, words, by=request.user),
        anchor="handle",
        typed={"handle_words": words},
    )


@require_POST
@open_to(STAFF)
@once
def reason(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep why the bat goes on with a reading past its limit."""
    about, words = request.POST.get("about", ""), request.POST.get("words", "")
    return change(
        request,
        code,
        lambda work: give_reason(work, about=about, words=words, by=request.user),
        anchor="joint",
        said=gettext("Kept."),
    )
