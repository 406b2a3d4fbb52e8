"""The interview as data: it reaches every field, a page stays small, juniors get the short one."""

from collections.abc import Iterator
from typing import Any

import pytest
from pydantic import BaseModel

from fitting.questions import (
    CHAPTERS,
    DRAWINGS,
    MOST_QUESTIONS_ON_A_PAGE,
    QUESTIONS,
    Situation,
    neighbours,
    page_at,
    pages,
)
from fitting.sheets.fitting_sheet import FittingSheet

ADULT = Situation(age_years=30)
JUNIOR = Situation(age_years=12)
COUNTER = Situation(age_years=30, at_counter=True)
ABOVE_JUNIOR_FIELDS = ("wishes.", "hold.", "pitches.")


def leaves(model: type[BaseModel], at: str = "") -> Iterator[str]:
    for name, field in model.model_fields.items():
        inner = _model_in(field.annotation)
        if inner is None:
            yield at + name
        else:
            yield from leaves(inner, f"{at}{name}.")


def _model_in(annotation: Any) -> type[BaseModel] | None:
    for kind in (annotation, *getattr(annotation, "__args__", ())):
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            return kind
    return None


def asked(situation: Situation) -> list[str]:
    return [name for page in pages(situation) for question in page.questions for name in question.fields]


def test_questions_fill_every_field_of_the_fitting_sheet_once() -> None:
    filled = sorted(name for question in QUESTIONS for name in question.fields)
    assert filled == sorted(set(leaves(FittingSheet)) - {"sheet"})


def test_questions_of_an_adult_at_the_counter_leave_out_only_what_grows() -> None:
    left_out = set(leaves(FittingSheet)) - {"sheet"} - set(asked(COUNTER))
    assert left_out == {"player.inside_leg_mm"}


@pytest.mark.parametrize(
    "situation", [Situation(), ADULT, JUNIOR, COUNTER, Situation(12, True, True), Situation(30, False)]
)
def test_pages_hold_at_most_five_questions_in_chapter_order(situation: Situation) -> None:
    found = pages(situation)
    assert all(1 <= len(page.questions) <= MOST_QUESTIONS_ON_A_PAGE for page in found)
    order = [CHAPTERS.index(page.chapter) for page in found]
    assert order == sorted(order)


def test_pages_of_a_junior_are_two_without_talk_of_profile_or_bow() -> None:
    for situation in (JUNIOR, Situation(12, True), Situation(12, False), Situation(12, at_counter=True)):
        assert [page.key for page in pages(situation)] == ["you", "growing"]
    assert not [name for name in asked(JUNIOR) if name.startswith(ABOVE_JUNIOR_FIELDS)]
    assert {"player.wrist_height_mm", "player.inside_leg_mm"} <= set(asked(JUNIOR))


def test_pages_of_an_adult_ask_nothing_that_only_grows() -> None:
    assert "player.inside_leg_mm" not in asked(ADULT)


@pytest.mark.parametrize(("age", "junior"), [(17, True), (18, False), (None, False)])
def test_situation_is_junior_below_eighteen(age: int | None, junior: bool) -> None:
    assert Situation(age_years=age).is_junior is junior


def test_pages_without_a_bat_in_use_ask_nothing_about_it() -> None:
    without = asked(Situation(30, has_bat=False))
    assert "present_bat.mass_g" not in without
    assert "present_bat.broke_at" in without
    assert page_at("bat-measured", Situation(30, has_bat=False)) is None


def test_pendulum_is_asked_at_the_counter_only() -> None:
    assert "present_bat.pendulum.seconds" in asked(COUNTER)
    assert "present_bat.pendulum.seconds" not in asked(ADULT)


def test_every_choice_offers_unsure_and_every_other_question_may_stay_empty() -> None:
    for question in QUESTIONS:
        assert question.offers_unsure == (question.kind == "one")
    assert {question.key for question in QUESTIONS if question.required} == {"age", "height"}


def test_neighbours_are_none_at_the_ends() -> None:
    assert neighbours("you", JUNIOR) == (None, "growing")
    assert neighbours("growing", JUNIOR) == ("you", None)


def test_what_protects_the_bat_is_asked_on_one_page() -> None:
    page = page_at("wear", ADULT)
    assert page
    assert [question.key for question in page.questions] == ["ball", "nets_hours", "taps_ground", "broke_at"]


def test_swings_are_asked_beside_the_balance_by_hand() -> None:
    page = page_at("bat-measured", COUNTER)
    assert page
    assert {"bat_mass", "bat_overall", "bat_balance", "pendulum"} <= {each.key for each in page.questions}


def test_drawings_are_each_used() -> None:
    assert {question.drawing for question in QUESTIONS if question.drawing} == set(DRAWINGS)
