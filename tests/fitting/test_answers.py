"""Answers as typed become the fitting sheet; what is wrong is refused at its box."""

from typing import Any

import pytest

from fitting.answers import (
    AnswerRefused,
    Boxes,
    balance_from_reading,
    sheet_from,
    situation_of,
    understand,
)
from fitting.answers_written import answers_from
from fitting.questions import BY_KEY, Situation
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet

WHOLE_SHEET: dict[str, Any] = {
    "sheet": 1,
    "player": {
        "age_years": 27,
        "height_mm": 1752.6,
        "hand_length_mm": 190.5,
        "batting_hand": "left",
        "strength": "average",
    },
    "play_from": "2027-04-01",
    "level": "club",
    "game": {
        "batting_place": "middle_order",
        "approach": "attacking",
        "overs_mix": {"long": 2, "fifty": 6, "twenty": 12},
        "shots": {"cut": 3, "sweep": 2, "lofted": 1},
        "ball_marks_from_toe_mm": [180, 205.5, 240],
        "ball": ["hard", "machine"],
        "nets_hours_a_week": 2.5,
    },
    "pitches": {"bounce": "low", "surface": "artificial", "outfield_grass": "long", "often_damp": True},
    "hold": {
        "hands": "top",
        "tightness": "firm",
        "stance": "upright",
        "leading_hand": "bottom",
        "taps_ground": False,
    },
    "present_bat": {
        "liked": False,
        "mass_g": 1160,
        "balance_from_toe_mm": 352,
        "overall_length_mm": 851,
        "grip_girth_mm": 118,
        "length_code": "short_handle",
        "pendulum": {"pivot_from_handle_top_mm": 20, "swings": 20, "seconds": 30.3},
        "pickup": "too_heavy",
        "sweet_spot": "too_high",
        "handle": "right",
        "broke_at": ["toe", "handle"],
    },
    "wishes": {
        "mass_g": {"min": 1100, "max": 1150},
        "length_code": "long_handle",
        "sweet_spot": "mid",
        "profile": "full",
        "edges": "thick",
        "bow": "slight",
        "face": "flat",
        "toe": "strong",
        "handle_section": "oval",
        "handle_thickness": "thin",
        "feel": "stiff",
        "looks_grade": 3,
        "grain": "few",
        "grips": 2,
        "easy_on_joints": True,
        "gives_way_first": ["looks", "edges", "mass"],
    },
}


def fields(key: str, boxes: Boxes, **others: Boxes) -> dict[str, Any]:
    return understand(BY_KEY[key], boxes, others).fields


def fault_kinds(key: str, boxes: Boxes, **others: Boxes) -> list[tuple[str, str]]:
    with pytest.raises(AnswerRefused) as refused:
        understand(BY_KEY[key], boxes, others)
    return [(fault.part, fault.kind) for fault in refused.value.faults]


def test_answers_of_a_whole_sheet_make_the_same_sheet_again() -> None:
    sheet = read_sheet(FittingSheet, WHOLE_SHEET)
    made = sheet_from(answers_from(sheet), Situation(27, True, at_counter=True))
    assert read_sheet(FittingSheet, made.sheet) == sheet
    assert made.missing == ()


def test_sheet_from_nothing_names_what_is_missing() -> None:
    made = sheet_from({}, Situation())
    assert (made.sheet, made.missing) == ({"sheet": 1}, ("age", "height"))


def test_sheet_from_answers_leaves_out_what_no_longer_applies() -> None:
    answers: dict[str, Boxes] = {
        "age": {"": "12"},
        "height": {"": "4 ft 9"},
        "wish_profile": {"": "full"},
    }
    made = sheet_from(answers, situation_of(answers, at_counter=False))
    assert made.sheet == {"sheet": 1, "player": {"age_years": 12, "height_mm": 1447.8}}


@pytest.mark.parametrize(
    ("liked", "has_bat"), [("yes", True), ("no", True), ("none", False), ("unsure", None)]
)
def test_situation_of_the_bat_in_use(liked: str, has_bat: bool | None) -> None:
    assert situation_of({"bat_liked": {"": liked}}, at_counter=False).has_bat is has_bat


def test_unsure_fills_nothing_but_is_remembered() -> None:
    understood = understand(BY_KEY["bounce"], {"": "unsure"}, {})
    assert (understood.fields, understood.unsure, understood.is_empty) == ({}, True, False)


def test_shots_in_order_weigh_three_two_one() -> None:
    assert fields("shots", {"1": "cut", "2": "sweep", "3": "lofted"}) == {
        "game.shots.cut": 3,
        "game.shots.sweep": 2,
        "game.shots.lofted": 1,
    }


def test_ranked_answer_named_twice_is_refused_at_the_second() -> None:
    assert fault_kinds("gives_way", {"1": "mass", "2": "mass"}) == [("2", "twice")]


def test_overs_mix_counts_an_empty_box_as_none() -> None:
    assert fields("overs_mix", {"twenty": "8"}) == {
        "game.overs_mix.long": 0,
        "game.overs_mix.fifty": 0,
        "game.overs_mix.twenty": 8,
    }


