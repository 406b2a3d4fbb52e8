"""Who has a bat in hand: from "Begin work" to "Lay it down", one person at one bat, minutes by stage."""

from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction
from django.test import Client
from django.urls import reverse

from orders.commissions.models import Reading, StepDone
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import MOMENT, BenchHandFactory, a_bat_in, an_agreed_bat
from tests.workshop.bench.at_bench import do_the_stage, sent
from workshop.bench.models import Spell
from workshop.bench.onward import go_back
from workshop.bench.spells import Spent, begin_work, lay_down, open_spell, time_spent
from workshop.bench.work import work_on


def later(minutes: float):
    return MOMENT + timedelta(minutes=minutes)


@pytest.fixture
def other_hand(workshop: object) -> User:
    return BenchHandFactory.create(name="Holly Hand")


def test_minutes_are_summed_by_stage_and_person(
    player: Player, maker: User, bench_hand: User, other_hand: User
):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    begin_work(bat, by=bench_hand, at=later(0))
    lay_down(bat, by=bench_hand, at=later(25))
    begin_work(bat, by=other_hand, at=later(30))
    lay_down(bat, by=other_hand, at=later(40))
    begin_work(bat, by=bench_hand, at=later(50))
    go_back(work_on(bat), to=Stage.PRESSING, by=bench_hand, reason="soft", at=later(55))
    begin_work(bat, by=bench_hand, at=later(60))

    assert time_spent(bat, now=later(67)) == [
        Spent("shaping", bench_hand.name, 30),
        Spent("shaping", "Holly Hand", 10),
        Spent("pressing", bench_hand.name, 7),
    ]


def test_nobody_is_at_two_bats_at_once(player: Player, maker: User, bench_hand: User):
    one, two = a_bat_in(Stage.SHAPING, player, maker), a_bat_in(Stage.SHAPING, player, maker)
    begin_work(one, by=bench_hand, at=later(0))

    begin_work(two, by=bench_hand, at=later(5))

    assert Spell.objects.get(bat=one).ended_at == later(5)
    assert open_spell(two) is not None
    with pytest.raises(IntegrityError), transaction.atomic():
        Spell.objects.create(bat=one, round=1, stage=Stage.SHAPING, by=bench_hand)


def test_begun_twice_it_is_one_spell(player: Player, maker: User, bench_hand: User):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    first = begin_work(bat, by=bench_hand, at=later(0))

    assert begin_work(bat, by=bench_hand, at=later(5)) == first
    assert Spell.objects.count() == 1


def test_the_second_is_told_and_takes_it_over_only_in_so_many_words(
    player: Player, maker: User, bench_hand: User, other_hand: User
):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    begin_work(bat, by=bench_hand, at=later(0))

    with pytest.raises(Refused) as refused:
        begin_work(bat, by=other_hand, at=later(10))

    assert (refused.value.key, refused.value.what) == ("in_hand", (bench_hand.name, MOMENT.isoformat()))
    assert Spell.objects.count() == 1

    begin_work(bat, by=other_hand, take_over=True, at=later(12))
    assert [(row.by, row.ended_at) for row in Spell.objects.order_by("pk")] == [
        (bench_hand, later(12)),
        (other_hand, None),
    ]


def test_passing_on_ends_the_spell(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    sent(bench_client, bat, "in-hand")
    do_the_stage(bench_client, bat)

    assert sent(bench_client, bat, "pass-on").status_code == 302

    assert not Spell.objects.filter(ended_at=None).exists()
    assert bat.stage == Stage.HANDLE_FITTING


@pytest.mark.parametrize(
    ("address", "fields"),
    [("step", {"step": "hollow"}), ("reading", {"blade_mass": "700"}), ("pass-on", {})],
)
def test_while_one_has_it_another_enters_nothing(
    address: str,
    fields: dict[str, str],
    player: Player,
    maker: User,
    other_hand: User,
    bench_client: Client,
):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    begin_work(bat, by=other_hand, at=later(0))

    answer = sent(bench_client, bat, address, **fields)

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Holly Hand has had it since" in page
    assert "Take it over" in page
    assert not StepDone.objects.exists()
    assert not Reading.objects.exists()
    assert bat.stage == Stage.SHAPING


def test_refused_by_htmx_the_whole_page_says_why(
    player: Player, maker: User, other_hand: User, bench_client: Client
):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    begin_work(bat, by=other_hand, at=later(0))
    bench_client.defaults["HTTP_HX_REQUEST"] = "true"

    answer = sent(bench_client, bat, "step", step="hollow")

    assert answer["HX-Redirect"] == reverse("bench:bat", args=[bat.code])
    del bench_client.defaults["HTTP_HX_REQUEST"]
    assert "Holly Hand has had it since" in bench_client.get(answer["HX-Redirect"]).content.decode()


def test_list_and_page_say_whose_hands_it_is_in(
    player: Player, maker: User, other_hand: User, bench_client: Client
):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    assert "Begin work" in bench_client.get(reverse("bench:bat", args=[bat.code])).content.decode()
    begin_work(bat, by=other_hand)

    assert "in the hands of Holly Hand" in bench_client.get(reverse("bench:bats")).content.decode()
    assert (
        "<strong>Holly Hand</strong> has had it since"
        in bench_client.get(reverse("bench:bat", args=[bat.code])).content.decode()
    )


def test_waiting_bat_is_not_taken_in_hand(player: Player, maker: User, bench_hand: User):
    bat = an_agreed_bat(player, maker)

    with pytest.raises(Refused) as refused:
        begin_work(bat, by=bench_hand)

    assert refused.value.key == "wrong_stage"
