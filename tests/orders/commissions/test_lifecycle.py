from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from orders.commissions import lifecycle
from orders.commissions.models import Commission, JournalEntry, Proposal
from orders.commissions.models.journal import AppendOnly
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.states import ProposalState, Stage, State
from orders.commissions.transitions import DOERS, TRANSITIONS
from orders.interview.models import Fitting
from orders.messages.models import Letter
from tests.factories import (
    MOMENT,
    SHEET,
    a_bat_in,
    a_commission,
    a_delivered_bat,
    a_fitting,
    an_agreed_bat,
    an_offer,
    propose_to,
)

pytestmark = pytest.mark.django_db

UNDECLARED = [
    (state, verb)
    for state in State
    for verb, (from_states, _to) in TRANSITIONS.items()
    if state not in from_states
]


def in_state(state, player, maker):
    """Bring a commission to a state by the verbs alone."""
    holder = player.holder
    if state in (State.SENT, State.PROPOSED, State.CHANGE_ASKED, State.CANCELLED):
        commission = a_commission(player)
        if state in (State.PROPOSED, State.CHANGE_ASKED):
            propose_to(commission, maker)
        if state == State.CHANGE_ASKED:
            lifecycle.ask_change(commission, by=holder, field="mass", words="lighter", at=MOMENT)
        if state == State.CANCELLED:
            lifecycle.cancel(commission, by=holder, why="", at=MOMENT)
        return commission
    if state == State.ACCEPTED:
        return an_agreed_bat(player, maker).commission
    if state == State.MAKING:
        return a_bat_in(Stage.PRESSING, player, maker).commission
    if state == State.READY:
        return a_bat_in(Stage.DONE, player, maker).commission
    commission = a_delivered_bat(player, maker).commission
    if state != State.DELIVERED:
        lifecycle.send_back(commission, by=holder, at=MOMENT)
    if state == State.MENDING:
        lifecycle.mend(commission, by=maker, at=MOMENT)
    if state == State.REFUNDED:
        lifecycle.refund(commission, by=maker, at=MOMENT)
    return commission


def everything(commission):
    """What must not change when a verb is refused."""
    fresh = Commission.objects.get(pk=commission.pk)
    return (
        fresh.state,
        fresh.version,
        list(fresh.journal.values_list("pk", flat=True)),
        list(fresh.proposals.values_list("pk", "state")),
        Letter.objects.count(),
    )


def call(verb, commission, by):
    """Call a verb with whatever else it asks for."""
    function = getattr(lifecycle, verb)
    extra = {
        "propose": lambda: {"build_version": commission.builds.first(), "offer": an_offer()},
        "ask_change": lambda: {"field": "mass", "words": "lighter"},
        "accept": lambda: {"seen": "x" * 64},
        "cancel": lambda: {"why": "changed my mind"},
    }.get(verb, dict)()
    if verb == "lapse":
        return function(commission, at=MOMENT + timedelta(days=400))
    return function(commission, by=by, at=MOMENT, **extra)


@pytest.mark.parametrize("state", State)
def test_every_state_can_be_reached_by_the_verbs(state, player, maker):
    commission = in_state(state, player, maker)

    assert Commission.objects.get(pk=commission.pk).state == state


@pytest.mark.parametrize(("state", "verb"), UNDECLARED)
def test_undeclared_verb_is_refused_and_changes_nothing(state, verb, player, maker):
    commission = in_state(state, player, maker)
    before = everything(commission)
    by = maker if maker.role in DOERS[verb] else player.holder

    with pytest.raises(Refused):
        call(verb, commission, by)

    assert everything(commission) == before


@pytest.mark.parametrize(("state", "verb"), UNDECLARED)
def test_the_writer_itself_refuses_an_undeclared_move(state, verb, player, maker):
    commission = in_state(state, player, maker)
    before = everything(commission)

    with pytest.raises(Refused):
        lifecycle.move(commission, verb, by=maker, at=MOMENT)

    assert everything(commission) == before


def test_opening_keeps_sheet_recommendation_journal_and_letters(player, workshop):
    commission = a_commission(player)

    first = commission.builds.get()
    assert commission.sheet == SHEET
    assert (first.number, first.origin) == (1, "recommended")
    assert first.reasons["reasons"]
    assert first.weighing["mass_g"] > 1000
    assert Fitting.objects.get().state == "sent"
    assert [(entry.verb, entry.to_state) for entry in commission.journal.all()] == [("open", "sent")]
    assert {letter.kind: letter.to for letter in Letter.objects.all()} == {
        "commission_opened": workshop.email,
        "commission_received": player.holder.email,
    }


