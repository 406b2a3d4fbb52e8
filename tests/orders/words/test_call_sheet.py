"""The call sheet in words."""

import pytest

from fitting.recommend import recommend
from fitting.recommend.call_sheet import CallLine, call_sheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.recommendation import Conflict
from orders.words.call_sheet import UNLIKELY, say_call_line
from orders.words.pickup import pickup_reference
from orders.words.reasons import say_conflict
from tests.fitting.recommend.test_call_sheet import ANSWERED
from tests.fitting.recommend.test_unlikely import MADE
from tests.sheets import fitting


def said(**chapters) -> list[str]:
    sheet = fitting(**chapters)
    found = recommend(sheet)
    reference = pickup_reference(found.build.length_code)
    return [say_call_line(line, reference) for line in call_sheet(sheet, found, DEFAULT_BOOK)]


def test_every_kind_of_unlikely_answer_has_its_words():
    assert set(UNLIKELY) == set(MADE)


@pytest.mark.parametrize("key", MADE)
def test_each_unlikely_answer_is_asked_for_with_its_reason(key):
    first = said(**MADE[key])[0]
    assert first.startswith("Ask ")
    assert "because" in first
    assert "%(" not in first


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("mass", "1650 g was given and bats of its size have 1080 g to 1250 g"),
        ("hand", "150 mm was given at 174 cm, where hands measure 173 mm to 212 mm"),
        ("girth", "150 mm was given and a hand of 190 mm takes about 118 mm"),
        ("marks", "lie about 250 mm from the toe"),
        ("wish_heavier", "too heavy at 1150 g and at least 1200 g is wished"),
        ("pickup", "picks up like a 2 lb 14, and a bat as heavy and as long usually picks up like a 2 lb 9"),
    ],
)
def test_numbers_stand_in_the_unit_of_what_they_are(key, words):
    assert words in said(**MADE[key])[0]


def test_conflict_is_told_whole():
    apart = {"mass_g": {"max": 950}, "edges": "thick", "profile": "full"}
    conflict = recommend(fitting(wishes=apart)).conflicts[0]
    assert said(wishes=apart)[0] == f"Ask what is to give way: “{say_conflict(conflict)}”"


def test_open_question_is_asked_in_the_words_of_the_interview():
    lines = said()
    assert lines[0].startswith("Ask which bat is used now")
    assert any("because it was left open and can still change: " in line for line in lines[1:])


def test_more_choices_than_anybody_reads_out_are_cut_short():
    line = CallLine(
        "unanswered", "approach", ("game.approach",), touches=("profile", "length_code", "grips", "a", "b")
    )
    reference = pickup_reference("short_handle")
    assert say_call_line(line, reference).endswith("a and more.")


def test_question_about_the_bat_in_use_says_of_which_bat():
    bat = {**ANSWERED["present_bat"]}
    del bat["mass_g"]
    (line,) = [one for one in said(**{**ANSWERED, "present_bat": bat}) if "What does it weigh?" in one]
    assert line.startswith("Ask of the bat in use “What does it weigh?”")


def test_pickup_that_pulls_apart_is_told_by_a_bat_that_people_know():
    conflict = Conflict(
        key="pickup.present",
        fields=("pickup_kg_m2", "present_bat.pickup"),
        kept="0.1802",
        given_up="0.1967",
        cost={},
    )
    line = CallLine("conflict", conflict.key, conflict.fields, conflict=conflict)
    told = say_call_line(line, pickup_reference("short_handle"))
    assert "kg" not in told
    assert "picks up like a 3 lb" in told or "picks up like a 2 lb 1" in told
