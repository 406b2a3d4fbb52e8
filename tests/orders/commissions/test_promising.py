"""Moving promised days, and what the player reads of it."""

from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse

from orders.commissions.models import Commission
from orders.commissions.promising import last_move, move_promise, moved_by
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import a_bat_in, a_commission

pytestmark = pytest.mark.django_db


@pytest.fixture
def commission(player: Player, maker: User) -> Commission:
    """A commission whose bat is being made."""
    return a_bat_in(Stage.SHAPING, player, maker).commission


def test_both_ends_of_the_promise_move_and_the_old_ones_are_kept(commission: Commission, maker: User):
    before = (commission.promised_from, commission.promised_to)

    move_promise(commission, days=9, why="the willow failed", by=maker)

    kept = Commission.objects.get()
    assert kept.promised_from == before[0] + timedelta(days=9)  # type: ignore[operator]
    assert kept.promised_to == before[1] + timedelta(days=9)  # type: ignore[operator]
    entry = kept.journal.get(verb="move_promise")
    assert entry.data["before"] == [day.isoformat() for day in before if day]
    assert entry.data["why"] == "the willow failed"
    assert last_move(kept) == entry


@pytest.mark.parametrize(
    ("days", "why", "key"),
    [
        (0, "late", "too_many_days"),
        (366, "late", "too_many_days"),
        (-3, "late", "too_many_days"),
        (3, " ", "reason_needed"),
    ],
)
def test_moving_by_nothing_by_years_or_without_a_reason_is_refused(
    commission: Commission, maker: User, days: int, why: str, key: str
):
    before = Commission.objects.values().get()

    with pytest.raises(Refused) as refused:
        move_promise(commission, days=days, why=why, by=maker)

    assert refused.value.key == key
    assert Commission.objects.values().get() == before


def test_only_the_maker_moves_a_promise(commission: Commission, bench_hand: User):
    with pytest.raises(Refused) as refused:
        move_promise(commission, days=3, why="late", by=bench_hand)

    assert refused.value.key == "not_yours"


def test_two_who_move_it_at_once_move_it_once(commission: Commission, maker: User):
    as_read = Commission.objects.get()
    move_promise(commission, days=3, why="late", by=maker)

    with pytest.raises(MovedOn):
        move_promise(as_read, days=3, why="late", by=maker)

    assert commission.journal.filter(verb="move_promise").count() == 1


def test_a_commission_without_a_promise_has_none_to_move(player: Player, maker: User):
    commission = a_commission(player)

    with pytest.raises(Refused) as refused:
        move_promise(commission, days=3, why="late", by=maker)
    assert refused.value.key == "not_now"
    with pytest.raises(Refused):
        moved_by(commission, 3)


def test_the_players_page_tells_the_new_days_and_the_old_ones(
    commission: Commission, maker: User, player_client: Client
):
    move_promise(commission, days=9, why="the willow failed: split in the press", by=maker)

    page = player_client.get(reverse("commissions:commission", args=[commission.code])).content.decode()

    assert "It was promised between" in page
    assert "moved by 9 days: the willow failed: split in the press" in page
