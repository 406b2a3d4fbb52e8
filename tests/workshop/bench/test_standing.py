"""Where a bat stands: weighings in order, depths as read, what was cut since, wood that failed."""

import pytest

from fitting.bat.weigh import weigh
from orders.commissions import stages
from orders.commissions.bench_entries import Required, mark_step, record_reading
from orders.commissions.models import Bat
from orders.commissions.states import Stage, Unit
from orders.people.models import Player, User
from tests.workshop.bench.on_scales import a_bat_with_wood, on_paper_g, read_stations, weigh_bat
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.condition import guessed
from workshop.bench.rows import take_back_row
from workshop.bench.standing import AtBench, Stood
from workshop.bench.work import choose_cleft, work_on
from workshop.rack import clefts


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    return a_bat_with_wood(player, maker)


def stood(bat: Bat) -> Stood:
    found = AtBench(work_on(bat)).stood
    assert found is not None
    return found


def test_stood_before_shaping_there_is_no_blade(player: Player, maker: User):
    assert AtBench(work_on(a_bat_with_wood(player, maker, Stage.PRESSING))).stood is None


def test_stood_unweighed_is_told_from_the_rack(bat: Bat, maker: User):
    read_stations(bat, maker)

    found = stood(bat)

    assert found.weighed is None
    assert found.standing.believed == found.rack
    # Ten grams or so either way of the cleft's density, and a handle that nobody has weighed.
    assert 15 < found.standing.weighing.mass_sd_g < 40


def test_weighing_finds_willow_that_the_rack_had_wrong_and_the_finished_mass(bat: Bat, maker: User):
    read_stations(bat, maker)
    condition, before = guessed(work_on(bat)), stood(bat)
    true = before.rack.density_kg_m3 * 1.04
    sheet = AtBench(work_on(bat)).now(sanded=False)
    weigh_bat(bat, maker, on_paper_g(bat, sheet, condition, true), condition)

    found = stood(bat)

    assert found.standing.believed.density_kg_m3 == pytest.approx(true, rel=0.004)
    assert found.standing.believed.sd_kg_m3 < before.rack.sd_kg_m3 / 3
    finished = weigh(found.standing.after, density_kg_m3=true).mass_g
    assert found.standing.weighing.mass_g == pytest.approx(finished, abs=2.5)
    assert before.standing.weighing.mass_g < finished - 20
    assert not found.is_doubtful


def test_weighings_are_combined_in_order_and_a_handle_that_is_in_is_known(bat: Bat, maker: User):
    read_stations(bat, maker)
    condition, rack = guessed(work_on(bat)), stood(bat).rack
    true = rack.density_kg_m3 * 0.97
    sheet = AtBench(work_on(bat)).now(sanded=False)
    weigh_bat(bat, maker, on_paper_g(bat, sheet, condition, true), condition)
    bare = stood(bat).standing
    bound = condition.model_copy(update={"handle": True, "bound": True})
    weigh_bat(bat, maker, on_paper_g(bat, sheet, bound, true), bound)

    both = stood(bat).standing

    assert both.believed.sd_kg_m3 <= bare.believed.sd_kg_m3
    assert both.weighing.mass_sd_g < bare.weighing.mass_sd_g / 2
    assert both.believed.density_kg_m3 == pytest.approx(true, rel=0.006)


def test_same_bat_weighed_again_counts_once(bat: Bat, maker: User):
    read_stations(bat, maker)
    condition, expected = guessed(work_on(bat)), AtBench(work_on(bat)).expected_g
    assert expected is not None
    weigh_bat(bat, maker, expected + 20, condition)
    once = stood(bat).standing
    for _ in range(4):
        weigh_bat(bat, maker, expected + 20, condition)

    assert stood(bat).standing == once
    assert len(AtBench(work_on(bat)).weighings) == 5


def test_stations_cut_since_the_weighing_count_off_it(bat: Bat, maker: User):
    read_stations(bat, maker)
    condition = guessed(work_on(bat))
    expected = AtBench(work_on(bat)).expected_g
    assert expected is not None
    weigh_bat(bat, maker, expected, condition)
    before = stood(bat)
    read_stations(bat, maker, over_mm=-1.0)

    after = stood(bat)

    # A millimetre off the lower 320 mm or so that is not square, 107 mm wide, of 0.42 g to the cm3.
    assert 12 < after.cut_since_g < 18
    lighter = before.standing.weighing.mass_g - after.standing.weighing.mass_g
    assert lighter == pytest.approx(after.cut_since_g, abs=1.5)


