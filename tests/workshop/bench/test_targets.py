"""The shaping targets: solved for the cleft, kept each time, and fallen back on where they cannot be."""

import pytest

from fitting.bat.condition import Believed
from fitting.bat.weigh import weigh
from orders.commissions.builds import weighing_of
from orders.commissions.models import Bat, BuildVersion
from orders.commissions.states import Origin, Stage
from orders.people.models import Player, User
from tests.factories import a_bat_in
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.failing import Failure, Fate, fail_wood
from workshop.bench.models import SolvedFor, Targets
from workshop.bench.targets import (
    WillowNow,
    barrier_of,
    last_solved,
    moved,
    sheet_of,
    solve,
    solve_for_willow,
    willow_of,
    willow_with,
)
from workshop.bench.work import choose_cleft, lay_back, work_on
from workshop.stock.models import Cause

# Lighter willow than any bat of the book's size can be made of at its mass.
FAR_TOO_LIGHT = 255.0


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    return a_bat_in(Stage.CLEFT_SELECTION, player, maker)


def _middle(bat: Bat) -> float:
    band = work_on(bat).build.willow.density_kg_m3
    return (band.min + band.max) / 2


def _chosen(bat: Bat, maker: User, number: int, density: float) -> Targets:
    choose_cleft(work_on(bat), a_cleft(number, maker, density=density), by=maker)
    row = last_solved(bat)
    assert row is not None
    return row


def test_choosing_a_cleft_keeps_the_bat_re_shaped_for_its_density(bat: Bat, maker: User):
    agreed = work_on(bat).build

    row = _chosen(bat, maker, 51, _middle(bat) + 12)

    version = row.build_version
    assert version is not None
    assert (version.origin, version.parent) == (Origin.RE_SHAPED, bat.agreed and bat.agreed.build_version)
    assert (row.cause, row.cleft.number) == (SolvedFor.CLEFT, 51)
    sheet = sheet_of(row)
    assert sheet is not None
    # Weighed anew from the sheet alone, in the willow that it names.
    assert weigh(sheet).mass_g == pytest.approx(agreed.mass_g.target, abs=1.0)
    assert weighing_of(version).density_kg_m3 == pytest.approx(row.density / 10, abs=0.1)
    assert any(one.spine_mm < -0.3 for one in moved(agreed, sheet))
    assert all(one.spine_mm < 0.3 for one in moved(agreed, sheet))


def test_stations_are_held_against_the_targets_and_all_else_against_what_was_agreed(bat: Bat, maker: User):
    agreed = work_on(bat)
    _chosen(bat, maker, 51, _middle(bat) + 12)

    work = work_on(bat)

    assert work.targets.blade.stations != agreed.build.blade.stations
    assert work.paper.build.blade.stations == work.targets.blade.stations
    assert work.paper.build.model_copy(update={"blade": agreed.build.blade}) == agreed.build
    assert (work.build, work.version) == (agreed.build, agreed.version)


def test_cleft_that_no_blade_can_be_made_of_leaves_the_agreed_shape_and_says_what_stops(
    bat: Bat, maker: User
):
    work = work_on(bat)

    row = _chosen(bat, maker, 51, FAR_TOO_LIGHT)

    barrier = barrier_of(row)
    assert row.build_version is None
    assert barrier is not None
    assert barrier.stop == "too_light"
    assert barrier.mass_g < work.build.mass_g.target
    assert work_on(bat).targets == work.build
    assert not BuildVersion.objects.filter(origin=Origin.RE_SHAPED).exists()


def test_another_cleft_gets_targets_of_its_own_and_the_first_ones_stay_kept(bat: Bat, maker: User):
    first = sheet_of(_chosen(bat, maker, 51, _middle(bat) + 12))
    lay_back(work_on(bat), by=maker)
    assert work_on(bat).targets == work_on(bat).build

    second = sheet_of(_chosen(bat, maker, 52, _middle(bat) - 8))

    assert second != first
    assert work_on(bat).targets == second
    assert Targets.objects.filter(bat=bat).count() == 2


def test_cleft_that_failed_takes_its_targets_with_it(bat: Bat, maker: User):
    _chosen(bat, maker, 51, _middle(bat) + 12)

    failure = Failure(Cause.SPLIT_IN_PRESS, Fate.SCRAPPED, "split in the press")
    fail_wood(work_on(bat), failure, by=maker)

    assert work_on(bat).targets == work_on(bat).build


def test_loss_that_was_measured_in_the_press_makes_denser_willow_and_new_targets(bat: Bat, maker: User):
    before = _chosen(bat, maker, 51, _middle(bat))
    work = work_on(bat)
    loss = work.book.bench.press_loss_mm + 1.5

    row = solve(work, willow_with(work, before.cleft, loss), by=maker)

    assert row.cause == SolvedFor.PRESS
    # 1.5 mm more packed into 33 mm or so of depth, over three quarters of the blade.
    assert 1.025 < row.density / before.density < 1.045
    assert row.spread < before.spread
    assert work_on(bat).targets == sheet_of(row)


def test_weighing_that_cannot_be_met_keeps_the_targets_that_the_wood_was_cut_to(bat: Bat, maker: User):
    kept = sheet_of(_chosen(bat, maker, 51, _middle(bat)))
    willow = willow_of(work_on(bat))
    assert willow is not None
    heavy = WillowNow(willow.cleft, Believed(density_kg_m3=FAR_TOO_LIGHT, sd_kg_m3=5), SolvedFor.SCALES)

    row = solve(work_on(bat), heavy, by=maker)

    assert row.barrier
    assert work_on(bat).targets == kept


def test_same_density_again_is_not_solved_twice(bat: Bat, maker: User):
    row = _chosen(bat, maker, 51, _middle(bat))

    again = solve_for_willow(work_on(bat), by=maker)

    assert again == row
    assert Targets.objects.count() == 1


def test_two_bats_of_one_commission_get_targets_though_the_first_moved_it_on(bat: Bat, maker: User):
    first, other = work_on(bat), work_on(bat)
    _chosen(bat, maker, 51, _middle(bat))
    willow = willow_of(first)
    assert willow is not None

    row = solve(
        other,
        WillowNow(willow.cleft, Believed(density_kg_m3=_middle(bat) + 5, sd_kg_m3=5), SolvedFor.SCALES),
        by=maker,
    )

    assert row.build_version is not None
    assert row.stage == Stage.CLEFT_SELECTION
