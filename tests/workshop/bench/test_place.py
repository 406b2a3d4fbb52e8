"""A tablet that is told where it stands: a bat of another stage is announced there before anything else."""

import pytest
from django.test import Client
from django.urls import reverse

from orders.commissions.states import Stage
from orders.people.models import Player, User
from orders.people.once import new_key
from tests.factories import a_bat_in
from workshop.bench.templatetags.bench import first_name

NOTICE = "This bat is not for this place"


def set_place(client: Client, stage: str):
    return client.post(reverse("bench:place"), {"once": new_key(), "stage": stage})


def page_of(client: Client, bat) -> str:
    return client.get(reverse("bench:bat", args=[bat.code]), follow=True).content.decode()


def test_bat_of_another_stage_is_announced_with_both_stages_first_of_all(
    player: Player, maker: User, bench_client: Client
):
    bat = a_bat_in(Stage.PRESSING, player, maker)
    set_place(bench_client, "shaping")

    page = page_of(bench_client, bat)

    notice, heading = page.index(NOTICE), page.index("<h1>")
    assert notice < heading
    assert "<dd>Pressing</dd>" in page[notice:heading]
    assert "<dd>Shaping</dd>" in page[notice:heading]


@pytest.mark.parametrize(("place", "stage"), [("shaping", Stage.SHAPING), ("", Stage.PRESSING)])
def test_right_bat_or_no_place_is_announced_by_nothing(
    place: str, stage: Stage, player: Player, maker: User, bench_client: Client
):
    bat = a_bat_in(stage, player, maker)
    set_place(bench_client, "pressing")
    set_place(bench_client, place)

    assert NOTICE not in page_of(bench_client, bat)


@pytest.mark.parametrize("stage", [Stage.INSPECTION, Stage.DONE])
def test_bat_past_the_bench_is_announced_too(stage: Stage, player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(stage, player, maker)
    set_place(bench_client, "finishing")

    assert NOTICE in page_of(bench_client, bat)


def test_list_begins_with_the_stage_of_the_place(player: Player, maker: User, bench_client: Client):
    a_bat_in(Stage.FINISHING, player, maker)
    a_bat_in(Stage.PRESSING, player, maker)
    set_place(bench_client, "pressing")

    page = bench_client.get(reverse("bench:bats")).content.decode()

    assert "this place is: pressing" in page
    assert page.index("<h2>Pressing") < page.index("<h2>Finishing")


@pytest.mark.parametrize("stage", ["inspection", "done", "elsewhere", "<b>"])
def test_there_is_no_such_place(stage: str, bench_client: Client):
    assert set_place(bench_client, stage).status_code == 404
    assert "this place is" not in bench_client.get(reverse("bench:bats")).content.decode()


def test_place_is_of_one_tablet(player: Player, maker: User, bench_client: Client, maker_client: Client):
    bat = a_bat_in(Stage.PRESSING, player, maker)
    set_place(bench_client, "shaping")

    assert NOTICE not in page_of(maker_client, bat)


@pytest.mark.parametrize(("name", "said"), [("Ash Alder", "Ash"), ("Ash", "Ash"), ("  ", "")])
def test_first_name(name: str, said: str):
    assert first_name(name) == said


def test_bench_pages_say_no_more_of_a_name_than_is_needed(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.PRESSING, player, maker)
    first, *others = player.name.split()

    for page in (page_of(bench_client, bat), bench_client.get(reverse("bench:bats")).content.decode()):
        assert first in page
        assert not any(other in page for other in others)
