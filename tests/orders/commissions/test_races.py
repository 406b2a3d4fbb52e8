"""Two people at the same moment: one of them wins, and nothing is done twice or by halves."""

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from django.db import connection

from orders.commissions import builds, lifecycle, stages
from orders.commissions.bench_entries import Required
from orders.commissions.models import Bat, BuildVersion, Commission, JournalEntry, Proposal
from orders.commissions.refusals import Refused
from orders.commissions.states import ProposalState, Stage, State
from orders.messages.models import Letter
from tests.factories import MOMENT, a_bat_in, a_commission, a_fitting, propose_to

pytestmark = pytest.mark.django_db(transaction=True)


def at_once(*calls):
    """Run every call in a thread and connection of its own, begun together; their results or refusals."""
    gate = Barrier(len(calls))

    def run(call):
        try:
            gate.wait(10)
            return call()
        except Refused as refused:
            return refused.key
        finally:
            connection.close()

    with ThreadPoolExecutor(len(calls)) as pool:
        return list(pool.map(run, calls))


def read():
    return Commission.objects.select_related("player", "holder").get()


def test_two_acceptances_make_one_bat(player, maker):
    proposal = propose_to(a_commission(player), maker)
    copies = [read() for _ in range(4)]

    results = at_once(
        *(
            lambda copy=copy: (
                lifecycle.accept(copy, by=copy.holder, seen=proposal.snapshot_hash, at=MOMENT).ordinal
            )
            for copy in copies
        )
    )

    assert results.count(1) == 1
    assert Bat.objects.count() == 1
    assert JournalEntry.objects.filter(verb="accept").count() == 1
    assert Letter.objects.filter(kind="accepted").count() == 1


def test_accepting_and_withdrawing_at_once_leaves_one_outcome(player, maker):
    proposal = propose_to(a_commission(player), maker)
    mine, theirs = read(), read()

    at_once(
        lambda: lifecycle.accept(mine, by=mine.holder, seen=proposal.snapshot_hash, at=MOMENT) and "ok",
        lambda: lifecycle.withdraw(theirs, by=maker, at=MOMENT),
    )

    state, proposal_state = read().state, Proposal.objects.get().state
    assert (state, proposal_state) in {
        (State.ACCEPTED, ProposalState.ACCEPTED),
        (State.SENT, ProposalState.WITHDRAWN),
    }
    assert Bat.objects.count() == (state == State.ACCEPTED)
    assert JournalEntry.objects.filter(verb__in=["accept", "withdraw"]).count() == 1


def test_two_proposals_at_once_leave_one_open(player, maker):
    a_commission(player)
    copies = [read() for _ in range(3)]

    at_once(*(lambda copy=copy: propose_to(copy, maker) and "ok" for copy in copies))

    assert Proposal.objects.count() == 1
    assert Letter.objects.filter(kind="proposed").count() == 1


def test_one_fitting_sent_twice_at_once_opens_one_commission(player):
    fitting = a_fitting(player)

    results = at_once(
        *(lambda: lifecycle.open_commission(fitting=fitting, by=player.holder).number for _ in range(3))
    )

    assert Commission.objects.count() == 1
    assert sorted(map(str, results)) == ["1", "moved_on", "moved_on"]
    assert Letter.objects.filter(kind="commission_received").count() == 1


def test_different_fittings_sent_at_once_get_different_numbers(player):
    fittings = [a_fitting(player) for _ in range(4)]

    at_once(
        *(
            lambda fitting=fitting: lifecycle.open_commission(fitting=fitting, by=player.holder).number
            for fitting in fittings
        )
    )

    assert sorted(Commission.objects.values_list("number", flat=True)) == [1, 2, 3, 4]


def test_a_stage_passed_twice_at_once_is_passed_once(player, maker):
    a_bat_in(Stage.PRESSING, player, maker)
    copies = [Bat.objects.select_related("commission").get() for _ in range(3)]

    results = at_once(
        *(lambda copy=copy: str(stages.pass_on(copy, by=maker, required=Required())) for copy in copies)
    )

    assert sorted(results) == ["moved_on", "moved_on", "shaping"]
    assert Bat.objects.get().stage == Stage.SHAPING
    assert JournalEntry.objects.filter(verb="pass_on", to_state="shaping").count() == 1


def test_edits_at_once_lose_none_that_was_kept(player, maker):
    a_commission(player)
    build = builds.build_of(BuildVersion.objects.get())

    def edit_five_times():
        kept = 0
        for _ in range(5):
            copy = read()
            try:
                builds.edit(copy, build, by=maker, parent=copy.builds.first(), seen_version=copy.version)
                kept += 1
            except Refused:
                continue
        return kept

    kept = sum(at_once(*[edit_five_times] * 4))

    assert kept >= 5
    assert read().version == kept
    assert BuildVersion.objects.count() == 1 + kept