def test_a_fitting_opens_one_commission_only(player):
    fitting = a_fitting(player)
    lifecycle.open_commission(fitting=fitting, by=player.holder)

    with pytest.raises(Refused, match="moved_on"):
        lifecycle.open_commission(fitting=fitting, by=player.holder)

    assert Commission.objects.count() == 1


def test_a_child_whose_holder_is_no_guardian_opens_nothing(child, player_user):
    child.holder = player_user
    child.save()

    with pytest.raises(Refused, match="guardian_needed"):
        a_commission(child)

    assert not Commission.objects.exists()


def test_proposing_stores_what_is_offered_and_writes_to_the_holder(player, maker):
    commission = a_commission(player)

    proposal = propose_to(commission, maker, words="Light and quick.")

    assert commission.state == State.PROPOSED
    assert proposal.snapshot["words"] == "Light and quick."
    assert proposal.snapshot["price"] == {
        "total": 42000,
        "tax": 7000,
        "currency": "GBP",
        "tax_percent": "20",
    }
    assert (
        proposal.snapshot["build"]["blade"]["length_mm"]
        == commission.builds.get().build["blade"]["length_mm"]
    )
    assert Letter.objects.filter(kind="proposed", to=player.holder.email).count() == 1


def test_a_build_outside_the_laws_is_not_proposed(player, maker):
    commission = a_commission(player)
    wide = commission.builds.get()
    wide.build["blade"]["width_mm"] = 110.0
    wide.save()

    with pytest.raises(Refused) as refused:
        propose_to(commission, maker)

    assert (refused.value.key, refused.value.what) == ("breaks_the_laws", ("blade_width", "gauge"))
    assert commission.proposals.count() == 0


def test_accepting_freezes_the_agreement_and_makes_a_bat(player, maker):
    commission = a_commission(player)
    proposal = propose_to(commission, maker)

    bat = lifecycle.accept(commission, by=player.holder, seen=proposal.snapshot_hash, at=MOMENT)

    proposal.refresh_from_db()
    assert (proposal.state, proposal.answered_by) == (ProposalState.ACCEPTED, player.holder)
    assert (bat.agreed, bat.stage, bat.rounds.get().stages[0]) == (proposal, Stage.WAITING, "cleft_selection")
    assert commission.promised_to == proposal.ready_to
    entry = commission.journal.get(verb="accept")
    assert (entry.verb, entry.by, entry.data["hash"]) == ("accept", player.holder, proposal.snapshot_hash)
    assert Letter.objects.filter(kind__startswith="accepted").count() == 2


def test_accepting_another_snapshot_is_refused(player, maker):
    commission = a_commission(player)
    old = propose_to(commission, maker)
    lifecycle.withdraw(commission, by=maker, at=MOMENT)
    propose_to(commission, maker, ready_to=MOMENT.date() + timedelta(weeks=20))
    before = everything(commission)

    with pytest.raises(Refused, match="other_snapshot"):
        lifecycle.accept(commission, by=player.holder, seen=old.snapshot_hash, at=MOMENT)

    assert everything(commission) == before


@pytest.mark.parametrize(("late", "answer"), [(-1, "accepted"), (0, "lapsed"), (1, "lapsed")])
def test_a_proposal_is_accepted_only_before_its_last_moment(late, answer, player, maker):
    commission = a_commission(player)
    proposal = propose_to(commission, maker)
    moment = proposal.valid_until + timedelta(seconds=late)

    if answer == "accepted":
        lifecycle.accept(commission, by=player.holder, seen=proposal.snapshot_hash, at=moment)
    else:
        with pytest.raises(Refused, match="lapsed"):
            lifecycle.accept(commission, by=player.holder, seen=proposal.snapshot_hash, at=moment)

    assert lifecycle.can_accept(commission, player.holder, at=moment) is False
    assert (Commission.objects.get().state == State.ACCEPTED) is (answer == "accepted")


def test_only_the_guardian_accepts_for_a_child(child, maker, guardian_user):
    commission = a_commission(child)
    proposal = propose_to(commission, maker)
    guardian_user.role = "player"

    with pytest.raises(Refused, match="guardian_needed"):
        lifecycle.accept(commission, by=guardian_user, seen=proposal.snapshot_hash, at=MOMENT)
    guardian_user.role = "guardian"
    lifecycle.accept(commission, by=guardian_user, seen=proposal.snapshot_hash, at=MOMENT)

    assert commission.journal.get(verb="accept").by == guardian_user


def test_a_stranger_and_the_maker_cannot_accept(player, maker, other_player_user):
    commission = a_commission(player)
    proposal = propose_to(commission, maker)

    for person in (maker, other_player_user):
        with pytest.raises(Refused, match="not_yours"):
            lifecycle.accept(commission, by=person, seen=proposal.snapshot_hash, at=MOMENT)

    assert Commission.objects.get().state == State.PROPOSED


