"""A bat comes back: what each verb writes, who may, and what a wrong state leaves untouched."""

from datetime import timedelta

import pytest

from fitting.bat.weigh import weigh
from orders.care import delivery, returns
from orders.care.models import Return
from orders.commissions.builds import build_of
from orders.commissions.models import Commission
from orders.commissions.refusals import Refused
from orders.commissions.states import BENCH_STAGES, Origin, Stage, State
from orders.messages.models import Letter
from orders.messages.rendering import text_of
from orders.people.models import Player, User
from tests.factories import MOMENT
from tests.finished import WORDS, a_bat_with_its_player, a_ready_bat, a_return, through_the_stages
from workshop.bench.inspection import pass_bat
from workshop.bench.work import work_on

D = Return.Decision


def letters_of(commission: Commission) -> list[str]:
    return list(Letter.objects.filter(commission_code=commission.code).values_list("kind", flat=True))


def standing(commission: Commission) -> tuple[object, ...]:
    """Everything that a refused verb must leave alone."""
    fresh = Commission.objects.get(pk=commission.pk)
    return (
        fresh.state,
        fresh.version,
        fresh.journal.count(),
        fresh.builds.count(),
        list(fresh.returns.values("state", "decision", "refund")),
        list(fresh.bats.values("stage", "round", "version")),
        Letter.objects.count(),
    )


def test_deliver_moves_writes_down_and_sends_the_ways_to_record_and_care(player: Player, maker: User):
    bat = a_ready_bat(player, maker)

    delivery.deliver(bat.commission, by=maker, how=delivery.How.SENT, words="Parcel 12345.")

    bat.refresh_from_db()
    assert bat.delivered_at is not None
    assert bat.commission.state == State.DELIVERED
    entry = bat.commission.journal.get(verb="deliver")
    assert entry.data == {"how": "sent", "words": "Parcel 12345."}
    letter = Letter.objects.get(kind="delivered")
    assert letter.to == player.holder.email
    body = text_of(letter).body
    for way in ("record", "care", "send-back"):
        assert f"/commissions/{bat.commission.code}/{way}/" in body
    assert "Parcel 12345." in body


@pytest.mark.parametrize("who", ["bench_hand", "player_user"])
def test_deliver_is_the_makers(who: str, player: Player, maker: User, request: pytest.FixtureRequest):
    bat = a_ready_bat(player, maker)
    before = standing(bat.commission)
    with pytest.raises(Refused, match="not_yours"):
        delivery.deliver(bat.commission, by=request.getfixturevalue(who), how=delivery.How.SENT)
    assert standing(bat.commission) == before


def test_deliver_twice_changes_nothing(player: Player, maker: User):
    bat = a_bat_with_its_player(player, maker)
    before = standing(bat.commission)
    with pytest.raises(Refused, match="not_now"):
        delivery.deliver(bat.commission, by=maker, how=delivery.How.SENT)
    assert standing(bat.commission) == before


def test_send_back_keeps_words_and_answers_and_writes_to_both(player: Player, maker: User):
    bat = a_bat_with_its_player(player, maker)

    found = returns.send_back(bat.commission, by=player.holder, words=WORDS, answers={"lifts": "toe_heavy"})

    assert (found.state, found.decision, found.words) == ("asked", "", WORDS)
    assert found.answers == {"lifts": "toe_heavy"}
    assert Commission.objects.get(pk=bat.commission.pk).state == State.BACK
    assert bat.commission.journal.get(verb="send_back").data == {"return": found.code}
    assert WORDS in text_of(Letter.objects.get(kind="bat_came_back")).body
    assert Letter.objects.get(kind="return_received").to == player.holder.email


def test_send_back_of_a_bat_that_is_not_delivered_changes_nothing(player: Player, maker: User):
    bat = a_ready_bat(player, maker)
    before = standing(bat.commission)
    with pytest.raises(Refused, match="not_now"):
        returns.send_back(bat.commission, by=player.holder, words=WORDS, answers={})
    assert standing(bat.commission) == before


