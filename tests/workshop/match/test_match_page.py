"""The page of matching: what it shows, and each thing that a maker decides there."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from orders.commissions.models import Bat
from orders.commissions.states import Stage
from orders.people.once import new_key
from tests.factories import a_bat_in
from tests.workshop.match.floors import a_waiting_bat, an_open_proposal, promise, today
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.targets import targets_in_force
from workshop.match import page
from workshop.match.models import PairRefused, WillowOfBuild
from workshop.rack.clefts import reserve
from workshop.rack.models import Cleft, CleftHold, CleftState

pytestmark = pytest.mark.django_db
PAGE = "/floor/match/"


def decide(client, verb, code, cleft, **more):
    address = reverse(f"match:{verb}", args=[code])
    return client.post(address, {"once": new_key(), "cleft": cleft.code, **more})


def text(response):
    return " ".join(response.content.decode().split())


def test_page_shows_each_bat_with_its_cleft_and_the_next_best(maker_client, player, maker):
    bat = a_waiting_bat(player, maker)
    promise(bat, today() + timedelta(days=10))
    a_cleft(11, maker, density=415, price=4000)
    a_cleft(12, maker, density=415, price=5000)

    response = maker_client.get(PAGE)

    (row,) = response.context["rows"]
    assert (row.cleft.label, row.could, row.due) == ("0011", 2, "due in 10 days")
    assert row.second.startswith("0012: worse by ")
    assert "Take 0011" in text(response)
    assert "its price:" in text(response)


def test_page_says_why_a_bat_gets_none_and_what_to_buy(maker_client, player, maker):
    a_waiting_bat(player, maker)
    a_cleft(11, maker, density=300)

    response = maker_client.get(PAGE)

    assert "The only cleft that is ready would not do." in text(response)
    assert "1 too light" in text(response)
    (short,) = response.context["shorts"]
    assert short["count"] == "1 cleft"


def test_bat_whose_cleft_goes_to_a_more_urgent_one_is_told_so(maker_client, player, maker):
    late, soon = a_waiting_bat(player, maker), a_waiting_bat(player, maker)
    promise(late, today() + timedelta(days=100))
    promise(soon, today() + timedelta(days=2))
    a_cleft(11, maker)

    response = maker_client.get(PAGE)

    wanted = f"The only cleft that would do goes to a bat that needs it more: {soon.commission.reference}."
    assert wanted in text(response)


def test_empty_page_says_what_brings_a_bat_here(maker_client):
    assert "No bat waits for a cleft." in text(maker_client.get(PAGE))


def test_page_that_is_not_worked_out_yet_works_on_when_asked_again(maker_client, player, maker):
    """A page has a moment for it and finishes one table at least."""
    a_waiting_bat(player, maker)
    WillowOfBuild.objects.all().delete()

    first = maker_client.get(PAGE)

    assert first.context["waiting"] == ()
    assert WillowOfBuild.objects.count() == 1


def test_taking_reserves_the_cleft_for_the_bat(maker_client, player, maker):
    bat = a_waiting_bat(player, maker)
    cleft = a_cleft(11, maker)

    response = decide(maker_client, "take", bat.code, cleft)

    assert response.status_code == 302
    assert Cleft.objects.get().bat == bat
    assert Bat.objects.get().cleft_label == "0011"
    targets = targets_in_force(Bat.objects.get())
    assert targets is not None
    assert targets.cleft == cleft
    assert maker_client.get(PAGE).context["rows"] == []


def test_another_cleft_than_the_proposed_one_can_be_taken(maker_client, player, maker):
    bat = a_waiting_bat(player, maker)
    a_cleft(11, maker, price=4000)
    other = a_cleft(12, maker, price=5000)

    decide(maker_client, "take", bat.code, other)

    assert Bat.objects.get().cleft_label == "0012"


def test_cleft_that_somebody_else_took_meanwhile_is_refused_and_said(maker_client, player, maker):
    mine, theirs = a_waiting_bat(player, maker), a_waiting_bat(player, maker)
    cleft = a_cleft(11, maker)
    reserve(cleft, theirs, by=maker)

    response = decide(maker_client, "take", mine.code, cleft)

    assert response.status_code == 409
    assert "This cleft no longer stands where that can be done." in text(response)
    assert Cleft.objects.get().bat == theirs


def test_refused_pair_is_offered_no_more_until_asked_for_again(maker_client, player, maker):
    bat = a_waiting_bat(player, maker)
    cleft = a_cleft(11, maker)

    decide(maker_client, "refuse", bat.code, cleft)
    refused = maker_client.get(PAGE)
    decide(maker_client, "think-better", bat.code, cleft)

    (row,) = refused.context["none"]
    assert row.fails == ("1 refused by you",)
    assert [one.label for one in row.refused] == ["0011"]
    assert PairRefused.objects.filter(withdrawn_at__isnull=True).count() == 0
    assert len(maker_client.get(PAGE).context["rows"]) == 1


def test_cleft_is_kept_aside_for_a_bat_that_is_only_proposed(maker_client, player, maker):
    proposal = an_open_proposal(player, maker, valid_until=timezone.now() + timedelta(days=9))
    cleft = a_cleft(11, maker)

    shown = maker_client.get(f"{PAGE}?proposed=1")
    decide(maker_client, "keep-aside", proposal.code, cleft, proposed="1")

    assert [row.bat.code for row in shown.context["rows"]] == [proposal.code]
    assert CleftHold.objects.get().proposal == proposal
    assert Cleft.objects.get().state == CleftState.READY


def test_bat_that_is_past_its_cleft_takes_none(maker_client, player, maker):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    cleft = a_cleft(11, maker)

    response = decide(maker_client, "take", bat.code, cleft)

    assert response.status_code == 409
    assert "past the choice of its cleft" in text(response)
    assert Cleft.objects.get().bat is None


@pytest.mark.parametrize("verb", ["take", "refuse", "think-better"])
def test_unknown_bat_is_not_found_and_an_unknown_cleft_asked_for(verb, maker_client, player, maker):
    bat = a_waiting_bat(player, maker)
    cleft = a_cleft(11, maker)

    assert decide(maker_client, verb, "nobodys", cleft).status_code == 404
    cleft.code = "nowhere"
    response = decide(maker_client, verb, bat.code, cleft)
    assert response.status_code == 422
    assert "Choose a cleft" in text(response)


@pytest.mark.parametrize("rows", [1, 3])
def test_queries_of_the_page_do_not_rise_with_what_it_shows(
    rows, maker_client, player, maker, django_assert_num_queries
):
    for number in range(rows):
        bat = a_waiting_bat(player, maker)
        decide(maker_client, "refuse", bat.code, a_cleft(number + 1, maker))
        a_cleft(number + 101, maker)

    with django_assert_num_queries(11):
        maker_client.get(PAGE)


def test_bench_hand_finds_no_such_page(bench_client):
    assert bench_client.get(PAGE).status_code == 404


def test_many_bats_are_shown_page_by_page(maker_client, player, maker, monkeypatch):
    monkeypatch.setattr(page, "A_PAGE", 2)
    for number in range(3):
        a_waiting_bat(player, maker)
        a_cleft(number + 1, maker)

    first, second = (maker_client.get(f"{PAGE}?page={number}") for number in (1, 2))

    assert [len(one.context["rows"]) for one in (first, second)] == [2, 1]
    assert "3 bats with their clefts" in text(first)
    assert 'rel="next" href="?page=2"' in text(first)
    assert 'rel="prev" href="?page=1"' in text(second)
