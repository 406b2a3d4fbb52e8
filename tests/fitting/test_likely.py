"""Answers that cannot both be true are refused, real bodies and bats never are."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitting.answers import AnswerRefused, Boxes, sheet_from, situation_of, understand
from fitting.likely import doubt
from fitting.questions import BY_KEY

GROWN: dict[str, Boxes] = {"age": {"": "30"}, "height": {"": "175 cm"}}
BAT: dict[str, Boxes] = {"bat_mass": {"": "1160 g"}, "bat_overall": {"": "851 mm"}}


def refused(key: str, boxes: Boxes, others: dict[str, Boxes]) -> tuple[str, str]:
    with pytest.raises(AnswerRefused) as fault:
        understand(BY_KEY[key], boxes, others)
    (one,) = fault.value.faults
    return one.part, one.kind


@pytest.mark.parametrize(
    ("key", "boxes", "others", "fault"),
    [
        ("height", {"": "175 cm"}, {"age": {"": "6"}}, ("", "too_tall_for_age")),
        ("wrist_height", {"": "120 cm"}, GROWN, ("", "against_height")),
        ("hand_length", {"": "13 cm"}, GROWN, ("", "against_height")),
        ("inside_leg", {"": "110 cm"}, GROWN, ("", "against_height")),
        ("ball_marks", {"": "180 mm, 595 mm"}, {}, ("", "beyond_blade")),
        ("ball_marks", {"": "18 cm, 45 cm"}, {"bat_overall": {"": "654 mm"}}, ("", "beyond_blade")),
        ("bat_balance", {"place": "550 mm"}, BAT, ("place", "balance_unlikely")),
        ("bat_balance", {"reading": "1100 g"}, BAT, ("reading", "balance_unlikely")),
        ("pendulum", {"pivot": "152 mm", "swings": "30", "seconds": "4"}, {}, ("seconds", "swing_unlikely")),
        ("pendulum", {"pivot": "152 mm", "swings": "3", "seconds": "40"}, {}, ("seconds", "swing_unlikely")),
    ],
)
def test_answer_that_cannot_be_beside_another_is_refused_at_its_box(
    key: str, boxes: Boxes, others: dict[str, Boxes], fault: tuple[str, str]
) -> None:
    assert refused(key, boxes, others) == fault


@pytest.mark.parametrize(
    ("key", "boxes", "others"),
    [
        ("hand_length", {"": "13 cm"}, {"age": {"": "8"}, "height": {"": "128 cm"}}),
        ("hand_length", {"": "13 cm"}, {}),
        ("wrist_height", {"": "84 cm"}, GROWN),
        ("height", {"": "2.05 m"}, {"age": {"": "17"}}),
        ("ball_marks", {"": "18 cm, 24 cm"}, BAT),
        ("bat_balance", {"place": "352 mm"}, BAT),
        ("pendulum", {"pivot": "152 mm", "swings": "30", "seconds": "43"}, {}),
    ],
)
def test_answer_that_goes_with_the_others_stands(key: str, boxes: Boxes, others: dict[str, Boxes]) -> None:
    assert understand(BY_KEY[key], boxes, others).fields


def test_answers_of_a_patient_hitter_are_no_contradiction() -> None:
    answers = {**GROWN, "approach": {"": "patient"}, "shots": {"1": "lofted", "2": "sweep", "3": "cut"}}
    made = sheet_from(answers, situation_of(answers, at_counter=False)).sheet
    assert made["game"]["approach"] == "patient"
    assert made["game"]["shots"]["lofted"] == 3


# ANSUR II, 1st and 99th percentile beside the middle height: men's and women's hands and wrists.
@pytest.mark.parametrize(
    ("key", "field", "height", "length"),
    [
        ("hand_length", "player.hand_length_mm", 1755, 172),
        ("hand_length", "player.hand_length_mm", 1755, 218),
        ("hand_length", "player.hand_length_mm", 1629, 160),
        ("hand_length", "player.hand_length_mm", 1629, 207),
        ("wrist_height", "player.wrist_height_mm", 1755, 753),
        ("wrist_height", "player.wrist_height_mm", 1755, 947),
        ("wrist_height", "player.wrist_height_mm", 1629, 711),
        ("wrist_height", "player.wrist_height_mm", 1629, 889),
    ],
)
def test_bodies_of_the_survey_are_believed(key: str, field: str, height: float, length: float) -> None:
    assert doubt(key, {field: length}, {"player.height_mm": height}) is None


@given(st.integers(4, 13), st.floats(0.78, 1.30))
def test_children_of_any_usual_height_are_believed(age: int, share: float) -> None:
    usual = 780 + 58.5 * age
    known: dict[str, Any] = {"player.age_years": age}
    found = doubt("height", {"player.height_mm": usual * min(share, 1.2)}, known)
    assert found is None
