from datetime import timedelta
from typing import Any

import pytest
from django.db import IntegrityError, transaction

from orders.commissions import lifecycle, stages
from orders.commissions.bench_entries import Required, mark_step, record_reading
from orders.commissions.models import Bat, Commission, JournalEntry
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.states import BENCH_STAGES, Cause, Stage, State, Unit
from orders.messages.models import Letter
from tests.factories import MOMENT, a_bat_in, a_delivered_bat, an_agreed_bat

pytestmark = pytest.mark.django_db

UNDECLARED = [
    (stage, verb)
    for stage in Stage
    for verb, (from_stages, _to) in stages.STAGE_MOVES.items()
    if stage not in from_stages
]


def in_stage(stage, player, maker):
    """Bring a bat to a stage by the verbs alone."""
    return an_agreed_bat(player, maker) if stage == Stage.WAITING else a_bat_in(stage, player, maker)


def call(verb, bat, by):
    extra: dict[str, dict[str, Any]] = {
        "pass_on": {"required": Required()},
        "go_back": {"to": Stage.CLEFT_SELECTION, "reason": "a knot"},
        "pass_inspection": {"rows": [], "in_tolerance": True},
        "open_round": {"cause": Cause.ADJUSTMENT, "stages": [Stage.FINISHING]},
    }
    return getattr(stages, verb)(bat, by=by, at=MOMENT, **extra.get(verb, {}))


def everything(bat):
    fresh = Bat.objects.get(pk=bat.pk)
    return (
        fresh.stage,
        fresh.round,
        fresh.version,
        fresh.serial,
        Commission.objects.get(pk=bat.commission_id).state,
        JournalEntry.objects.count(),
        fresh.rounds.count(),
        fresh.inspections.count(),
    )


@pytest.mark.parametrize(("stage", "verb"), UNDECLARED)
def test_undeclared_stage_verb_is_refused_and_changes_nothing(stage, verb, player, maker):
    bat = in_stage(stage, player, maker)
    if bat.commission.state == State.ACCEPTED:
        lifecycle.start(bat.commission, by=maker, at=MOMENT)
    before = everything(bat)

    with pytest.raises(Refused):
        call(verb, bat, maker)

    assert everything(bat) == before


@pytest.mark.parametrize("verb", stages.STAGE_MOVES)
def test_a_holder_moves_no_bat(verb, player, maker):
    from_stages = stages.STAGE_MOVES[verb][0]
    bat = in_stage(sorted(from_stages, key=list(Stage).index)[-1], player, maker)
    before = everything(bat)

    with pytest.raises(Refused):
        call(verb, bat, player.holder)

    assert everything(bat) == before


def test_a_bat_goes_through_the_five_stages_and_becomes_ready(player, maker, bench_hand):
    bat = an_agreed_bat(player, maker)

    seen = [stages.begin(bat, by=bench_hand, at=MOMENT)]
    while bat.stage != Stage.INSPECTION:
        seen.append(stages.pass_on(bat, by=bench_hand, required=Required(), at=MOMENT))
    stages.pass_inspection(
        bat, rows=[{"key": "length"}], in_tolerance=True, by=bench_hand, at=MOMENT + timedelta(days=30)
    )

    assert seen == [*BENCH_STAGES, Stage.INSPECTION]
    bat.refresh_from_db()
    assert (bat.stage, bat.serial, bat.finished_at) == (Stage.DONE, "0001-27", MOMENT + timedelta(days=30))
    assert bat.commission.state == State.READY
    assert bat.rounds.get().closed_at is not None
    assert bat.inspections.get().rows == [{"key": "length"}]
    assert Letter.objects.filter(kind="bat_ready").count() == 1


def test_a_stage_is_not_passed_before_what_it_asks_for(player, maker):
    bat = a_bat_in(Stage.PRESSING, player, maker)
    required = Required(
        steps=frozenset({"press", "listen"}), readings=frozenset({("depth", 1500), ("moisture", None)})
    )
    mark_step(bat, step="press", by=maker)
    record_reading(bat, key="depth", value=640, unit=Unit.MM, from_toe=1500, by=maker)

    with pytest.raises(Refused) as refused:
        stages.pass_on(bat, by=maker, required=required)
    mark_step(bat, step="listen", by=maker)
    record_reading(bat, key="moisture", value=112, unit=Unit.PERCENT, by=maker)
    onward = stages.pass_on(bat, by=maker, required=required)

    assert refused.value.what == ("step:listen", "reading:moisture")
    assert onward == Stage.SHAPING


