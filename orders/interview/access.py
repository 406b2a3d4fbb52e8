"""Which fitting a request may see: by account, or by the browser that began it."""

import hashlib
import secrets

from django.conf import settings
from django.db.models import Q
from django.http import Http404, HttpRequest, HttpResponse

from orders.interview.models import Fitting
from orders.people.models import User

# Drafts live in the browser that began them: by this cookie, of which only a hash is stored.
COOKIE = "__Host-fitting" if settings.SESSION_COOKIE_SECURE else "fitting"
COOKIE_LASTS = 60 * 24 * 3600


def browser_hash(request: HttpRequest) -> str:
    """Return the hash of the browser's cookie, empty when it has none."""
    token = request.COOKIES.get(COOKIE, "")
    return hash_of(token) if token else ""


def hash_of(token: str) -> str:
    """Return what is stored of a browser's token; it holds 256 random bits, so a plain hash is enough."""
    return hashlib.sha256(token.encode()).hexdigest()


def known_browser(request: HttpRequest) -> str:
    """Return the browser's random token, a new one (256 bits) when it has none."""
    return request.COOKIES.get(COOKIE, "") or secrets.token_urlsafe(32)


def remember_browser(response: HttpResponse, token: str) -> None:
    """Give the browser its cookie; scripts cannot read it."""
    response.set_cookie(
        COOKIE,
        token,
        max_age=COOKIE_LASTS,
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )


def fitting_for(request: HttpRequest, code: str) -> Fitting:
    """Return the fitting, or answer as if there were none.

    The holder's account sees it; a maker what staff began at the counter; the browser that began it as
    long as nobody holds it.
    """
    mine = Q(pk__in=[])
    if isinstance(request.user, User) and request.user.is_authenticated:
        mine |= Q(holder=request.user)
        if request.user.is_maker:
            mine |= Q(begun_by__isnull=False)
    browser = browser_hash(request)
    if browser:
        mine |= Q(browser_hash=browser, holder__isnull=True)
    fitting = Fitting.objects.filter(mine, code=code).select_related("holder", "player").first()
    if fitting is None:
        raise Http404
    return fitting


def drafts_of(request: HttpRequest) -> list[Fitting]:
    """Return the drafts that can be gone on with here, the newest first."""
    mine = Q(pk__in=[])
    browser = browser_hash(request)
    if browser:
        mine |= Q(browser_hash=browser, holder__isnull=True)
    if isinstance(request.user, User) and request.user.is_authenticated:
        mine |= Q(begun_by=request.user) if request.user.is_maker else Q(holder=request.user)
    return list(Fitting.objects.drafts().filter(mine).select_related("player")[:12])
