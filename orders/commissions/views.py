"""What a player or guardian sees of their commissions, and answers."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from fitting.drawing import bat_small
from fitting.sheets.build_sheet import BuildSheet
from orders.commissions import lifecycle
from orders.commissions.access import commission_for
from orders.commissions.book_in_force import book_in_force
from orders.commissions.builds import sheet_of
from orders.commissions.built import built_figures, consent_told
from orders.commissions.cancelling import what_cancelling_does
from orders.commissions.consents import answer_consent, can_answer
from orders.commissions.forms import AnswerForm, CancelForm, ChangeForm
from orders.commissions.models import Bat, Commission, Consent
from orders.commissions.promising import last_move
from orders.commissions.refusals import Refused
from orders.commissions.shown import (
    bat_meant,
    differences,
    figures,
    latest_proposal,
    letters_to,
    offer_shown,
    part_at_work,
    photos_shown,
    stage_places,
    where_it_hits,
)
from orders.commissions.states import ProposalState, State
from orders.commissions.transitions import guardian_if_needed, may
from orders.interview.models import Fitting
from orders.people.doors import HOLDER, SignedInRequest, open_to
from orders.people.once import once
from orders.words.drawing import drawing_for
from orders.words.forecast import say_lower_hand
from orders.words.states import (
    by_when,
    cancelling_words,
    journal_lines,
    moved_words,
    refusal_words,
    standing,
    what_next,
)
from orders.words.sweet_spot import DRAWN_IN, blow_words
from orders.words.units import system_of

# While it stands so the page shows how far the bat has come.
ON_THE_WAY = (State.ACCEPTED, State.MAKING, State.MENDING)
# A proposal that was neither accepted nor is open any more is history, not an offer.
SHOWN_OFFERS = (ProposalState.OPEN, ProposalState.ACCEPTED)
# The bat is made: what the instruments said counts, and the forecast is past.
MADE = (State.READY, State.DELIVERED, State.BACK)


@require_safe
@open_to(HOLDER)
def my(request: SignedInRequest) -> HttpResponse:
    """Show the holder's fittings in progress and bats, each with where it stands."""
    rows = Commission.objects.filter(holder=request.user).with_people().with_bats()
    rows = rows.prefetch_related("bats__consents")
    shown = []
    for row in rows:
        build, _weighing = bat_meant(row, latest_proposal(row))
        bat = next(iter(row.bats.all()), None)
        # Only numbers and our own words go into the drawing.
        small = mark_safe(bat_small(build, part=part_at_work(row, bat)))  # noqa: S308
        asked = bat is not None and any(one.is_open for one in bat.consents.all())
        shown.append({"commission": row, "standing": standing(row), "asked": asked, "small": small})
    fittings = Fitting.objects.drafts().held_by(request.user).select_related("player")
    return render(request, "commissions/my.html", {"fittings": fittings, "shown": shown})


@require_safe
@open_to(HOLDER)
def commission(request: SignedInRequest, code: str) -> HttpResponse:
    """Show one commission to its holder."""
    return _page(request, commission_for(request.user, code))


@require_POST
@open_to(HOLDER)
@once
def accept(request: SignedInRequest, code: str) -> HttpResponse:
    """Accept what was on the page; when something else is offered by now, show that instead."""
    found = commission_for(request.user, code)
    try:
        lifecycle.accept(found, by=request.user, seen=request.POST.get("seen", ""))
    except Refused as refused:
        return _refused(request, found, refused)
    messages.success(request, _("Agreed. The bat you saw is the bat that is made."))
    return redirect("commissions:commission", code=code)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(HOLDER)
@once
def ask_change(request: SignedInRequest, code: str) -> HttpResponse:
    """Ask the maker for another proposal."""
    found = commission_for(request.user, code)
    if not lifecycle.can_ask_change(found, request.user):
        return _refused(request, found, Refused("not_now"))
    form = ChangeForm(request.POST or None)
    if not form.is_valid():
        context = {"commission": found, "form": form}
        return render(request, "commissions/ask_change.html", context, status=422 if form.is_bound else 200)
    try:
        lifecycle.ask_change(
            found, by=request.user, field=form.cleaned_data["field"], words=form.cleaned_data["words"]
        )
    except Refused as refused:
        return _refused(request, found, refused)
    messages.success(request, _("The maker has your words and will make another proposal."))
    return redirect("commissions:commission", code=code)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(HOLDER)
