"""Every page for every role: axe finds nothing, nothing scrolls sideways on a phone, nothing breaks the CSP.

Contrast is looked at once more in the dark. axe sees only what a program can see.
"""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from django.test import Client
from django.urls import resolve
from playwright.sync_api import expect

from orders.interview.access import COOKIE, hash_of
from tests.journeys.addresses import (
    of_a_stranger,
    of_the_bench_hand,
    of_the_guardian,
    of_the_maker,
    of_the_player,
)
from tests.journeys.conftest import take_refusals
from tests.journeys.world import APART_TYPED, TYPED, a_draft, build_world
from tests.rules.test_addresses import ADDRESSES, filled

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
NARROW, WIDE = {"width": 320, "height": 800}, {"width": 1280, "height": 900}
# Folded parts are pages too.
UNFOLD = "() => document.querySelectorAll('details').forEach(one => { one.open = true })"
OVERFLOW = """() => {
  const wide = document.documentElement.scrollWidth
  if (wide <= window.innerWidth) return []
  const scrolled = one => one.closest('.scrolls, [tabindex="0"]')
  return [...document.querySelectorAll('body *')]
    .filter(one => one.getBoundingClientRect().right > window.innerWidth + 1 && !scrolled(one))
    .map(one => `${one.tagName}.${one.className} ${(one.textContent || '').trim().slice(0, 40)}`).slice(0, 5)
    .concat([`${wide} px wide`])
}"""


# What is no page of its own: a file, a state of health, a way to a page, a fragment; and the letters of a
# site that is tried out, which the demo alone shows.
NO_PAGE = {
    "health/",
    "photographs/<str:code>/",
    "commissions/<str:code>/record.pdf",
    "floor/bench/<slug:code>/job-card.pdf",
    "floor/bench/<slug:code>/hanging-label.pdf",
    "floor/rack/labels.pdf",
    "floor/rack/<slug:code>/label.pdf",
    "floor/rack/clefts.csv",
    "floor/rack/clefts.xlsx",
    "floor/rack/import/pattern.xlsx",
    "floor/rack/import/<slug:code>/bad-rows.csv",
    "floor/rack/<slug:code>/photograph/<slug:photo>/",
    "sign-in/link/<str:token>/",
    "invitation/<str:token>/",
    "fitting/<str:code>/preview/",
    "mail/",
}
OVER = ["/sign-in/link/", "/invitation/"]


@pytest.fixture
def world(player, child, maker):
    return build_world(player, child, maker)


def look_at(page, addresses, status=200):
    """Return what is wrong on some pages, a line each."""
    found: dict[str, list[str]] = {}
    in_the_dark = set()
    for address in addresses:
        answer = page.goto(address)
        assert answer is not None
        # Pages that differ by their code only wear the same colours.
        shape = re.sub(r"/[0-9a-z]{10}/", "/", address)
        faults = [] if answer.status == status else [f"answered {answer.status}"]
        faults += faults_of(page, dark=shape not in in_the_dark)
        in_the_dark.add(shape)
        if faults:
            found[address] = faults
    return "\n".join(f"{address}: {faults}" for address, faults in found.items())


def faults_of(page, *, dark=True):
    """Return what is wrong on the page as it stands: wide and light, dark, narrow."""
    page.evaluate(UNFOLD)
    page.set_viewport_size(WIDE)
    page.emulate_media(color_scheme="light")
    faults = violations(page, {"runOnly": TAGS, "rules": {"target-size": {"enabled": True}}})
    if dark:
        page.emulate_media(color_scheme="dark")
        faults += [f"dark: {each}" for each in violations(page, {"runOnly": ["color-contrast"]})]
        page.emulate_media(color_scheme="light")
    page.set_viewport_size(NARROW)
    faults += page.evaluate(OVERFLOW)
    page.set_viewport_size(WIDE)
    return faults


def violations(page, options):
    """Return what axe finds: the rule, and the first places."""
    answer = Axe().run(page, options=options)
    return [
        f"{each['id']}: {[node['html'][:160] for node in each['nodes'][:3]]}"
        for each in answer.response["violations"]
    ]


def page_of(open_page, base_url, user=None, browser=""):
    """Return a page in which somebody is signed in, or a browser that keeps a draft."""
    page = open_page()
    cookies = [(COOKIE, browser)] if browser else []
    if user:
        client = Client()
        client.force_login(user)
        cookies.append((settings.SESSION_COOKIE_NAME, client.cookies[settings.SESSION_COOKIE_NAME].value))
    page.context.add_cookies([{"name": name, "value": value, "url": base_url} for name, value in cookies])
    return page


