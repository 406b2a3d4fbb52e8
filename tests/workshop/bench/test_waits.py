"""How long a bat must lie: after a step, after a coat, after a stage's work; and the one door onward."""

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from fitting.sheets.book_bench import DEFAULT_BENCH
from fitting.sheets.default_book import DEFAULT_BOOK
from orders.commissions.bench_entries import mark_step
from orders.commissions.editions import keep_edition
from orders.commissions.models import Bat
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import MOMENT, a_bat_in
from tests.workshop.bench.at_bench import days_go_by, do_the_stage, sent
from workshop.bench.onward import pass_on, still_asked
from workshop.bench.waits import waits_of
from workshop.bench.work import work_on


def waits(bat: Bat, hours: float) -> dict[str, float]:
    """Return what the bat waits for so many hours after MOMENT, and how many hours after it that ends."""
    now = MOMENT + timedelta(hours=hours)
    return {one.key: (one.until - MOMENT).total_seconds() / 3600 for one in waits_of(work_on(bat), now=now)}


def test_glue_and_binding_hold_the_bat_by_the_books_hours(player: Player, maker: User):
    bat = a_bat_in(Stage.HANDLE_FITTING, player, maker)
    mark_step(bat, step="glue_and_clamp", by=maker, at=MOMENT)
    mark_step(bat, step="bind", by=maker, at=MOMENT + timedelta(hours=22))

    assert waits(bat, 23) == {"glue_and_clamp": 24, "bind": 26}
    assert waits(bat, 24) == {"bind": 26}
    assert waits(bat, 26) == {}


def test_rest_of_a_stage_counts_from_its_work_and_not_from_what_is_done_at_rest(player: Player, maker: User):
    bat = a_bat_in(Stage.FINISHING, player, maker)
    mark_step(bat, step="sand", by=maker, at=MOMENT)
    mark_step(bat, step="grip", by=maker, at=MOMENT + timedelta(hours=5))
    mark_step(bat, step="weigh_at_rest", by=maker, at=MOMENT + timedelta(hours=28))

    assert waits(bat, 28) == {"rest": 29}
    assert waits(bat, 29) == {}


def test_step_taken_back_holds_no_longer(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.HANDLE_FITTING, player, maker)
    row = mark_step(bat, step="glue_and_clamp", by=maker)
    assert waits_of(work_on(bat))

    sent(bench_client, bat, "take-back", kind="step", entry=str(row.pk))

    assert not waits_of(work_on(bat))


def test_hours_are_those_of_the_book_in_force(player: Player, maker: User):
    bat = a_bat_in(Stage.HANDLE_FITTING, player, maker)
    mark_step(bat, step="glue_and_clamp", by=maker, at=MOMENT)
    stages = tuple(
        work.model_copy(
            update={
                "steps": tuple(
                    step.model_copy(update={"wait_hours": 6.0}) if step.key == "glue_and_clamp" else step
                    for step in work.steps
                )
            }
        )
        for work in DEFAULT_BENCH.stages
    )
    bench = DEFAULT_BENCH.model_copy(update={"stages": stages})
    keep_edition(DEFAULT_BOOK.model_copy(update={"bench": bench}), seen=1, by=maker, note="quick glue")

    assert waits(bat, 1) == {"glue_and_clamp": 6}


def test_bat_does_not_go_on_before_its_glue_has_had_its_time(
    player: Player, maker: User, bench_client: Client
):
    bat = a_bat_in(Stage.HANDLE_FITTING, player, maker)
    do_the_stage(bench_client, bat)
    row = bat.steps.standing().get(step="glue_and_clamp")
    until = timezone.now() + timedelta(hours=3)
    bat.steps.filter(pk=row.pk).update(at=until - timedelta(hours=24))
    said = f"“Glue and clamp” needs its time: it may go on from {timezone.localtime(until):%-d %b, %H:%M}"

    answer = sent(bench_client, bat, "pass-on")

    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert bat.stage == Stage.HANDLE_FITTING
    days_go_by(bat, 1)
    assert sent(bench_client, bat, "pass-on").status_code == 302
    assert bat.stage == Stage.FINISHING


def test_the_door_names_all_that_holds_the_bat_at_once(player: Player, maker: User):
    bat = a_bat_in(Stage.HANDLE_FITTING, player, maker)
    mark_step(bat, step="glue_and_clamp", by=maker, at=MOMENT)
    work = work_on(bat)

    with pytest.raises(Refused) as refused:
        pass_on(work, by=maker, at=MOMENT + timedelta(hours=1))

    assert refused.value.key == "not_done"
    assert "step:cut_socket" in refused.value.what
    assert "reading:splice_gap" in refused.value.what
    assert f"wait:glue_and_clamp@{(MOMENT + timedelta(hours=24)).isoformat()}" in refused.value.what
    assert refused.value.what == still_asked(work, now=MOMENT + timedelta(hours=1))


def test_the_door_of_a_bat_that_waits_is_shut_as_before(player: Player, maker: User):
    bat = a_bat_in(Stage.INSPECTION, player, maker)

    with pytest.raises(Refused) as refused:
        pass_on(work_on(bat), by=maker)

    assert refused.value.key == "wrong_stage"