def test_send_back_by_a_stranger_changes_nothing(player: Player, maker: User, other_player_user: User):
    bat = a_bat_with_its_player(player, maker)
    before = standing(bat.commission)
    with pytest.raises(Refused, match="not_yours"):
        returns.send_back(bat.commission, by=other_player_user, words=WORDS, answers={})
    assert standing(bat.commission) == before


def test_send_back_without_words_changes_nothing(player: Player, maker: User):
    bat = a_bat_with_its_player(player, maker)
    before = standing(bat.commission)
    with pytest.raises(Refused, match="reason_needed"):
        returns.send_back(bat.commission, by=player.holder, words="  ", answers={})
    assert standing(bat.commission) == before


def test_adjust_opens_a_round_through_the_needed_stages_only(player: Player, maker: User):
    found = a_return(player, maker)
    stages = [Stage.HANDLE_FITTING, Stage.FINISHING]

    returns.adjust(
        found, by=maker, stages_needed=stages, words="I take wood off.", to_do="2 mm off the spine"
    )

    bat = found.commission.bats.get()
    opened = bat.rounds.get(number=2)
    assert (bat.stage, bat.round) == (Stage.WAITING, 2)
    assert (opened.cause, opened.stages, opened.words) == ("adjustment", stages, "2 mm off the spine")
    assert Commission.objects.get(pk=found.commission.pk).state == State.MENDING
    fresh = Return.objects.get(pk=found.pk)
    assert (fresh.state, fresh.decision, fresh.round, fresh.decided_by) == ("decided", D.ADJUST, 2, maker)
    assert "I take wood off." in text_of(Letter.objects.get(kind="return_adjust")).body
    assert not found.commission.builds.filter(origin=Origin.ADJUSTED).exists()


def test_adjust_with_a_changed_sheet_keeps_it_weighed_and_the_bench_works_to_it(player: Player, maker: User):
    found = a_return(player, maker)
    parent = found.commission.builds.filter(origin=Origin.AS_BUILT).get()
    old = build_of(parent)
    lighter = old.model_copy(
        update={"mass_g": old.mass_g.model_copy(update={"target": old.mass_g.target - 20})}
    )

    returns.adjust(
        found,
        by=maker,
        stages_needed=[Stage.FINISHING],
        words="Lighter.",
        to_do="",
        build=lighter,
        parent=parent,
    )

    kept = found.commission.builds.get(origin=Origin.ADJUSTED)
    assert kept.parent == parent
    assert kept.weighing["mass_g"] == pytest.approx(weigh(lighter).mass_g)
    assert work_on(found.commission.bats.get()).build == lighter


def test_adjust_never_chooses_another_cleft(player: Player, maker: User):
    found = a_return(player, maker)
    before = standing(found.commission)
    with pytest.raises(Refused, match="wrong_stage"):
        returns.adjust(found, by=maker, stages_needed=[Stage.CLEFT_SELECTION], words="No.", to_do="")
    assert standing(found.commission) == before


def test_rebuild_goes_through_every_stage_with_another_cleft(player: Player, maker: User):
    found = a_return(player, maker)
    returns.rebuild(found, by=maker, words="Made again.", to_do="")
    bat = found.commission.bats.get()
    assert bat.rounds.get(number=2).stages == list(BENCH_STAGES)
    assert (bat.round, bat.cleft_label) == (2, "")
    assert Return.objects.get(pk=found.pk).decision == D.REBUILD
    assert "return_rebuild" in letters_of(found.commission)


def test_refund_closes_the_commission_and_names_the_sum(player: Player, maker: User):
    found = a_return(player, maker)
    returns.refund(found, by=maker, amount=42000, words="A fault in the wood.")
    fresh = Return.objects.get(pk=found.pk)
    assert (fresh.state, fresh.decision, fresh.refund) == ("closed", D.REFUND, 42000)
    assert Commission.objects.get(pk=found.commission.pk).state == State.REFUNDED
    assert "£420.00" in text_of(Letter.objects.get(kind="return_refund")).body


