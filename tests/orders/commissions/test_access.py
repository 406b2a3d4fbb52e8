import pytest
from django.http import Http404

from orders.commissions.access import bat_for, commission_for, sees_prices
from orders.commissions.models import Bat
from orders.commissions.states import Stage
from tests.factories import a_bat_in, a_commission, an_agreed_bat

pytestmark = pytest.mark.django_db


def opens(user, commission):
    try:
        return commission_for(user, commission.code) == commission
    except Http404:
        return False


def test_each_role_opens_what_is_its_own(player, player_user, other_player_user, maker, bench_hand):
    sent = a_commission(player)
    at_bench = a_bat_in(Stage.SHAPING, player, maker).commission
    agreed = an_agreed_bat(player, maker).commission

    table = {
        user: tuple(opens(user, commission) for commission in (sent, agreed, at_bench))
        for user in (player_user, other_player_user, maker, bench_hand)
    }

    assert table == {
        player_user: (True, True, True),
        other_player_user: (False, False, False),
        maker: (True, True, True),
        bench_hand: (False, True, True),
    }


def test_a_code_that_does_not_exist_is_the_same_as_a_strangers(maker):
    with pytest.raises(Http404):
        commission_for(maker, "0000000000")


def test_a_bat_is_opened_with_its_commission(player, player_user, other_player_user, maker):
    bat = an_agreed_bat(player, maker)

    assert bat_for(player_user, bat.code) == Bat.objects.get()
    with pytest.raises(Http404):
        bat_for(other_player_user, bat.code)


def test_prices_are_hidden_from_bench_hands_only(player_user, guardian_user, maker, bench_hand):
    assert [sees_prices(user) for user in (player_user, guardian_user, maker, bench_hand)] == [
        True,
        True,
        True,
        False,
    ]
