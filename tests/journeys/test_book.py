"""The maker changes the book, with and without JavaScript; a player sees what the rules would decide."""

from playwright.sync_api import expect

from orders.commissions.book_in_force import book_in_force
from orders.commissions.models import BookVersion
from tests.factories import a_commission
from tests.journeys import acts

LOFTED = {"shots": {"lofted": 2, "cut": 3}}


def test_maker_changes_a_weight_without_javascript(open_page, workshop, player, maker_at_work):
    lofted = a_commission(player, game=LOFTED, present_bat={}, pitches={})
    a_commission(player)
    page = open_page(java_script_enabled=False)
    acts.sign_in_by_password(page, maker_at_work.email)

    page.get_by_role("link", name="Book", exact=True).click()
    page.get_by_role("link", name="Signs", exact=True).first.click()
    page.get_by_role("link", name="Bow", exact=True).click()
    page.get_by_label("Points, full: your lofted strokes: among your best 2 strokes").fill("2.5")
    page.get_by_role("button", name="Change it, and try it").click()

    expect(page.get_by_role("row", name=lofted.reference)).to_contain_text("Bow: 5 mm → 12 mm")
    expect(page.locator(".tried tbody tr")).to_have_count(1)
    page.get_by_label("Why, in one line").fill("More bow for the lofted")
    page.get_by_role("button", name="Save as edition 2").click()
    expect(page.locator("main")).to_contain_text("More bow for the lofted")
    assert BookVersion.objects.get().note == "More bow for the lofted"

    page.get_by_role("link", name="All editions, and what differs").click()
    page.get_by_role("link", name="Take up edition 1 again").click()
    page.get_by_label("Why, in one line").fill("Back to it")
    page.get_by_role("button", name="Save as edition 3").click()
    expect(page.get_by_text("Edition 3 is in force.")).to_be_visible()
    assert book_in_force().version == 3


def test_rules_follow_the_answers_as_they_are_given(page, workshop):
    page.goto("/fitting/")
    page.get_by_role("link", name="How we decide").first.click()
    page.get_by_role("link", name="Bow", exact=True).click()
    decided = page.locator("#decided h3")
    expect(decided).to_have_text("It would be: slight")

    page.get_by_label("How long is the grass of your outfields?").select_option(label="long")
    expect(page.locator("#decided li")).to_have_count(2)
    page.locator("[name='shots.1']").select_option("lofted")
    expect(decided).to_have_text("It would be: full")

    page.get_by_label("How much bow should the blade have?").select_option(label="none")
    expect(decided).to_have_text("It would be: no bow")


def test_rules_answer_without_javascript(plain_page, workshop):
    page = plain_page
    page.goto("/rules/bow/")
    page.get_by_label("How long is the grass of your outfields?").select_option(label="long")
    page.locator("[name='shots.1']").select_option("lofted")
    page.get_by_role("button", name="Decide").click()

    expect(page.locator("#decided h3")).to_have_text("It would be: full")
    expect(page.get_by_label("How long is the grass of your outfields?")).to_have_value("long")
