"""The bench's pages: the bats being made, and one bat's stage with only its own work."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_POST, require_safe

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import Weighing
from orders.commissions import stages
from orders.commissions.access import bat_for
from orders.commissions.bench_entries import mark_step, take_back
from orders.commissions.builds import weighing_of
from orders.commissions.models import Bat
from orders.commissions.refusals import Refused
from orders.commissions.states import BENCH_STAGES, Stage
from orders.commissions.transitions import can_start
from orders.messages.photographs import ACCEPT, PhotographRefused, keep_photograph
from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from orders.words.agreed import agreed_words
from orders.words.drawing import drawing_for
from orders.words.stages import caution_words, stage_rule
from orders.words.states import stage_words
from workshop.bench import page
from workshop.bench.bats import bench_list
from workshop.bench.handle import keep_readings
from workshop.bench.hands import hands_of, minutes_of, waits_said
from workshop.bench.onward import go_back as send_back
from workshop.bench.onward import pass_on as send_on
from workshop.bench.place import place_words
from workshop.bench.spells import free_for
from workshop.bench.stage_parts import part_of
from workshop.bench.targets import targets_in_force
from workshop.bench.work import (
    Work,
    read_entries,
    same_as_seen,
    seen_mark,
    still_missing,
    work_on,
)
from workshop.rack.candidates import bat_in
from workshop.rack.clefts import cleft_of_round


@require_safe
@open_to(STAFF)
def bats(request: SignedInRequest) -> HttpResponse:
    """Show every bat that the bench has before it, by stage; the stage of this tablet's place first."""
    place = place_words(request.session)
    context = {
        "groups": bench_list(first=place.get("key", "")),
        "place": place,
        "places": [(stage, stage_words(stage)) for stage in BENCH_STAGES],
    }
    return render(request, "bench/bats.html", context)


@require_safe
@open_to(STAFF)
def bat(request: SignedInRequest, code: str) -> HttpResponse:
    """Show a bat's stage now."""
    found = bat_for(request.user, code)
    if found.stage == Stage.INSPECTION:
        return redirect("bench:inspection", code=code)
    return show(request, found)


@require_POST
@open_to(STAFF)
@once
def begin(request: SignedInRequest, code: str) -> HttpResponse:
    """Bring a waiting bat to the first stage of its round; an agreed commission starts with it."""
    return change(request, code, lambda work: stages.begin(work.bat, by=request.user))


@require_POST
@open_to(STAFF)
@once
def step(request: SignedInRequest, code: str) -> HttpResponse:
    """Note a step as done."""
    key = request.POST.get("step", "")

    def mark(work: Work) -> None:
        if work.stage_work is None or key not in {one.key for one in work.stage_work.steps}:
            raise Http404
        mark_step(work.bat, step=key, by=request.user)

    return change(request, code, mark, anchor=f"step-{key}", part="steps")


@require_POST
@open_to(STAFF)
@once
def take_back_entry(request: SignedInRequest, code: str) -> HttpResponse:
    """Take a step or a reading back; it stays in the history with who took it back."""

    def undo(work: Work) -> None:
        rows: Any = work.bat.steps if request.POST.get("kind") == "step" else work.bat.readings
        entry = rows.filter(pk=request.POST.get("entry", "0")).first() if _is_number(request) else None
        if entry is None:
            raise Http404
        entry.bat = work.bat
        take_back(entry, by=request.user)

    is_step = request.POST.get("kind") == "step"
    anchor, part = ("steps", "steps") if is_step else ("kept", "")
    return change(request, code, undo, anchor=anchor, part=part, said=gettext("Taken back."))


def _is_number(request: HttpRequest) -> bool:
    return request.POST.get("entry", "").isascii() and request.POST.get("entry", "").isdigit()


