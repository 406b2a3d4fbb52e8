"""What every page knows: whose workshop this is, where its reader may go, and which version runs it."""

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse
from django.utils.functional import Promise, SimpleLazyObject
from django.utils.translation import gettext_lazy as _

from orders.people.models import Role, Workshop
from workshop.version import version

# The few pages a role starts from, in the order of the day.
ROADS: dict[str, tuple[tuple[str, Promise], ...]] = {
    Role.PLAYER: (("commissions:my", _("My bats")), ("interview:start", _("New fitting"))),
    Role.GUARDIAN: (("commissions:my", _("My bats")), ("interview:start", _("New fitting"))),
    Role.MAKER: (
        ("review:morning", _("Morning")),
        ("bench:bats", _("Bench")),
        ("rack:clefts", _("Rack")),
        ("match:match", _("Matching")),
        ("stock:stock", _("Stock")),
        ("returns:desk", _("Returns")),
        ("book:book", _("Book")),
        ("interview:start", _("New fitting")),
        ("review:search", _("Find")),
        ("staff", _("People")),
    ),
    Role.BENCH_HAND: (("bench:bats", _("Bench")), ("rack:clefts", _("Rack")), ("stock:stock", _("Stock"))),
}


@dataclass(frozen=True)
class Link:
    """One word of the head line and where it leads."""

    address: str
    words: Promise
    current: bool


def links(request: HttpRequest) -> list[Link]:
    """Return the links of the head line for whoever asks; none for a stranger."""
    user = getattr(request, "user", None)
    if user is None or not user.is_authenticated:
        return []
    found = []
    for name, words in ROADS[user.role]:
        address = _address(name)
        if address:
            found.append(Link(address, words, current=request.path == address))
    return found


def _address(name: str) -> str:
    try:
        return reverse(name)
    except NoReverseMatch:
        return ""


def page(request: HttpRequest) -> dict[str, Any]:
    """Give every template ``workshop`` (empty before the first day), ``version`` and the links."""
    user = getattr(request, "user", None)
    signed_in = user is not None and user.is_authenticated
    return {
        "workshop": request.workshop
        if hasattr(request, "workshop")
        else SimpleLazyObject(Workshop.objects.the_one),
        "version": version(),
        "links": links(request),
        "sign_out": _address("people:sign-out") if signed_in else "",
        "account": _address("people:account") if signed_in else "",
        "sign_in": "" if signed_in else _address("people:sign-in"),
        "how_we_decide": _address("rules:rules"),
    }
