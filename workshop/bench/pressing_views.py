"""Passes of the press: keeping one, taking one back."""

from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_POST

from orders.commissions.access import bat_for
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from workshop.bench import page
from workshop.bench.models import PressPass
from workshop.bench.press_form import PassForm, pass_form
from workshop.bench.press_work import InPress, PassMeanwhile, keep_pass, take_back_pass
from workshop.bench.spells import free_for
from workshop.bench.views import change, show
from workshop.bench.work import Work, same_as_seen, work_on


@require_POST
@open_to(STAFF)
@once
def press_pass(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep a pass of the press; with one number that cannot be, none of it is kept and all stays as typed."""
    found = bat_for(request.user, code)
    work = _work(request, code)
    form = pass_form(InPress(work).form_before(), request.POST)
    try:
        same_as_seen(found, request.POST.get("seen", ""))
        free_for(found, request.user)
        if form.faults():
            return show(request, found, faults=form.faults(), more={"pass_form": form})
        keep_pass(work, number=_number(request), values=form.values, by=request.user)
    except Refused as error:
        return _refused(request, code, error, form)
    return redirect(f"{reverse('bench:bat', args=[code])}#passes")


@require_POST
@open_to(STAFF)
@once
def take_back(request: SignedInRequest, code: str) -> HttpResponse:
    """Take a pass back; it stays in the history with who took it back."""

    def undo(work: Work) -> None:
        entry = request.POST.get("entry", "")
        rows = PressPass.objects.filter(bat=work.bat, round=work.bat.round)
        one = rows.filter(pk=entry).first() if entry.isascii() and entry.isdigit() else None
        if one is None:
            raise Http404
        take_back_pass(work, one, by=request.user)

    return change(request, code, undo, anchor="passes")


def _refused(request: SignedInRequest, code: str, error: Refused, form: PassForm) -> HttpResponse:
    """Show the page anew with what was typed still in it, and why it was not kept."""
    fresh = bat_for(request.user, code)
    if isinstance(error, PassMeanwhile):
        faults = [page.Fault("passes", meanwhile_words(_work(request, code)))]
    else:
        faults = page.refused_words(error, _work(request, code))
    if fresh.stage != Stage.PRESSING:
        return show(request, fresh, faults=faults)
    again = pass_form(InPress(_work(request, code)).form_before(), request.POST)
    return show(request, fresh, faults=faults, more={"pass_form": again})


def meanwhile_words(work: Work) -> str:
    """Tell who kept or took back which pass since the form was shown."""
    passes = InPress(work).passes
    if not passes:
        return gettext(
            "The passes have changed since this page was opened. Yours is not kept yet: look again."
        )
    last = passes[-1]
    words = gettext(
        "%(name)s has kept pass %(number)s since this page was opened. Yours is not kept yet: look whether "
        "it is the same one."
    )
    return words % {"name": last.by.name, "number": last.number}


def _number(request: SignedInRequest) -> int:
    typed = request.POST.get("number", "")
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 4 else 0


def _work(request: SignedInRequest, code: str) -> Work:
    try:
        return work_on(bat_for(request.user, code))
    except Refused as error:
        raise Http404 from error