@require_POST
@open_to(STAFF)
@once
def reading(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep what the instruments showed; with one that cannot be, none is kept and all stays as typed."""
    found = bat_for(request.user, code)
    work = _work(found)
    typed = read_entries(work, request.POST)
    if typed.faults:
        entries = page.entries_of(work, request.POST, typed.faults)
        return show(request, found, faults=page.faults_of(entries.all_fields()), entries=entries)
    return change(
        request, code, lambda fresh: keep_readings(fresh, typed, by=request.user), anchor="readings"
    )


@require_POST
@open_to(STAFF)
@once
def photograph(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep a photograph of the bat in its stage."""
    found = bat_for(request.user, code)
    upload = request.FILES.get("photograph")
    if not isinstance(upload, UploadedFile):
        return show(
            request, found, faults=[page.Fault("id_photograph", gettext("Choose a photograph first."))]
        )
    try:
        keep_photograph(
            upload,
            commission=found.commission,
            by=request.user,
            bat=found,
            stage=found.stage,
            caption=request.POST.get("caption", "")[:200],
            shown_to_player=request.POST.get("shown_to_player") == "on",
        )
    except PhotographRefused as error:
        return show(request, found, faults=[page.Fault("id_photograph", page.photograph_words(error))])
    messages.success(request, gettext("The photograph is kept."))
    return redirect(f"{reverse('bench:bat', args=[code])}#photographs")


@require_POST
@open_to(STAFF)
@once
def pass_on(request: SignedInRequest, code: str) -> HttpResponse:
    """Send the bat on to its next stage, or say what is still missing."""

    def onward(work: Work) -> None:
        to = send_on(work, by=request.user)
        messages.success(request, gettext("Passed on: %(stage)s.") % {"stage": stage_words(to)})

    return change(request, code, onward)


@require_POST
@open_to(STAFF)
@once
def go_back(request: SignedInRequest, code: str) -> HttpResponse:
    """Send the bat back to an earlier stage of its round, with the reason."""
    to, reason = request.POST.get("to", ""), request.POST.get("reason", "")

    def back(work: Work) -> None:
        if to not in stages.earlier_stages(work.bat):
            raise Refused("wrong_stage", what=(to,))
        send_back(work, to=Stage(to), by=request.user, reason=reason)
        messages.success(request, gettext("Back to %(stage)s.") % {"stage": stage_words(to)})

    return change(request, code, back, typed={"reason": reason, "to": to})


def change(
    request: SignedInRequest,
    code: str,
    verb: Callable[[Work], Any],
    *,
    anchor: str = "",
    part: str = "",
    said: str = "",
    typed: Mapping[str, str] | None = None,
    by_anyone: bool = False,
) -> HttpResponse:
    """Carry one verb out on the bat that the form was shown for, or say on its page why not.

    While somebody has the bat in hand, nobody else enters anything, but for what is ``by_anyone``.
    """
    work = _work(bat_for(request.user, code))
    by_htmx = request.headers.get("HX-Request") == "true"
    try:
        same_as_seen(work.bat, request.POST.get("seen", ""))
        if not by_anyone:
            free_for(work.bat, request.user)
        verb(work)
    except Refused as error:
        fresh = bat_for(request.user, code)
        faults = page.refused_words(error, _work(fresh))
        return _told(request, code, faults) if by_htmx else show(request, fresh, faults=faults, typed=typed)
    if part and by_htmx:
        fresh_work = _work(bat_for(request.user, code))
        context = {**_context(fresh_work), "said": said or gettext("Kept.")}
        return render(request, f"bench/stage.html#{part}", context)
    return redirect(reverse("bench:bat", args=[code]) + (f"#{anchor}" if anchor else ""))


def _told(request: SignedInRequest, code: str, faults: list[page.Fault]) -> HttpResponse:
    """Lead a part of the page that was refused to the whole page, which says why."""
    for fault in faults:
        messages.error(request, fault.words)
    answer = HttpResponse(status=204)
    answer["HX-Redirect"] = reverse("bench:bat", args=[code])
    return answer


def show(
    request: SignedInRequest,
    found: Bat,
    *,
    faults: Iterable[page.Fault] = (),
    entries: page.Entries | None = None,
    typed: Mapping[str, str] | None = None,
    more: Mapping[str, Any] | None = None,
) -> HttpResponse:
    """Show the page of a bat as it stands: waiting, in a stage, or done.

    ``more`` is what a stage's own form was refused with; it goes before what the stage shows by itself.
    """
    work = _work(found)
    listed = list(faults)
    context = {**_context(work, entries), "faults": listed, "typed": typed or {}, **(more or {})}
    context["can_begin"] = stages.can_begin(found, request.user) or _can_start(found, request)
    context["at_bench"] = stages.may("pass_on", found, request.user)
    context["hands"] = hands_of(work, request.user)
    context["minutes"] = minutes_of(work)
    template = "bench/stage.html" if found.is_being_worked_on else "bench/resting.html"
    return render(request, template, context, status=422 if listed else 200)


def _can_start(found: Bat, request: SignedInRequest) -> bool:
    return found.stage == Stage.WAITING and can_start(found.commission, request.user)


def _context(work: Work, entries: page.Entries | None = None) -> dict[str, Any]:
    found = work.bat
    context: dict[str, Any] = {
        "work": work,
        "bat": found,
        "commission": found.commission,
        "round": stages.current_round(found),
        "seen": seen_mark(found),
        "stage_name": stage_words(found.stage),
        "cleft": cleft_of_round(found),
        "at_bench": True,
    }
    if work.stage_work is None:
        return {**context, "drawing": drawing_for(work.build, work.weighing)}
    shown = entries or page.entries_of(work)
    return {
        **context,
        "drawing": drawing_for(*_to_be_made(work), part=found.stage),
        "rule": stage_rule(found.stage, work.paper.bench),
        "cautions": caution_words(work.stage_work.cautions),
        "agreed": agreed_words(work.build, found.stage),
        "steps": page.step_rows(work),
        "entries": shown,
        "alarms": page.alarms(work),
        "stands": page.out_of_tolerance_words(shown),
        "kept": page.kept_readings(work),
        "photos": page.photographs_of(found, stage=found.stage),
        "accept": ACCEPT,
        "missing": still_missing(work),
        "waits": waits_said(work),
        "next": stage_words(stages.next_stage(found)),
        "earlier": [(stage, stage_words(stage)) for stage in stages.earlier_stages(found)],
        **_choice(work),
        **part_of(work),
    }


def _to_be_made(work: Work) -> tuple[BuildSheet, Weighing]:
    """Return the sheet that the blade is shaped to, and the forecast of that."""
    solved = targets_in_force(work.bat) if work.targets != work.build else None
    if solved is None or solved.build_version is None:
        return work.build, work.weighing
    return work.targets, weighing_of(solved.build_version)


def _choice(work: Work) -> dict[str, Any]:
    """Return, while the cleft is being selected, what the bat would be in the one that is reserved."""
    if work.bat.stage != Stage.CLEFT_SELECTION:
        return {"chooses_cleft": False}
    cleft = cleft_of_round(work.bat)
    return {"chooses_cleft": True, "in_cleft": bat_in(cleft, work.build, work.book) if cleft else None}


def _work(found: Bat) -> Work:
    """Return the bat's work; a bat for which nothing is agreed has no place at the bench."""
    try:
        return work_on(found)
    except Refused as error:
        raise Http404 from error
