"""What befalls a cleft, and that it goes to one bat only."""

from concurrent.futures import ThreadPoolExecutor
from datetime import date, timedelta
from itertools import product

import pytest
from django.db import IntegrityError, connection, transaction
from django.utils import timezone

from orders.commissions import lifecycle
from orders.commissions.models import Bat
from orders.people.models import Player, User
from tests.factories import a_commission, an_agreed_bat, propose_to
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack import clefts, holds
from workshop.rack.clefts import TRANSITIONS, CleftRefused
from workshop.rack.models import Cleft, CleftHold, CleftState


def test_take_in_writes_the_first_entry(maker: User):
    cleft = a_cleft(41, maker)

    entry = cleft.entries.get()
    assert (entry.verb, entry.by, entry.data["mass"]) == ("take_in", maker, cleft.mass)


def test_take_in_number_taken_is_refused(maker: User):
    a_cleft(41, maker)

    with pytest.raises(CleftRefused) as refused:
        a_cleft(41, maker)

    assert refused.value.key == "number_taken"
    assert Cleft.objects.count() == 1


def test_weigh_again_keeps_the_old_reading_in_the_history(maker: User):
    cleft = a_cleft(41, maker, mass=24000, moisture=130)

    clefts.weigh_again(cleft, mass=23800, moisture=121, read_on=date(2027, 2, 1), by=maker)

    entry = cleft.entries.get(verb="weigh")
    assert (entry.data["mass_before"], entry.data["mass"]) == (24000, 23800)
    assert (Cleft.objects.get().mass, Cleft.objects.get().moisture) == (23800, 121)


def test_weigh_again_as_it_no_longer_stands_is_refused(maker: User):
    cleft = a_cleft(41, maker)
    stale = Cleft.objects.get()
    clefts.weigh_again(cleft, mass=23800, moisture=121, read_on=date(2027, 2, 1), by=maker)

    with pytest.raises(CleftRefused) as refused:
        clefts.weigh_again(stale, mass=20000, moisture=100, read_on=date(2027, 2, 1), by=maker)

    assert refused.value.key == "meanwhile"
    assert Cleft.objects.get().mass == 23800


UNDECLARED = [
    (state, verb) for state, verb in product(CleftState, TRANSITIONS) if state not in TRANSITIONS[verb][0]
]


@pytest.mark.parametrize(("state", "verb"), UNDECLARED)
def test_every_undeclared_pair_of_state_and_verb_changes_nothing(
    state: CleftState, verb: str, player: Player, maker: User
):
    cleft = a_cleft(41, maker, state=CleftState.READY)
    bat = an_agreed_bat(player, maker)
    bound = {"bat": bat, "round": 1} if state in ("reserved", "used") else {}
    Cleft.objects.filter(pk=cleft.pk).update(state=state, **bound)
    cleft.refresh_from_db()

    with pytest.raises(CleftRefused):
        clefts._move(cleft, verb, by=maker, data={"words": "split"}, at=None)

    assert Cleft.objects.get().state == state
    assert cleft.entries.count() == 1


@pytest.mark.parametrize("verb", ["reject", "mark_smaller"])
def test_throwing_out_without_a_reason_is_refused(verb: str, maker: User):
    cleft = a_cleft(41, maker)

    with pytest.raises(CleftRefused) as refused:
        clefts.change_standing(cleft, verb, by=maker, words="  ")

    assert refused.value.key == "needs_words"
    assert Cleft.objects.get().state == CleftState.READY


def test_reserve_binds_the_cleft_and_names_it_on_the_bat(player: Player, maker: User):
    cleft, bat = a_cleft(41, maker), an_agreed_bat(player, maker)

    clefts.reserve(cleft, bat, by=maker)

    stored = Cleft.objects.get()
    assert (stored.state, stored.bat, stored.round) == (CleftState.RESERVED, bat, 1)
    assert Bat.objects.get().cleft_label == "0041"
    assert cleft.entries.filter(verb="reserve", data__bat=bat.code).count() == 1


def test_reserve_for_a_second_bat_is_refused(player: Player, maker: User):
    cleft = a_cleft(41, maker)
    first, second = an_agreed_bat(player, maker), an_agreed_bat(player, maker)
    stale = Cleft.objects.get()
    clefts.reserve(cleft, first, by=maker)

    with pytest.raises(CleftRefused) as refused:
        clefts.reserve(stale, second, by=maker)

    assert refused.value.key == "meanwhile"
    assert Cleft.objects.get().bat == first


def test_reserve_a_second_cleft_for_a_bat_is_refused(player: Player, maker: User):
    bat = an_agreed_bat(player, maker)
    clefts.reserve(a_cleft(41, maker), bat, by=maker)

    with pytest.raises(CleftRefused) as refused:
        clefts.reserve(a_cleft(42, maker), bat, by=maker)

    assert refused.value.key == "bat_has_one"


def test_database_itself_refuses_a_second_cleft_for_a_bat(player: Player, maker: User):
    bat = an_agreed_bat(player, maker)
    clefts.reserve(a_cleft(41, maker), bat, by=maker)
    a_cleft(42, maker)

    with pytest.raises(IntegrityError), transaction.atomic():
        Cleft.objects.filter(number=42).update(state=CleftState.RESERVED, bat=bat, round=1)


def test_database_itself_refuses_a_reserved_cleft_without_a_bat(maker: User):
    a_cleft(41, maker)

    with pytest.raises(IntegrityError), transaction.atomic():
        Cleft.objects.update(state=CleftState.RESERVED)


