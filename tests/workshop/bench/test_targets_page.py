"""The shaping targets on screen: for which wood, what moved, what stops them; and new ones from the press."""

import re

import pytest
from django.test import Client
from django.urls import reverse

from orders.commissions import stages
from orders.commissions.bench_entries import Required, record_reading
from orders.commissions.models import Bat
from orders.commissions.states import Stage, Unit
from orders.people.models import Player, User
from tests.factories import a_bat_in
from tests.workshop.bench.on_scales import a_bat_with_wood
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.models import SolvedFor
from workshop.bench.targets import all_solved, last_solved, solve_for_willow
from workshop.bench.targets_page import midway_mm, targets_told
from workshop.bench.work import choose_cleft, work_on


def page_of(client: Client, bat: Bat) -> str:
    return client.get(reverse("bench:bat", args=[bat.code])).content.decode()


def test_told_for_a_cleft_that_no_blade_can_be_made_of_what_stops_it(
    player: Player, maker: User, bench_client: Client
):
    bat = a_bat_in(Stage.CLEFT_SELECTION, player, maker)
    choose_cleft(work_on(bat), a_cleft(61, maker, density=255.0), by=maker)

    page = page_of(bench_client, bat)

    assert "This wood cannot be shaped to what was agreed: needs " in page
    assert "Until another cleft is chosen the agreed drawing is what it is shaped to." in page
    assert re.search(r"a cleft of at least \d+ kg/m³ would do", page)


def test_told_stations_add_up_with_what_moved(player: Player, maker: User):
    bat = a_bat_with_wood(player, maker)
    work = work_on(bat)
    row = last_solved(bat)
    assert row is not None

    told = targets_told(work)

    assert f"cleft 0071 of {row.density / 10:.0f} ± {row.spread / 10:.0f} kg/m³" in told.in_force
    assert [one.place for one in told.rows] == [f"{s.from_toe_mm:.0f}" for s in work.build.blade.stations]
    for shown, drawn in zip(told.rows, work.build.blade.stations, strict=True):
        for now, by, before in (
            (shown.spine, shown.spine_moved, drawn.spine_mm),
            (shown.edge, shown.edge_moved, drawn.edge_mm),
            (shown.midway, shown.midway_moved, midway_mm(drawn)),
        ):
            assert float(now) - float(by.replace("−", "-")) == pytest.approx(before, abs=0.16)


def test_depths_read_in_the_press_make_new_targets_when_the_bat_leaves_it(player: Player, maker: User):
    bat = a_bat_with_wood(player, maker, Stage.PRESSING)
    work = work_on(bat)
    before, usual = work.targets, work.book.bench.press_loss_mm
    for place in (1500, 2500, 3500, 4500):
        for key, depth in (("depth_before", 72.0), ("depth_after", 72.0 - usual - 1.2)):
            record_reading(bat, key=key, value=round(depth * 10), unit=Unit.MM, by=maker, from_toe=place)
    stages.pass_on(bat, by=maker, required=Required())

    row = solve_for_willow(work_on(bat), by=maker)

    assert row is not None
    assert [one.cause for one in all_solved(bat)] == [SolvedFor.PRESS, SolvedFor.CLEFT]
    first = all_solved(bat)[-1]
    assert row.density > first.density
    assert row.spread < first.spread
    assert work_on(bat).targets != before


def test_told_without_a_cleft_the_agreed_drawing_is_what_it_is_shaped_to(
    player: Player, maker: User, bench_client: Client
):
    page = page_of(bench_client, a_bat_in(Stage.SHAPING, player, maker))

    assert "the agreed drawing is what it is shaped to" in page
