"""What earlier pieces did in the press: their middle and their spread."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.commissions.bench_entries import record_reading
from orders.commissions.models import Bat
from orders.commissions.states import Stage, Unit
from orders.people.models import Player, User
from tests.factories import a_bat_in
from workshop.bench.models import PressPass
from workshop.bench.press_history import (
    FEWEST,
    Drop,
    Piece,
    bands,
    drop_of,
    earlier_pieces,
    piece_of,
    rebound_of,
    rested_band,
    same_drop,
)
from workshop.bench.press_work import keep_pass, take_back_pass
from workshop.bench.work import work_on

HOW = {"height_mm": 1000.0, "ball": "Old  Leather", "support": "two battens"}


def a_pass(number: int, **values: object) -> PressPass:
    """A pass that is not stored."""
    return PressPass(number=number, tool="flat_roller", **values)


def test_rebound_is_the_middle_of_five():
    assert rebound_of(a_pass(1, rebounds=[490, 480, 900, 470, 485])) == 485
    assert rebound_of(a_pass(1)) is None


def test_drop_is_the_same_whatever_its_names_are_written_like():
    one = drop_of(a_pass(1, rebounds=[480], drop=HOW))
    other = drop_of(a_pass(2, rebounds=[480], drop={**HOW, "ball": "old leather "}))

    assert one == other == Drop(1000.0, "old leather", "two battens")
    assert drop_of(a_pass(3, drop=HOW)) is None


def test_piece_tells_its_mean_loss_by_pass():
    before = {("left", 1500): 70.0, ("centre", 1500): 70.0}
    passes = [a_pass(1, depths={"centre": [69.0]}), a_pass(2, depths={"left": [67.0], "centre": [68.0]})]

    piece = piece_of(passes, before, {("centre", 1500): 67.8})

    assert piece.losses == {1: 1.0, 2: 2.5}
    assert piece.rested == pytest.approx(2.2)
    assert piece.rebounds == {}


def test_band_is_the_middle_half_of_enough_pieces():
    pieces = [Piece(losses={1: float(value)}) for value in range(1, 6)]
    pieces[0].losses[2] = 9.0

    found = bands(pieces, lambda piece: piece.losses)

    assert [(band.number, band.low, band.middle, band.high, band.count) for band in found] == [
        (1, 2, 3, 4, 5)
    ]


def test_too_few_pieces_make_no_band():
    pieces = [Piece(losses={1: 2.0}, rested=2.0)] * (FEWEST - 1)

    assert bands(pieces, lambda piece: piece.losses) == []
    assert rested_band(pieces) is None


def test_rebounds_are_compared_only_with_the_same_drop():
    drop, other = Drop(1000, "leather", "battens"), Drop(900, "leather", "battens")
    piece = Piece(rebounds={1: 480, 2: 400}, drops={1: drop, 2: other})

    assert same_drop(drop)(piece) == {1: 480}


def test_earlier_pieces_are_those_of_other_bats(player: Player, maker: User, bench_hand: User):
    own, other = (a_bat_in(Stage.PRESSING, player, maker) for _ in range(2))
    for bat in (own, other):
        _press(bat, bench_hand)

    found = earlier_pieces(own)

    assert [(piece.losses, piece.rested, piece.rebounds) for piece in found] == [
        ({1: 1.0, 2: 2.5}, 2.0, {2: 480})
    ]


def test_pass_taken_back_is_no_part_of_what_was_done(player: Player, maker: User, bench_hand: User):
    own, other = (a_bat_in(Stage.PRESSING, player, maker) for _ in range(2))
    _press(other, bench_hand)
    work = work_on(other)
    take_back_pass(work, PressPass.objects.get(bat=other, number=2), by=bench_hand)

    assert earlier_pieces(own)[0].losses == {1: 1.0}


def _press(bat: Bat, by: User) -> None:
    """Press a bat twice, 1 mm and 1.5 mm more; half a millimetre comes back."""
    then, work = timezone.now() - timedelta(days=1), work_on(bat)
    record_reading(bat, key="depth_before", value=700, unit=Unit.MM, by=by, from_toe=1500, at=then)
    keep_pass(work, number=1, values={"tool": "platen", "depths": {"centre": [69.0]}}, by=by, at=then)
    values = {"tool": "platen", "depths": {"centre": [67.5]}, "rebounds": [480] * 5, "drop": HOW}
    keep_pass(work, number=2, values=values, by=by, at=then)
    record_reading(bat, key="depth_after", value=680, unit=Unit.MM, by=by, from_toe=1500)
