"""The maker's call sheet: at most five things to ask, none of them answered already."""

from typing import Any, get_args

import pytest
from hypothesis import given, settings

from fitting.questions import QUESTIONS
from fitting.recommend import recommend
from fitting.recommend.call_sheet import DECIDES, MOST_LINES, PRESENT_BAT, CallLine, call_sheet
from fitting.sheets.book_rules import Subject
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.fitting_sheet import FittingSheet
from tests.sheets import fitting, fittings

# Everything that the signs of the book and the numbers of the bat look at is answered, and agrees.
ANSWERED: dict[str, Any] = {
    "player": {"hand_length_mm": 190, "strength": "average", "batting_hand": "right"},
    "level": "club",
    "game": {
        "batting_place": "middle_order",
        "approach": "balanced",
        "overs_mix": {"long": 1, "fifty": 3, "twenty": 1},
        "shots": {"straight_drive": 2, "cut": 1},
        "ball": ["hard"],
        "nets_hours_a_week": 2,
        "ball_marks_from_toe_mm": [200, 205, 210, 215, 220, 222],
    },
    "pitches": {"bounce": "medium", "surface": "turf", "outfield_grass": "short", "often_damp": False},
    "hold": {
        "hands": "middle",
        "tightness": "firm",
        "stance": "medium",
        "leading_hand": "top",
        "taps_ground": False,
    },
    "present_bat": {
        "liked": True,
        "mass_g": 1160,
        "balance_from_toe_mm": 365,
        "overall_length_mm": 851,
        "grip_girth_mm": 117,
        "length_code": "short_handle",
        "pickup": "right",
        "sweet_spot": "right",
        "handle": "right",
        "broke_at": ["face"],
    },
    "wishes": {"easy_on_joints": False, "looks_grade": 2, "gives_way_first": ["looks"]},
}


def lines_of(sheet: FittingSheet) -> tuple[CallLine, ...]:
    return call_sheet(sheet, recommend(sheet), DEFAULT_BOOK)


def left_open(**chapters: Any) -> list[str]:
    return [line.key for line in lines_of(fitting(**chapters)) if line.kind == "unanswered"]


def answered_but(chapter: str, *names: str) -> dict[str, Any]:
    """All answers but some of one chapter."""
    kept = {name: value for name, value in ANSWERED[chapter].items() if name not in names}
    return {**ANSWERED, chapter: kept}


# Drives alone do not bring the sweet spot down: low pitches beside them would.
DRIVES = {
    **answered_but("pitches", "bounce"),
    "game": {
        **{name: value for name, value in ANSWERED["game"].items() if name != "ball_marks_from_toe_mm"},
        "shots": {"straight_drive": 3},
    },
}


def test_every_subject_of_the_book_is_known():
    assert set(DECIDES) == set(get_args(Subject))


def test_nothing_is_asked_where_all_is_answered_and_agrees():
    assert lines_of(fitting(**ANSWERED)) == ()


def test_bat_of_which_nothing_was_said_is_asked_about_once_and_first():
    found = lines_of(fitting())
    assert found[0].key == PRESENT_BAT
    assert len(found) == MOST_LINES
    assert sum(any(name.startswith("present_bat") for name in line.answers) for line in found) == 1


def test_bounce_left_open_is_asked_for_the_place_of_the_sweet_spot():
    sheet = fitting(**DRIVES)
    (line,) = (line for line in lines_of(sheet) if line.key == "bounce")
    assert line.kind == "unanswered"
    assert "sweet_spot.choice" in line.touches


def test_answer_that_can_change_nothing_any_more_is_not_asked():
    wished = {**DRIVES, "wishes": {**ANSWERED["wishes"], "sweet_spot": "mid", "profile": "tapered_spine"}}
    assert "bounce" in left_open(**DRIVES)
    assert "bounce" not in left_open(**answered_but("pitches", "bounce"))
    assert "bounce" not in left_open(**wished)


def test_mass_of_the_bat_in_use_is_asked_unless_a_mass_is_wished():
    chapters = answered_but("present_bat", "mass_g")
    assert "bat_mass" in left_open(**chapters)
    wished = {**chapters, "wishes": {**ANSWERED["wishes"], "mass_g": {"min": 1140, "max": 1180}}}
    assert "bat_mass" not in left_open(**wished)


