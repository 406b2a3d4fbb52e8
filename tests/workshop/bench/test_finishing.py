"""Finishing: coats with their days, marks inside the Laws, the timed swings, what is taken from the store."""

from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from orders.commissions.models import Bat
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import MOMENT, a_bat_in
from tests.workshop.bench.at_bench import sent
from tests.workshop.stock.shelves import glue, grips
from workshop.bench.asks import pickup_of_swings, swing_seconds
from workshop.bench.finishing import coats_of, context, lay_coat, marks_allowed
from workshop.bench.models import Coat
from workshop.bench.page import plain
from workshop.bench.waits import waits_of
from workshop.bench.work import work_on
from workshop.stock.models import Movement


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    return a_bat_in(Stage.FINISHING, player, maker)


def page_of(client: Client, bat: Bat) -> str:
    return client.get(reverse("bench:bat", args=[bat.code])).content.decode()


def test_coat_may_not_follow_another_before_the_books_day(bat: Bat, maker: User):
    work = work_on(bat)
    lay_coat(work, by=maker, at=MOMENT)

    with pytest.raises(Refused) as refused:
        lay_coat(work, by=maker, at=MOMENT + timedelta(hours=23, minutes=59))

    assert refused.value.what == ((MOMENT + timedelta(hours=24)).isoformat(),)
    assert lay_coat(work, by=maker, at=MOMENT + timedelta(hours=24)).number == 2
    assert [one.number for one in coats_of(work)] == [1, 2]


def test_last_coat_holds_the_bat(bat: Bat, maker: User):
    work = work_on(bat)
    lay_coat(work, by=maker, at=MOMENT)

    (wait,) = waits_of(work, now=MOMENT + timedelta(hours=1))

    assert (wait.key, wait.until) == ("oil", MOMENT + timedelta(hours=24))


def test_wet_coat_is_told_with_the_time_and_nothing_is_kept(bat: Bat, bench_client: Client):
    assert sent(bench_client, bat, "coat").status_code == 302

    answer = sent(bench_client, bat, "coat")

    dry = timezone.localtime(Coat.objects.get().at + timedelta(hours=24))
    assert answer.status_code == 422
    assert f"the next may follow from {dry:%-d %b, %H:%M}" in answer.content.decode()


def test_coat_is_taken_back_by_a_new_row(bat: Bat, bench_client: Client):
    sent(bench_client, bat, "coat")

    sent(bench_client, bat, "take-back-coat", entry=str(Coat.objects.get().pk))

    assert coats_of(work_on(bat)) == []
    assert Coat.objects.count() == 2
    assert "A coat is on" in page_of(bench_client, bat)


def test_coat_of_another_bat_is_not_taken_back(bat: Bat, player: Player, maker: User, bench_client: Client):
    other = a_bat_in(Stage.FINISHING, player, maker)
    sent(bench_client, other, "coat")

    assert sent(bench_client, bat, "take-back-coat", entry=str(Coat.objects.get().pk)).status_code == 422
    assert Coat.objects.count() == 1


def test_marks_are_those_of_the_laws_and_never_rounded_up(bat: Bat):
    """MCC, Laws of Cricket, 2017 Code, B.6: 50 % of the back, 9 in (22.86 cm) of the face, 0.02 cm."""
    said = [(mark.clause, mark.words) for mark in marks_allowed(work_on(bat))]

    assert said == [
        ("B.6", "On the back: at most 50 % of it."),
        ("B.6", "On the face: only in the uppermost 228 mm, from the end of the grip down."),
        ("B.6", "Thickness: at most 0.2 mm."),
    ]


def test_swings_tell_the_pickup_that_they_were_aimed_at(bat: Bat, bench_client: Client):
    """The time that stands as the number to hit, read on a bat of the aimed mass, is the agreed pickup."""
    work = work_on(bat)
    build, weighing = work.build, work.weighing
    seconds = swing_seconds(work.paper, build.pickup_kg_m2.target)

    found = pickup_of_swings(
        mass_g=build.mass_g.target,
        balance_mm=weighing.balance_from_toe_mm,
        length_mm=weighing.overall_length_mm,
        seconds=seconds,
        count=work.book.bench.swing_count,
    )

    # The time is told to a tenth of a second in some forty.
    assert found == pytest.approx(build.pickup_kg_m2.target, rel=0.006)


def test_swings_are_told_only_when_all_is_read(bat: Bat, bench_client: Client):
    work = work_on(bat)
    assert "found" not in context(work)["swings"]
    seconds = swing_seconds(work.paper, work.build.pickup_kg_m2.target)
    mass, balance = work.build.mass_g.target, round(work.weighing.balance_from_toe_mm, 1)

    sent(
        bench_client,
        bat,
        "reading",
        mass=plain(mass),
        balance=plain(balance),
        length=plain(work.weighing.overall_length_mm),
        swing_time=plain(seconds),
    )

    swings = context(work_on(bat))["swings"]
    assert swings["inside"]
    assert swings["found"] in page_of(bench_client, bat)


def test_readings_that_make_no_bat_tell_no_pickup():
    assert pickup_of_swings(mass_g=1160, balance_mm=500, length_mm=600, seconds=40, count=30) is None


def test_grip_is_taken_from_the_store_for_the_bat_and_given_back(bat: Bat, maker: User, bench_client: Client):
    supply = grips(maker, came=10)
    assert "10 pieces left" in page_of(bench_client, bat)

    assert sent(bench_client, bat, "take-material", supply=supply.code, amount="1").status_code == 302
    supply.refresh_from_db()
    taken = Movement.objects.get(verb="use")
    assert (supply.in_unit, taken.bat, taken.round) == (9, bat, bat.round)

    sent(bench_client, bat, "give-back-material", entry=str(taken.pk))
    supply.refresh_from_db()
    assert supply.in_unit == 10


@pytest.mark.parametrize(
    ("amount", "words"),
    [
        ("11", "There is not that much left."),
        ("0.5", "Pieces are counted whole"),
        ("a few", "Give the amount as a number"),
        ("", "Nothing given; an amount above 0 is needed."),
    ],
)
def test_amount_that_cannot_be_is_refused_and_stays_as_typed(
    amount: str, words: str, bat: Bat, maker: User, bench_client: Client
):
    supply = grips(maker, came=10)

    answer = sent(bench_client, bat, "take-material", supply=supply.code, amount=amount)

    page = answer.content.decode()
    assert answer.status_code == 422
    assert words in page
    assert f'name="amount" value="{amount}"' in page
    assert not Movement.objects.filter(verb="use").exists()


def test_what_another_stage_uses_is_not_taken_here(bat: Bat, maker: User, bench_client: Client):
    supply = glue(maker)

    answer = sent(bench_client, bat, "take-material", supply=supply.code, amount="10")

    assert answer.status_code == 422
    assert "Choose what is taken from the store." in answer.content.decode()


def test_what_is_past_its_day_is_not_offered(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.HANDLE_FITTING, player, maker)
    glue(maker, use_by=timezone.localdate() - timedelta(days=1))

    assert "The store has nothing of what this stage uses" in page_of(bench_client, bat)