@pytest.mark.parametrize("amount", [0, -1, 42001])
def test_refund_of_nothing_or_more_than_agreed_changes_nothing(amount: int, player: Player, maker: User):
    found = a_return(player, maker)
    before = standing(found.commission)
    with pytest.raises(Refused, match="too_much"):
        returns.refund(found, by=maker, amount=amount, words="No.")
    assert standing(found.commission) == before


def test_find_nothing_lets_the_bat_go_to_its_player_again(player: Player, maker: User):
    found = a_return(player, maker)
    returns.find_nothing(found, by=maker, words="It is sound.")
    assert Return.objects.get(pk=found.pk).decision == D.NOTHING_WRONG
    assert Commission.objects.get(pk=found.commission.pk).state == State.DELIVERED
    assert "It is sound." in text_of(Letter.objects.get(kind="return_nothing_wrong")).body


DECIDE = {
    "adjust": lambda found, by: returns.adjust(
        found, by=by, stages_needed=[Stage.FINISHING], words="So.", to_do=""
    ),
    "rebuild": lambda found, by: returns.rebuild(found, by=by, words="So."),
    "refund": lambda found, by: returns.refund(found, by=by, amount=100, words="So."),
    "find_nothing": lambda found, by: returns.find_nothing(found, by=by, words="So."),
}


@pytest.mark.parametrize("second", DECIDE)
@pytest.mark.parametrize("first", DECIDE)
def test_decided_return_is_not_decided_again(first: str, second: str, player: Player, maker: User):
    found = a_return(player, maker)
    DECIDE[first](Return.objects.get(pk=found.pk), maker)
    before = standing(found.commission)
    with pytest.raises(Refused):
        DECIDE[second](Return.objects.get(pk=found.pk), maker)
    assert standing(found.commission) == before


@pytest.mark.parametrize("verb", DECIDE)
def test_two_who_decide_at_once_decide_once(verb: str, player: Player, maker: User):
    found = a_return(player, maker)
    mine, theirs = Return.objects.get(pk=found.pk), Return.objects.get(pk=found.pk)
    assert mine.commission.version == theirs.commission.version
    DECIDE["find_nothing"](theirs, maker)
    before = standing(found.commission)
    with pytest.raises(Refused):
        DECIDE[verb](mine, maker)
    assert standing(found.commission) == before


@pytest.mark.parametrize("verb", DECIDE)
@pytest.mark.parametrize("who", ["bench_hand", "player_user"])
def test_decision_is_the_makers(
    who: str, verb: str, player: Player, maker: User, request: pytest.FixtureRequest
):
    found = a_return(player, maker)
    before = standing(found.commission)
    with pytest.raises(Refused, match="not_yours"):
        DECIDE[verb](found, request.getfixturevalue(who))
    assert standing(found.commission) == before


def test_adjusted_bat_is_inspected_and_delivered_again_and_the_return_closes(player: Player, maker: User):
    found = a_return(player, maker)
    returns.adjust(found, by=maker, stages_needed=[Stage.FINISHING], words="A grip.", to_do="")
    bat = found.bat

    through_the_stages(bat, maker)
    pass_bat(work_on(bat), by=maker)
    delivery.deliver(bat.commission, by=maker, how=delivery.How.HANDED_OVER)

    assert Return.objects.get(pk=found.pk).state == "closed"
    assert [inspection.round for inspection in bat.inspections.all()] == [1, 2]
    verbs = list(bat.commission.journal.of_commission().values_list("verb", flat=True))
    assert verbs[-5:] == ["deliver", "send_back", "mend", "finish", "deliver"]
    assert returns.can_send_back(bat.commission, player.holder)


def test_bat_can_come_back_twice_with_both_returns_kept(player: Player, maker: User):
    found = a_return(player, maker)
    returns.find_nothing(found, by=maker, words="It is sound.")
    later = MOMENT + timedelta(days=30)
    again = returns.send_back(found.commission, by=player.holder, words="It is not.", answers={}, at=later)
    assert list(found.commission.returns.values_list("code", flat=True)) == [again.code, found.code]
