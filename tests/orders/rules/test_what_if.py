"""What the rule book says would be decided is what the recommendation decides."""

import pytest
from hypothesis import given, settings

from fitting.recommend import recommend
from fitting.recommend.answer import answer
from fitting.recommend.blade import bow_mm, crown_mm
from fitting.sheets.book_rules import Sign
from fitting.sheets.default_book import DEFAULT_BOOK
from orders.rules.told import subjects_in
from orders.rules.what_if import FIELDS, decided_in, questions_of, what_if
from tests.sheets import fitting, fittings

SUBJECTS = subjects_in(DEFAULT_BOOK)
BODY = {"age": "30", "height": "174 cm"}


def with_signs(*signs, without=""):
    """The default book with signs put on top, all of one subject taken out."""
    kept = tuple(sign for sign in DEFAULT_BOOK.rules.signs if sign.subject != without)
    rules = DEFAULT_BOOK.rules.model_copy(update={"signs": (*signs, *kept)})
    return DEFAULT_BOOK.model_copy(update={"rules": rules})


def decided(subject, said, book=DEFAULT_BOOK):
    found = what_if(subject, said, book).decided
    assert found is not None
    return found


def made(subject, build, book=DEFAULT_BOOK):
    """The option of a subject as it shows on the build sheet."""
    bows = {bow_mm(option, book): option for option in ("none", "slight", "full")}
    crowns = {crown_mm(option, book): option for option in ("flat", "resting", "rounded")}
    handle, guard = build.handle, build.protection
    sections = {("round", "round"): "round", ("oval", "oval"): "oval", ("round", "oval"): "round_to_oval"}
    return {
        "length": build.length_code,
        "sweet_spot": build.sweet_spot.choice,
        "profile": build.profile,
        "bow": bows[build.blade.bow_mm],
        "face": crowns[build.blade.face_crown_mm],
        "scoop": "scooped" if build.blade.toe.scoop else "none",
        "construction": handle.construction,
        "section": sections[handle.section_top, handle.section_bottom],
        "toe_guard": "on" if guard.toe_guard else "none",
        "face_film": "on" if guard.face_film else "none",
        "edge_tape": "on" if guard.edge_tape else "none",
        "grade": str(build.willow.grade),
    }[subject]


@settings(max_examples=25)
@given(fittings())
def test_what_is_told_is_what_is_recommended(sheet):
    build, found = recommend(sheet).build, answer(sheet, DEFAULT_BOOK)

    for subject in SUBJECTS:
        if subject not in ("edges", "toe", "length_child"):
            assert decided_in(found, subject).option == made(subject, build), subject


@pytest.mark.parametrize("subject", SUBJECTS)
def test_every_subject_is_decided_with_nothing_said(subject):
    told = decided(subject, {})

    assert told.reason.field == FIELDS[subject]
    assert [row.wins for row in told.weighed].count(True) == 1


def test_answers_move_the_decision():
    assert decided("bow", BODY).option == "slight"

    lofted = decided("bow", {**BODY, "shots.1": "lofted", "outfield_grass": "long"})

    assert lofted.option == "full"
    assert lofted.weighed[0].wins
    assert lofted.weighed[0].points > lofted.weighed[1].points
    assert any("lofted" in words for words in lofted.reason.because)


def test_wish_outranks_what_speaks_for_the_others():
    told = decided("bow", {**BODY, "shots.1": "lofted", "outfield_grass": "long", "wish_bow": "none"})

    assert told.option == "none"
    assert told.is_wish


def test_an_edited_book_decides_otherwise():
    heavy = Sign(subject="bow", option="full", points=9, fact="bow.for")

    assert decided("bow", BODY, with_signs(heavy)).option == "full"
    assert decided_in(answer(fitting(), with_signs(heavy)), "bow").option == "full"


@pytest.mark.parametrize(
    ("said", "box", "words"),
    [
        ({"age": "3", "height": "174 cm"}, "age", "4"),
        ({"age": "30", "height": ""}, "height", ""),
        ({**BODY, "approach": "sideways"}, "approach", "sideways"),
    ],
)
def test_what_cannot_be_read_is_told_at_its_box_and_kept(said, box, words):
    told = what_if("bow", said, DEFAULT_BOOK)

    assert told.decided is None
    at = next(one for one in told.boxes if one.name == box)
    assert at.fault
    assert words in at.fault
    assert at.value == said[box]


def test_questions_are_those_that_the_signs_look_at():
    asked = {question.key for question in questions_of("bow", DEFAULT_BOOK)}

    assert {"age", "height", "approach", "shots", "outfield_grass", "wish_bow", "wish_sweet_spot"} == asked
