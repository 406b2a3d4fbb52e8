"""What is said back to an answer that is kept and does not quite go with another one."""

import pytest

from fitting.answers import Answers
from fitting.remarks import remark_on
from fitting.sheets.default_book import DEFAULT_BOOK

BODY: Answers = {"age": {"": "30"}, "height": {"": "175 cm"}}
SWINGS: Answers = {"pendulum": {"pivot": "152 mm", "swings": "30", "seconds": "43"}}
MEASURED: Answers = {
    "bat_mass": {"": "1160 g"},
    "bat_overall": {"": "851 mm"},
    "bat_balance": {"place": "352 mm"},
}


@pytest.mark.parametrize(
    ("question", "answers", "key"),
    [
        ("bat_pickup", {"bat_liked": {"": "yes"}, "bat_pickup": {"": "too_heavy"}}, "liked_too_heavy"),
        ("bat_pickup", {"bat_liked": {"": "yes"}, "bat_pickup": {"": "too_light"}}, "liked_too_light"),
        ("bat_pickup", {"bat_liked": {"": "yes"}, "bat_pickup": {"": "right"}}, None),
        ("bat_pickup", {"bat_liked": {"": "no"}, "bat_pickup": {"": "too_heavy"}}, None),
        (
            "bat_overall",
            {"bat_length": {"": "short_handle"}, "bat_overall": {"": "32 in"}},
            "not_the_usual_length",
        ),
        ("bat_overall", {"bat_length": {"": "short_handle"}, "bat_overall": {"": "851 mm"}}, None),
        ("pendulum", SWINGS, "swings_alone"),
        ("pendulum", {**SWINGS, **MEASURED}, None),
        ("bat_sweet_spot", {"bat_sweet_spot": {"": "edge"}}, "edge_only"),
        ("bat_sweet_spot", {"bat_sweet_spot": {"": "right"}}, None),
    ],
)
def test_remark_on_an_answer_beside_the_others(question: str, answers: Answers, key: str | None) -> None:
    remark = remark_on(question, {**BODY, **answers}, DEFAULT_BOOK)
    assert (remark.key if remark else None) == key


def test_remark_on_a_length_names_the_usual_one_of_the_book() -> None:
    answers: Answers = {**BODY, "bat_length": {"": "short_handle"}, "bat_overall": {"": "32 in"}}
    remark = remark_on("bat_overall", answers, DEFAULT_BOOK)
    assert remark
    assert remark.usual_mm == DEFAULT_BOOK.length("short_handle").overall_mm
