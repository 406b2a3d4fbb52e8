"""The page of matching, and what a maker decides there of one pair."""

from collections.abc import Callable

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from orders.commissions.access import bat_for
from orders.commissions.models import Commission, Proposal
from orders.commissions.refusals import Refused
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.people.once import once
from workshop.match import page, taking
from workshop.match.floor import matched
from workshop.match.words import refusal
from workshop.rack.models import Cleft

# A page is not kept waiting for longer; the worker does the rest.
SECONDS = 1.5


@require_GET
@open_to(MAKER)
def match_page(request: SignedInRequest) -> HttpResponse:
    """Show who gets which cleft, why, and who gets none."""
    return _show(request)


@require_POST
@open_to(MAKER)
@once
def take(request: SignedInRequest, code: str) -> HttpResponse:
    """Reserve a cleft for a bat."""
    bat = bat_for(request.user, code)
    said = gettext("Cleft %(cleft)s is reserved for the bat of %(bat)s.")
    return _done(request, bat.commission, said, lambda cleft: taking.take(cleft, bat, by=request.user))


@require_POST
@open_to(MAKER)
@once
def refuse(request: SignedInRequest, code: str) -> HttpResponse:
    """Leave a cleft out for a bat."""
    bat = bat_for(request.user, code)
    said = gettext("Cleft %(cleft)s is no longer offered for %(bat)s.")
    return _done(
        request,
        bat.commission,
        said,
        lambda cleft: taking.refuse(cleft, bat, by=request.user),
        back=f"#bat-{bat.code}",
    )


@require_POST
@open_to(MAKER)
@once
def think_better(request: SignedInRequest, code: str) -> HttpResponse:
    """Offer a refused cleft for a bat again."""
    bat = bat_for(request.user, code)
    said = gettext("Cleft %(cleft)s may be offered for %(bat)s again.")
    return _done(
        request,
        bat.commission,
        said,
        lambda cleft: taking.think_better(cleft, bat),
        back=f"#bat-{bat.code}",
    )


@require_POST
@open_to(MAKER)
@once
def keep_aside(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep a cleft aside for a bat that is only proposed."""
    proposal = Proposal.objects.select_related("commission").filter(code=code).first()
    if proposal is None:
        raise Http404
    said = gettext("Cleft %(cleft)s is kept aside for the proposal of %(bat)s.")
    return _done(
        request,
        proposal.commission,
        said,
        lambda cleft: taking.keep_aside(cleft, proposal, by=request.user),
    )


def _done(
    request: SignedInRequest,
    commission: Commission,
    said: str,
    verb: Callable[[Cleft], None],
    *,
    back: str = "",
) -> HttpResponse:
    """Do what was decided of the cleft that the form names, as it stands now, or say why not."""
    cleft = Cleft.objects.filter(code=request.POST.get("cleft", "")).first()
    if cleft is None:
        return _show(request, refused=refusal("no_cleft"), status=422)
    try:
        verb(cleft)
    except Refused as refused:
        return _show(request, refused=refusal(refused.key), status=409)
    messages.success(request, said % {"cleft": cleft.label, "bat": commission.reference})
    address = reverse("match:match") + ("?proposed=1" if request.POST.get("proposed") else "")
    return redirect(address + back)


def _show(request: SignedInRequest, *, refused: str = "", status: int = 200) -> HttpResponse:
    proposed = bool(request.GET.get("proposed") or request.POST.get("proposed"))
    today = timezone.localdate()
    floor = matched(today=today, proposed=proposed, seconds=SECONDS)
    context = page.context(floor, today, proposed=proposed, page=request.GET.get("page"))
    faults = [{"field_id": "", "words": refused}] if refused else []
    return render(request, "match/match.html", {**context, "faults": faults}, status=status)