@pytest.mark.django_db(transaction=True)
def test_reserve_by_two_hands_at_once_gives_it_to_one_bat(player: Player, maker: User):
    bats = [an_agreed_bat(player, maker), an_agreed_bat(player, maker)]
    a_cleft(41, maker)

    def reach_for(bat: Bat) -> str:
        try:
            clefts.reserve(Cleft.objects.get(), Bat.objects.get(pk=bat.pk), by=maker)
        except CleftRefused as refused:
            return refused.key
        finally:
            connection.close()
        return "reserved"

    with ThreadPoolExecutor(2) as hands:
        outcomes = sorted(hands.map(reach_for, bats))

    assert outcomes[1] == "reserved"
    assert outcomes[0] in ("meanwhile", "not_now")
    assert Bat.objects.exclude(cleft_label="").count() == 1


@pytest.mark.django_db(transaction=True)
def test_hold_by_two_hands_at_once_keeps_it_for_one_proposal(player: Player, maker: User):
    now = timezone.now()
    proposals = [propose_to(a_commission(player, at=now), maker, at=now) for _ in range(2)]
    a_cleft(41, maker)

    def reach_for(proposal: object) -> str:
        try:
            holds.hold(Cleft.objects.get(), proposal, by=maker)  # type: ignore[arg-type]
        except CleftRefused as refused:
            return refused.key
        finally:
            connection.close()
        return "kept"

    with ThreadPoolExecutor(2) as hands:
        outcomes = sorted(hands.map(reach_for, proposals))

    assert outcomes[0] in ("held", "kept")
    assert outcomes.count("kept") == 1
    assert CleftHold.objects.filter(released_at__isnull=True).count() == 1


def test_put_back_frees_cleft_and_bat(player: Player, maker: User):
    cleft, bat = a_cleft(41, maker), an_agreed_bat(player, maker)
    clefts.reserve(cleft, bat, by=maker)

    clefts.put_back(cleft, by=maker)

    assert list(Cleft.objects.free_today()) == [cleft]
    assert Bat.objects.get().cleft_label == ""


def test_hold_keeps_a_cleft_from_other_commissions(player: Player, maker: User):
    now = timezone.now()
    proposal = propose_to(a_commission(player, at=now), maker, at=now)
    cleft, other = a_cleft(41, maker), an_agreed_bat(player, maker)

    holds.hold(cleft, proposal, by=maker)

    assert list(Cleft.objects.free_today()) == []
    assert holds.held_for(proposal) == [cleft]
    with pytest.raises(CleftRefused) as refused:
        clefts.reserve(cleft, other, by=maker)
    assert refused.value.key == "held"


def test_hold_a_third_cleft_is_refused(player: Player, maker: User):
    now = timezone.now()
    proposal = propose_to(a_commission(player, at=now), maker, at=now)
    for number in (41, 42):
        holds.hold(a_cleft(number, maker), proposal, by=maker)

    with pytest.raises(CleftRefused) as refused:
        holds.hold(a_cleft(43, maker), proposal, by=maker)

    assert refused.value.key == "two_at_most"


def test_hold_of_a_lapsed_proposal_counts_for_nothing_before_any_tidying(player: Player, maker: User):
    long_ago = timezone.now() - timedelta(days=30)
    proposal = propose_to(a_commission(player, at=long_ago), maker, at=long_ago)
    cleft = a_cleft(41, maker)
    holds.hold(cleft, proposal, by=maker, at=long_ago)

    assert list(Cleft.objects.free_today()) == [cleft]

    again = propose_to(a_commission(player), maker, at=timezone.now())
    holds.hold(cleft, again, by=maker)
    assert holds.held_for(again) == [cleft]


def test_hold_of_a_withdrawn_proposal_counts_for_nothing(player: Player, maker: User):
    now = timezone.now()
    commission = a_commission(player, at=now)
    proposal = propose_to(commission, maker, at=now)
    cleft = a_cleft(41, maker)
    holds.hold(cleft, proposal, by=maker)

    lifecycle.withdraw(commission, by=maker)

    assert list(Cleft.objects.free_today()) == [cleft]


def test_hold_lasts_over_acceptance_and_ends_with_the_reservation(player: Player, maker: User):
    now = timezone.now()
    commission = a_commission(player, at=now)
    proposal = propose_to(commission, maker, at=now)
    cleft = a_cleft(41, maker)
    holds.hold(cleft, proposal, by=maker)
    bat = lifecycle.accept(commission, by=player.holder, seen=proposal.snapshot_hash)
    assert list(Cleft.objects.free_today()) == []

    clefts.reserve(cleft, bat, by=maker)

    assert not CleftHold.objects.filter(released_at__isnull=True).exists()
    assert Cleft.objects.get().bat == bat


def test_release_due_frees_held_and_stranded_clefts(player: Player, maker: User):
    long_ago = timezone.now() - timedelta(days=30)
    proposal = propose_to(a_commission(player, at=long_ago), maker, at=long_ago)
    holds.hold(a_cleft(41, maker), proposal, by=maker, at=long_ago)
    bat = an_agreed_bat(player, maker)
    clefts.reserve(a_cleft(42, maker), bat, by=maker)
    lifecycle.cancel(bat.commission, by=maker, why="moved away")

    freed = holds.release_due()

    assert freed == 2
    assert Cleft.objects.free_today().count() == 2
    assert not CleftHold.objects.filter(released_at__isnull=True).exists()
    stripped = Bat.objects.get(pk=bat.pk)
    assert (stripped.cleft_label, stripped.version) == ("", bat.version + 1)
    entry = stripped.journal.latest("pk")
    assert (entry.verb, entry.data["cleft"], entry.by) == ("name_cleft", "", None)
    assert "42" not in stripped.commission.search_text
    assert holds.release_due() == 0
