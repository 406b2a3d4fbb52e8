"""Two people at the stock at the same moment: one of them wins, and nothing is done twice or by halves."""

import pytest
from django.db.models import Sum

from orders.commissions.models import Bat
from tests.factories import a_commission, an_agreed_bat
from tests.orders.commissions.test_races import at_once
from tests.workshop.stock.shelves import a_handle, grips
from workshop.stock import handles, stock_bats, supplies
from workshop.stock.models import Handle, HandleState, Movement, StockBat, StockBatEntry, Supply
from workshop.stock.stock_bats import lay_by

pytestmark = pytest.mark.django_db(transaction=True)


def laid_by(maker):
    return lay_by(
        kind="blank",
        length_code="harrow",
        cleft=None,
        bat=None,
        words="the sound end of a cleft",
        by=maker,
        cost=None,
    )


def bats(player, maker, count):
    made = [an_agreed_bat(player, maker) for _ in range(count)]
    return list(Bat.objects.select_related("commission").filter(pk__in=[bat.pk for bat in made]))


def test_one_handle_chosen_for_three_bats_goes_to_one(player, maker):
    a_handle(1, maker)
    copies = [Handle.objects.get() for _ in range(3)]
    wanting = bats(player, maker, 3)

    results = at_once(
        *(
            lambda copy=copy, bat=bat: handles.choose_handle(copy, bat, by=maker) or "chosen"
            for copy, bat in zip(copies, wanting, strict=True)
        )
    )

    assert sorted(results) == ["chosen", "meanwhile", "meanwhile"]
    handle = Handle.objects.get()
    assert handle.state == HandleState.RESERVED
    assert handle.entries.filter(verb="choose").count() == 1


def test_three_handles_chosen_for_one_bat_leave_it_one(player, maker):
    offered = [a_handle(number, maker) for number in (1, 2, 3)]
    (bat,) = bats(player, maker, 1)

    results = at_once(
        *(lambda one=one: handles.choose_handle(one, bat, by=maker) or "chosen" for one in offered)
    )

    assert sorted(results) == ["bat_has_one", "bat_has_one", "chosen"]
    assert Handle.objects.filter(state=HandleState.RESERVED, bat=bat).count() == 1
    assert Handle.objects.free().count() == 2


def test_the_last_three_grips_are_used_by_three_of_six(maker):
    grips(maker, came=3)
    copies = [Supply.objects.get() for _ in range(6)]

    results = at_once(
        *(lambda copy=copy: supplies.use(copy, 1, bat=None, by=maker) and "used" for copy in copies)
    )

    assert sorted(results) == ["not_enough"] * 3 + ["used"] * 3
    assert Supply.objects.get().left == 0
    assert Movement.objects.aggregate(sum=Sum("amount"))["sum"] == 0


def test_a_movement_taken_back_twice_at_once_is_taken_back_once(maker):
    supply = grips(maker, came=10)
    wrong = supplies.use(supply, 2, bat=None, by=maker)
    copies = [Movement.objects.select_related("supply").get(pk=wrong.pk) for _ in range(3)]

    results = at_once(*(lambda copy=copy: supplies.take_back(copy, by=maker) and "back" for copy in copies))

    assert sorted(results) == ["back", "taken_back", "taken_back"]
    assert Supply.objects.get().in_unit == 10


def test_counted_and_used_at_once_the_count_stays_the_sum(maker):
    grips(maker, came=10)
    first, second = Supply.objects.get(), Supply.objects.get()

    results = at_once(
        lambda: supplies.count_anew(first, 4, by=maker) and "counted",
        lambda: supplies.use(second, 3, bat=None, by=maker) and "used",
    )

    assert results in (["counted", "used"], ["meanwhile", "used"])
    supply = Supply.objects.get()
    assert supply.left == Movement.objects.aggregate(sum=Sum("amount"))["sum"]
    assert supply.in_unit == (1 if results[0] == "counted" else 7)


def test_one_stock_bat_is_kept_for_one_of_three_commissions(player, maker):
    laid_by(maker)
    copies = [StockBat.objects.get() for _ in range(3)]
    wanting = [a_commission(player) for _ in range(3)]

    results = at_once(
        *(
            lambda copy=copy, one=one: stock_bats.keep_for(copy, one, by=maker) or "kept"
            for copy, one in zip(copies, wanting, strict=True)
        )
    )

    assert sorted(results) == ["kept", "meanwhile", "meanwhile"]
    assert StockBatEntry.objects.filter(verb="keep").count() == 1


def test_bats_laid_by_at_once_get_different_numbers(maker):
    numbers = at_once(*[lambda: laid_by(maker).number] * 4)

    assert sorted(numbers) == [1, 2, 3, 4]
