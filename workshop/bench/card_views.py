"""The job card and the hanging label, to be printed."""

from collections.abc import Callable

from django.http import Http404, HttpResponse
from django.views.decorators.http import require_safe

from orders.commissions.access import bat_for
from orders.commissions.refusals import Refused
from orders.people.doors import STAFF, SignedInRequest, open_to
from workshop.bench.job_card import hanging_label, job_card
from workshop.bench.work import Work, work_on


@require_safe
@open_to(STAFF)
def card(request: SignedInRequest, code: str) -> HttpResponse:
    """Send the job card of a bat as a PDF."""
    return _sent(request, code, "job-card", job_card)


@require_safe
@open_to(STAFF)
def label(request: SignedInRequest, code: str) -> HttpResponse:
    """Send the label that hangs on a bat in progress as a PDF."""
    return _sent(request, code, "hanging-label", hanging_label)


def _sent(request: SignedInRequest, code: str, name: str, printed: Callable[[Work], bytes]) -> HttpResponse:
    try:
        work = work_on(bat_for(request.user, code))
    except Refused as error:
        raise Http404 from error
    response = HttpResponse(printed(work), content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}-{work.bat.commission.reference}.pdf"'
    return response
