import pytest

from orders.commissions import stages
from orders.commissions.bench_entries import (
    Required,
    mark_step,
    readings_now,
    record_reading,
    steps_done,
    take_back,
)
from orders.commissions.models import Bat, Reading, StepDone
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.states import Stage, Unit
from tests.factories import a_bat_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def bat(player, maker):
    return a_bat_in(Stage.PRESSING, player, maker)


def test_a_step_marked_twice_is_noted_once(bat, maker):
    first = mark_step(bat, step="press", by=maker)
    second = mark_step(bat, step="press", by=maker)

    assert first == second
    assert steps_done(bat) == {"press"}


def test_a_step_taken_back_is_undone_and_both_rows_stay(bat, maker, bench_hand):
    step = mark_step(bat, step="press", by=maker)

    take_back(step, by=bench_hand)

    assert steps_done(bat) == set()
    assert list(StepDone.objects.values_list("by__role", flat=True)) == ["maker", "bench_hand"]


def test_a_step_is_taken_back_once(bat, maker):
    step = mark_step(bat, step="press", by=maker)
    undone = take_back(step, by=maker)

    for entry in (step, undone):
        with pytest.raises(Refused, match="taken_back"):
            take_back(entry, by=maker)

    assert StepDone.objects.count() == 2


def test_the_last_standing_reading_counts(bat, maker):
    record_reading(bat, key="depth", value=640, unit=Unit.MM, from_toe=1500, by=maker)
    wrong = record_reading(bat, key="depth", value=460, unit=Unit.MM, from_toe=1500, by=maker)
    record_reading(bat, key="depth", value=630, unit=Unit.MM, from_toe=2500, by=maker)

    take_back(wrong, by=maker)

    now = readings_now(bat)
    assert {place: row.in_unit for place, row in now.items()} == {
        ("depth", 1500): 64.0,
        ("depth", 2500): 63.0,
    }
    assert Reading.objects.count() == 4


def test_nothing_is_entered_for_a_stage_that_was_left(bat, maker):
    stale = Bat.objects.get()
    step = mark_step(bat, step="press", by=maker)
    stages.pass_on(bat, by=maker, required=Required())

    with pytest.raises(MovedOn):
        record_reading(stale, key="mass", value=1, unit=Unit.G, by=maker)
    with pytest.raises(Refused, match="wrong_stage"):
        take_back(StepDone.objects.get(pk=step.pk), by=maker)

    assert not Reading.objects.exists()


def test_a_holder_enters_nothing(bat, player):
    with pytest.raises(Refused, match="not_yours"):
        mark_step(bat, step="press", by=player.holder)

    assert not StepDone.objects.exists()


def test_a_bat_that_is_done_takes_no_entries(player, maker):
    bat = a_bat_in(Stage.DONE, player, maker)

    with pytest.raises(Refused, match="wrong_stage"):
        record_reading(bat, key="mass", value=11500, unit=Unit.G, by=maker)
