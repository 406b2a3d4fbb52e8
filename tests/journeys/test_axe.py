"""Every page for every role: axe finds nothing, nothing scrolls sideways on a phone, nothing breaks the CSP.

Contrast is looked at once more in the dark. axe sees only what a program can see.
"""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from django.test import Client
from django.urls import reverse

from fitting.questions import Situation, pages
from orders.commissions.states import Stage
from orders.interview.access import COOKIE, hash_of
from tests.journeys.world import APART_TYPED, TYPED, a_draft, build_world

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


@pytest.fixture
def world(player, child, maker):
    return build_world(player, child, maker)


def look_at(page, addresses, status=200):
    """Return what is wrong on some pages, a line each."""
    found: dict[str, list[str]] = {}
    for address in addresses:
        page.emulate_media(color_scheme="light")
        page.set_viewport_size(WIDE)
        answer = page.goto(address)
        assert answer is not None
        faults = [] if answer.status == status else [f"answered {answer.status}"]
        page.evaluate(UNFOLD)
        faults += violations(page, {"runOnly": TAGS, "rules": {"target-size": {"enabled": True}}})
        page.emulate_media(color_scheme="dark")
        faults += [f"dark: {each}" for each in violations(page, {"runOnly": ["color-contrast"]})]
        page.set_viewport_size(NARROW)
        faults += page.evaluate(OVERFLOW)
        if faults:
            found[address] = faults
    return "\n".join(f"{address}: {faults}" for address, faults in found.items())


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
    code = draft.code
    asked = [reverse("interview:page", args=[code, each.key]) for each in pages(Situation(32, True))]
    addresses = [
        "/",
        "/fitting/",
        f"/fitting/{empty.code}/you/",
        *asked,
        f"/fitting/{code}/draft/",
        f"/fitting/{code}/keep/",
        "/sign-in/",
        "/sign-in/letter/",
        "/sign-in/workshop/",
    ]
    assert look_at(page, addresses) == ""
    assert look_at(page, ["/nowhere/"], status=404) == ""
    assert look_at(page, ["/sign-in/link/", "/invitation/"], status=410) == ""
    complaints[:] = [each for each in complaints if "status of 4" not in each]


def test_pages_of_a_player(open_page, base_url, player_user, world, settings):
    page = page_of(open_page, base_url, player_user)
    shown = {name: one for name, one in world.commissions.items() if name != "childs"}
    shown |= {str(stage): bat.commission for stage, bat in world.bats.items()}
    shown |= {"back": world.asked.commission, "mending": world.decided.commission}
    commissions = [f"/commissions/{one.code}/" for one in shown.values()]
    delivered = f"/commissions/{world.commissions['delivered'].code}/"
    proposed = f"/commissions/{world.commissions['proposed'].code}/"
    addresses = [
        "/",
        "/my/",
        "/account/",
        "/fitting/",
        f"/fitting/{world.draft.code}/you/",
        f"/fitting/{world.draft.code}/draft/",
        f"/fitting/{world.draft.code}/who/",
        *commissions,
        f"{proposed}ask-change/",
        f"{proposed}cancel/",
        f"{delivered}record/",
        f"{delivered}care/",
        f"{delivered}send-back/",
        f"/commissions/{world.decided.commission.code}/record/",
    ]
    assert look_at(page, addresses) == ""


def test_pages_of_a_guardian(open_page, base_url, guardian_user, world):
    page = page_of(open_page, base_url, guardian_user)
    code = world.child_draft.code
    asked = [reverse("interview:page", args=[code, each.key]) for each in pages(Situation(12, True))]
    addresses = [
        "/my/",
        *asked,
        f"/fitting/{code}/draft/",
        f"/fitting/{code}/who/",
        f"/commissions/{world.commissions['childs'].code}/",
    ]
    assert look_at(page, addresses) == ""


def test_pages_of_the_maker(open_page, base_url, maker, world):
    page = page_of(open_page, base_url, maker)
    counter = a_draft(TYPED, begun_by=maker)
    shown = {**world.commissions, **{str(stage): bat.commission for stage, bat in world.bats.items()}}
    sent = f"/floor/commissions/{world.commissions['sent'].code}/"
    proposed = f"/floor/commissions/{world.commissions['proposed'].code}/"
    addresses = [
        "/account/",
        "/floor/",
        "/floor/search/",
        "/floor/search/?q=alder",
        *(f"/floor/commissions/{one.code}/" for one in shown.values()),
        f"{sent}edit/",
        f"{sent}propose/",
        f"{proposed}cancel/",
        f"/floor/commissions/{world.bats[Stage.DONE].commission.code}/deliver/",
        "/floor/returns/",
        *(f"/floor/returns/{one.code}/" for one in (world.asked, world.decided, world.closed)),
        "/floor/workshop/",
        "/floor/people/",
        f"/fitting/{counter.code}/bat-face/",
        f"/fitting/{counter.code}/keep/",
        f"/commissions/{world.commissions['delivered'].code}/record/",
        f"/commissions/{world.commissions['delivered'].code}/care/",
        f"/commissions/{world.commissions['delivered'].code}/send-back/",
        *bench_and_rack(world),
    ]
    assert look_at(page, addresses) == ""


def test_pages_of_a_bench_hand(open_page, base_url, bench_hand, world):
    page = page_of(open_page, base_url, bench_hand)
    delivered = f"/commissions/{world.commissions['delivered'].code}/"
    addresses = ["/account/", "/floor/search/?q=alder", f"{delivered}record/", f"{delivered}care/"]
    assert look_at(page, [*addresses, *bench_and_rack(world)]) == ""


def bench_and_rack(world):
    """The pages that maker and bench hand share."""
    return [
        "/floor/rack/",
        "/floor/rack/take-in/",
        *(f"/floor/rack/{one.code}/" for one in world.clefts),
        "/floor/bench/",
        *(f"/floor/bench/{bat.code}/" for bat in world.bats.values()),
        f"/floor/bench/{world.bats[Stage.CLEFT_SELECTION].code}/cleft/",
        f"/floor/bench/{world.decided.bat.code}/",
    ]
