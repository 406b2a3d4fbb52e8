"""The job card to be printed."""

from django.http import Http404, HttpResponse
from django.views.decorators.http import require_safe

from orders.commissions.access import bat_for
from orders.commissions.refusals import Refused
from orders.people.doors import STAFF, SignedInRequest, open_to
from workshop.bench.job_card import job_card
from workshop.bench.work import work_on


@require_safe
@open_to(STAFF)
def card(request: SignedInRequest, code: str) -> HttpResponse:
    """Send the job card of a bat as a PDF."""
    try:
        work = work_on(bat_for(request.user, code))
    except Refused as error:
        raise Http404 from error
    response = HttpResponse(job_card(work), content_type="application/pdf")
    name = f"job-card-{work.bat.commission.reference}.pdf"
    response["Content-Disposition"] = f'inline; filename="{name}"'
    return response
