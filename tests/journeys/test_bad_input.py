"""Input that cannot be: told at its field, kept as typed, nothing stored."""

import pytest
from playwright.sync_api import expect

from orders.care.models import Return
from orders.commissions.models import Commission
from orders.interview.models import Fitting
from orders.messages.models import Photo
from tests.factories import a_commission, a_delivered_bat
from tests.journeys import acts
from tests.journeys.conftest import take_refusals


@pytest.mark.parametrize("height", ["17.57 m", "5'13\"", "-3", "tall", "NaN"])
def test_height_that_cannot_be(page, workshop, complaints, height):
    acts.begin_a_fitting(page)
    page.get_by_label("How old are you?").fill("32")
    page.get_by_label("How tall are you?").fill(height)
    page.get_by_role("button", name="Keep and go on").click()
    expect(page.locator("#faults")).to_be_visible()
    expect(page.locator("#height-fault")).to_contain_text(height)
    box = page.get_by_label("How tall are you?")
    expect(box).to_have_value(height)
    expect(box).to_have_attribute("aria-invalid", "true")
    expect(page.get_by_label("How old are you?")).to_have_value("32")
    page.locator("#faults a").first.click()
    expect(box).to_be_focused()
    assert "height" not in Fitting.objects.get().answers
    take_refusals(complaints, 1)


def test_height_that_cannot_be_is_told_beside_it_at_once(page, workshop):
    acts.begin_a_fitting(page)
    box = page.get_by_label("How tall are you?")
    box.fill("17.57 m")
    box.blur()
    expect(page.locator("#height-fault")).to_contain_text("17.57 m")
    expect(box).to_have_attribute("aria-invalid", "true")
    box.fill("1.757 m")
    box.blur()
    expect(page.locator("#height-fault")).to_be_empty()
    expect(page.locator("#height-understood")).to_contain_text("5 ft 9 in")
    expect(box).not_to_have_attribute("aria-invalid", "true")


def test_doubtful_height_is_asked_back_with_its_readings(page, workshop, complaints):
    acts.begin_a_fitting(page)
    page.get_by_label("How old are you?").fill("32")
    box = page.get_by_label("How tall are you?")
    box.fill("5.9 ft")
    box.blur()
    expect(page.locator("#height-fault")).to_contain_text("could be 5 ft 11 in or 5 ft 9 in.")
    # Enter leaves the page as its own button does; it does not pick a reading.
    box.press("Enter")
    expect(page.locator("#faults")).to_contain_text("Which is it?")
    expect(box).to_have_value("5.9 ft")
    page.get_by_role("button", name="5 ft 9 in").click()
    expect(box).to_have_value("5 ft 9 in")
    expect(page.locator("#height-understood")).to_contain_text("175.3 cm")
    expect(page.locator("#height-fault")).to_be_empty()
    take_refusals(complaints, 1)


def test_empty_first_page(page, workshop, complaints):
    acts.begin_a_fitting(page)
    page.get_by_role("button", name="Keep and go on").click()
    expect(page.locator("#faults li")).to_have_count(2)
    expect(page.locator("#age-fault")).not_to_be_empty()
    expect(page.locator("#height-fault")).not_to_be_empty()
    assert Fitting.objects.get().answers == {}
    take_refusals(complaints, 1)


def test_build_sheet_that_is_no_bat(open_page, workshop, player, maker_at_work, complaints):
    commission = a_commission(player)
    page = open_page(java_script_enabled=False)
    acts.sign_in_by_password(page, maker_at_work.email)
    page.get_by_role("link", name=player.name).click()
    page.get_by_role("link", name="Change the build sheet").click()
    blade = page.get_by_role("group", name="Blade")
    width = blade.get_by_label("Width", exact=True)
    for given in ("NaN", "wide", "-100", "4000", ""):
        width.fill(given)
        page.get_by_role("button", name="Keep as a new version").click()
        expect(page.locator("#faults")).to_contain_text(given or "A number is needed.")
        expect(width).to_have_value(given)
        expect(width).to_have_attribute("aria-invalid", "true")
    assert commission.builds.count() == 1
    take_refusals(complaints, 5)


def test_empty_proposal(open_page, workshop, player, maker_at_work, complaints):
    commission = a_commission(player)
    page = open_page(java_script_enabled=False)
    acts.sign_in_by_password(page, maker_at_work.email)
    page.goto(f"/floor/commissions/{commission.code}/propose/")
    page.evaluate("() => document.querySelectorAll('form').forEach(form => form.noValidate = true)")
    page.get_by_label("Price in").fill("four hundred")
    page.get_by_role("button", name="Propose it").click()
    expect(page.locator("#faults")).to_contain_text("four hundred was given, which is no sum of money.")
    expect(page.get_by_label("Price in")).to_have_value("four hundred")
    assert Commission.objects.get().state == "sent"
    assert not commission.proposals.exists()
    take_refusals(complaints, 1)


def test_photograph_that_is_none(open_page, workshop, player_user, player, maker, complaints):
    bat = a_delivered_bat(player, maker)
    page = open_page()
    acts.sign_in_by_letter(page, player_user.email)
    page.goto(f"/commissions/{bat.commission.code}/send-back/")
    page.get_by_label("What is wrong with it?").fill("A crack in the toe.")
    page.get_by_label("the toe is cracked or chipped").check()
    page.get_by_label("How far from the toe is that?").fill("tall")
    page.get_by_label("Photograph of the toe").set_input_files(
        {"name": "toe.png", "mimeType": "image/png", "buffer": b"<html>no picture</html>"}
    )
    page.get_by_role("button", name="Send it to the maker").click()
    expect(page.locator("#faults")).to_contain_text("Photograph of the toe")
    expect(page.locator("#faults")).to_contain_text("“tall” was given.")
    expect(page.get_by_label("What is wrong with it?")).to_have_value("A crack in the toe.")
    expect(page.get_by_label("the toe is cracked or chipped")).to_be_checked()
    assert not Photo.objects.exists()
    assert not Return.objects.exists()
    take_refusals(complaints, 1)


def test_sign_in_with_no_address(page, workshop, complaints):
    page.goto("/sign-in/")
    page.get_by_label("Your mail address").fill("alder at players")
    page.get_by_role("button", name="Write to me").click()
    expect(page.locator("#id_email_error")).to_contain_text("Give a whole mail address")
    expect(page.get_by_label("Your mail address")).to_have_value("alder at players")
    take_refusals(complaints, 1)
