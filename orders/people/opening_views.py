"""The first visit, and what an invitation to work here leads to."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from orders.people import rate_limits
from orders.people.cookies import INVITATION, go_on_without_token
from orders.people.doors import ANYONE, open_to
from orders.people.forms import NewPasswordForm, OpeningForm
from orders.people.invitations import InvitationRefused, accept_invitation, invitation_of_token
from orders.people.models import Workshop
from orders.people.opening import AlreadyOpen, open_workshop
from orders.people.sessions import begin_session


@sensitive_post_parameters("maker_password", "word")
@require_http_methods(["GET", "HEAD", "POST"])
@open_to(ANYONE)
@never_cache
def open_page(request: HttpRequest) -> HttpResponse:
    """Open the workshop on its first day; afterwards there is no such page."""
    if Workshop.objects.the_one() is not None:
        raise Http404
    if request.method == "POST":
        wait = rate_limits.count(rate_limits.OPENING_FROM_PLACE, rate_limits.caller_address(request))
        if wait:
            return rate_limits.too_many(request, wait)
    form = OpeningForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            _workshop, maker = open_workshop(form.first_day())
        except AlreadyOpen:
            raise Http404 from None
        begin_session(request, maker, by="opening")
        return redirect("/")
    return render(request, "people/open.html", {"form": form}, status=422 if form.errors else 200)


@require_http_methods(["GET", "HEAD"])
@open_to(ANYONE)
@never_cache
def open_invitation(request: HttpRequest, token: str) -> HttpResponse:
    """Answer the address in an invitation."""
    return go_on_without_token(reverse("people:invitation"), INVITATION, token)


@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
@open_to(ANYONE)
@never_cache
def invitation(request: HttpRequest) -> HttpResponse:
    """Choose a password and begin to work here."""
    token = INVITATION.read(request)
    invited = invitation_of_token(token)
    form = NewPasswordForm(request.POST or None)
    if invited is not None and request.method == "POST" and form.is_valid():
        try:
            user = accept_invitation(token, password=form.cleaned_data["password"])
        except InvitationRefused:
            invited = None
        else:
            begin_session(request, user, by="invitation")
            response = redirect("/")
            INVITATION.forget(response)
            return response
    if invited is None:
        return render(request, "people/invitation_over.html", status=410)
    context = {"form": form, "invited": invited}
    return render(request, "people/invitation.html", context, status=422 if form.errors else 200)
