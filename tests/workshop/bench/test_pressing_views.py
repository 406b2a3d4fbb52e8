"""Passes of the press, by the forms of the page."""

from typing import Any

import pytest
from django.test import Client

from orders.commissions.models import Bat
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import a_bat_in
from tests.workshop.bench.at_bench import sent
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.models import PressPass
from workshop.bench.press_work import InPress
from workshop.bench.spells import begin_work
from workshop.bench.work import work_on
from workshop.rack.clefts import reserve


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    """A bat in the press, with a cleft."""
    found = a_bat_in(Stage.PRESSING, player, maker)
    reserve(a_cleft(7, maker), found, by=maker)
    return found


def kept(client: Client, bat: Bat, **fields: Any) -> Any:
    """Send the form of a pass."""
    return sent(client, bat, "press-pass", **{"number": "1", "tool": "flat_roller", **fields})


def test_pass_is_kept_with_who_pressed(bat: Bat, bench_hand: User, bench_client: Client):
    places = InPress(work_on(bat)).places
    depths = {f"pass-centre-{place}": "70.5" for place in places}

    answer = kept(bench_client, bat, gauge="92.5", words="rings clear", **depths)

    assert answer.status_code == 302
    assert answer.headers["Location"].endswith("#passes")
    one = PressPass.objects.get()
    assert (one.by, one.number, one.gauge, one.depths) == (bench_hand, 1, 925, {"centre": [70.5] * 4})
    page = bench_client.get(answer.headers["Location"]).content.decode()
    assert "rings clear" in page
    assert "Pass 2" in page


def test_pass_with_one_number_that_cannot_be_is_not_kept_by_half(bat: Bat, bench_client: Client):
    answer = kept(bench_client, bat, gauge="90", pass_width="10.7", words="rings dull")

    page = answer.content.decode()
    assert answer.status_code == 422
    assert not PressPass.objects.exists()
    assert "Did you mean 107 mm?" in page
    assert 'href="#id_pass_width"' in page
    assert 'value="10.7"' in page
    assert 'value="90"' in page
    assert "rings dull" in page


def test_second_person_is_told_of_the_pass_that_was_kept_meanwhile(
    bat: Bat, bench_client: Client, maker_client: Client
):
    kept(bench_client, bat, gauge="90")

    answer = kept(maker_client, bat, gauge="95")

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Hazel Hand has kept pass 1 since this page was opened. Yours is not kept yet" in page
    assert 'value="95"' in page
    assert 'name="number" value="2"' in page
    assert [one.gauge for one in PressPass.objects.all()] == [900]


def test_pass_typed_for_a_bat_that_went_on_is_not_kept(bat: Bat, bench_client: Client):
    answer = kept(bench_client, bat, seen="1.cleft_selection.0")

    assert answer.status_code == 422
    assert not PressPass.objects.exists()


def test_pass_of_a_bat_in_other_hands_is_not_kept(bat: Bat, maker: User, bench_client: Client):
    begin_work(bat, by=maker)

    answer = kept(bench_client, bat)

    assert answer.status_code == 422
    assert "Moss Maker has had it since" in answer.content.decode()
    assert not PressPass.objects.exists()


def test_pass_is_taken_back_by_a_new_row(bat: Bat, maker: User, bench_client: Client, maker_client: Client):
    kept(bench_client, bat)
    one = PressPass.objects.get()

    assert sent(maker_client, bat, "take-back-pass", entry=str(one.pk)).status_code == 302

    undone = PressPass.objects.get(takes_back=one)
    assert (undone.by, undone.number) == (maker, 1)
    assert not PressPass.objects.standing().exists()
    assert sent(bench_client, bat, "take-back-pass", entry=str(one.pk)).status_code == 422
    assert PressPass.objects.count() == 2


@pytest.mark.parametrize("entry", ["", "0", "x", "999999"])
def test_pass_that_is_not_this_bats_is_not_found(entry: str, bat: Bat, bench_client: Client):
    kept(bench_client, bat)

    assert sent(bench_client, bat, "take-back-pass", entry=entry).status_code == 404
    assert PressPass.objects.standing().exists()


def test_pass_is_only_for_a_bat_in_the_press(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    assert kept(bench_client, bat).status_code == 422
    assert not PressPass.objects.exists()
