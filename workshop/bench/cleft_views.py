"""The cleft of a bat: choosing it, laying it back, giving it up."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST

from orders.commissions.access import bat_for
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from workshop.bench import page
from workshop.bench.views import change
from workshop.bench.work import (
    Work,
    candidates,
    choose_cleft,
    fail_cleft,
    lay_back,
    same_as_seen,
    seen_mark,
    work_on,
)
from workshop.rack.candidates import needs_of
from workshop.rack.clefts import NEEDS_REASON, cleft_of_round
from workshop.rack.models import Cleft

MOST_SHOWN = 12


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def cleft(request: SignedInRequest, code: str) -> HttpResponse:
    """Show which clefts can become this bat, and reserve one."""
    work = _work(request, code)
    if request.method != "POST":
        return _choices(request, work)
    try:
        same_as_seen(work.bat, request.POST.get("seen", ""))
        chosen = Cleft.objects.filter(code=request.POST.get("cleft", "")).first()
        if chosen is None:
            raise Http404
        choose_cleft(work, chosen, by=request.user)
    except Refused as error:
        return _choices(request, _work(request, code), page.refused_words(error))
    messages.success(
        request, gettext("Cleft %(number)s is reserved for this bat.") % {"number": chosen.label}
    )
    return redirect("bench:bat", code=code)


@require_POST
@open_to(STAFF)
@once
def put_back(request: SignedInRequest, code: str) -> HttpResponse:
    """Lay the bat's uncut cleft back on the rack."""
    return change(request, code, lambda work: lay_back(work, by=request.user))


@require_POST
@open_to(STAFF)
@once
def failed(request: SignedInRequest, code: str) -> HttpResponse:
    """Give up the cleft: for a smaller size or thrown out, with the reason; another is to be chosen."""
    verb, words = request.POST.get("verb", ""), request.POST.get("words", "")

    def give_up(work: Work) -> None:
        if verb not in NEEDS_REASON:
            raise Http404
        fail_cleft(work, verb, by=request.user, words=words)

    return change(request, code, give_up, typed={"words": words, "verb": verb})


def _choices(request: SignedInRequest, work: Work, faults: list[page.Fault] | None = None) -> HttpResponse:
    open_now = work.bat.stage in (Stage.WAITING, Stage.CLEFT_SELECTION)
    found = candidates(work) if open_now else []
    context = {
        "bat": work.bat,
        "commission": work.bat.commission,
        "build": work.build,
        "needs": needs_of(work.build, work.book),
        "found": found[:MOST_SHOWN],
        "more": max(0, len(found) - MOST_SHOWN),
        "chosen": cleft_of_round(work.bat),
        "open_now": open_now,
        "seen": seen_mark(work.bat),
        "faults": faults or [],
    }
    return render(request, "bench/cleft.html", context, status=422 if faults else 200)


def _work(request: SignedInRequest, code: str) -> Work:
    try:
        return work_on(bat_for(request.user, code))
    except Refused as error:
        raise Http404 from error