def test_hand_is_asked_where_nothing_tells_the_girth():
    chapters = answered_but("player", "hand_length_mm")
    assert "hand_length" not in left_open(**chapters)
    bat = {name: value for name, value in ANSWERED["present_bat"].items() if name != "grip_girth_mm"}
    assert "hand_length" in left_open(**{**chapters, "present_bat": bat})


def test_child_is_asked_for_reach_only_near_the_next_size():
    bounds = DEFAULT_BOOK.rules.junior_upper_bounds_mm
    near, far = bounds[3] - 1, bounds[3] - DEFAULT_BOOK.rules.between_sizes_mm - 1
    assert "strength" in left_open(player={"age_years": 10, "height_mm": near})
    assert "strength" not in left_open(player={"age_years": 10, "height_mm": far})


def test_child_is_asked_only_what_children_are_asked():
    grown_only = {question.key for question in QUESTIONS if question.audience == "adult"}
    assert not grown_only & set(left_open(player={"age_years": 12, "height_mm": 1500}))


def test_what_gives_way_is_asked_where_wishes_pull_apart():
    apart = {"mass_g": {"max": 950}, "edges": "thick"}
    order = next(question.key for question in QUESTIONS if "wishes.gives_way_first" in question.fields)
    assert order in left_open(**{**ANSWERED, "wishes": {**apart, "easy_on_joints": False, "looks_grade": 2}})
    assert order not in left_open(**{**ANSWERED, "wishes": {**ANSWERED["wishes"], **apart}})


def test_conflict_stands_before_open_answers_and_behind_what_is_unlikely():
    sheet = fitting(
        player={"hand_length_mm": 150}, wishes={"mass_g": {"max": 950}, "edges": "thick", "profile": "full"}
    )
    kinds = [line.kind for line in lines_of(sheet)]
    assert kinds == ["unlikely", "conflict", "conflict", "unanswered", "unanswered"]


def test_conflict_of_a_wish_that_is_doubted_is_not_told_twice():
    chapters = {
        **ANSWERED,
        "game": {**ANSWERED["game"], "ball_marks_from_toe_mm": [240, 245, 250, 255, 260]},
        "pitches": {**ANSWERED["pitches"], "bounce": "high"},
        "wishes": {**ANSWERED["wishes"], "sweet_spot": "low"},
    }
    sheet = fitting(**chapters)
    found = recommend(sheet)
    assert any("wishes.sweet_spot" in one.fields for one in found.conflicts)
    about = [line for line in call_sheet(sheet, found, DEFAULT_BOOK) if "wishes.sweet_spot" in line.answers]
    assert [line.key for line in about] == ["marks"]


@pytest.mark.parametrize(
    ("chapters", "key", "chapter", "answers"),
    [
        (DRIVES, "bounce", "pitches", [{"bounce": "low"}, {"bounce": "high"}]),
        ({}, "approach", "game", [{"approach": "big_hitting"}, {"approach": "patient"}]),
        ({}, "ball", "game", [{"ball": ["machine"]}, {"ball": ["soft"]}]),
    ],
)
def test_answer_that_is_asked_for_changes_what_it_is_said_to_touch(chapters, key, chapter, answers):
    """Each of these moves something alone; others need a second answer beside them."""
    line = next(one for one in lines_of(fitting(**chapters)) if one.key == key)
    open_chapter = chapters.get(chapter, {})
    told = [
        {one.field: one.value for one in recommend(fitting(**{**chapters, chapter: said})).reasons}
        for said in (open_chapter, *({**open_chapter, **answer} for answer in answers))
    ]
    changed = {name for name, value in told[0].items() for other in told if other.get(name) != value}
    assert changed & set(line.touches)


@settings(max_examples=60, deadline=None)
@given(fittings())
def test_no_line_for_what_was_answered_and_at_most_five(sheet: FittingSheet):
    found = recommend(sheet)
    lines = call_sheet(sheet, found, DEFAULT_BOOK)
    assert len(lines) <= MOST_LINES
    assert len({(line.kind, line.key, line.answers) for line in lines}) == len(lines)
    for line in lines:
        given_for = [name for name in line.answers if _given(sheet, name)]
        if line.kind == "unanswered":
            assert not given_for
            assert line.touches
        elif line.kind == "unlikely":
            assert given_for == list(line.answers)
        else:
            assert line.conflict in found.conflicts


def _given(sheet: FittingSheet, name: str) -> bool:
    at: Any = sheet
    for part in name.split("."):
        at = getattr(at, part, None)
    return at is not None
