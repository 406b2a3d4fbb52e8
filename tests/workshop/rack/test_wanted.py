"""What bats ask of the rack, told in the rack's own densities."""

import pytest

from fitting.bat.weigh import weigh
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from tests.workshop.match.floors import a_waiting_bat, agreed_build, today
from tests.workshop.willow_on_rack import a_cleft
from workshop.match.floor import matched
from workshop.match.models import WillowOfBuild
from workshop.matching_costs import usable_kg_m3
from workshop.rack.wanted import demand_for_willow
from workshop.willow import pressing_of, usual_pressing

pytestmark = pytest.mark.django_db


def test_bats_own_press_is_turned_into_the_usual_one_of_the_rack(player, maker):
    """A cleft is drawn by the usual press; at its ends the bat's own makes what it can just use."""
    bat = a_waiting_bat(player, maker)
    build = read_sheet(BuildSheet, agreed_build(bat))

    (wanted,) = demand_for_willow(today()).wanted

    own = pressing_of(build, weigh(build), DEFAULT_BOOK.bench).gain()
    usual = usual_pressing(DEFAULT_BOOK.bench).gain()
    usable = usable_kg_m3(matched(today=today()).wanted[0])
    assert own != pytest.approx(usual, rel=1e-4)
    assert (wanted.density_min / usual * own, wanted.density_max / usual * own) == pytest.approx(usable)


def test_bat_that_gets_a_cleft_is_not_short(player, maker):
    a_waiting_bat(player, maker)
    a_waiting_bat(player, maker)
    a_cleft(1, maker)

    demand = demand_for_willow(today())

    assert sorted(one.short for one in demand.wanted) == [False, True]
    assert [short["count"] for short in demand.shorts] == ["1 cleft"]


def test_bat_that_is_not_worked_out_is_told_by_the_band_of_its_sheet(player, maker):
    band = agreed_build(a_waiting_bat(player, maker))["willow"]["density_kg_m3"]
    WillowOfBuild.objects.all().delete()

    demand = demand_for_willow(today())

    (wanted,) = demand.wanted
    assert (wanted.density_min, wanted.density_max, wanted.short) == (band["min"], band["max"], False)
    assert (demand.waiting, demand.shorts) == (1, ())