def test_a_cleft_is_asked_for_where_the_stage_wants_one(player, maker):
    bat = a_bat_in(Stage.CLEFT_SELECTION, player, maker)

    with pytest.raises(Refused, match="cleft"):
        stages.pass_on(bat, by=maker, required=Required(cleft=True))
    stages.name_cleft(bat, "0117", by=maker)

    assert stages.pass_on(bat, by=maker, required=Required(cleft=True)) == Stage.PRESSING
    assert "0117" in Commission.objects.get().search_text


def test_going_back_needs_a_reason_and_an_earlier_stage(player, maker):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    with pytest.raises(Refused, match="reason_needed"):
        stages.go_back(bat, to=Stage.PRESSING, by=maker, reason="  ")
    with pytest.raises(Refused, match="wrong_stage"):
        stages.go_back(bat, to=Stage.FINISHING, by=maker, reason="toe too thin")
    stages.go_back(bat, to=Stage.PRESSING, by=maker, reason="the face is soft")

    entry = bat.journal.get(verb="go_back")
    assert (entry.verb, entry.to_state, entry.data["reason"]) == ("go_back", "pressing", "the face is soft")
    assert Bat.objects.get().stage == Stage.PRESSING


def test_a_bat_out_of_tolerance_passes_only_with_a_reason(player, maker):
    bat = a_bat_in(Stage.INSPECTION, player, maker)

    with pytest.raises(Refused, match="reason_needed"):
        stages.pass_inspection(bat, rows=[], in_tolerance=False, by=maker)
    stages.pass_inspection(bat, rows=[], in_tolerance=False, reason="agreed by telephone", by=maker)

    assert bat.inspections.get().reason == "agreed by telephone"


def test_the_database_refuses_a_failed_inspection_without_reason(player, maker):
    bat = a_bat_in(Stage.DONE, player, maker)

    with pytest.raises(IntegrityError), transaction.atomic():
        bat.inspections.update(in_tolerance=False, reason="")


def test_a_returned_bat_goes_through_the_stages_it_needs(player, maker):
    bat = a_delivered_bat(player, maker)
    serial = bat.serial
    lifecycle.send_back(bat.commission, by=player.holder)
    lifecycle.mend(bat.commission, by=maker)

    stages.open_round(
        bat, cause=Cause.ADJUSTMENT, stages=[Stage.SHAPING, Stage.FINISHING], words="2 mm off", by=maker
    )
    seen = [stages.begin(bat, by=maker)]
    while bat.stage != Stage.INSPECTION:
        seen.append(stages.pass_on(bat, by=maker, required=Required()))
    stages.pass_inspection(bat, rows=[], in_tolerance=True, by=maker)

    assert seen == [Stage.SHAPING, Stage.FINISHING, Stage.INSPECTION]
    assert (bat.round, bat.serial) == (2, serial)
    assert Commission.objects.get().state == State.READY


@pytest.mark.parametrize("wanted", [[], [Stage.FINISHING, Stage.SHAPING], [Stage.INSPECTION]])
def test_a_round_of_no_order_is_refused(wanted, player, maker):
    bat = a_delivered_bat(player, maker)
    lifecycle.send_back(bat.commission, by=player.holder)

    with pytest.raises(Refused, match="wrong_stage"):
        stages.open_round(bat, cause=Cause.ADJUSTMENT, stages=wanted, by=maker)

    assert bat.rounds.count() == 1


def test_a_rebuild_takes_the_old_cleft_off(player, maker):
    bat = a_bat_in(Stage.CLEFT_SELECTION, player, maker)
    stages.name_cleft(bat, "0117", by=maker)
    while bat.stage != Stage.INSPECTION:
        stages.pass_on(bat, by=maker, required=Required())
    stages.pass_inspection(bat, rows=[], in_tolerance=True, by=maker)
    lifecycle.deliver(bat.commission, by=maker)
    lifecycle.send_back(bat.commission, by=player.holder)

    stages.open_round(bat, cause=Cause.REBUILD, stages=list(BENCH_STAGES), by=maker)

    assert Bat.objects.get().cleft_label == ""
    assert bat.journal.get(verb="open_round").data["cleft"] == "0117"


def test_a_bat_read_too_early_is_not_moved(player, maker):
    bat = a_bat_in(Stage.PRESSING, player, maker)
    stale = Bat.objects.get()
    stages.pass_on(bat, by=maker, required=Required())
    before = everything(bat)

    with pytest.raises(MovedOn):
        stages.pass_on(stale, by=maker, required=Required())

    assert everything(bat) == before


def test_the_bench_of_a_cancelled_commission_stands_still(player, maker):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    lifecycle.cancel(bat.commission, by=maker, why="no willow")

    with pytest.raises(Refused):
        stages.pass_on(bat, by=maker, required=Required())

    assert not Bat.objects.at_bench().exists()
