"""A child's bat: the guardian sends it and agrees to it, nobody else."""

from django.utils import timezone
from playwright.sync_api import expect

from orders.commissions.models import Commission
from orders.commissions.states import State
from orders.interview.models import Fitting
from orders.people.models import Role, User
from tests.factories import propose_to
from tests.journeys import acts
from tests.journeys.conftest import take_refusals
from tests.journeys.reading import figures, link_in, the_post

GUARDIAN = "cedar@players.example"
CHILD = {
    "You": {
        "How old are you?": "12",
        "How tall are you?": "1.50 m",
        "Which way round do you bat?": ["left-handed"],
        "How high is your wrist": "70 cm",
    },
    "Growing, and the bat in use": {
        "Is it for junior cricket only?": ["yes"],
        "How does the bat in use lift?": ["too heavy"],
    },
}


def test_guardian_holds_sends_and_accepts_for_a_child(page, workshop, maker):
    acts.begin_a_fitting(page)
    acts.answer_all(page, CHILD)
    acts.leave_the_address(page, GUARDIAN)
    acts.send_for_a_child(page, guardian="Cam Cedar", child="Robin Cedar", born=born_years_ago(12))

    commission = Commission.objects.get()
    holder = User.objects.get(email=GUARDIAN)
    assert (holder.role, holder.name) == (Role.GUARDIAN, "Cam Cedar")
    assert commission.holder == holder
    assert commission.player.name == "Robin Cedar"
    assert commission.player.relation == "mother"
    # Under 18 an adult bat is none: the model's child's size is offered.
    assert commission.builds.get().build["length_code"].startswith("size_")

    propose_to(commission, maker, at=timezone.now())
    page.goto(link_in(the_post(GUARDIAN, "A proposal for your bat"), "/commissions/"))
    assert figures(page)["overall length"]
    page.get_by_role("button", name="Accept and agree to pay").click()
    expect(page.locator("main")).to_contain_text("Agreed, waiting for the bench")
    assert Commission.objects.get().state == State.ACCEPTED


def test_child_is_not_sent_without_an_adult_who_answers(page, workshop, complaints):
    acts.begin_a_fitting(page)
    acts.answer_all(page, CHILD)
    acts.leave_the_address(page, GUARDIAN)
    page.get_by_role("link", name="Say whom it is for, then send it").first.click()
    expect(page.locator("main")).to_contain_text("The player is under 18.")
    page.get_by_label("Your own name").fill("Cam Cedar")
    page.get_by_label("Their name").fill("Robin Cedar")
    page.get_by_label("Their date of birth").fill(born_years_ago(15))
    page.get_by_label("How you are related").fill("mother")
    page.get_by_role("button", name="Keep it so").click()
    expect(page.locator("#faults")).to_contain_text("Under 18 an adult must answer for it.")
    expect(page.get_by_label("Their name")).to_have_value("Robin Cedar")
    page.get_by_label("I am 18 or older").check()
    page.get_by_role("button", name="Keep it so").click()
    expect(page.locator("#faults")).to_contain_text("not that of the age that the bat is fitted to")
    assert Fitting.objects.get().player is None
    assert not Commission.objects.exists()
    take_refusals(complaints, 2)


def born_years_ago(years):
    """Return a date of birth with the birthday well behind."""
    today = timezone.localdate()
    return today.replace(year=today.year - years, day=1, month=1).isoformat()
