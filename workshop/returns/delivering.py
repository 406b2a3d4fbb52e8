"""Handing a ready bat over."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from orders.care.delivery import How
from orders.care.delivery import deliver as hand_over
from orders.care.record import finished_bat
from orders.commissions import lifecycle
from orders.commissions.access import commission_for
from orders.commissions.refusals import Refused
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.people.once import once
from workshop.returns.forms import DeliverForm
from workshop.review.views import review_page


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(MAKER)
@once
def deliver(request: SignedInRequest, code: str) -> HttpResponse:
    """Say how a ready bat reaches its player; the letter goes with it."""
    commission = commission_for(request.user, code)
    if not lifecycle.can_deliver(commission, request.user):
        return review_page(request, commission, refused=Refused("not_now"))
    form = DeliverForm(request.POST or None)
    if request.method != "POST" or not form.is_valid():
        context = {"commission": commission, "bat": finished_bat(commission), "form": form}
        return render(request, "returns/deliver.html", context, status=422 if form.errors else 200)
    try:
        hand_over(
            commission,
            by=request.user,
            how=How(form.cleaned_data["how"]),
            words=form.cleaned_data["words"],
        )
    except Refused as refused:
        return review_page(request, commission_for(request.user, code), refused=refused)
    messages.success(request, _("Delivered. The letter with its care is on its way."))
    return redirect("review:review", code)
