"""A refused answer is told with what was given and what is allowed."""

import pytest

from fitting.answers import AnswerRefused, Boxes, understand
from fitting.questions import BY_KEY
from orders.words.answer_faults import say_answer_fault

BAT: dict[str, Boxes] = {"bat_mass": {"": "1160 g"}, "bat_overall": {"": "851 mm"}}


def said(key: str, boxes: Boxes, answers: dict[str, Boxes] | None = None) -> list[str]:
    with pytest.raises(AnswerRefused) as refused:
        understand(BY_KEY[key], boxes, answers or {})
    return [say_answer_fault(fault) for fault in refused.value.faults]


@pytest.mark.parametrize(
    ("key", "boxes", "words"),
    [
        ("age", {"": "3"}, "3 was given; 4 to 100 is allowed."),
        ("age", {"": "12.5"}, "12.5 was given; a whole number, 4 to 100, is allowed."),
        ("age", {"": "ten"}, "ten was given, which is no number; 4 to 100 is allowed."),
        ("age", {"": "-3"}, "-3 was given, which is below nothing; 4 to 100 is allowed."),
        (
            "bat_mass",
            {"": "5 kg"},
            "5 kg was given; 400 g to 1800 g (0 lb 14.1 oz to 3 lb 15.5 oz) is allowed.",
        ),
        (
            "bat_mass",
            {"": "heavy"},
            "heavy was given, which is no mass; 400 g to 1800 g (0 lb 14.1 oz to 3 lb 15.5 oz) is allowed, "
            "like 1160 g or 2 lb 9.",
        ),
        (
            "bat_mass",
            {"": "85 cm"},
            "85 cm was given, in a unit of another kind; 400 g to 1800 g (0 lb 14.1 oz to 3 lb 15.5 oz) "
            "is allowed.",
        ),
        (
            "bat_mass",
            {"": "2 lb 16"},
            "2 lb 16 was given: a pound has 16 ounces, so ounces go from 0 to 15.",
        ),
        ("bat_mass", {"": "1.2"}, "1.2 could be 1200 g or 1 lb 2 oz. Which is it?"),
        (
            "bat_overall",
            {"": "long"},
            "long was given, which is no length; 550 mm to 1000 mm (21 5/8 in to 39 3/8 in) is allowed, "
            "like 85 cm or 33 1/2 in.",
        ),
        ("ball_marks", {"": "20"}, "20 could be 20 mm, 20 cm or 20 in. Which is it?"),
        ("play_from", {"": "soon"}, "soon was given, which is no date. Write it as 2027-04-30."),
        ("play_from", {"": "1899-01-01"}, "1899-01-01 was given; a date from 2000 to 2100 is allowed."),
        ("level", {"": "village"}, "village is not one of the choices."),
        ("shots", {"1": "cut", "2": "cut"}, "Each can stand only once in the order."),
        (
            "overs_mix",
            {"long": "0"},
            "All three are 0. Count at least one match, or leave all boxes empty.",
        ),
        (
            "wish_mass",
            {"min": "1200 g", "max": "1100 g"},
            "The least is above the most. Swap the two, or leave one empty.",
        ),
        ("height", {"": "1" * 41}, "That is too long. Type just the number and its unit."),
    ],
)
def test_fault_names_what_was_given_and_what_is_allowed(key: str, boxes: Boxes, words: str) -> None:
    assert said(key, boxes) == [words]


def test_fault_of_a_reading_without_the_bat_measured() -> None:
    (words,) = said("bat_balance", {"reading": "690 g"})
    assert "together with mass and length" in words


def test_fault_of_a_reading_that_cannot_be_tells_where_it_would_balance() -> None:
    (words,) = said("bat_balance", {"reading": "1100 g"}, BAT)
    assert words.startswith(
        "With that the bat would balance 89 mm from the toe; at its length 238 mm to 511 mm (9 3/8 in to"
    )


def test_faults_of_several_boxes_are_all_told() -> None:
    assert said("pendulum", {"swings": "20"}) == ["This number is needed with the others."] * 2
