"""The final inspection's page."""

from dataclasses import dataclass

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from orders.commissions import stages
from orders.commissions.access import bat_for
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from orders.words.drawing import drawing_for
from orders.words.measures import show_decimals
from orders.words.stages import measured_words
from orders.words.states import stage_words
from workshop.bench import page
from workshop.bench.inspection import Row, in_tolerance, pass_bat, rows_of
from workshop.bench.work import Work, same_as_seen, seen_mark, work_on
from workshop.rack.clefts import cleft_of

UNITS = {"g": "g", "mm": "mm", "kg_m2": "kg m²"}


@dataclass(frozen=True)
class Shown:
    """One row in words."""

    what: str
    agreed: str
    built: str
    off: str
    good: bool


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
        pass_bat(work, by=request.user, reason=reason)
    except Refused as error:
        return _show(request, _work(request, code), _faults(error, work), reason)
    passed = gettext("Passed. Serial number %(serial)s.") % {"serial": work.bat.serial}
    messages.success(request, passed)
    return redirect("bench:bat", code=code)


def _faults(error: Refused, work: Work) -> list[page.Fault]:
    if error.key == "reason_needed":
        words = gettext("It is out of tolerance: say in writing why it may pass all the same.")
        return [page.Fault("id_reason", words)]
    return page.refused_words(error, work)


def _show(
    request: SignedInRequest, work: Work, faults: list[page.Fault] | None = None, reason: str = ""
) -> HttpResponse:
    rows = rows_of(work)
    bat = work.bat
    context = {
        "bat": bat,
        "commission": bat.commission,
        "rows": [shown(row, work) for row in rows],
        "good": in_tolerance(rows),
        "can_pass": stages.can_pass_inspection(bat, request.user),
        "earlier": [(stage, stage_words(stage)) for stage in stages.earlier_stages(bat)]
        if bat.stage == Stage.INSPECTION
        else [],
        "drawing": drawing_for(work.build, work.weighing),
        "cleft": cleft_of(bat),
        "photos": page.photographs_of(bat),
        "seen": seen_mark(bat),
        "faults": faults or [],
        "reason": reason,
    }
    return render(request, "bench/inspection.html", context, status=422 if faults else 200)


def shown(row: Row, work: Work) -> Shown:
    """Return a row of the inspection in words."""
    unit = UNITS[row.unit]
    decimals = 4 if row.unit == "kg_m2" else 1

    def said(value: float) -> str:
        whole = row.unit != "kg_m2" and value == round(value)
        return show_decimals(value, 0 if whole else decimals)

    over, under = round(row.high - row.agreed, 5), round(row.agreed - row.low, 5)
    allowed = f"± {said(over)}" if over == under else f"+{said(over)} −{said(under)}"
    what = measured_words(row.key, work.paper.bench)
    if row.from_toe_mm is not None:
        what = gettext("%(what)s at %(place)s") % {"what": what, "place": f"{row.from_toe_mm:.0f}"}
    return Shown(
        what=what,
        agreed=f"{said(row.agreed)} {allowed} {unit}",
        built=gettext("not measured") if row.built is None else f"{said(row.built)} {unit}",
        off="" if row.off is None else _sign(row.off) + said(abs(row.off)),
        good=row.in_tolerance or not row.counts,
    )


def _sign(off: float) -> str:
    if not off:
        return ""
    return "+" if off > 0 else "−"


def _work(request: SignedInRequest, code: str) -> Work:
    try:
        return work_on(bat_for(request.user, code))
    except Refused as error:
        raise Http404 from error
