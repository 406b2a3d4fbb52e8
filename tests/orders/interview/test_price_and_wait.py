"""Price band and usual wait stand where somebody decides to begin, and where they decide to send."""

import pytest
from django.urls import reverse
from django.utils import timezone

from orders.interview.drafts import send
from orders.interview.sharing import share
from orders.people.models import Workshop
from tests.journeys.world import TYPED, a_draft

pytestmark = pytest.mark.django_db

BAND, WAIT = "£360.00 to £560.00", "8 to 12 weeks"


@pytest.fixture(autouse=True)
def band_and_wait(workshop: Workshop) -> None:
    """The maker has stated both."""
    Workshop.objects.update(price_from=36000, price_to=56000, wait_weeks_from=8, wait_weeks_to=12)


def test_they_stand_on_the_start_page_before_the_button(anyone):
    page = anyone.get(reverse("interview:start")).content.decode()
    assert -1 < page.find(BAND) < page.find(WAIT) < page.find('<button class="do">')


@pytest.mark.parametrize(
    ("stated", "words"),
    [
        ({"price_from": None, "price_to": None}, "The price the workshop tells you after the fitting"),
        ({"wait_weeks_from": None, "wait_weeks_to": None}, "How long it takes, the workshop tells you"),
    ],
)
def test_what_is_not_stated_is_said_to_come_with_the_proposal(anyone, stated, words):
    Workshop.objects.update(**stated)
    page = anyone.get(reverse("interview:start")).content.decode()
    assert words in page
    assert (BAND in page) is ("price_from" not in stated)
    assert (WAIT in page) is ("wait_weeks_from" not in stated)


def test_they_stand_on_the_draft_until_it_is_sent(player_client, player_user, player):
    fitting = a_draft(TYPED, holder=player_user, player=player)
    at = reverse("interview:draft", args=[fitting.code])
    page = player_client.get(at).content.decode()
    assert BAND in page
    assert WAIT in page
    send(fitting, by=player_user, today=timezone.localdate())
    assert BAND not in player_client.get(at).content.decode()


def test_shared_draft_is_about_the_bat_alone(anyone, player_user):
    token = share(a_draft(TYPED, holder=player_user))
    page = anyone.get(reverse("interview:shared", args=[token])).content.decode()
    assert "draft, to read" in page
    assert BAND not in page
