from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Barrier

import pytest
from django.db import connection
from django.urls import reverse
from django.utils import timezone

from orders.commissions.models import Commission, Proposal
from orders.commissions.states import ProposalState, Stage, State
from orders.messages.models import Letter
from orders.people.once import new_key
from tests.cast import signed_in
from tests.factories import a_bat_in, a_commission, propose_to
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack.holds import held_for
from workshop.rack.models import CleftHold

pytestmark = pytest.mark.django_db


def address(name, commission):
    return reverse(f"review:{name}", args=[commission.code])


def form(**changes):
    today = timezone.localdate()
    typed = {
        "once": new_key(),
        "build": "1",
        "price": "420.00",
        "ready_from": str(today + timedelta(weeks=8)),
        "ready_to": str(today + timedelta(weeks=10)),
        "valid_until": str(today + timedelta(days=14)),
        "words": "Light and quick.",
    }
    return {**typed, **changes}


def test_proposing_offers_the_build_in_the_workshops_currency(maker_client, player, maker):
    commission = a_commission(player)

    answer = maker_client.post(address("propose", commission), form())

    assert answer["Location"] == address("review", commission)
    proposal = Proposal.objects.get()
    assert (proposal.price, proposal.currency, proposal.subject_to_willow) == (42000, "GBP", True)
    assert proposal.words == "Light and quick."
    assert timezone.localtime(proposal.valid_until).date() == timezone.localdate() + timedelta(days=15)
    assert Commission.objects.get().state == State.PROPOSED


def test_clefts_are_kept_aside_for_it(maker_client, player, maker):
    commission = a_commission(player)
    for number in (117, 118, 119):
        a_cleft(number, maker, density=412)

    page = maker_client.get(address("propose", commission)).content.decode()
    maker_client.post(address("propose", commission), form(clefts=["117", "118"]))

    proposal = Proposal.objects.get()
    assert "0117 · grade 1" in page
    assert [cleft.number for cleft in held_for(proposal)] == [117, 118]
    assert not proposal.subject_to_willow
    assert [cleft["label"] for cleft in proposal.snapshot["clefts"]] == ["0117", "0118"]


@pytest.mark.django_db(transaction=True)
def test_one_cleft_wanted_for_two_at_once_goes_to_one(player, maker):
    commissions = [a_commission(player), a_commission(player)]
    a_cleft(117, maker, density=412)
    clients = [signed_in(maker) for _ in commissions]
    gate = Barrier(2)

    def ask(client, commission):
        try:
            gate.wait(10)
            return client.post(address("propose", commission), form(clefts=["117"])).status_code
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as pool:
        answers = list(pool.map(ask, clients, commissions))

    assert sorted(answers) == [302, 422]
    assert Proposal.objects.count() == CleftHold.objects.count() == 1
    assert sorted(Commission.objects.values_list("state", flat=True)) == [State.PROPOSED, State.SENT]
    assert Letter.objects.filter(kind="proposed").count() == 1


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"price": "dear"}, "dear was given, which is no sum of money"),
        ({"price": ""}, "required"),
        ({"price": "420.505"}, "can be read in two ways"),
        ({"ready_from": "2020-01-01"}, "is over"),
        ({"ready_from": "soon"}, "valid date"),
        ({"ready_to": str(timezone.localdate())}, "The range runs forwards"),
        ({"valid_until": "2020-01-01"}, "is over"),
        ({"build": "7"}, "valid choice"),
        ({"clefts": ["999"]}, "valid choice"),
    ],
)
def test_a_wrong_form_is_told_at_the_field_and_kept(changes, said, maker_client, player):
    commission = a_commission(player)

    answer = maker_client.post(address("propose", commission), form(**changes))

    page = answer.content.decode()
    assert answer.status_code == 422
    assert said in page
    assert "Light and quick." in page
    assert not Proposal.objects.exists()
    assert not Letter.objects.filter(kind="proposed").exists()


def test_three_clefts_are_too_many(maker_client, player, maker):
    commission = a_commission(player)
    for number in (117, 118, 119):
        a_cleft(number, maker, density=412)

    answer = maker_client.post(address("propose", commission), form(clefts=["117", "118", "119"]))

    assert "3 were ticked; 2 at most" in answer.content.decode()
    assert not Proposal.objects.exists()


def test_a_build_outside_the_laws_is_refused_with_its_row(maker_client, player):
    commission = a_commission(player)
    version = commission.builds.get()
    version.build["blade"]["width_mm"] = 110.0
    version.save()

    answer = maker_client.post(address("propose", commission), form())

    assert answer.status_code == 422
    assert "outside the Laws: width of the blade" in answer.content.decode()
    assert not Proposal.objects.exists()


def test_tax_on_top_is_added_to_what_the_player_pays(maker_client, player, workshop):
    workshop.prices_with_tax = False
    workshop.save()
    commission = a_commission(player)

    page = maker_client.get(address("propose", commission)).content.decode()
    maker_client.post(address("propose", commission), form())

    assert "Price in GBP, without tax" in page
    assert Proposal.objects.get().price == 50400


def test_proposing_twice_is_refused(maker_client, player, maker):
    commission = a_commission(player)
    propose_to(commission, maker, at=timezone.now())

    answer = maker_client.post(address("propose", commission), form())

    assert answer.status_code == 409
    assert Proposal.objects.count() == 1


@pytest.mark.parametrize("client", ["player_client", "bench_client"])
@pytest.mark.parametrize("name", ["propose", "withdraw", "cancel"])
def test_only_the_maker_proposes_and_takes_back(name, client, request, player, maker):
    commission = a_commission(player)
    propose_to(commission, maker, at=timezone.now())

    answer = request.getfixturevalue(client).post(address(name, commission), form(why="x"))

    assert answer.status_code == 404
    assert Proposal.objects.get().state == ProposalState.OPEN


def test_taking_back_closes_the_proposal_and_tells_the_player(maker_client, player, maker):
    commission = a_commission(player)
    propose_to(commission, maker, at=timezone.now())

    maker_client.post(address("withdraw", commission), {"once": new_key(), "why": "the cleft split"})

    assert Proposal.objects.get().state == ProposalState.WITHDRAWN
    assert Commission.objects.get().state == State.SENT
    assert Letter.objects.get(kind="proposal_withdrawn").context["why"] == "the cleft split"


def test_taking_back_what_is_accepted_changes_nothing(maker_client, player, maker):
    commission = a_bat_in(Stage.SHAPING, player, maker).commission

    answer = maker_client.post(address("withdraw", commission), {"once": new_key(), "why": ""})

    assert answer.status_code == 409
    assert Proposal.objects.get().state == ProposalState.ACCEPTED
    assert maker_client.get(address("withdraw", commission)).status_code == 405


def test_the_maker_cancels_with_a_reason_only(maker_client, player, maker):
    commission = a_bat_in(Stage.PRESSING, player, maker).commission
    asked = maker_client.get(address("cancel", commission)).content.decode()

    empty = maker_client.post(address("cancel", commission), {"once": new_key(), "why": ""})
    assert Commission.objects.get().state == State.MAKING
    maker_client.post(address("cancel", commission), {"once": new_key(), "why": "the cleft split"})

    assert "Willow has already been cut" in asked
    assert empty.status_code == 422
    assert Commission.objects.get().state == State.CANCELLED
    assert Letter.objects.get(kind="cancelled").context["why"] == "the cleft split"
