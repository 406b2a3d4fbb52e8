"""Signing in and out."""

import logging
import secrets

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import authenticate
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from orders.people import rate_limits, sign_in
from orders.people.cookies import ASKING, LINK, go_on_without_token
from orders.people.doors import ANYONE, SIGNED_IN, SignedInRequest, open_to
from orders.people.forms import AddressForm, CodeForm, NameForm, StaffForm
from orders.people.link_tokens import short_code_of, shown_code
from orders.people.models import User, normal_address
from orders.people.once import once
from orders.people.sessions import begin_session, end_all_sessions, end_session, lasts_for

log = logging.getLogger("security")


def send_link(
    request: HttpRequest, email: str, *, next_path: str = "", may_create: bool = False
) -> HttpResponse:
    """Ask for a sign-in link from a view, and answer: on to the page that waits for it, or 429."""
    wait = rate_limits.count(rate_limits.LINK_FROM_PLACE, rate_limits.caller_address(request))
    wait = wait or rate_limits.count(rate_limits.LINK_FOR_ADDRESS, normal_address(email))
    if wait:
        return rate_limits.too_many(request, wait)
    browser = secrets.token_urlsafe(32)
    sign_in.ask_for_link(email, browser=browser, next_path=next_path, may_create=may_create)
    response = redirect("people:letter-on-its-way")
    ASKING.give(response, browser)
    return response


def page_after(request: HttpRequest, wanted: str, user: User) -> str:
    """Return where to go after signing in: where one was heading, else home."""
    if wanted and url_has_allowed_host_and_scheme(wanted, allowed_hosts={request.get_host()}):
        return wanted
    return reverse("commissions:my") if user.is_holder else "/"


