"""One cleft, one bat, whatever two people do at once."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.commissions.models import Bat
from tests.factories import an_agreed_bat
from tests.orders.commissions.test_races import at_once
from tests.workshop.match.floors import an_open_proposal
from tests.workshop.willow_on_rack import a_cleft
from workshop.match.models import PairRefused
from workshop.match.taking import keep_aside, refuse, take
from workshop.rack.models import Cleft, CleftEntry, CleftHold, CleftState

pytestmark = pytest.mark.django_db(transaction=True)


def taken(cleft, bat, maker):
    """Take it; what comes back is told apart from a refusal."""
    take(cleft, bat, by=maker)
    return "taken"


def bats():
    return list(Bat.objects.select_related("commission", "commission__player"))


def test_one_cleft_for_two_bats_at_once_goes_to_one(player, maker):
    for _ in range(3):
        an_agreed_bat(player, maker)
    a_cleft(1, maker)
    pairs = [(Cleft.objects.get(), bat) for bat in bats()]

    results = at_once(*(lambda pair=pair: taken(pair[0], pair[1], maker) for pair in pairs))

    assert results.count("taken") == 1
    assert set(results) <= {"taken", "meanwhile", "not_now"}
    cleft = Cleft.objects.get()
    assert cleft.state == CleftState.RESERVED
    assert [bat.pk for bat in bats() if bat.cleft_label] == [cleft.bat_id]
    assert CleftEntry.objects.filter(verb="reserve").count() == 1


def test_two_clefts_for_one_bat_at_once_leave_it_one(player, maker):
    an_agreed_bat(player, maker)
    for number in (1, 2, 3):
        a_cleft(number, maker)
    pairs = [(cleft, bats()[0]) for cleft in Cleft.objects.all()]

    results = at_once(*(lambda pair=pair: taken(pair[0], pair[1], maker) for pair in pairs))

    assert results.count("taken") == 1
    (reserved,) = Cleft.objects.filter(state=CleftState.RESERVED)
    assert bats()[0].cleft_label == reserved.label
    assert Cleft.objects.filter(bat__isnull=False).count() == 1


def test_cleft_taken_and_kept_aside_at_once_is_one_of_the_two(player, maker):
    an_agreed_bat(player, maker)
    proposal = an_open_proposal(player, maker, valid_until=timezone.now() + timedelta(days=9))
    a_cleft(1, maker)
    mine, theirs = Cleft.objects.get(), Cleft.objects.get()
    bat = Bat.objects.select_related("commission").get()

    at_once(
        lambda: take(mine, bat, by=maker),
        lambda: keep_aside(theirs, proposal, by=maker),
    )

    reserved = Cleft.objects.filter(state=CleftState.RESERVED).count()
    held = CleftHold.objects.filter(released_at__isnull=True).count()
    assert reserved + held == 1


def test_pair_refused_twice_at_once_is_refused_once(player, maker):
    an_agreed_bat(player, maker)
    a_cleft(1, maker)

    at_once(*(lambda: refuse(Cleft.objects.get(), bats()[0], by=maker) for _ in range(3)))

    assert PairRefused.objects.count() == 1
