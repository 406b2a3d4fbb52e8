"""How often something may be tried: counted in the database, so in all processes together."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from django.conf import settings
from django.db import IntegrityError, transaction
from django.db.models import F
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.crypto import salted_hmac
from django.utils.translation import ngettext

from orders.people.models import RateBucket


@dataclass(frozen=True)
class Limit:
    """So many times in one window of time."""

    what: str
    most: int
    window: timedelta


# The clause asks for limits (OWASP ASVS 5.0, 6.3.1); the numbers are this project's choice.
LINK_FOR_ADDRESS = Limit("link for address", 3, timedelta(minutes=15))
LINK_FROM_PLACE = Limit("link from place", 20, timedelta(hours=1))
CODE_FROM_PLACE = Limit("code from place", 40, timedelta(hours=1))
PASSWORD_FOR_ACCOUNT = Limit("password for account and place", 5, timedelta(minutes=15))
PASSWORD_FROM_PLACE = Limit("password from place", 60, timedelta(hours=1))
OPENING_FROM_PLACE = Limit("opening word from place", 10, timedelta(hours=1))
SHARED_DRAFT_FROM_PLACE = Limit("shared draft from place", 120, timedelta(hours=1))
PHOTOGRAPHS_BY_PERSON = Limit("photographs by person", 60, timedelta(hours=1))


def count(limit: Limit, who: str) -> int:
    """Count one try and return 0, or the seconds to wait when it was one too many."""
    now = timezone.now()
    seconds = int(limit.window.total_seconds())
    start = datetime.fromtimestamp(now.timestamp() // seconds * seconds, tz=UTC)
    key = _key(limit, who)
    if _add_one(key, start, until=start + limit.window) <= limit.most:
        return 0
    return max(1, int((start + limit.window - now).total_seconds()) + 1)


def forget(limit: Limit, who: str) -> None:
    """Begin counting anew, after a try that was right."""
    RateBucket.objects.filter(key=_key(limit, who)).delete()


def _add_one(key: str, start: datetime, *, until: datetime) -> int:
    row = RateBucket.objects.filter(key=key, window=start)
    with transaction.atomic():
        if not row.update(count=F("count") + 1):
            try:
                with transaction.atomic():
                    RateBucket.objects.create(key=key, window=start, until=until, count=1)
            except IntegrityError:
                # Somebody counted the first try in the same moment.
                row.update(count=F("count") + 1)
        return row.values_list("count", flat=True).get()


def _key(limit: Limit, who: str) -> str:
    return salted_hmac("orders.people.rate_limits", f"{limit.what}|{who}", algorithm="sha256").hexdigest()


def caller_address(request: HttpRequest) -> str:
    """Return the network address a request came from.

    Behind proxies of our own, each adds one entry to ``X-Forwarded-For``; the entry that the
    outermost of them added is the caller's, and whatever stands before it may be forged.
    """
    direct = str(request.META.get("REMOTE_ADDR", ""))
    if not settings.PROXIES:
        return direct
    told = [part.strip() for part in request.headers.get("X-Forwarded-For", "").split(",") if part.strip()]
    return told[-settings.PROXIES] if len(told) >= settings.PROXIES else direct


def too_many(request: HttpRequest, seconds: int) -> HttpResponse:
    """Answer someone who must wait (RFC 6585, section 4)."""
    minutes = -(-seconds // 60)
    words = ngettext(
        "That was tried too often. For safety nothing was done; try again in a minute.",
        "That was tried too often. For safety nothing was done; try again in %(minutes)d minutes.",
        minutes,
    ) % {"minutes": minutes}
    response = render(request, "429.html", {"words": words}, status=429)
    response["Retry-After"] = str(seconds)
    return response
