"""The floor as it stands in the database, matched."""

from datetime import timedelta

import pytest
from django.utils import timezone

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from orders.commissions import lifecycle, stages
from orders.commissions.bench_entries import Required
from orders.commissions.builds import add_build
from orders.commissions.editions import keep_edition
from orders.commissions.states import BENCH_STAGES, Cause, Origin, Stage
from tests.factories import a_bat_in
from tests.workshop.match.floors import (
    a_waiting_bat,
    agreed_build,
    an_open_proposal,
    know_willow_of,
    labels,
    today,
)
from tests.workshop.willow_on_rack import a_cleft
from workshop.match import tables
from workshop.match.floor import matched
from workshop.match.models import WillowOfBuild
from workshop.match.taking import refuse, think_better
from workshop.match.told import as_content
from workshop.match.wanting import wanting, work_out_due
from workshop.rack.clefts import reserve
from workshop.rack.holds import hold
from workshop.rack.models import Blemish, CleftState, Load

pytestmark = pytest.mark.django_db


def content(**options):
    return as_content(matched(today=today(), **options))


def test_waiting_bat_gets_the_cleft_that_suits_it(player, maker):
    bat = a_waiting_bat(player, maker)
    a_cleft(7, maker, density=300)
    a_cleft(8, maker, density=415)

    (row,) = content()["assigned"]

    assert (row["commission"], row["cleft"]) == (bat.commission.reference, "0008")
    assert row["mass_g"] == pytest.approx(agreed_build(bat)["mass_g"]["target"], abs=1)
    assert row["second"] is None
    assert row["why"]["could"] == 1
    assert row["cost"] == pytest.approx(sum(row["why"]["points"].values()), abs=0.05)


def test_bat_without_a_cleft_is_told_what_fails_for_how_many(player, maker):
    bat = a_waiting_bat(player, maker)
    a_cleft(1, maker, density=300)
    a_cleft(2, maker, depth_2=600)
    a_cleft(3, maker, depth_1=600, run_out=8)

    (row,) = content()["unmatched"]

    assert row["commission"] == bat.commission.reference
    assert row["why"]["fails"] == {"too_thin": 2, "too_light": 1, "run_out": 1}
    assert row["why"]["alone"] == {"too_light": 1, "too_thin": 1}
    assert row["why"]["could"] == 0


def test_bat_with_a_cleft_and_its_cleft_are_left_alone(player, maker):
    served, waiting = a_waiting_bat(player, maker), a_waiting_bat(player, maker)
    taken = a_cleft(1, maker)
    reserve(taken, served, by=maker)
    a_cleft(2, maker)

    told = content()

    assert labels(told["assigned"]) == [(waiting.commission.reference, "0002")]


@pytest.mark.parametrize("stage", [Stage.PRESSING, Stage.FINISHING, Stage.DONE])
def test_bat_that_is_past_its_cleft_wants_none(stage, player, maker):
    a_bat_in(stage, player, maker)

    assert wanting(DEFAULT_BOOK) == []


@pytest.mark.parametrize("state", [CleftState.SEASONING, CleftState.REJECTED])
def test_cleft_that_is_not_ready_is_not_offered(state, player, maker):
    a_waiting_bat(player, maker)
    a_cleft(1, maker, state=state)

    floor = matched(today=today())

    assert floor.clefts == ()
    assert len(floor.answer.unmatched) == 1


def test_earlier_promised_bat_goes_first_when_there_is_one_cleft(player, maker):
    late, early = (a_waiting_bat(player, maker, due=today() + timedelta(days=days)) for days in (90, 4))
    a_cleft(1, maker)

    told = content()

    assert labels(told["assigned"]) == [(early.commission.reference, "0001")]
    (none,) = told["unmatched"]
    assert none["commission"] == late.commission.reference
    assert none["why"]["taken"][0]["taken_by"] == early.commission.reference


def test_older_and_cheaper_load_is_used_first(player, maker):
    a_waiting_bat(player, maker)
    old = Load.objects.create(name="old", price_a_piece=3000, arrived_on=today() - timedelta(days=400))
    new = Load.objects.create(name="new", price_a_piece=6000, arrived_on=today() - timedelta(days=5))
    a_cleft(1, maker, load=new)
    a_cleft(2, maker, load=old)

    (row,) = content()["assigned"]

    assert row["cleft"] == "0002"
    assert row["second"]["cleft"] == "0001"
    assert row["second"]["more"] > 0


def test_blemish_turns_the_cleft_over(player, maker):
    a_waiting_bat(player, maker)
    cleft = a_cleft(1, maker)
    for from_end in range(1000, 3600, 500):
        Blemish.objects.create(cleft=cleft, kind="knot", side="a", from_end=from_end, across=500, size=80)

    (row,) = content()["assigned"]

    assert (row["why"]["toe_end"], row["why"]["face_side"]) == (1, "b")


def test_cleft_kept_aside_for_a_proposal_is_nobody_elses(player, maker):
    a_waiting_bat(player, maker)
    proposal = an_open_proposal(player, maker, valid_until=timezone.now() + timedelta(days=9))
    hold(a_cleft(1, maker), proposal, by=maker)

    (row,) = content()["unmatched"]

    assert row["why"]["fails"] == {"kept": 1}


