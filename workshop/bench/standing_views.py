"""Where does it stand? One bat's page: its weighings, its forecast, where to cut, its targets solved anew."""

from collections.abc import Callable, Mapping
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST

from orders.commissions import stages
from orders.commissions.access import bat_for
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from orders.words.states import stage_words
from workshop.bench import page
from workshop.bench.condition import guessed, with_square_top
from workshop.bench.cuts_page import plan_of
from workshop.bench.models import ScalesReading
from workshop.bench.rows import keep_row, take_back_row
from workshop.bench.spells import free_for
from workshop.bench.standing import HAS_A_BLADE, AtBench
from workshop.bench.standing_page import account, block, kept_weighings, not_a_bat
from workshop.bench.targets_page import solve_anew, targets_told
from workshop.bench.weighing_form import WeighingForm, read_weighing, weighing_form
from workshop.bench.work import Work, same_as_seen, seen_mark, work_on
from workshop.readings import as_tenths


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def standing(request: SignedInRequest, code: str) -> HttpResponse:
    """Show where a bat stands, and keep a weighing of it."""
    work = _work(request, code)
    if request.method != "POST":
        return _show(request, work)
    typed = read_weighing(work, request.POST, near_g=_expected_g(work))
    if typed.scales is None:
        form = _form(work, posted=request.POST, faults=typed.faults)
        return _show(request, work, form=form, faults=form.faults)
    scales, condition = typed.scales, typed.condition

    def keep(fresh: Work) -> None:
        balance = scales.balance_from_toe_mm
        keep_row(
            ScalesReading,
            fresh.bat,
            by=request.user,
            mass=as_tenths(scales.mass_g, "g"),
            balance=None if balance is None else as_tenths(balance, "mm"),
            condition=condition.model_dump(mode="json"),
        )
        # Readings that make no bat are told now, not when somebody looks.
        _ = AtBench(fresh).stood

    return _change(request, code, keep, gettext("The weighing is kept."))


@require_POST
@open_to(STAFF)
@once
def take_back(request: SignedInRequest, code: str) -> HttpResponse:
    """Take a weighing back; it stays in the history with who took it back."""
    entry = request.POST.get("entry", "")

    def undo(work: Work) -> None:
        rows = ScalesReading.objects.filter(bat=work.bat, takes_back__isnull=True)
        row = rows.filter(pk=int(entry)).first() if entry.isascii() and entry.isdigit() else None
        if row is None:
            raise Http404
        row.bat = work.bat
        take_back_row(row, by=request.user)

    return _change(request, code, undo, gettext("Taken back."))


@require_POST
@open_to(STAFF)
@once
def targets(request: SignedInRequest, code: str) -> HttpResponse:
    """Solve the shaping targets anew with what the scales tell of the willow."""
    return _change(
        request,
        code,
        lambda work: solve_anew(work, by=request.user),
        gettext("The shaping targets were solved anew."),
    )


def _change(request: SignedInRequest, code: str, verb: Callable[[Work], Any], said: str) -> HttpResponse:
    """Carry one verb out on the bat that the form was shown for, or say on its page why not."""
    work = _work(request, code)
    try:
        same_as_seen(work.bat, request.POST.get("seen", ""))
        free_for(work.bat, request.user)
        verb(work)
    except Refused as error:
        fresh = _work(request, code)
        form = _form(fresh, posted=request.POST) if "scales" in request.POST else None
        return _show(request, fresh, form=form, faults=page.refused_words(error, fresh))
    messages.success(request, said)
    return redirect("bench:standing", code=code)


def _show(
    request: SignedInRequest,
    work: Work,
    *,
    form: WeighingForm | None = None,
    faults: list[page.Fault] | None = None,
) -> HttpResponse:
    bat = work.bat
    can_weigh = stages.may("pass_on", bat, request.user) and bat.stage in HAS_A_BLADE
    at_bench = AtBench(work)
    context = {
        "bat": bat,
        "commission": bat.commission,
        "seen": seen_mark(bat),
        "stage_name": stage_words(bat.stage),
        "faults": faults or [],
        "can_weigh": can_weigh,
        "form": (form or _form(work)) if can_weigh else None,
        "is_early": bat.stage == Stage.SHAPING,
        "targets": targets_told(work, at_bench),
        **_standing(at_bench),
    }
    return render(request, "bench/standing_page.html", context, status=422 if faults else 200)


def _standing(at_bench: AtBench) -> Mapping[str, Any]:
    found: dict[str, Any] = {"kept_weighings": kept_weighings(at_bench)}
    try:
        stood = at_bench.stood
    except Refused as error:
        return {**found, "standing": not_a_bat(error)}
    if stood is None:
        return found
    return {
        **found,
        "standing": block(at_bench, stood),
        "reckoned": account(at_bench, stood),
        "plan": plan_of(at_bench, stood),
    }


def _form(work: Work, **typed: Any) -> WeighingForm:
    return weighing_form(guessed(work), with_square_top(work, guessed(work)), **typed)


def _expected_g(work: Work) -> float | None:
    """Return what the scales should show by what is known, so that a slip can be told from a reading."""
    try:
        return AtBench(work).expected_g
    except Refused:
        return None


def _work(request: SignedInRequest, code: str) -> Work:
    try:
        return work_on(bat_for(request.user, code))
    except Refused as error:
        raise Http404 from error
