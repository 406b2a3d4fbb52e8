"""The final inspection's page: built against agreed, the question to the player, passing."""

from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.safestring import SafeString
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST

from orders.commissions import stages
from orders.commissions.access import bat_for
from orders.commissions.built import consent_told, rows_told
from orders.commissions.consents import (
    ask_consent,
    can_ask,
    consents_of_round,
    not_accepted,
    open_consent,
)
from orders.commissions.forms import MOST_WORDS
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.doors import MAKER, STAFF, SignedInRequest, open_to
from orders.people.once import once
from orders.words.drawing import drawing_for
from orders.words.inspected import row_words
from orders.words.states import stage_words
from workshop.bench import page
from workshop.bench.inspection import Inspected, in_tolerance, inspected, pass_bat, rows_of
from workshop.bench.work import Work, same_as_seen, seen_mark, work_on
from workshop.rack.clefts import cleft_of


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def inspection(request: SignedInRequest, code: str) -> HttpResponse:
    """Hold the finished bat against what was agreed; pass it, with a reason where it is out of tolerance."""
    work = _work(request, code)
    if work.bat.stage != Stage.INSPECTION and request.method != "POST":
        return redirect("bench:bat", code=code)
    if request.method != "POST":
        return _show(request, work)
    reason = request.POST.get("reason", "")
    try:
        same_as_seen(work.bat, request.POST.get("seen", ""))
        pass_bat(work, by=request.user, reason=reason, not_for_play=request.POST.get("not_for_play") == "on")
    except Refused as error:
        return _show(request, _work(request, code), _faults(error, work), reason=reason)
    passed = gettext("Passed. Serial number %(serial)s.") % {"serial": work.bat.serial}
    messages.success(request, passed)
    return redirect("bench:bat", code=code)


@require_POST
@open_to(MAKER)
@once
def ask(request: SignedInRequest, code: str) -> HttpResponse:
    """Ask the player to accept a bat that is more off than the proposal allows."""
    work = _work(request, code)
    words = request.POST.get("words", "")[:MOST_WORDS]
    try:
        same_as_seen(work.bat, request.POST.get("seen", ""))
        rows = [row.stored() for row in rows_of(work)]
        ask_consent(work.bat, rows=rows, words=words, by=request.user)
    except Refused as error:
        return _show(request, _work(request, code), _faults(error, work, "id_words"), words=words)
    messages.success(request, gettext("The player is asked. The bat waits for the answer."))
    return redirect("bench:inspection", code=code)


def _faults(error: Refused, work: Work, field: str = "id_reason") -> list[page.Fault]:
    if error.key == "reason_needed":
        words = {
            "id_reason": gettext("It is out of tolerance: say in writing why it may pass all the same."),
            "id_words": gettext("Tell the player in your own words what happened."),
        }
        return [page.Fault(field, words[field])]
    anchor = {"consent_needed": "consent", "mark_needed": "id_not_for_play"}.get(error.key, "")
    return [page.Fault(anchor or fault.field_id, fault.words) for fault in page.refused_words(error, work)]


def _show(
    request: SignedInRequest,
    work: Work,
    faults: list[page.Fault] | None = None,
    *,
    reason: str = "",
    words: str = "",
) -> HttpResponse:
    if work.bat.stage != Stage.INSPECTION and not faults:
        return redirect("bench:bat", code=work.bat.code)
    context = {**_of_bat(work), **_standing(request, work), "faults": faults or []}
    context |= {"reason": reason, "words": words, "fault_at": {fault.field_id for fault in faults or []}}
    return render(request, "bench/inspection.html", context, status=422 if faults else 200)


def _of_bat(work: Work) -> dict[str, Any]:
    bat = work.bat
    return {
        "bat": bat,
        "commission": bat.commission,
        "earlier": [(stage, stage_words(stage)) for stage in stages.earlier_stages(bat)]
        if bat.stage == Stage.INSPECTION
        else [],
        "cleft": cleft_of(bat),
        "photos": page.photographs_of(bat),
        "seen": seen_mark(bat),
    }


def _drawn(work: Work, found: Inspected) -> Mapping[str, SafeString | None]:
    """Draw the bat as it was measured over the agreed one; the agreed one alone while it is none."""
    if found.build is None or found.weighing is None:
        return drawing_for(work.build, work.weighing)
    return drawing_for(found.build, found.weighing, compare=work.build, compare_weighing=work.weighing)


def _standing(request: SignedInRequest, work: Work) -> dict[str, Any]:
    """Return the rows in words, and what still stands between the bat and passing."""
    found = inspected(work)
    rows = found.rows
    stored = [row.stored() for row in rows]
    bat, book = work.bat, work.book
    unaccepted = not_accepted(bat, stored)
    return {
        "drawing": _drawn(work, found),
        "is_measured": found.build is not None,
        "told": rows_told(work.build, stored, book=book, staff=True),
        "good": in_tolerance(rows),
        "beyond": [row_words(row, work.build, book, staff=True) for row in unaccepted],
        "outside_laws": any(row.key == "law" for row in rows),
        "targets_differ": any(row.drawn is not None for row in rows),
        "asked": [consent_told(one, work.build, book) for one in consents_of_round(bat)],
        "waits": open_consent(bat) is not None,
        "may_ask": bool(unaccepted) and can_ask(bat, request.user) and open_consent(bat) is None,
        "can_pass": stages.can_pass_inspection(bat, request.user),
    }


def _work(request: SignedInRequest, code: str) -> Work:
    try:
        return work_on(bat_for(request.user, code))
    except Refused as error:
        raise Http404 from error
