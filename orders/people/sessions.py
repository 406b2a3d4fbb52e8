"""How long a session lasts, beginning and ending one.

A session ends at the server: after an absolute time, after a time without use, on signing out, and
all of an account's at once with "sign out everywhere" (OWASP ASVS 5.0, 7.3.1, 7.3.2, 7.4.3).

The figures are this project's choice. A holder comes back over weeks to see how a bat is coming on,
and reaches only what is theirs: 30 days in all, 14 unused. In the workshop a day's work is one
session: 12 hours in all. The 30 minutes unused that NIST SP 800-63B suggests would sign a bench
tablet out under every drying coat; until a screen can be locked with its place kept, 4 hours unused
end it.
"""

import logging
from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta

from django.conf import settings
from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.module_loading import import_string

from orders.people.codes import new_code
from orders.people.models import User

log = logging.getLogger("security")

BEGAN = "began"
SEEN = "seen"
# Use is noted at most once in this time, so that reading pages does not write.
NOTE_USE_AFTER = timedelta(minutes=1)


@dataclass(frozen=True)
class Lasts:
    """How long a session lasts."""

    in_all: timedelta
    unused: timedelta

    @property
    def in_all_hours(self) -> int:
        """Full hours in all."""
        return self.in_all // timedelta(hours=1)

    @property
    def unused_hours(self) -> int:
        """Full hours without use."""
        return self.unused // timedelta(hours=1)


FOR_HOLDERS = Lasts(in_all=timedelta(days=30), unused=timedelta(days=14))
FOR_STAFF = Lasts(in_all=timedelta(hours=12), unused=timedelta(hours=4))


def lasts_for(user: User) -> Lasts:
    """Return how long this person's sessions last."""
    return FOR_STAFF if user.is_staff_role else FOR_HOLDERS


def begin_session(request: HttpRequest, user: User, *, by: str) -> None:
    """Sign a person in: the only place where that happens.

    The session gets a new key. Whatever waits for this person (settings.ON_SIGN_IN, functions of
    request and user) is then handed over.

    Args:
        request: of the browser that is signed in.
        user: the account.
        by: "link", "code", "password", "invitation" or "opening", for the log.
    """
    login(request, user, backend="django.contrib.auth.backends.ModelBackend")
    now = timezone.now().timestamp()
    request.session[BEGAN] = now
    request.session[SEEN] = now
    request.session.set_expiry(int(lasts_for(user).unused.total_seconds()))
    for path in settings.ON_SIGN_IN:
        import_string(path)(request, user)
    log.info("signed in: account %s by %s", user.pk, by)


def end_session(request: HttpRequest) -> None:
    """Sign this browser out."""
    if request.user.is_authenticated:
        log.info("signed out: account %s", request.user.pk)
    logout(request)


def end_all_sessions(user: User) -> None:
    """Sign an account out everywhere: its stamp changes, and no session held anywhere fits it."""
    user.session_stamp = new_code()
    user.save(update_fields=["session_stamp"])
    log.info("signed out everywhere: account %s", user.pk)


def keep_session_limits(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """End a session whose time is over; stands after Django's authentication."""

    def middleware(request: HttpRequest) -> HttpResponse:
        if request.user.is_authenticated:
            _end_or_note_use(request, request.user)
        return get_response(request)

    return middleware


def _end_or_note_use(request: HttpRequest, user: User) -> None:
    now = timezone.now().timestamp()
    began = request.session.setdefault(BEGAN, now)
    seen = request.session.setdefault(SEEN, now)
    lasts = lasts_for(user)
    if now - began >= lasts.in_all.total_seconds() or now - seen >= lasts.unused.total_seconds():
        log.info("session over: account %s", user.pk)
        logout(request)
    elif now - seen >= NOTE_USE_AFTER.total_seconds():
        request.session[SEEN] = now
