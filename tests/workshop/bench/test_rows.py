"""Rows that the bench adds: kept while the bat holds still, taken back by another."""

import pytest

from orders.commissions.models import Bat
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import a_bat_in
from workshop.bench.models import Coat
from workshop.bench.rows import keep_row, take_back_row


def test_row_knows_bat_round_stage_and_who(player: Player, maker: User, bench_hand: User):
    bat = a_bat_in(Stage.FINISHING, player, maker)

    row = keep_row(Coat, bat, by=bench_hand, kind="oil", number=1)

    assert (row.bat, row.round, row.stage, row.by) == (bat, 1, Stage.FINISHING, bench_hand)


def test_row_of_a_bat_that_has_moved_on_is_not_kept(player: Player, maker: User, bench_hand: User):
    bat = a_bat_in(Stage.FINISHING, player, maker)
    Bat.objects.filter(pk=bat.pk).update(stage=Stage.INSPECTION)

    with pytest.raises(MovedOn):
        keep_row(Coat, bat, by=bench_hand, kind="oil", number=1)

    assert not Coat.objects.exists()


def test_row_is_taken_back_once(player: Player, maker: User, bench_hand: User):
    bat = a_bat_in(Stage.FINISHING, player, maker)
    row = keep_row(Coat, bat, by=bench_hand, kind="oil", number=1)

    undone = take_back_row(row, by=maker)

    assert (undone.takes_back, undone.kind, undone.number, undone.by) == (row, "oil", 1, maker)
    for one in (row, undone):
        with pytest.raises(Refused, match="taken_back"):
            take_back_row(one, by=maker)
    assert Coat.objects.count() == 2


def test_row_of_an_earlier_stage_stays(player: Player, maker: User, bench_hand: User):
    bat = a_bat_in(Stage.FINISHING, player, maker)
    row = keep_row(Coat, bat, by=bench_hand, kind="oil", number=1)
    bat.stage = Stage.INSPECTION

    with pytest.raises(Refused, match="wrong_stage"):
        take_back_row(row, by=maker)
