"""The pages of a shared draft: making and ending its link, and what the link shows."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from fitting.questions import FIRST_PAGE
from orders.interview import sharing
from orders.interview.access import fitting_for
from orders.interview.drafts import is_complete
from orders.interview.models import Fitting, SharedDraft
from orders.interview.told import told
from orders.interview.views import kept_from_caches
from orders.people import rate_limits
from orders.people.doors import ANYONE, open_to
from orders.people.models import User
from orders.people.once import once


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(ANYONE)
@kept_from_caches
@once
def share(request: HttpRequest, code: str) -> HttpResponse:
    """Tell what a link would show, and make it: its address stands on the answer, and only there."""
    fitting = _draft_to_share(request, code)
    if not is_complete(fitting):
        return redirect("interview:page", code, FIRST_PAGE)
    address = ""
    if request.method == "POST":
        token = sharing.share(fitting)
        address = request.build_absolute_uri(reverse("interview:shared", args=[token]))
    context = {
        "fitting": fitting,
        "address": address,
        "link": sharing.link_of(fitting),
        "days": SharedDraft.LIFE.days,
    }
    return render(request, "interview/share.html", context)


@require_POST
@open_to(ANYONE)
@kept_from_caches
@once
def stop_sharing(request: HttpRequest, code: str) -> HttpResponse:
    """End the link of a draft."""
    fitting = _draft_to_share(request, code)
    sharing.stop_sharing(fitting)
    messages.success(request, _("The link has ended. Whoever has it sees nothing any more."))
    return redirect("interview:share", code)


def _draft_to_share(request: HttpRequest, code: str) -> Fitting:
    """Return the draft if this request may show it to others, or answer as if there were none."""
    fitting = fitting_for(request, code)
    if not sharing.may_share(fitting, request.user if isinstance(request.user, User) else None):
        raise Http404
    return fitting


@require_http_methods(["GET", "HEAD"])
@open_to(ANYONE)
@kept_from_caches
def shared(request: HttpRequest, token: str) -> HttpResponse:
    """Show a draft to whoever was given its link: the bat and its reasons, nobody's name, no answers.

    The head line is left bare: its form of signing out could not be sent from a page without a referrer.
    """
    wait = rate_limits.count(rate_limits.SHARED_DRAFT_FROM_PLACE, rate_limits.caller_address(request))
    if wait:
        return rate_limits.too_many(request, wait)
    fitting = sharing.draft_of_token(token)
    found = told(fitting) if fitting else None
    if found is None:
        raise Http404
    bare = {"links": [], "sign_out": "", "sign_in": ""}
    response = render(request, "interview/shared.html", {"told": found, **bare})
    response["Referrer-Policy"] = "no-referrer"
    response["X-Robots-Tag"] = "noindex, nofollow"
    return response
