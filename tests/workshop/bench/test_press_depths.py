"""Depths in the press: what was lost, and which readings count for the wood that the bat has."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.commissions.bench_entries import record_reading
from orders.commissions.models import Bat
from orders.commissions.states import Stage, Unit
from orders.people.models import Player, User
from tests.factories import a_bat_in
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.models import PressPass
from workshop.bench.press_depths import (
    AFTER,
    BEFORE,
    depths_after_pass,
    depths_read,
    losses,
    mean_loss,
    passes_of,
    press_loss_of,
    rest_ends,
    wood_since,
)
from workshop.bench.press_work import keep_pass
from workshop.bench.work import work_on
from workshop.rack.clefts import reserve

NOW = timezone.now()


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    """A bat in the press, its cleft reserved two days ago."""
    found = a_bat_in(Stage.PRESSING, player, maker)
    reserve(a_cleft(7, maker), found, by=maker, at=NOW - timedelta(days=2))
    return found


def read(bat: Bat, by: User, key: str, value: float, *, place: int = 1500, hours_ago: float = 24) -> None:
    """Keep one depth, mm, at a place of the grid."""
    at = NOW - timedelta(hours=hours_ago)
    record_reading(bat, key=key, value=round(value * 10), unit=Unit.MM, by=by, from_toe=place, at=at)


def pressed(bat: Bat, by: User, *, hours_ago: float, **values: object) -> PressPass:
    """Keep the next pass."""
    number = len(passes_of(bat)) + 1
    row = {"tool": "flat_roller", "gauge": 900, **values}
    return keep_pass(work_on(bat), number=number, values=row, by=by, at=NOW - timedelta(hours=hours_ago))


def test_press_loss_is_the_mean_over_what_was_read_before_and_rested(bat: Bat, bench_hand: User):
    for line, before, after in (("left", 70, 67.4), ("centre", 70, 67.0), ("right", 70, 66.0)):
        read(bat, bench_hand, BEFORE[line], before)
        read(bat, bench_hand, AFTER[line], after, hours_ago=1)
    read(bat, bench_hand, BEFORE["centre"], 71, place=2500)

    assert press_loss_of(bat) == pytest.approx((2.6 + 3.0 + 4.0) / 3)


def test_press_loss_is_unknown_while_the_rested_depths_are_not_read(bat: Bat, bench_hand: User):
    read(bat, bench_hand, BEFORE["centre"], 70)

    assert press_loss_of(bat) is None


def test_depth_read_before_a_further_pass_is_no_rested_one(bat: Bat, bench_hand: User):
    read(bat, bench_hand, BEFORE["centre"], 70)
    read(bat, bench_hand, AFTER["centre"], 67, hours_ago=10)
    pressed(bat, bench_hand, hours_ago=5)

    assert press_loss_of(bat) is None


def test_readings_and_passes_of_an_earlier_cleft_do_not_count(bat: Bat, bench_hand: User):
    read(bat, bench_hand, BEFORE["centre"], 70, hours_ago=72)
    read(bat, bench_hand, AFTER["centre"], 66, hours_ago=60)
    PressPass.objects.create(
        bat=bat,
        round=1,
        stage=Stage.PRESSING,
        by=bench_hand,
        number=1,
        tool="platen",
        at=NOW - timedelta(hours=70),
    )

    assert wood_since(bat) == NOW - timedelta(days=2)
    assert passes_of(bat) == []
    assert depths_read(bat, BEFORE) == {}
    assert press_loss_of(bat) is None


def test_last_reading_at_a_point_is_the_one_that_counts(bat: Bat, bench_hand: User):
    read(bat, bench_hand, BEFORE["left"], 70, hours_ago=20)
    read(bat, bench_hand, BEFORE["left"], 71.5, hours_ago=19)

    assert depths_read(bat, BEFORE) == {("left", 1500): 71.5}


def test_depths_after_a_pass_follow_the_places_from_the_toe():
    one = PressPass(depths={"left": [60, 61], "centre": [62, None]})

    assert depths_after_pass(one, (2500, 1500)) == {
        ("left", 1500): 60.0,
        ("left", 2500): 61.0,
        ("centre", 1500): 62.0,
    }


def test_loss_is_told_only_where_both_were_read():
    before, now = (
        {("left", 1500): 70.0, ("centre", 1500): 71.0},
        {("left", 1500): 67.5, ("right", 1500): 60.0},
    )

    assert losses(before, now) == {("left", 1500): 2.5}
    assert mean_loss(before, {}) is None


def test_rest_begins_anew_with_each_pass(bat: Bat, bench_hand: User):
    assert rest_ends(passes_of(bat), 12) is None
    pressed(bat, bench_hand, hours_ago=20)
    pressed(bat, bench_hand, hours_ago=3)

    assert rest_ends(passes_of(bat), 12) == NOW + timedelta(hours=9)