@once
def cancel(request: SignedInRequest, code: str) -> HttpResponse:
    """Ask whether it is meant, telling what happens, and cancel."""
    found = commission_for(request.user, code)
    if not lifecycle.can_cancel(found, request.user):
        key = "cleft_is_cut" if may("cancel", found, request.user) else "not_now"
        return _refused(request, found, Refused(key))
    form = CancelForm(request.POST or None)
    if request.method != "POST" or not form.is_valid():
        context = {
            "commission": found,
            "form": form,
            "effects": cancelling_words(what_cancelling_does(found)),
        }
        return render(request, "commissions/cancel.html", context, status=422 if form.errors else 200)
    try:
        lifecycle.cancel(found, by=request.user, why=form.cleaned_data["why"])
    except Refused as refused:
        return _refused(request, found, refused)
    messages.success(request, _("The commission is cancelled."))
    return redirect("commissions:commission", code=code)


@require_POST
@open_to(HOLDER)
@once
def answer(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep the answer to what the maker asks about the bat; it is given once."""
    found = commission_for(request.user, code)
    asked = _asked(found, request.POST.get("consent", ""))
    form = AnswerForm(request.POST, smaller=bool(asked.length_code))
    if not form.is_valid():
        return _page(request, found, answering=form)
    try:
        answer_consent(
            asked, answer=form.cleaned_data["answer"], words=form.cleaned_data["words"], by=request.user
        )
    except Refused as refused:
        return _refused(request, found, refused)
    messages.success(request, _("The maker has your answer."))
    return redirect("commissions:commission", code=code)


def _asked(found: Commission, code: str) -> Consent:
    """Return the question of that code about a bat of this commission.

    Raises:
        Http404: there is none.
    """
    asked = Consent.objects.filter(bat__commission=found, code=code).select_related("bat").first()
    if asked is None:
        raise Http404
    # One commission in memory, not two.
    asked.bat.commission = found
    return asked


def _refused(request: SignedInRequest, found: Commission, refused: Refused) -> HttpResponse:
    """Answer a verb that was refused with the page as it stands now; 409."""
    return _page(request, commission_for(request.user, found.code), refused=refused)


def _page(
    request: SignedInRequest,
    found: Commission,
    *,
    refused: Refused | None = None,
    answering: AnswerForm | None = None,
) -> HttpResponse:
    proposal = latest_proposal(found)
    build, weighing = bat_meant(found, proposal)
    system = system_of(found.fitting.answers if found.fitting else {})
    bat = found.bats.first()
    sheet = sheet_of(found)
    inspection = bat.inspections.order_by("-at", "-pk").first() if bat and found.state in MADE else None
    measured = built_figures(build, inspection, book=book_in_force()) if inspection else []
    context: dict[str, Any] = {
        "commission": found,
        "standing": standing(found),
        "next": what_next(found),
        "by_when": by_when(found, proposal),
        "bat": bat,
        "stages": stage_places(bat) if bat and found.state in ON_THE_WAY else [],
        "drawing": drawing_for(
            build,
            weighing,
            part=part_at_work(found, bat),
            left_handed=sheet.player.batting_hand == "left",
            paper=True,
            units=DRAWN_IN[system],
        ),
        "figures": [*measured, where_it_hits(weighing, system)]
        if measured
        else figures(build, weighing, system),
        "blow": blow_words(weighing, system),
        "feel": "" if measured else say_lower_hand(weighing, sheet.present_bat),
        "differences": [] if measured else differences(sheet, build, weighing),
        "offer": offer_shown(proposal) if proposal and proposal.state in SHOWN_OFFERS else None,
        "is_open": bool(proposal and proposal.state == ProposalState.OPEN),
        "can_accept": lifecycle.can_accept(found, request.user),
        "needs_guardian": not guardian_if_needed(found, request.user),
        "can_cancel": lifecycle.can_cancel(found, request.user),
        "can_send_back": lifecycle.can_send_back(found, request.user),
        "has_record": bat is not None and bat.serial is not None,
        "journal": journal_lines(found.journal.select_related("by"), staff=False),
        "letters": letters_to(found, request.user.email),
        "photos": photos_shown(found),
        "refusal": refusal_words(refused) if refused else "",
        "moved": moved_words(last_move(found)) if found.state in ON_THE_WAY else "",
        **_question(request, build, bat, answering),
    }
    status = 409 if refused else 422 if answering else 200
    return render(request, "commissions/commission.html", context, status=status)


def _question(
    request: SignedInRequest, build: BuildSheet, bat: Bat | None, answering: AnswerForm | None
) -> dict[str, Any]:
    """Return what the maker asks about the bat, if anything waits for an answer, and what was answered."""
    asked = list(bat.consents.exclude(answer="", ended_at__isnull=False)) if bat else []
    told = [consent_told(one, build, book_in_force()) for one in asked]
    waiting = next((one for one in told if one.consent.is_open), None)
    return {
        "asked": waiting,
        "answered": [one for one in told if one.consent.answer],
        "may_answer": waiting is not None and can_answer(waiting.consent, request.user),
        "answer_form": answering or AnswerForm(smaller=bool(waiting and waiting.smaller)),
    }