def test_overs_mix_of_nothing_is_refused() -> None:
    assert fault_kinds("overs_mix", {"long": "0"}) == [("long", "nothing_played")]


def test_balance_from_reading_of_a_bat_balancing_in_the_middle_of_the_supports() -> None:
    # Half the mass on the scale: the balance lies half way between the supports, at half the length.
    assert balance_from_reading(reading_g=580, mass_g=1160, overall_length_mm=850) == pytest.approx(425)


def test_balance_is_computed_from_reading_mass_and_length() -> None:
    others: dict[str, Boxes] = {"bat_mass": {"": "1160 g"}, "bat_overall": {"": "851 mm"}}
    found = understand(BY_KEY["bat_balance"], {"reading": "696 g"}, others)
    assert found.fields == {"present_bat.balance_from_toe_mm": pytest.approx(350.4)}


def test_balance_reading_without_mass_and_length_asks_for_them() -> None:
    assert fault_kinds("bat_balance", {"reading": "690 g"}) == [("reading", "needs_mass_and_length")]


def test_balance_reading_that_cannot_be_is_refused() -> None:
    others: dict[str, Boxes] = {"bat_mass": {"": "1160 g"}, "bat_overall": {"": "851 mm"}}
    assert fault_kinds("bat_balance", {"reading": "1100 g"}, **others) == [("reading", "balance_unlikely")]


def test_mass_wish_with_ends_crossed_is_refused() -> None:
    assert fault_kinds("wish_mass", {"min": "2lb 10", "max": "2lb 8"}) == [("min", "ends_crossed")]


def test_mass_wish_with_one_end_is_kept() -> None:
    assert fields("wish_mass", {"max": "2lb 8"}) == {"wishes.mass_g.max": 1134.0}


@pytest.mark.parametrize(
    ("text", "marks"),
    [
        ("180 205 240", [180, 205, 240]),
        ("180, 205, 240", [180, 205, 240]),
        ("180,205,240", [180, 205, 240]),
        ("18 cm; 8 1/2 in", [180, 215.9]),
        ("18,5 cm and 20 cm", [185, 200]),
    ],
)
def test_ball_marks_are_read_as_a_list(text: str, marks: list[float]) -> None:
    assert fields("ball_marks", {"": text}) == {"game.ball_marks_from_toe_mm": marks}


def test_pendulum_wants_all_three_numbers() -> None:
    assert fault_kinds("pendulum", {"swings": "20"}) == [("pivot", "also_needed"), ("seconds", "also_needed")]


@pytest.mark.parametrize(
    ("key", "text", "kind"),
    [
        ("age", "12.5", "not_whole"),
        ("age", "3", "out_of_range"),
        ("age", "ten", "not_a_number"),
        ("height", "17.57 m", "out_of_range"),
        ("height", "NaN", "not_a_length"),
        ("play_from", "tomorrow", "not_a_date"),
        ("play_from", "1899-01-01", "date_out_of_range"),
        ("bounce", "bouncy", "not_a_choice"),
    ],
)
def test_answer_refused_by_kind(key: str, text: str, kind: str) -> None:
    assert fault_kinds(key, {"": text}) == [("", kind)]


def test_answers_of_an_older_draft_are_read_though_less_is_asked_now() -> None:
    ranked = {"1": "looks", "2": "date", "3": "edges", "4": "mass", "5": "life", "6": "pickup"}
    assert fields("gives_way", ranked) == {
        "wishes.gives_way_first": ["looks", "date", "edges", "mass", "life", "pickup"]
    }


def test_answers_of_an_older_draft_of_a_child_still_count() -> None:
    answers: dict[str, Boxes] = {
        "age": {"": "12"},
        "height": {"": "150 cm"},
        "play_from": {"": "2027-04-01"},
        "bat_liked": {"": "yes"},
        "bat_length": {"": "size_5"},
        "bat_handle": {"": "too_thick"},
    }
    made = sheet_from(answers, situation_of(answers, at_counter=False)).sheet
    assert made["present_bat"] == {"liked": True, "length_code": "size_5", "handle": "too_thick"}
    assert made["play_from"] == "2027-04-01"


def test_sting_at_an_edge_is_an_answer_that_fills_no_field() -> None:
    assert fields("bat_sweet_spot", {"": "edge"}) == {}
    assert fields("bat_sweet_spot", {"": "too_low"}) == {"present_bat.sweet_spot": "too_low"}


def test_doubtful_length_takes_the_only_reading_that_goes_with_the_height() -> None:
    height: dict[str, Boxes] = {"age": {"": "30"}, "height": {"": "175 cm"}}
    assert fault_kinds("wrist_height", {"": "33"}) == [("", "ambiguous")]
    assert fields("wrist_height", {"": "33"}, **height) == {"player.wrist_height_mm": 838.2}


def test_doubtful_marks_are_written_out_in_every_unit_that_is_allowed() -> None:
    with pytest.raises(AnswerRefused) as refused:
        understand(BY_KEY["ball_marks"], {"": "18, 20 and 22"}, {})
    assert refused.value.faults[0].written_out == (
        "18 mm; 20 mm; 22 mm",
        "18 cm; 20 cm; 22 cm",
        "18 in; 20 in; 22 in",
    )
