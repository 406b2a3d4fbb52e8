"""Proposing a build with price and dates, taking a proposal back, cancelling."""

from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from orders.commissions import lifecycle
from orders.commissions.access import commission_for
from orders.commissions.book_in_force import book_in_force
from orders.commissions.builds import build_of, weighing_of
from orders.commissions.cancelling import what_cancelling_does
from orders.commissions.forms import CancelForm
from orders.commissions.models import BuildVersion, Commission
from orders.commissions.refusals import Refused
from orders.commissions.shown import figures
from orders.commissions.snapshots import Offer
from orders.money.amounts import price_of
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.people.models import User, Workshop
from orders.people.once import once
from orders.words.states import cancelling_words, refusal_words
from workshop.rack.candidates import Candidate, candidates_for
from workshop.rack.clefts import CleftRefused
from workshop.rack.holds import hold
from workshop.review.forms import ProposeForm, WithdrawForm
from workshop.review.views import review_page

# More than these nobody compares; the rack's own page shows all.
MOST_CANDIDATES = 8


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(MAKER)
@once
def propose(request: SignedInRequest, code: str) -> HttpResponse:
    """Offer a build sheet with price and dates, and keep up to two clefts aside for it."""
    commission = commission_for(request.user, code)
    if not lifecycle.can_propose(commission, request.user):
        return review_page(request, commission, refused=Refused("not_now"))
    versions = list(commission.builds.order_by("-number"))
    asked = request.POST.get("build") or request.GET.get("build") or ""
    version = next((one for one in versions if str(one.number) == asked), versions[0])
    candidates = candidates_for(build_of(version), book_in_force())[:MOST_CANDIDATES]
    form = _form(request, versions, candidates, version)
    if request.method == "POST" and form.is_valid():
        try:
            _offer(commission, version, form, candidates, by=request.user)
        except CleftRefused:
            form.add_error("clefts", _("One of these clefts was taken by somebody else just now."))
        except Refused as refused:
            form.add_error(None, refusal_words(refused))
        else:
            messages.success(request, _("Proposed. The letter to the player is on its way."))
            return redirect("review:review", code)
    context = {
        "commission": commission,
        "form": form,
        "figures": figures(build_of(version), weighing_of(version)),
        "candidates": candidates,
    }
    return render(request, "review/propose.html", context, status=422 if form.errors else 200)


@transaction.atomic
def _offer(
    commission: Commission,
    version: BuildVersion,
    form: ProposeForm,
    candidates: list[Candidate],
    *,
    by: User,
) -> None:
    """Propose and hold in one transaction: a cleft that is gone leaves no proposal behind."""
    said = form.cleaned_data
    workshop = Workshop.objects.get()
    held = [one for one in candidates if one.cleft.number in said["clefts"]]
    offer = Offer(
        price=price_of(
            said["price"],
            currency=workshop.currency,
            tax_percent=workshop.tax_percent,
            with_tax=workshop.prices_with_tax,
        ),
        ready_from=said["ready_from"],
        ready_to=said["ready_to"],
        valid_until=form.last_moment(),
        words=said["words"].strip(),
        clefts=tuple(_told(one) for one in held),
    )
    proposal = lifecycle.propose(commission, by=by, build_version=version, offer=offer)
    for one in held:
        hold(one.cleft, proposal, by=by)


def _told(candidate: Candidate) -> dict[str, Any]:
    """Return what the player is told of a cleft that is kept aside."""
    return {
        "label": candidate.cleft.label,
        "grade": candidate.cleft.grade,
        "grains": candidate.cleft.grains,
        "mass_g": candidate.mass_g,
    }


def _form(
    request: SignedInRequest,
    versions: list[BuildVersion],
    candidates: list[Candidate],
    version: BuildVersion,
) -> ProposeForm:
    workshop = Workshop.objects.get()
    label = (
        _("Price in %(currency)s, with tax")
        if workshop.prices_with_tax
        else _("Price in %(currency)s, without tax")
    )
    return ProposeForm(
        request.POST or None,
        builds=versions,
        clefts=[(one.cleft.number, candidate_words(one)) for one in candidates],
        currency=workshop.currency,
        today=timezone.localdate(),
        price_label=label % {"currency": workshop.currency},
        initial={"build": version.number},
    )


def candidate_words(candidate: Candidate) -> str:
    """Say one cleft as a choice: number, grade, grains, density, and the bat that it would make."""
    cleft = candidate.cleft
    words = _(
        "%(label)s · grade %(grade)s · %(grains)s grains · %(density).0f kg/m³ · %(mass).0f ± %(sd).0f g"
    )
    return words % {
        "label": cleft.label,
        "grade": cleft.grade,
        "grains": cleft.grains or "?",
        "density": candidate.density.pressed,
        "mass": candidate.mass_g,
        "sd": candidate.mass_sd_g,
    }


@require_POST
@open_to(MAKER)
@once
def withdraw(request: SignedInRequest, code: str) -> HttpResponse:
    """Take the open proposal back, telling the player why."""
    commission = commission_for(request.user, code)
    form = WithdrawForm(request.POST)
    why = form.cleaned_data["why"] if form.is_valid() else ""
    try:
        lifecycle.withdraw(commission, by=request.user, why=why)
    except Refused as refused:
        return review_page(request, commission_for(request.user, code), refused=refused)
    messages.success(request, _("The proposal is taken back; clefts kept aside for it are free."))
    return redirect("review:review", code)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(MAKER)
@once
def cancel(request: SignedInRequest, code: str) -> HttpResponse:
    """Ask whether it is meant, telling what happens, and cancel."""
    commission = commission_for(request.user, code)
    if not lifecycle.can_cancel(commission, request.user):
        return review_page(request, commission, refused=Refused("not_now"))
    form = CancelForm(request.POST or None, reason_needed=True)
    if request.method != "POST" or not form.is_valid():
        context = {
            "commission": commission,
            "form": form,
            "effects": cancelling_words(what_cancelling_does(commission)),
        }
        return render(request, "review/cancel.html", context, status=422 if form.errors else 200)
    try:
        lifecycle.cancel(commission, by=request.user, why=form.cleaned_data["why"])
    except Refused as refused:
        return review_page(request, commission_for(request.user, code), refused=refused)
    messages.success(request, _("The commission is cancelled and its player told."))
    return redirect("review:review", code)