def test_open_proposal_takes_part_only_when_asked(player, maker):
    proposal = an_open_proposal(player, maker, valid_until=timezone.now() + timedelta(days=9))
    a_cleft(1, maker)

    assert content()["assigned"] == []
    assert labels(content(proposed=True)["assigned"]) == [(proposal.commission.reference, "0001")]


def test_proposal_that_has_its_cleft_kept_aside_would_like_no_other(player, maker):
    proposal = an_open_proposal(player, maker, valid_until=timezone.now() + timedelta(days=9))
    hold(a_cleft(1, maker), proposal, by=maker)

    assert wanting(DEFAULT_BOOK, proposed=True) == []


def test_refused_cleft_is_left_out_until_thought_better_of(player, maker):
    bat = a_waiting_bat(player, maker)
    cleft = a_cleft(1, maker)

    refuse(cleft, bat, by=maker)
    refuse(cleft, bat, by=maker)
    (none,) = content()["unmatched"]
    think_better(cleft, bat)

    assert none["why"]["alone"] == {"refused": 1}
    assert len(content()["assigned"]) == 1


def test_what_is_short_is_told_as_it_is_bought(player, maker):
    bats = [a_waiting_bat(player, maker) for _ in range(2)]

    (short,) = content()["short"]

    assert short["clefts"] == 2
    assert short["for"] == [bat.commission.reference for bat in bats]
    blade = agreed_build(bats[0])["blade"]
    assert short["length_mm"] == blade["length_mm"] + DEFAULT_BOOK.bench.rough_length_mm
    assert 330 < short["raw_density_kg_m3"]["min"] < short["raw_density_kg_m3"]["max"] < 500


# tables


def test_bat_whose_willow_is_unknown_waits_and_is_worked_out_once(player, maker):
    a_waiting_bat(player, maker)
    WillowOfBuild.objects.all().delete()

    assert len(matched(today=today()).waiting) == 1
    assert work_out_due() == 1
    assert work_out_due() == 0
    assert matched(today=today()).waiting == ()


def test_another_edition_of_the_points_leaves_the_tables(player, maker):
    bat = a_waiting_bat(player, maker)
    changed = DEFAULT_BOOK.model_copy(
        update={"matching": DEFAULT_BOOK.matching.model_copy(update={"grade_points": 30.0})}
    )
    keep_edition(changed, seen=1, by=maker, note="")

    floor = matched(today=today())

    assert floor.book.matching.grade_points == 30
    assert [one.bat for one in floor.bats] == [bat]


def test_another_edition_of_the_materials_asks_for_new_tables(player, maker):
    bat = a_waiting_bat(player, maker)
    heavier = DEFAULT_BOOK.materials.model_copy(update={"glue_g_m2": 400.0})
    changed = DEFAULT_BOOK.model_copy(update={"materials": heavier})
    keep_edition(changed, seen=1, by=maker, note="")

    assert [one.bat for one in matched(today=today()).waiting] == [bat]
    assert bat.agreed is not None
    know_willow_of(bat.agreed, matched(today=today()).book)
    assert matched(today=today()).waiting == ()


def test_time_that_is_over_leaves_the_rest_for_later(player, maker):
    builds = {f"key {n}": wanting_build for n, wanting_build in enumerate(_builds(player, maker))}

    done = list(tables.work_out(builds, DEFAULT_BOOK, seconds=0.01))

    assert done == ["key 0"]


def _builds(player, maker):
    a_waiting_bat(player, maker)
    (one,) = wanting(DEFAULT_BOOK)
    return [one.build, one.build]


@pytest.mark.parametrize("bats", [1, 3])
def test_queries_do_not_rise_with_bats_and_clefts(bats, player, maker, django_assert_num_queries):
    for number in range(bats):
        a_waiting_bat(player, maker)
        cleft = a_cleft(number + 1, maker, load=Load.objects.create(name=str(number)))
        Blemish.objects.create(cleft=cleft, kind="speck", side="a", from_end=3000, across=500, size=20)

    with django_assert_num_queries(8):
        matched(today=today())


@pytest.mark.parametrize(("cause", "wants"), [(Cause.REBUILD, True), (Cause.ADJUSTMENT, False)])
def test_bat_that_came_back_wants_another_cleft_only_to_be_rebuilt(cause, wants, player, maker):
    """A rebuilt one by the sheet that was written for it since; the others keep their wood."""
    bat = a_bat_in(Stage.CLEFT_SELECTION, player, maker)
    reserve(a_cleft(1, maker), bat, by=maker)
    while bat.stage != Stage.INSPECTION:
        stages.pass_on(bat, by=maker, required=Required())
    stages.pass_inspection(bat, rows=[], in_tolerance=True, by=maker)
    lifecycle.deliver(bat.commission, by=maker)
    lifecycle.send_back(bat.commission, by=player.holder)
    lifecycle.mend(bat.commission, by=maker)
    stages.open_round(bat, cause=cause, stages=list(BENCH_STAGES), by=maker)
    agreed = read_sheet(BuildSheet, agreed_build(bat))
    lighter = agreed.model_copy(update={"mass_g": agreed.mass_g.model_copy(update={"target": 1111.0})})
    add_build(bat.commission, lighter, origin=Origin.ADJUSTED, by=maker)

    found = wanting(DEFAULT_BOOK)

    assert [one.build.mass_g.target for one in found] == ([1111.0] if wants else [])
