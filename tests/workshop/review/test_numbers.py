import json

import pytest

from fitting.bat.weigh import weigh
from fitting.sheets.faults import read_sheet
from fitting.sheets.weighing import Weighing
from tests.builds import a_build
from tests.weighings import kept_by_model_1, of_model_1, sweet_spot_of
from workshop.review.numbers import compared_numbers, numbers_of


def rows_of(groups):
    return {row.what: row for group in groups for row in group.rows}


@pytest.fixture(scope="module")
def bat():
    build = a_build()
    return build, weigh(build)


def test_the_same_bat_differs_in_nothing(bat):
    assert {row.change for row in rows_of(compared_numbers(bat, bat)).values()} == {"the same"}


def test_a_second_grip_is_told_in_grams_and_millimetres(bat):
    two = a_build(grips__count=2)
    heavier = (two, weigh(two))

    rows = rows_of(compared_numbers(bat, heavier))

    moved = heavier[1].balance_from_toe_mm - bat[1].balance_from_toe_mm
    assert rows["mass"].change == "+50 g"
    assert rows["balance, from the toe"].change == f"+{moved:.0f} mm"


def test_every_figure_of_the_model_stands_in_the_table_with_its_spread(bat):
    weighing = bat[1]
    sweet, hand = weighing.sweet_spot, weighing.lower_hand

    rows = {what: row.second for what, row in rows_of(numbers_of(bat)).items()}

    assert rows["mass"] == f"{weighing.mass_g:.0f} ± {weighing.mass_sd_g:.0f} g"
    assert rows["balance, from the toe"] == (
        f"{weighing.balance_from_toe_mm:.0f} ± {weighing.balance_sd_mm:.0f} mm"
    )
    pickup = 1000 * weighing.inertia_kg_m2.pickup
    assert rows["pickup, the number"] == f"{pickup:.1f} ± {1000 * weighing.pickup_sd_kg_m2:.1f} g m²"
    assert rows["hits hardest, from the toe"] == f"about {5 * round(sweet.peak_from_toe_mm / 5)} mm"
    low, high = 5 * round(sweet.from_mm / 5), 5 * round(sweet.to_mm / 5)
    assert rows["nearly as hard"] == f"{low} to {high} mm"
    assert rows["half width at that place"] == f"{sweet.half_width_mm:.0f} mm"
    for number, which in enumerate(("first", "second", "third")):
        assert rows[f"{which} bending mode"] == f"{weighing.modes[number].frequency_hz:.0f} Hz"
    node = weighing.modes[0].nodes_from_toe_mm[0]
    assert rows["first mode's node on the blade, from the toe"] == f"{node:.0f} mm"
    assert rows["static moment"] == f"{1000 * hand.static_moment_kg_m:.0f} g m"
    assert rows["moment of inertia"] == f"{1000 * hand.inertia_kg_m2:.1f} g m²"


def test_a_toe_taken_down_moves_the_place_that_hits_hardest(bat):
    stations = bat[0].model_dump(mode="json")["blade"]["stations"]
    for station in stations[:3]:
        station["spine_mm"] -= 4
    light = a_build(blade__stations=stations)
    lighter = (light, weigh(light))

    row = rows_of(compared_numbers(bat, lighter))["hits hardest, from the toe"]

    moved = sweet_spot_of(lighter[1]).peak_from_toe_mm - sweet_spot_of(bat[1]).peak_from_toe_mm
    assert moved > 3
    assert row.change == f"+{moved:.0f} mm"


def test_a_weighing_of_the_first_model_says_so_and_has_no_difference(bat):
    old = (bat[0], of_model_1(bat[1]))

    rows = rows_of(compared_numbers(old, bat))

    for what in ("hits hardest, from the toe", "nearly as hard", "third bending mode", "static moment"):
        assert (rows[what].first, rows[what].change) == ("older model", "")
    assert rows["mass"].change == "the same"


def test_what_the_first_model_kept_can_be_read(bat):
    kept = json.dumps(kept_by_model_1(bat[1].model_dump(mode="json")))

    assert read_sheet(Weighing, kept) == of_model_1(bat[1])
