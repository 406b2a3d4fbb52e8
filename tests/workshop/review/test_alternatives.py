"""What each other choice would change, for the maker."""

import pytest
from django.urls import reverse

from fitting.recommend import with_effects
from orders.commissions.builds import sheet_of
from tests.factories import a_commission
from workshop.review.alternatives import told_changes

pytestmark = pytest.mark.django_db


def test_every_alternative_of_a_reason_is_told_with_what_it_changes(player):
    sheet = sheet_of(a_commission(player))
    found = with_effects(sheet)
    told = told_changes(sheet)
    asked = [len(reason.alternatives) for reason in found.reasons if reason.alternatives]
    assert [len(choice.others) for choice in told] == asked
    profile = next(choice for choice in told if choice.name == "Profile")
    full = next(other for other in profile.others if other.value == "full")
    assert any(change.endswith("heavier") for change in full.changes)


def test_page_is_the_makers_and_stands_on_the_review(maker_client, player_client, player):
    commission = a_commission(player)
    address = reverse("review:alternatives", args=[commission.code])
    assert player_client.get(address).status_code == 404
    page = maker_client.get(address).content.decode()
    assert "would change" in page
    assert "lighter to lift" in page
    assert address in maker_client.get(reverse("review:review", args=[commission.code])).content.decode()
