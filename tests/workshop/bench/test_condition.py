"""The condition in which a bat lies on the scales, as its stage and its steps tell it."""

import pytest

from orders.commissions.bench_entries import mark_step, record_reading
from orders.commissions.models import Bat
from orders.commissions.states import Stage, Unit
from orders.people.models import Player, User
from tests.workshop.bench.on_scales import a_bat_with_wood
from workshop.bench.condition import guessed
from workshop.bench.models import Coat
from workshop.bench.rows import keep_row
from workshop.bench.work import work_on


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    return a_bat_with_wood(player, maker)


def test_guessed_before_anything_is_shaped_the_piece_is_a_block(bat: Bat):
    work = work_on(bat)

    found = guessed(work)

    assert not found.handle
    assert found.square_top_mm == work.build.blade.length_mm - 1
    assert found.square_depth_mm == 76


def test_guessed_roughed_out_only_the_top_is_square(bat: Bat, maker: User):
    mark_step(bat, step="rough_out", by=maker)

    found = guessed(work_on(bat))

    assert (found.square_top_mm, found.handle, found.sanded) == (180, False, False)


def test_guessed_block_is_as_deep_and_wide_as_it_was_read(bat: Bat, maker: User):
    mark_step(bat, step="rough_out", by=maker)
    record_reading(bat, key="depth_before", value=715, unit=Unit.MM, by=maker, from_toe=4500)
    record_reading(bat, key="depth_before", value=730, unit=Unit.MM, by=maker, from_toe=1500)
    record_reading(bat, key="shaped_width", value=1085, unit=Unit.MM, by=maker)
    record_reading(bat, key="moisture", value=112, unit=Unit.PERCENT, by=maker)

    found = guessed(work_on(bat))

    assert (found.square_depth_mm, found.square_width_mm, found.moisture_percent) == (71.5, 108.5, 11.2)


def test_guessed_with_the_handle_glued_in_it_is_raw_until_turned(player: Player, maker: User):
    bat = a_bat_with_wood(player, maker, Stage.HANDLE_FITTING)
    record_reading(bat, key="handle_mass", value=2650, unit=Unit.G, by=maker)
    assert not guessed(work_on(bat)).handle

    mark_step(bat, step="glue_and_clamp", by=maker)
    glued = guessed(work_on(bat))
    mark_step(bat, step="shape_shoulders", by=maker)
    mark_step(bat, step="turn_to_girth", by=maker)
    mark_step(bat, step="bind", by=maker)
    bound = guessed(work_on(bat))

    assert (glued.handle, glued.cane_g, glued.bound, glued.square_top_mm) == (True, 265, False, 180)
    assert (bound.handle, bound.cane_g, bound.bound, bound.square_top_mm) == (True, None, True, 0)


def test_guessed_in_finishing_what_is_on_follows_the_steps(player: Player, maker: User):
    bat = a_bat_with_wood(player, maker, Stage.FINISHING)
    bare = guessed(work_on(bat))
    for step in ("sand", "coverings", "grip"):
        mark_step(bat, step=step, by=maker)
    for number in (1, 2):
        keep_row(Coat, bat, by=maker, kind="oil", number=number)

    found, build = guessed(work_on(bat)), work_on(bat).build

    assert (bare.handle, bare.bound, bare.sanded, bare.grips, bare.oil_coats) == (True, True, False, 0, 0)
    assert (found.sanded, found.grips, found.oil_coats) == (True, build.grips.count, 2)
    assert found.toe_guard is (build.protection.toe_guard is not None)
    assert found.face_film is (build.protection.face_film is not None)


def test_guessed_at_the_inspection_it_is_as_it_leaves(player: Player, maker: User):
    bat = a_bat_with_wood(player, maker, Stage.INSPECTION)

    found, build = guessed(work_on(bat)), work_on(bat).build

    assert (found.sanded, found.bound, found.grips) == (True, True, build.grips.count)
    assert found.oil_coats == build.finish.oil_coats
