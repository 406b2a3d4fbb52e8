"""Faults of a sheet in words; the commands' tests hold the lines as a whole."""

import pytest

from fitting.sheets.bounds import allowed_in
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from orders.words.faults import say_fault, say_given_and_allowed
from tests.builds import short_handle
from tests.sheets import fitting_json


def said(kind, content):
    with pytest.raises(SheetRefused) as refused:
        read_sheet(kind, content)
    return [say_fault(fault, kind) for fault in refused.value.faults]


def test_list_of_wrong_length_says_how_long_it_may_be():
    build = short_handle()
    build["blade"]["stations"] = build["blade"]["stations"][:2]
    (line,) = said(BuildSheet, build)
    assert line.startswith("blade.stations: ")
    assert line.endswith("2 long; 3 to any number allowed")


def test_rule_between_fields_says_the_rule():
    build = short_handle()
    build["blade"]["shoulder"]["width_mm"] = 45
    (line,) = said(BuildSheet, build)
    assert line.endswith("blade.shoulder.width_mm at least 6 mm above handle.splice_width_mm allowed")


def test_bound_that_does_not_count_itself_says_so():
    build = short_handle()
    build["mass_g"]["target"] = 0
    assert said(BuildSheet, build) == ["mass_g.target: 0 given; a number above 0, up to 2000 allowed"]


@pytest.mark.parametrize(
    ("change", "line"),
    [
        ({"play_from": "soon"}, 'play_from: "soon" given; a date such as 2027-04-30 allowed'),
        ({"pitches": {"often_damp": "yes"}}, 'pitches.often_damp: "yes" given; true or false allowed'),
        ({"game": {"ball": ["tennis"]}}, 'game.ball.0: "tennis" given; one of hard, machine, soft allowed'),
        ({"game": {"ball": "hard"}}, 'game.ball: "hard" given; a list allowed'),
        ({"sheet": 2}, "sheet: 2 given; 1 allowed"),
    ],
)
def test_line_names_field_given_and_allowed(change, line):
    assert said(FittingSheet, fitting_json(**change)) == [line]


def test_given_and_allowed_stand_without_the_field_for_a_form():
    with pytest.raises(SheetRefused) as refused:
        read_sheet(FittingSheet, fitting_json(player={"height_mm": -3}))
    assert say_given_and_allowed(refused.value.faults[0], FittingSheet) == (
        "-3 given; a number from 900 to 2300 allowed"
    )


def test_unknown_field_offers_the_known_ones():
    assert allowed_in(FittingSheet, "wishes.colour").fields[:2] == ("mass_g", "length_code")