def test_block_that_was_weighed_tells_the_willow_of_the_blade_that_is_shaped_from_it(bat: Bat, maker: User):
    block = guessed(work_on(bat))
    true = stood(bat).rack.density_kg_m3 * 1.03
    sheet = AtBench(work_on(bat)).now(sanded=False)
    weigh_bat(bat, maker, on_paper_g(bat, sheet, block, true), block)
    assert stood(bat).standing.believed.density_kg_m3 == pytest.approx(true, rel=0.005)
    mark_step(bat, step="rough_out", by=maker)
    read_stations(bat, maker, over_mm=1.0)

    found = stood(bat)

    assert (block.square_top_mm, found.condition.square_top_mm) == (557, 180)
    # From 1.9 kg of block to 1.3 kg of blade with a square top.
    assert 450 < found.cut_since_g < 900
    finished = weigh(found.standing.after, density_kg_m3=true).mass_g
    assert found.standing.weighing.mass_g == pytest.approx(finished, abs=4)


def test_station_read_first_after_the_weighing_is_how_it_was_weighed(bat: Bat, maker: User):
    condition = guessed(work_on(bat)).model_copy(update={"square_top_mm": 180.0})
    weigh_bat(bat, maker, 1300, condition)
    read_stations(bat, maker, over_mm=2.0)

    assert stood(bat).cut_since_g == 0


def test_unread_station_counts_as_its_target_and_what_shaping_leaves(bat: Bat, maker: User):
    read_stations(bat, maker, over_mm=0.7, places=2)
    work = work_on(bat)

    now = AtBench(work).now(sanded=False)

    targets = work.targets.blade.stations
    left = [round(a.spine_mm - b.spine_mm, 2) for a, b in zip(now.blade.stations, targets, strict=True)]
    assert left[:2] == pytest.approx([work.leave_mm + 0.7] * 2, abs=0.1)
    assert left[2:] == pytest.approx([work.leave_mm] * (len(targets) - 2), abs=0.01)


def test_weighing_of_a_cleft_that_failed_says_nothing_of_the_next(bat: Bat, maker: User):
    read_stations(bat, maker)
    weigh_bat(bat, maker, 1400, guessed(work_on(bat)))
    cleft = clefts.cleft_of_round(bat)
    assert cleft is not None
    clefts.fail(cleft, "reject", by=maker, words="split")
    stages.go_back(bat, to=Stage.CLEFT_SELECTION, by=maker, reason="split")
    bat.refresh_from_db()
    choose_cleft(work_on(bat), a_cleft(72, maker, density=410), by=maker)
    while bat.stage != Stage.SHAPING:
        stages.pass_on(bat, by=maker, required=Required())

    at_bench = AtBench(work_on(bat))

    assert at_bench.weighings == []
    assert at_bench.depths == {}


def test_weighing_taken_back_counts_no_more(bat: Bat, maker: User):
    row = weigh_bat(bat, maker, 1300, guessed(work_on(bat)))
    take_back_row(row, by=maker)

    assert stood(bat).weighed is None


def test_bare_blade_among_the_numbers_of_its_stage_is_a_weighing(bat: Bat, maker: User):
    read_stations(bat, maker)
    expected = AtBench(work_on(bat)).expected_g
    assert expected is not None
    record_reading(bat, key="blade_mass", value=round(expected * 10) + 200, unit=Unit.G, by=maker)

    found = stood(bat)

    assert found.weighed is not None
    assert not found.condition.handle
    assert found.condition.square_top_mm == 180
    assert found.standing.believed.density_kg_m3 > found.rack.density_kg_m3


def test_weighing_that_no_wood_explains_is_doubted(bat: Bat, maker: User):
    read_stations(bat, maker)
    expected = AtBench(work_on(bat)).expected_g
    assert expected is not None
    weigh_bat(bat, maker, expected - 250, guessed(work_on(bat)))

    assert stood(bat).is_doubtful


def test_sanding_done_is_taken_off_stations_that_were_read_before_it(player: Player, maker: User):
    bat = a_bat_with_wood(player, maker, Stage.HANDLE_FITTING)
    read_stations(bat, maker)
    work = work_on(bat)

    sanded, read = AtBench(work).now(sanded=True), AtBench(work).now(sanded=False)

    light, heavy = (weigh(one, density_kg_m3=410).mass_g for one in (sanded, read))
    assert heavy - light == pytest.approx(work.book.bench.sanding_loss_g, abs=1.0)
