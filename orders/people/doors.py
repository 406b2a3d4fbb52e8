"""Who may come in by which door: every view says it with ``open_to``.

Order of decorators, from the top: ``@require_POST``, ``@open_to(...)``, ``@once``.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any, cast
from urllib.parse import urlsplit

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.middleware import LoginRequiredMiddleware
from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import resolve_url
from django.utils.http import url_has_allowed_host_and_scheme

from orders.people.models import HOLDER_ROLES, STAFF_ROLES, Role, User

# Words of ``open_to``; each stands for a set of roles, "anyone" for people who are not signed in too.
ANYONE = frozenset({"anyone"})
HOLDER = frozenset(str(role.value) for role in HOLDER_ROLES)
STAFF = frozenset(str(role.value) for role in STAFF_ROLES)
MAKER = frozenset({str(Role.MAKER.value)})
SIGNED_IN = HOLDER | STAFF


class SignedInRequest(HttpRequest):
    """A request that has come through a door other than ANYONE: its user is an account."""

    user: User


def open_to(
    *doors: frozenset[str],
) -> Callable[[Callable[..., HttpResponseBase]], Callable[..., HttpResponseBase]]:
    """Declare which roles may call the view.

    Someone not signed in is sent to sign in; someone of another role gets the same 404 as for an
    address that does not exist. The roles stand on the view as ``open_to`` for the test that
    walks every address.
    """
    roles = frozenset().union(*doors)

    def declare(view: Callable[..., HttpResponseBase]) -> Callable[..., HttpResponseBase]:
        @wraps(view)
        def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            if "anyone" not in roles:
                if not request.user.is_authenticated:
                    return to_sign_in(request)
                if request.user.role not in roles:
                    raise Http404
            return view(request, *args, **kwargs)

        cast(Any, guarded).open_to = roles
        return login_not_required(guarded) if "anyone" in roles else guarded

    return declare


def to_sign_in(request: HttpRequest) -> HttpResponse:
    """Send a person to sign in, and back afterwards to a page that can be opened.

    A form that was sent leads back to the page it stood on; a fragment asked for by htmx makes the
    whole page go to sign-in, not just its corner.
    """
    back = _page_to_come_back_to(request)
    if request.headers.get("HX-Request") == "true":
        response = HttpResponse(status=204)
        response["HX-Redirect"] = redirect_to_login(back, login_url=resolve_url(settings.LOGIN_URL)).url
        return response
    return redirect_to_login(back, login_url=resolve_url(settings.LOGIN_URL))


def _page_to_come_back_to(request: HttpRequest) -> str:
    fragment = request.headers.get("HX-Current-URL")
    if request.method in {"GET", "HEAD"} and not fragment:
        return request.get_full_path()
    stood_on = fragment or request.headers.get("Referer", "")
    if not url_has_allowed_host_and_scheme(stood_on, allowed_hosts={request.get_host()}):
        return "/"
    parts = urlsplit(stood_on)
    return f"{parts.path}?{parts.query}" if parts.query else parts.path


class SignInRequired(LoginRequiredMiddleware):
    """Close every address whose view does not say ``open_to(ANYONE)``."""

    # Wider than Django's redirect: htmx is told in a header where the whole page is to go.
    def handle_no_permission(  # type: ignore[override]
        self, request: HttpRequest, view_func: Callable[..., Any]
    ) -> HttpResponse:
        """Answer someone who is not signed in."""
        return to_sign_in(request)
