"""Whatever both sides do in whatever order, with the clock running: what must always hold."""

from datetime import timedelta

import pytest
from django.db import transaction
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test

from orders.commissions import lifecycle, stages
from orders.commissions.access import commission_for
from orders.commissions.bench_entries import Required
from orders.commissions.models import Bat, Commission, JournalEntry, Proposal
from orders.commissions.refusals import Refused
from orders.commissions.states import BENCH_STAGES, Cause, ProposalState, Stage, State
from orders.messages.models import Letter
from orders.people.models import User
from tests.factories import MOMENT, PlayerFactory, UserFactory, WorkshopFactory, a_commission, an_offer

# The letters that each verb has to write, no more and no less.
LETTERS = {
    "open": 2,
    "propose": 1,
    "withdraw": 1,
    "lapse": 1,
    "ask_change": 1,
    "accept": 2,
    "start": 1,
    "finish": 1,
}
# Every verb that some course has seen.
SEEN: set[str] = set()
AGREED = {State.ACCEPTED, State.MAKING, State.READY, State.DELIVERED, State.BACK, State.MENDING}


class Course(RuleBasedStateMachine):
    """One commission between its player, the maker and a stranger."""

    def __init__(self):
        super().__init__()
        self.block = transaction.atomic()
        self.block.__enter__()
        WorkshopFactory.create()
        self.maker = UserFactory.create(role="maker")
        self.stranger = UserFactory.create()
        self.player = PlayerFactory.create()
        self.now = MOMENT
        self.pk = a_commission(self.player, at=MOMENT).pk
        self.agreed = None

    def teardown(self):
        SEEN.update(JournalEntry.objects.values_list("verb", flat=True))
        transaction.set_rollback(True)
        self.block.__exit__(None, None, None)

    @property
    def commission(self):
        return Commission.objects.select_related("player", "holder").get(pk=self.pk)

    @property
    def bat(self):
        return Bat.objects.select_related("commission").filter(commission=self.pk).first()

    def attempt(self, verb, *args, **kwargs):
        """Try a verb; whether it was carried out."""
        try:
            verb(*args, at=self.now, **kwargs)
        except Refused:
            return False
        return True

    def propose(self):
        commission = self.commission
        newest = commission.builds.order_by("-number")[0]
        offer = an_offer(self.now, words=f"for the {commission.proposals.count() + 1}th time")
        return self.attempt(lifecycle.propose, commission, by=self.maker, build_version=newest, offer=offer)

    def accept(self, old=False):
        proposal = Proposal.objects.order_by("number" if old else "-number").first()
        seen = proposal.snapshot_hash if proposal else "0" * 64
        done = self.attempt(lifecycle.accept, self.commission, by=self.player.holder, seen=seen)
        if done and proposal:
            self.agreed = (proposal.price, proposal.snapshot)
        return done

    def ask_change(self):
        words = {"field": "mass", "words": "lighter"}
        return self.attempt(lifecycle.ask_change, self.commission, by=self.player.holder, **words)

    def send_back(self):
        return self.attempt(lifecycle.send_back, self.commission, by=self.player.holder)

    def withdraw(self):
        return self.attempt(lifecycle.withdraw, self.commission, by=self.maker)

    def mend(self, cause=Cause.ADJUSTMENT):
        needed = list(BENCH_STAGES) if cause == Cause.REBUILD else [Stage.SHAPING, Stage.FINISHING]
        if not self.attempt(lifecycle.mend, self.commission, by=self.maker):
            return False
        assert self.attempt(stages.open_round, self.bat, cause=cause, stages=needed, by=self.maker)
        return True

    def work(self, times=8):
        """Do the next thing at the bench, several times."""
        for _ in range(times):
            bat = self.bat
            moved = bat is not None and (
                self.attempt(stages.begin, bat, by=self.maker)
                or self.attempt(stages.pass_on, bat, by=self.maker, required=Required())
                or self.attempt(stages.pass_inspection, bat, rows=[], in_tolerance=True, by=self.maker)
            )
            if not moved:
                return

    def maker_does(self, verb):
        return self.attempt(getattr(lifecycle, verb), self.commission, by=self.maker)

    @rule(times=st.integers(1, 8), answer=st.sampled_from(["accept", "ask_change", "withdraw"]))
    def the_usual_next_things_happen(self, times, answer):
        usual = {
            State.SENT: self.propose,
            State.CHANGE_ASKED: self.propose,
            State.PROPOSED: getattr(self, answer),
            State.ACCEPTED: self.work,
            State.MAKING: self.work,
            State.MENDING: self.work,
            State.READY: lambda: self.maker_does("deliver"),
            State.DELIVERED: self.send_back,
            State.BACK: self.mend,
        }
        for _ in range(times):
            usual.get(self.commission.state, lambda: None)()

    @rule(days=st.integers(0, 20))
    def time_passes(self, days):
        self.now += timedelta(days=days, minutes=1)
        lifecycle.lapse_due(self.now)

    @rule(verb=st.sampled_from(["withdraw", "deliver", "refund", "find_nothing", "finish", "start"]))
    def the_maker_tries(self, verb):
        self.maker_does(verb)

    @rule(cause=st.sampled_from([Cause.ADJUSTMENT, Cause.REBUILD]))
    def the_maker_tries_to_mend(self, cause):
        self.mend(cause)

    @rule(verb=st.sampled_from(["ask_change", "send_back", "accept", "propose"]))
    def one_of_them_tries(self, verb):
        getattr(self, verb)()

    @rule()
    def the_player_tries_an_old_page(self):
        before = Proposal.objects.filter(state=ProposalState.OPEN).first()
        if self.accept(old=True):
            assert before is not None
            assert before.number == 1

    @rule(to=st.sampled_from(BENCH_STAGES))
    def the_bench_goes_back(self, to):
        if self.bat is not None:
            self.attempt(stages.go_back, self.bat, to=to, by=self.maker, reason="not good enough")

    @rule()
    def a_stranger_tries_everything(self):
        proposal = Proposal.objects.order_by("-number").first()
        seen = proposal.snapshot_hash if proposal else ""
        assert not self.attempt(lifecycle.accept, self.commission, by=self.stranger, seen=seen)
        assert not self.attempt(lifecycle.cancel, self.commission, by=self.stranger, why="")
        assert not self.attempt(lifecycle.send_back, self.commission, by=self.stranger)

    # An end is an end: cancelling is kept rare, or few courses would get far.
    @rule(by_maker=st.booleans(), sure=st.integers(0, 9))
    def somebody_cancels(self, by_maker, sure):
        if sure == 9:
            by = self.maker if by_maker else self.player.holder
            self.attempt(lifecycle.cancel, self.commission, by=by, why="")

    @invariant()
    def nothing_is_made_before_it_is_agreed(self):
        if self.bat is not None:
            assert Proposal.objects.filter(state=ProposalState.ACCEPTED).count() == 1
        elif self.agreed is None:
            assert self.commission.state not in AGREED

    @invariant()
    def what_was_agreed_stays(self):
        if self.agreed:
            proposal = Proposal.objects.get(state=ProposalState.ACCEPTED)
            assert (proposal.price, proposal.snapshot) == self.agreed

    @invariant()
    def the_journal_replays_to_where_it_stands(self):
        place = ""
        for entry in JournalEntry.objects.of_commission():
            assert entry.from_state == place
            place = entry.to_state
        assert place == self.commission.state
        if self.bat is not None:
            place = Stage.WAITING
            for entry in JournalEntry.objects.filter(bat=self.bat):
                assert entry.from_state == place
                place = entry.to_state
            assert place == self.bat.stage

    @invariant()
    def an_open_proposal_and_the_state_agree(self):
        opened = Proposal.objects.open().count()
        assert opened == (self.commission.state == State.PROPOSED)

    @invariant()
    def every_letter_has_one_cause(self):
        due = 0
        for entry in JournalEntry.objects.of_commission():
            by_holder = entry.by_id == self.player.holder_id
            due += LETTERS.get(entry.verb, 0) + (entry.verb == "cancel") * (1 + by_holder)
        assert Letter.objects.count() == due

    @invariant()
    def a_stranger_sees_nothing(self):
        assert not Commission.objects.visible_to(self.stranger).exists()
        assert commission_for(User.objects.get(pk=self.player.holder_id), self.commission.code)


@pytest.mark.django_db
def test_any_course_keeps_the_rules():
    SEEN.clear()
    run_state_machine_as_test(
        Course,
        settings=settings(
            max_examples=15,
            stateful_step_count=20,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )

    # Otherwise nothing was tried: each of these happened in some course.
    assert {"accept", "withdraw", "ask_change", "pass_inspection", "deliver", "send_back", "mend"} <= SEEN


@pytest.mark.storm
@pytest.mark.django_db
def test_any_course_keeps_the_rules_for_long():
    run_state_machine_as_test(
        Course,
        settings=settings(
            max_examples=500,
            stateful_step_count=50,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
