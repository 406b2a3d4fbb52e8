"""The cleft of a bat: choosing it, laying it back."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST

from orders.commissions.access import bat_for, sees_prices
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from workshop.bench import page
from workshop.bench.beside import MOST, chosen_beside, laid_beside, spoken_against
from workshop.bench.lie_form import lie_faults, read_lie
from workshop.bench.lies import Lie, lie_words
from workshop.bench.rows import take_back_row
from workshop.bench.selection import LieMeanwhile, orientation_of, other_hand_words
from workshop.bench.selection import orient as orient_cleft
from workshop.bench.spells import free_for
from workshop.bench.views import change, show
from workshop.bench.work import (
    Work,
    candidates,
    choose_cleft,
    lay_back,
    same_as_seen,
    seen_mark,
    work_on,
)
from workshop.rack.candidates import needs_of
from workshop.rack.clefts import cleft_of_round
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
def orient(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep how the cleft lies in the bat: toe end, face and outside edge."""
    found, work = bat_for(request.user, code), _work(request, code)
    typed = read_lie(request.POST)
    try:
        same_as_seen(found, request.POST.get("seen", ""))
        free_for(found, request.user)
        if typed.lie is None or typed.outside_edge is None:
            return show(request, found, faults=lie_faults(typed), more={"lie_typed": typed.shown})
        kept = orient_cleft(
            work, typed.lie, outside_edge=typed.outside_edge, seen=typed.seen, by=request.user
        )
    except Refused as error:
        fresh = bat_for(request.user, code)
        faults = _lie_refused(error, _work(request, code))
        return show(request, fresh, faults=faults, more={"lie_typed": typed.shown})
    warned = other_hand_words(work, typed.lie, kept.outside_edge)
    if warned:
        messages.warning(request, warned)
    return redirect(f"{reverse('bench:bat', args=[code])}#orientation")


@require_POST
@open_to(STAFF)
@once
def take_back(request: SignedInRequest, code: str) -> HttpResponse:
    """Take back how the cleft lies; it stays in the history with who took it back."""

    def undo(work: Work) -> None:
        stands = orientation_of(work.bat)
        if stands is None or request.POST.get("entry") != str(stands.pk):
            raise Refused("taken_back")
        stands.bat = work.bat
        take_back_row(stands, by=request.user)

    return change(request, code, undo, anchor="orientation")


def _lie_refused(error: Refused, work: Work) -> list[page.Fault]:
    if not isinstance(error, LieMeanwhile):
        return page.refused_words(error, work)
    stands = orientation_of(work.bat)
    if stands is None:
        words = gettext("Somebody has taken back how the cleft lies since this page was opened. Look again.")
        return [page.Fault("orientation", words)]
    words = gettext("%(name)s has said meanwhile how it lies: %(lie)s. Yours is not kept: look, then decide.")
    lie = lie_words(Lie(stands.toe_end, stands.face_side), stands.outside_edge)
    return [page.Fault("orientation", words % {"name": stands.by.name, "lie": lie})]


def _choices(request: SignedInRequest, work: Work, faults: list[page.Fault] | None = None) -> HttpResponse:
    open_now = work.bat.stage in (Stage.WAITING, Stage.CLEFT_SELECTION)
    found = candidates(work) if open_now else []
    ticked = request.GET.getlist("beside")
    compared = chosen_beside(found[:MOST_SHOWN], ticked)
    context = {
        "bat": work.bat,
        "commission": work.bat.commission,
        "build": work.build,
        "needs": needs_of(work.build, work.book),
        "found": found[:MOST_SHOWN],
        "beside": laid_beside(work, compared, with_prices=sees_prices(request.user)),
        "beside_codes": {one.cleft.code for one in compared},
        "against": spoken_against(work, found[:MOST_SHOWN]),
        "too_many": len(set(ticked)) > MOST,
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
