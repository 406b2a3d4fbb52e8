"""What is short: supplies under their minimum, handles fewer than the agreed bats want."""

from datetime import date

import pytest

from orders.commissions import lifecycle
from orders.commissions.states import Cause, Stage
from tests.factories import a_bat_in, a_commission, an_agreed_bat, propose_to
from tests.workshop.stock.shelves import a_handle, glue, grips, recommended_construction
from workshop.stock import handles, supplies
from workshop.stock.short import what_is_short

TODAY = date(2027, 3, 1)


def short_supplies():
    return [(one.supply.colour, one.left, one.short) for one in what_is_short(day=TODAY).supplies]


@pytest.fixture
def wanted(player, maker):
    """The construction that every bat of these tests is agreed with, one such handle in stock."""
    construction = recommended_construction()
    a_handle(1, maker, construction=construction)
    return construction


def need(construction):
    found = {one.construction: one for one in what_is_short(day=TODAY).handles}[construction]
    return found.free, found.wanted, found.offered, found.short


@pytest.mark.parametrize(("came", "short"), [(3, [("blue", 3, 1)]), (4, []), (0, [("blue", 0, 4)])])
def test_supply_under_its_minimum_is_short(came, short, maker):
    grips(maker, came=came)

    assert short_supplies() == short


def test_batches_of_one_thing_count_together_by_the_newest_minimum(maker):
    grips(maker, came=3, minimum=90)
    grips(maker, came=3, minimum=50, arrived_on=date(2027, 2, 1))
    grips(maker, came=1, colour="red")

    assert short_supplies() == [("red", 1, 3)]


def test_what_is_past_its_day_does_not_count_and_is_told(maker):
    past = glue(maker, came=500, minimum=1000, use_by=date(2027, 2, 28))
    fresh = glue(maker, came=60, minimum=1000, use_by=TODAY, arrived_on=date(2027, 2, 1))

    found = what_is_short(day=TODAY)

    assert [(one.supply, one.left) for one in found.supplies] == [(fresh, 60)]
    assert found.past == (past,)


def test_past_and_used_up_is_no_matter(maker):
    glue(maker, came=0, use_by=date(2027, 2, 28))

    assert not what_is_short(day=TODAY).is_any


def test_cost_is_what_is_missing_at_the_price_of_one(maker):
    grips(maker, came=1, price=320)
    glue(maker, came=10, minimum=1000)

    assert {one.supply.kind: one.cost for one in what_is_short(day=TODAY).supplies} == {
        "grip": 960,
        "glue": None,
    }


def test_handles_are_held_against_agreed_bats_and_open_proposals(wanted, player, maker):
    an_agreed_bat(player, maker)
    a_bat_in(Stage.HANDLE_FITTING, player, maker)
    propose_to(a_commission(player), maker)

    assert need(wanted) == (1, 2, 1, 1)
    assert what_is_short(day=TODAY).short_handles


def test_bat_with_its_handle_wants_none(wanted, player, maker):
    bat = an_agreed_bat(player, maker)
    handles.choose_handle(a_handle(2, maker, construction=wanted), bat, by=maker)

    assert need(wanted) == (1, 0, 0, 0)


@pytest.mark.parametrize("stage", [Stage.FINISHING, Stage.INSPECTION, Stage.DONE])
def test_bat_past_handle_fitting_wants_none(stage, wanted, player, maker):
    a_bat_in(stage, player, maker)

    assert need(wanted) == (1, 0, 0, 0)


def test_bat_that_is_only_put_right_wants_none(wanted, player, maker):
    bat = a_bat_in(Stage.HANDLE_FITTING, player, maker)
    bat.rounds.update(cause=Cause.ADJUSTMENT)

    assert need(wanted) == (1, 0, 0, 0)


def test_withdrawn_proposal_wants_none(wanted, player, maker):
    commission = a_commission(player)
    propose_to(commission, maker)
    lifecycle.withdraw(commission, by=maker)

    assert need(wanted) == (1, 0, 0, 0)


def test_construction_that_nobody_has_or_wants_is_left_out(maker):
    a_handle(1, maker, construction="lightened_cane")

    assert [one.construction for one in what_is_short(day=TODAY).handles] == ["lightened_cane"]


def test_workshop_that_keeps_no_handles_here_is_short_of_none(player, maker):
    an_agreed_bat(player, maker)

    assert not what_is_short(day=TODAY).is_any


@pytest.mark.django_db
def test_clefts_are_told_as_they_are_given():
    assert what_is_short(clefts=["Two bats find no cleft."], day=TODAY).is_any


def test_taken_back_it_is_no_longer_short(maker):
    supply = grips(maker, came=4)
    wrong = supplies.use(supply, 1, bat=None, by=maker)
    assert short_supplies()

    supplies.take_back(wrong, by=maker)

    assert not short_supplies()