def test_pages_before_the_first_day(open_page, base_url):
    page = page_of(open_page, base_url)
    assert look_at(page, ["/open/", "/"]) == ""


def test_pages_of_a_stranger(open_page, base_url, workshop, complaints):
    draft = a_draft({**TYPED, **APART_TYPED}, browser_hash=hash_of("browser"))
    empty = a_draft({}, browser_hash=hash_of("browser"))
    page = page_of(open_page, base_url, browser="browser")
    assert look_at(page, of_a_stranger(draft, empty)) == ""
    assert look_at(page, ["/nowhere/"], status=404) == ""
    assert look_at(page, OVER, status=410) == ""
    take_refusals(complaints, 1, status=404)
    take_refusals(complaints, 2, status=410)


def test_pages_of_a_player(open_page, base_url, player_user, world):
    assert look_at(page_of(open_page, base_url, player_user), of_the_player(world)) == ""


def test_pages_of_a_guardian(open_page, base_url, guardian_user, world):
    assert look_at(page_of(open_page, base_url, guardian_user), of_the_guardian(world)) == ""


def test_pages_of_the_maker(open_page, base_url, maker, world):
    assert look_at(page_of(open_page, base_url, maker), of_the_maker(world)) == ""


def test_pages_of_a_bench_hand(open_page, base_url, bench_hand, world):
    assert look_at(page_of(open_page, base_url, bench_hand), of_the_bench_hand(world)) == ""


@pytest.mark.parametrize(
    ("who", "address", "fill", "button"),
    [
        ("player_user", "/sign-in/", {"Your mail address": "nobody"}, "Write to me"),
        ("player_user", "/fitting/{draft}/you/", {"How tall are you?": "17.57 m"}, "Keep and go on"),
        ("player_user", "/commissions/{proposed}/ask-change/", {}, "Send it to the maker"),
        ("player_user", "/commissions/{delivered}/send-back/", {}, "Send it to the maker"),
        ("maker", "/floor/commissions/{sent}/propose/", {"Price in": "much"}, "Propose it"),
        ("maker", "/floor/commissions/{sent}/edit/", {"spine, station 2": "wide"}, "Keep as a new version"),
        ("maker", "/floor/returns/{asked}/", {}, "Decide, and write to the player"),
        ("maker", "/floor/book/wishes/", {"Slight bow": "80"}, "Change it, and try it"),
        ("maker", "/floor/book/lengths/", {"short handle, width, mm": "wide"}, "Change it, and try it"),
        ("maker", "/floor/book/signs/bow/", {"Points, slight": "many"}, "Change it, and try it"),
        ("maker", "/floor/book/try/?edition=1", {}, "Save as edition 3"),
        ("maker", "/floor/people/", {"Mail address": "nobody"}, "Invite"),
        ("bench_hand", "/floor/rack/take-in/", {"Mass": "heavy"}, "Put it on the rack"),
        ("bench_hand", "/floor/bench/{shaping}/", {}, "Pass on to"),
        ("bench_hand", "/floor/bench/{shaping}/", {"Mass of the bare blade": "0"}, "Keep these readings"),
    ],
)
def test_pages_with_faults(open_page, base_url, request, world, complaints, who, address, fill, button):
    page = page_of(open_page, base_url, request.getfixturevalue(who))
    codes = {name: one.code for name, one in world.commissions.items()}
    codes |= {str(stage): bat.code for stage, bat in world.bats.items()}
    page.goto(address.format(**codes, draft=world.draft.code, asked=world.asked.code))
    page.evaluate("() => document.querySelectorAll('form').forEach(form => { form.noValidate = true })")
    for label, text in fill.items():
        page.get_by_label(label).first.fill(text)
    page.get_by_role("button", name=button).first.click()
    expect(page.locator("#faults")).to_be_focused()
    assert faults_of(page) == []
    take_refusals(complaints, 1)


def test_every_address_that_shows_a_page_is_looked_at(world, maker_client):
    draft = world.draft
    everywhere = [
        "/open/",
        *OVER,
        *of_a_stranger(draft, draft),
        *of_the_player(world),
        *of_the_guardian(world),
        *of_the_maker(world),
        *of_the_bench_hand(world),
    ]
    looked_at = {resolve(address.split("?")[0]).route for address in everywhere}
    needs_post = {route for route in ADDRESSES if maker_client.get(filled(route)).status_code == 405}
    assert looked_at | needs_post | NO_PAGE == set(ADDRESSES)
    assert not looked_at & (needs_post | NO_PAGE)