def own_path(wanted: str) -> str:
    """Return a path of this site as it is kept with a link; empty for anything else."""
    fits = wanted.startswith("/") and len(wanted) <= 200
    return wanted if fits and url_has_allowed_host_and_scheme(wanted, allowed_hosts=None) else ""


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(ANYONE)
@never_cache
def ask(request: HttpRequest) -> HttpResponse:
    """Ask for a sign-in link; the answer is the same for every address."""
    next_path = own_path(request.POST.get("next", request.GET.get("next", "")))
    form = AddressForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        return send_link(request, form.cleaned_data["email"], next_path=next_path)
    status = 422 if form.errors else 200
    return render(request, "people/sign_in.html", {"form": form, "next": next_path}, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(ANYONE)
@never_cache
def letter_on_its_way(request: HttpRequest) -> HttpResponse:
    """Wait for the letter; its code can be typed here instead of opening its link."""
    form = CodeForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        wait = rate_limits.count(rate_limits.CODE_FROM_PLACE, rate_limits.caller_address(request))
        if wait:
            return rate_limits.too_many(request, wait)
        try:
            user, next_path = sign_in.use_code(form.cleaned_data["code"], browser=ASKING.read(request))
        except sign_in.LinkRefused as refused:
            log.warning("sign-in code refused: %s", refused.why)
            form.add_error("code", _code_refusal(refused.why))
        else:
            return _signed_in(request, user, next_path, by="code")
    status = 422 if form.errors else 200
    context = {"form": form, "asked": bool(ASKING.read(request)), "mail_page": _mail_page()}
    return render(request, "people/letter_on_its_way.html", context, status=status)


def _mail_page() -> str:
    return reverse("letters:mail") if settings.MAIL_DELIVERY == "page" else ""


def _code_refusal(why: str) -> str:
    if why == "wrong_code":
        return _("That is not the code of the newest letter. Look again, or ask for a new letter.")
    if why == "no_tries_left":
        return _("Five codes were wrong, so this letter is of no more use. Ask for a new one.")
    return _("This browser has no letter on its way, or it is older than ten minutes. Ask for a new one.")


@require_http_methods(["GET", "HEAD"])
@open_to(ANYONE)
@never_cache
def open_link(request: HttpRequest, token: str) -> HttpResponse:
    """Answer the address in a letter; nothing happens yet, because mail scanners open links."""
    return go_on_without_token(reverse("people:link"), LINK, token)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(ANYONE)
@never_cache
def link(request: HttpRequest) -> HttpResponse:
    """Show what the opened link would do; the button, and nothing else, signs in."""
    token = LINK.read(request)
    if request.method == "POST":
        try:
            user, next_path = sign_in.use_token(token, browser=ASKING.read(request))
        except sign_in.LinkRefused as refused:
            log.warning("sign-in link refused: %s", refused.why)
        else:
            return _signed_in(request, user, next_path, by="link")
    found = sign_in.link_of_token(token)
    if found is None:
        return render(request, "people/link_over.html", status=410)
    if not sign_in.asked_here(found, ASKING.read(request)):
        code = shown_code(short_code_of(found.seed))
        return render(request, "people/link_elsewhere.html", {"code": code})
    return render(request, "people/link.html", {"email": found.email})


def _signed_in(request: HttpRequest, user: User, next_path: str, *, by: str) -> HttpResponse:
    begin_session(request, user, by=by)
    response = redirect(page_after(request, next_path, user))
    ASKING.forget(response)
    LINK.forget(response)
    return response


@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
@open_to(ANYONE)
@never_cache
def staff_sign_in(request: HttpRequest) -> HttpResponse:
    """Sign in with a password: for those who work in the workshop."""
    form = StaffForm(request.POST or None)
    wanted = own_path(request.POST.get("next", request.GET.get("next", "")))
    if request.method == "POST" and form.is_valid():
        place = rate_limits.caller_address(request)
        account_and_place = f"{form.cleaned_data['email']}|{place}"
        # Counted before the password is hashed: hashing costs a second of a processor.
        wait = rate_limits.count(rate_limits.PASSWORD_FROM_PLACE, place)
        wait = wait or rate_limits.count(rate_limits.PASSWORD_FOR_ACCOUNT, account_and_place)
        if wait:
            return rate_limits.too_many(request, wait)
        user = authenticate(
            request, username=form.cleaned_data["email"], password=form.cleaned_data["password"]
        )
        if isinstance(user, User) and user.is_staff_role:
            rate_limits.forget(rate_limits.PASSWORD_FOR_ACCOUNT, account_and_place)
            begin_session(request, user, by="password")
            return redirect(page_after(request, wanted, user))
        log.warning("password refused")
        form.add_error(None, _("Address and password do not belong together. Try again, or ask the maker."))
    status = 422 if form.errors else 200
    return render(request, "people/staff_sign_in.html", {"form": form, "next": wanted}, status=status)


@require_POST
@open_to(SIGNED_IN)
def sign_out(request: SignedInRequest) -> HttpResponse:
    """Sign this browser out."""
    end_session(request)
    return _gone()


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(SIGNED_IN)
@once
def account(request: SignedInRequest) -> HttpResponse:
    """Show the account, with the way out everywhere; a POST changes how it is called."""
    form = NameForm(request.POST or None, initial={"name": request.user.name})
    if request.method == "POST" and form.is_valid():
        request.user.name = form.cleaned_data["name"]
        request.user.save(update_fields=["name"])
        messages.success(request, _("Your name is kept."))
        return redirect("people:account")
    context = {
        "form": form,
        "players": request.user.players.order_by("name", "pk"),
        "lasts": lasts_for(request.user),
    }
    return render(request, "people/account.html", context, status=422 if form.errors else 200)


@require_POST
@open_to(SIGNED_IN)
def sign_out_everywhere(request: SignedInRequest) -> HttpResponse:
    """Sign this account out in every browser."""
    end_all_sessions(request.user)
    end_session(request)
    return _gone()


def _gone() -> HttpResponse:
    response = redirect("/")
    response["Clear-Site-Data"] = '"cache", "storage"'
    return response
