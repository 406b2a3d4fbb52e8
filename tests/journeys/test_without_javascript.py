"""The fitting, the proposal and a step at the bench once more in a browser that runs no script."""

from django.utils import timezone
from playwright.sync_api import expect

from orders.commissions.models import Bat, Commission
from orders.commissions.states import State
from orders.interview.models import Fitting
from orders.words.measures import show_mass
from tests.factories import a_bat_in, a_commission, propose_to
from tests.journeys import acts
from tests.journeys.reading import figures, link_in, the_post

ADDRESS = "birch@players.example"
NAME = "Bo Birch"


def test_fitting_and_acceptance_without_javascript(plain_page, workshop, maker):
    page = plain_page
    acts.begin_a_fitting(page)
    acts.answer_all(page, acts.GROWN, after_page=lambda title: sees_the_bat(page, title))
    assert Fitting.objects.get().sheet["game"]["batting_place"] == "top_order"
    acts.leave_the_address(page, ADDRESS)
    acts.send_for_myself(page, NAME)
    proposal = propose_to(Commission.objects.get(), maker, at=timezone.now())
    page.goto(link_in(the_post(ADDRESS, "A proposal for your bat"), "/commissions/"))
    mass = proposal.snapshot["weighing"]["mass_g"]
    # Asked in pounds and ounces, told in them.
    assert figures(page)["mass, the forecast"][0] == show_mass(mass, "imperial")
    page.get_by_role("button", name="Accept and agree to pay £420.00").click()
    expect(page.locator("main")).to_contain_text("Agreed, waiting for the bench")
    assert Commission.objects.get().state == State.ACCEPTED
    assert Bat.objects.get().agreed == proposal


def sees_the_bat(page, title):
    """Without script the bat stands beside the next page."""
    if title == "Your game":
        expect(page.locator("#bat-so-far svg").first).to_be_visible()


def test_bench_without_javascript(open_page, workshop, player, maker, bench_hand_at_work):
    bat = a_bat_in("finishing", player, maker, at=timezone.now())
    page = open_page(java_script_enabled=False)
    acts.sign_in_by_password(page, bench_hand_at_work.email)
    acts.to_the_bench(page, player.name)
    acts.work_the_stage(page, {"final_moisture": "11"}, "final inspection")
    bat.refresh_from_db()
    assert bat.stage == "inspection"


def test_maker_weighs_an_edit_without_javascript(open_page, workshop, player, maker_at_work):
    commission = a_commission(player)
    page = open_page(java_script_enabled=False)
    acts.sign_in_by_password(page, maker_at_work.email)
    page.get_by_role("link", name=player.name).click()
    page.get_by_role("link", name="Change the build sheet").click()
    before = figures(page, "#weighing")["mass, the forecast"]
    box = page.get_by_label("spine, station 4", exact=True)
    box.fill(f"{float(box.input_value()) + 3:g}")
    page.get_by_role("button", name="Weigh it").click()
    assert figures(page, "#weighing")["mass, the forecast"] != before
    assert commission.builds.count() == 1