def test_asking_for_a_change_closes_the_proposal_with_the_words(player, maker):
    commission = a_commission(player)
    propose_to(commission, maker)

    lifecycle.ask_change(commission, by=player.holder, field="mass", words="1150 g", at=MOMENT)

    proposal = commission.proposals.get()
    assert (proposal.state, proposal.change_field, proposal.change_words) == (
        "change_asked",
        "mass",
        "1150 g",
    )
    letter = Letter.objects.get(kind="change_asked")
    assert letter.context["words"] == "1150 g"


def test_lapsing_ends_only_what_is_over(player, maker):
    commission = a_commission(player)
    other = a_commission(player)
    propose_to(commission, maker)
    propose_to(other, maker, valid_until=MOMENT + timedelta(days=60))

    ended = lifecycle.lapse_due(MOMENT + timedelta(days=20))
    again = lifecycle.lapse_due(MOMENT + timedelta(days=20))

    assert (ended, again) == (1, 0)
    assert set(Commission.objects.values_list("pk", "state")) == {
        (commission.pk, State.SENT),
        (other.pk, State.PROPOSED),
    }
    assert Letter.objects.filter(kind="proposal_lapsed").count() == 1


def test_a_holder_cancels_until_the_cleft_is_cut(player, maker):
    early = a_bat_in(Stage.CLEFT_SELECTION, player, maker).commission
    late = a_bat_in(Stage.PRESSING, player, maker).commission

    lifecycle.cancel(early, by=player.holder, why="", at=MOMENT)
    with pytest.raises(Refused, match="cleft_is_cut"):
        lifecycle.cancel(late, by=player.holder, why="", at=MOMENT)
    lifecycle.cancel(late, by=maker, why="the cleft split, and there is no other", at=MOMENT)

    assert (early.state, late.state) == (State.CANCELLED, State.CANCELLED)
    assert late.cancelled_why.startswith("the cleft split")
    assert late.cancelled_by == maker


def test_cancelling_closes_the_open_proposal(player, maker):
    commission = a_commission(player)
    propose_to(commission, maker)

    lifecycle.cancel(commission, by=player.holder, why="", at=MOMENT)

    assert commission.proposals.get().state == ProposalState.CLOSED
    assert set(Letter.objects.filter(kind__startswith="cancelled").values_list("kind", flat=True)) == {
        "cancelled",
        "cancelled_workshop",
    }


def test_a_verb_on_a_commission_read_too_early_is_refused(player, maker):
    commission = a_commission(player)
    stale = Commission.objects.get(pk=commission.pk)
    propose_to(commission, maker)
    lifecycle.withdraw(commission, by=maker, at=MOMENT)
    before = everything(commission)

    with pytest.raises(MovedOn):
        propose_to(stale, maker)

    assert everything(commission) == before


@pytest.mark.parametrize("state", State)
def test_the_journal_replays_to_the_present_state(state, player, maker):
    commission = in_state(state, player, maker)

    place = ""
    for entry in JournalEntry.objects.of_commission().filter(commission=commission):
        assert entry.from_state == place
        place = entry.to_state

    assert place == state


def test_the_journal_is_only_added_to(player):
    entry = a_commission(player).journal.get()

    for change in (entry.save, entry.delete, JournalEntry.objects.all().delete):
        with pytest.raises(AppendOnly):
            change()
    with pytest.raises(AppendOnly):
        JournalEntry.objects.update(verb="accept")


def test_the_database_itself_keeps_one_open_proposal(player, maker):
    commission = a_commission(player)
    proposal = propose_to(commission, maker)
    proposal.pk, proposal.code, proposal.number = None, "another000", 2

    with pytest.raises(IntegrityError), transaction.atomic():
        proposal.save(force_insert=True)

    assert Proposal.objects.count() == 1


@pytest.mark.parametrize(
    ("name", "value"),
    [("price", -1), ("state", "sold"), ("ready_from", MOMENT.date() + timedelta(days=900))],
)
def test_the_database_itself_refuses_an_impossible_proposal(name, value, player, maker):
    propose_to(a_commission(player), maker)

    with pytest.raises(IntegrityError), transaction.atomic():
        Proposal.objects.update(**{name: value})


def test_the_database_itself_refuses_an_unknown_state(player):
    a_commission(player)

    with pytest.raises(IntegrityError), transaction.atomic():
        Commission.objects.update(state="sold")


def test_numbers_count_up(player):
    assert [a_commission(player).reference for _ in range(3)] == ["0001", "0002", "0003"]
