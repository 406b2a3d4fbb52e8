"""Signs of the book in words."""

from typing import get_args

import pytest

from fitting.sheets.book_rules import Condition, Sign, Subject
from fitting.sheets.default_book import DEFAULT_BOOK
from orders.words.signs import (
    SUBJECTS,
    say_condition,
    say_finding,
    say_option,
    say_sign,
    say_strength,
)


def test_every_subject_has_a_name():
    assert set(get_args(Subject)) <= set(SUBJECTS)


def test_every_sign_is_said_without_a_name_of_the_program():
    said = [f"{say_option(sign.subject, sign.option)} {say_sign(sign)}" for sign in DEFAULT_BOOK.rules.signs]

    assert not [words for words in said if "_" in words or "build." in words]
    assert not [words for words in said if "game." in words or "present_bat" in words]


@pytest.mark.parametrize(
    ("condition", "words"),
    [
        (Condition(answer="player.height_mm", below=1676.4), "your height: below 167.6 cm (5 ft 6 in)"),
        (
            Condition(answer="player.height_mm", at_least=1676.4, below=1778),
            "your height: from 167.6 cm (5 ft 6 in) to below 177.8 cm (5 ft 10 in)",
        ),
        (Condition(answer="game.shots.lofted", at_least=3), "your lofted strokes: brings you the most"),
        (Condition(answer="game.shots.lofted", at_least=2), "your lofted strokes: among your best 2 strokes"),
        (Condition(answer="game.shots.lofted", below=0.5), "your lofted strokes: brings hardly a run"),
        (
            Condition(answer="game.overs_mix.twenty", at_least=0.6),
            "20 overs or fewer, as a share of what you play: 60 % or more",
        ),
        (Condition(answer="player.strength", one_of=("light",)), "your strength: light"),
        (Condition(answer="pitches.often_damp", one_of=(True,)), "damp ground: yes"),
        (Condition(answer="build.child", one_of=(True,)), "a child's bat"),
        (Condition(answer="build.profile", one_of=("full",)), "chosen before, profile: full"),
    ],
)
def test_condition_is_said_as_the_interview_says_it(condition, words):
    assert say_condition(condition) == words


def test_usual_choice_needs_nothing():
    sign = Sign(subject="bow", option="slight", points=2, fact="bow.resting")

    assert say_sign(sign) == "with nothing said"


@pytest.mark.parametrize(
    ("points", "words"),
    [
        (9, "decides it, unless a wish does"),
        (2, "speaks strongly for it"),
        (1, "speaks for it"),
        (0.5, "speaks a little for it"),
        (0, "says nothing now"),
        (-0.5, "speaks a little against it"),
        (-2, "speaks strongly against it"),
        (-4, "all but rules it out"),
    ],
)
def test_strength_is_said_by_its_points(points, words):
    assert say_strength(points) == words


def test_answer_without_a_name_reads_as_it_stands():
    assert say_finding("moon.phase") == "moon.phase"
