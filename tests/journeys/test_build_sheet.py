"""The maker changes the build sheet in a browser: the numbers follow while typing, or by a button."""

import re

import pytest
from django.urls import reverse

from fitting.bat.weigh import weigh
from orders.commissions.builds import build_of
from orders.commissions.models import BuildVersion
from tests.cast import signed_in
from tests.factories import a_commission


def enter(page, user, base_url):
    """Give the browser a session of that account."""
    value = signed_in(user).cookies["session"].value
    page.context.add_cookies([{"name": "session", "value": value, "url": base_url}])


def mass_on(page):
    """The forecast mass as it stands on the page, g."""
    return int(re.sub(r"\D", "", page.locator("#weighing .figures .big").first.inner_text()))


@pytest.fixture
def commission(player, maker, transactional_db):
    return a_commission(player)


def test_numbers_follow_while_typing_and_stay_when_it_is_no_bat(page, base_url, commission, maker):
    enter(page, maker, base_url)
    page.goto(reverse("review:edit", args=[commission.code]))
    first = build_of(commission.builds.get())
    assert mass_on(page) == round(weigh(first).mass_g)

    with page.expect_response(re.compile("/weigh/")):
        page.get_by_label("Grips", exact=True).fill("2")
    page.wait_for_function("document.querySelector('#weighed-said').textContent !== ''")

    two = first.model_copy(update={"grips": first.grips.model_copy(update={"count": 2})})
    assert mass_on(page) == round(weigh(two).mass_g)
    assert page.locator("#weighing").get_by_text("The mass misses its target").is_visible()
    assert page.evaluate("document.activeElement.name") == "grips.count"

    page.get_by_label("Width", exact=True).fill("wide")
    page.get_by_text("This is no bat yet").wait_for()
    assert mass_on(page) == round(weigh(two).mass_g)
    assert BuildVersion.objects.count() == 1


def test_without_javascript_a_button_weighs_and_another_keeps(open_page, base_url, commission, maker):
    page = open_page(java_script_enabled=False)
    enter(page, maker, base_url)
    page.goto(reverse("review:edit", args=[commission.code]))
    first = build_of(commission.builds.get())

    page.get_by_label("Grips", exact=True).fill("2")
    page.get_by_role("button", name="Weigh it").click()

    two = first.model_copy(update={"grips": first.grips.model_copy(update={"count": 2})})
    assert mass_on(page) == round(weigh(two).mass_g)
    page.get_by_role("button", name="Keep as a new version").click()
    page.get_by_role("heading", name="Version 2, edited").wait_for()
    assert build_of(commission.builds.get(number=2)) == two
