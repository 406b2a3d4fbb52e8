"""What pressing asks for before the bat passes on, and what its page shows."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from orders.commissions.bench_entries import record_reading
from orders.commissions.models import Bat
from orders.commissions.states import Stage, Unit
from orders.people.models import Player, User
from tests.factories import a_bat_in
from tests.workshop.bench.at_bench import do_the_stage, sent
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.press_depths import AFTER, BEFORE
from workshop.bench.press_work import InPress, PassMeanwhile, keep_pass, take_back_pass
from workshop.bench.pressing import left_words, missing_words, press_loss_of
from workshop.bench.work import work_on
from workshop.rack.candidates import raw_cleft
from workshop.rack.clefts import reserve
from workshop.willow import cleft_density, pressing_of

DRESSED_MM = 72.0


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    """A bat in the press, with a cleft."""
    found = a_bat_in(Stage.PRESSING, player, maker)
    reserve(a_cleft(7, maker), found, by=maker, at=timezone.now() - timedelta(days=3))
    return found


def read_grid(bat: Bat, keys: dict[str, str], by: User, depth: float, *, hours_ago: float) -> None:
    """Read the whole grid as one depth, mm."""
    at = timezone.now() - timedelta(hours=hours_ago)
    for key in keys.values():
        for place in InPress(work_on(bat)).places:
            value = round(depth * 10)
            record_reading(bat, key=key, value=value, unit=Unit.MM, by=by, from_toe=place, at=at)


def press(bat: Bat, by: User, *, hours_ago: float, number: int = 1, **values: object) -> None:
    """Keep a pass."""
    row = {"tool": "flat_roller", "gauge": 900, **values}
    at = timezone.now() - timedelta(hours=hours_ago)
    keep_pass(work_on(bat), number=number, values=row, by=by, at=at)


def shown(client: Client, bat: Bat) -> str:
    """Return the page."""
    return client.get(reverse("bench:bat", args=[bat.code])).content.decode()


def test_bat_without_a_pass_does_not_leave_the_press(bat: Bat, bench_client: Client):
    answer = sent(bench_client, bat, "pass-on")

    assert answer.status_code == 422
    assert "Still missing: A pass of the press." in answer.content.decode()
    assert bat.stage == Stage.PRESSING


def test_pressed_wood_does_not_go_on_before_its_rest_is_over(
    bat: Bat, bench_hand: User, bench_client: Client
):
    do_the_stage(bench_client, bat)
    press(bat, bench_hand, hours_ago=11.5, number=2)

    answer = sent(bench_client, bat, "pass-on")

    assert answer.status_code == 422
    assert bat.stage == Stage.PRESSING
    page = shown(bench_client, bat)
    assert "0 h 30 min" not in page
    assert "30 min still: it may go on" in page
    assert 'name="depth_after-1500"' not in page


def test_depths_read_before_the_rest_was_over_are_asked_for_again(bat: Bat, bench_hand: User):
    read_grid(bat, BEFORE, bench_hand, DRESSED_MM, hours_ago=30)
    press(bat, bench_hand, hours_ago=20)
    read_grid(bat, AFTER, bench_hand, DRESSED_MM - 3, hours_ago=10)
    assert missing_words(work_on(bat), timezone.now()) == tuple(
        f"reading:{key}@{place}" for key in sorted(AFTER.values()) for place in InPress(work_on(bat)).places
    )

    read_grid(bat, AFTER, bench_hand, DRESSED_MM - 2.5, hours_ago=7)

    assert missing_words(work_on(bat), timezone.now()) == ()


def test_measured_loss_makes_the_density_on_the_page(bat: Bat, bench_hand: User, bench_client: Client):
    read_grid(bat, BEFORE, bench_hand, DRESSED_MM, hours_ago=30)
    press(bat, bench_hand, hours_ago=20)
    read_grid(bat, AFTER, bench_hand, DRESSED_MM - 3, hours_ago=1)
    work = work_on(bat)
    pressing = pressing_of(work.build, work.weighing, work.book.bench)
    raw = cleft_density(raw_cleft(bat.clefts.get()), pressing, work.book.bench).at_12

    page = shown(bench_client, bat)

    assert press_loss_of(bat) == pytest.approx(3.0)
    assert f"from {raw:.0f} to {raw * pressing.gain(3.0):.0f}," in page
    assert "mm of depth lost for good" in page


def test_wood_too_thin_for_the_sheet_leads_to_its_failing(bat: Bat, bench_hand: User, bench_client: Client):
    read_grid(bat, BEFORE, bench_hand, DRESSED_MM, hours_ago=30)
    press(bat, bench_hand, hours_ago=20)
    read_grid(bat, AFTER, bench_hand, 40, hours_ago=1)

    page = shown(bench_client, bat)

    assert "This wood no longer makes this bat." in page
    assert f'href="{reverse("bench:failed", args=[bat.code])}"' in page
    assert "more than 5.0 mm: stop pressing." in page


def test_page_without_any_wood_read_shows_no_picture(bat: Bat, bench_client: Client):
    page = shown(bench_client, bat)

    assert 'class="trend"' not in page
    assert "there is never one setting for all" in page
    assert "The nip of the press takes fingers" in page
    assert "Goggles on" in page


def test_picture_says_how_few_pieces_there_are_to_compare_with(
    bat: Bat, bench_hand: User, bench_client: Client
):
    read_grid(bat, BEFORE, bench_hand, DRESSED_MM, hours_ago=30)
    press(bat, bench_hand, hours_ago=20, depths={"centre": [71.0, 71.0, 71.0, 71.0]})

    page = shown(bench_client, bat)

    assert 'class="trend"' in page
    assert "0 earlier pieces of this bench are kept by their passes: too few" in page


@pytest.mark.parametrize(("bow", "offered"), [(6.0, False), (6.5, True)])
def test_second_pressing_is_offered_only_above_the_resting_bow(bow: float, offered: bool, bat: Bat):
    work = work_on(bat)
    blade = work.build.blade.model_copy(update={"bow_mm": bow})
    bowed = replace(work, build=work.build.model_copy(update={"blade": blade}))

    assert InPress(bowed).form_before().bowed is offered


def test_of_two_who_keep_the_same_pass_the_second_is_refused(bat: Bat, maker: User, bench_hand: User):
    press(bat, bench_hand, hours_ago=1)

    with pytest.raises(PassMeanwhile):
        press(bat, maker, hours_ago=0)

    assert [one.by for one in InPress(work_on(bat)).passes] == [bench_hand]


def test_number_of_a_pass_taken_back_is_free_again(bat: Bat, bench_hand: User):
    press(bat, bench_hand, hours_ago=2)
    press(bat, bench_hand, hours_ago=1, number=2)
    take_back_pass(work_on(bat), InPress(work_on(bat)).passes[1], by=bench_hand)

    press(bat, bench_hand, hours_ago=0, number=2)

    assert [one.number for one in InPress(work_on(bat)).passes] == [1, 2]


@pytest.mark.parametrize(
    ("left", "said"),
    [
        (timedelta(hours=11, minutes=59, seconds=1), "12 h 0 min"),
        (timedelta(minutes=3), "3 min"),
        (timedelta(seconds=2), "1 min"),
    ],
)
def test_time_left_is_told_to_the_minute_begun(left: timedelta, said: str):
    assert left_words(left) == said
