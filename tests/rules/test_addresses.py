"""Every address has declared who may call it, and keeps to that."""

import re

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver
from django.urls.converters import IntConverter

from orders.people.doors import ANYONE, HOLDER, STAFF
from orders.people.models import Role, User

EVERY_ROLE = frozenset({*ANYONE, *HOLDER, *STAFF})

# Forms without a one-time key, and why sending one twice does no more than sending it once.
TWICE_IS_ONCE = {
    "people:sign-in": "writes one more letter; the newer link ends the older",
    "people:letter-on-its-way": "a code is of use once",
    "people:link": "a link is of use once",
    "people:staff-sign-in": "begins a session, as often as the password is right",
    "people:sign-out": "ends what may have ended already",
    "people:sign-out-everywhere": "ends what may have ended already",
    "people:open": "one workshop in a database",
    "people:invitation": "an invitation is of use once",
    "interview:page": "the same answers change nothing; others need the version that was read",
    "review:weigh": "keeps nothing",
    "returns:look": "keeps nothing",
    "bench:failed-letter": "keeps nothing",
}


def addresses(resolver=None, before=""):
    """Yield (route, pattern) for every address of the site."""
    for each in (resolver or get_resolver()).url_patterns:
        route = before + str(each.pattern)
        if isinstance(each, URLResolver):
            yield from addresses(each, route)
        elif isinstance(each, URLPattern):
            yield route, each


ADDRESSES = dict(addresses())


def declared(route):
    return getattr(ADDRESSES[route].callback, "open_to", None)


def filled(route):
    """The route with codes that nothing has."""
    return "/" + re.sub(r"<(?:\w+:)?(\w+)>", lambda found: "1" if "int:" in found[0] else "zzzzzzzzzz", route)


@pytest.mark.parametrize("route", ADDRESSES)
def test_address_says_who_may_call_it(route):
    roles = declared(route)
    assert roles, f"{route}: its view lacks @open_to(...)"
    assert roles <= EVERY_ROLE


@pytest.mark.parametrize("route", [route for route in ADDRESSES if route.startswith("floor/")])
def test_address_of_the_floor_is_for_staff_only(route):
    assert declared(route) <= STAFF


@pytest.mark.parametrize("route", ADDRESSES)
def test_address_shows_no_primary_key(route):
    pattern = ADDRESSES[route].pattern
    assert not {"pk", "id"} & set(pattern.converters)
    assert not [name for name, kind in pattern.converters.items() if isinstance(kind, IntConverter)]


def named(resolver=None, room=""):
    """Yield (name with its namespace, pattern) for every address of the site."""
    for each in (resolver or get_resolver()).url_patterns:
        if isinstance(each, URLResolver):
            yield from named(each, f"{each.namespace}:" if each.namespace else room)
        elif isinstance(each, URLPattern):
            yield f"{room}{each.name}", each


def welcome(route):
    """A client of somebody who may call the address, signed in afresh: some addresses sign out."""
    client = Client()
    role = next(role for role in ("anyone", "maker", "player") if role in declared(route))
    if role != "anyone":
        client.force_login(User.objects.get(role=role))
    return client


def test_every_form_counts_once(maker, player_user):
    routes = {id(pattern): route for route, pattern in ADDRESSES.items()}
    takes_forms = {}
    for name, pattern in named():
        route = routes[id(pattern)]
        if welcome(route).post(filled(route)).status_code != 405:
            takes_forms[name] = getattr(pattern.callback, "counts_once", False)
    assert {name for name, counts in takes_forms.items() if not counts} == set(TWICE_IS_ONCE)
    assert sum(takes_forms.values()) > 20


@pytest.mark.parametrize("method", ["get", "post"])
@pytest.mark.parametrize("route", [route for route in ADDRESSES if "anyone" not in (declared(route) or ())])
def test_address_sends_a_stranger_to_sign_in(route, method, workshop):
    response = getattr(Client(), method)(filled(route))
    if response.status_code != 405:
        assert response.status_code == 302
        assert response.headers["Location"].startswith("/sign-in/")


@pytest.mark.parametrize("method", ["get", "post"])
@pytest.mark.parametrize(
    ("who", "role"),
    [
        ("player_user", Role.PLAYER),
        ("guardian_user", Role.GUARDIAN),
        ("bench_hand", Role.BENCH_HAND),
        ("maker", Role.MAKER),
    ],
)
def test_addresses_do_not_exist_for_other_roles(who, role, method, request):
    client = Client()
    client.force_login(request.getfixturevalue(who))
    shut = [route for route in ADDRESSES if not {"anyone", str(role.value)} & (declared(route) or set())]
    answers = {route: getattr(client, method)(filled(route)).status_code for route in shut}
    assert {status for status in answers.values() if status != 405} <= {404}, answers
