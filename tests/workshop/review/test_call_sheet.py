"""What the maker is told to ask on the phone."""

import re

import pytest
from django.urls import reverse

from orders.commissions.models import Commission
from tests.factories import a_commission, propose_to

pytestmark = pytest.mark.django_db


def asked(client, commission: Commission) -> list[str]:
    """The lines of the call sheet on the review page."""
    page = client.get(reverse("review:review", args=[commission.code])).content.decode()
    found = re.search(r'<section class="to-ask".*?</section>', page, re.DOTALL)
    return re.findall(r"<li>(.*?)</li>", found[0]) if found else []


def test_review_lists_what_to_ask_at_most_five(maker_client, player):
    commission = a_commission(player, present_bat={"liked": True, "pickup": "too_heavy"})
    lines = asked(maker_client, commission)
    assert lines[0] == "Ask what is to stay of the bat in use, because it is liked and yet called too heavy."
    assert 1 < len(lines) <= 5


def test_conflict_is_asked_about_from_what_was_kept(maker_client, player):
    commission = a_commission(player, wishes={"mass_g": {"max": 950}})
    first = commission.builds.get()
    assert first.reasons["conflicts"]
    assert any(line.startswith("Ask what is to give way") for line in asked(maker_client, commission))
    first.reasons["conflicts"] = []
    first.save(update_fields=["reasons"])
    assert not any(line.startswith("Ask what is to give way") for line in asked(maker_client, commission))


def test_nothing_is_asked_once_it_is_proposed(maker_client, player, maker):
    commission = a_commission(player)
    assert asked(maker_client, commission)
    propose_to(commission, maker)
    assert asked(maker_client, commission) == []
