"""What was agreed, said to the bench."""

import pytest

from fitting.sheets.book_bench import DEFAULT_BENCH, STAGES
from orders.words.agreed import agreed_words
from orders.words.stages import (
    CAUTIONS,
    MEASURED,
    STEPS,
    caution_words,
    measured_words,
    missing_words,
    stage_rule,
    step_words,
)
from tests.builds import a_build


@pytest.mark.parametrize("stage", STAGES)
def test_agreed_words_say_something_of_every_stage(stage: str):
    facts = agreed_words(a_build(), stage)

    assert facts
    assert all(what and value and "%(" not in value for what, value in facts)


def test_agreed_words_name_what_is_put_on():
    said = dict(agreed_words(a_build(), "finishing"))

    assert said["Toe guard"] == "1 mm, 9 g"
    assert said["Film on the face"] == "none"
    assert said["Grips"] == "1, of 50 g"
    assert said["Knocking-in by the workshop"] == "60 minutes"


def test_agreed_words_tell_the_scoop_where_there_is_one():
    plain = dict(agreed_words(a_build(), "shaping"))
    scooped = dict(agreed_words(a_build(blade__toe__scoop={"length_mm": 95, "depth_mm": 10}), "shaping"))

    assert plain["Scoop at the toe"] == "none"
    assert scooped["Scoop at the toe"] == "95 mm long from 12 mm above the toe, 10 mm deep"


def test_every_key_of_the_book_has_words():
    for work in DEFAULT_BENCH.stages:
        for step in work.steps:
            assert "%(" not in step_words(step.key, DEFAULT_BENCH)
        for entry in work.entries:
            assert "%(" not in measured_words(entry.key, DEFAULT_BENCH)
        assert "%(" not in stage_rule(work.stage, DEFAULT_BENCH)
        assert len(caution_words(work.cautions)) == len(work.cautions) + 1


def test_no_words_without_a_key_of_the_book():
    steps = {step.key for work in DEFAULT_BENCH.stages for step in work.steps}
    cautions = {key for work in DEFAULT_BENCH.stages for key in work.cautions}
    measured = {entry.key for work in DEFAULT_BENCH.stages for entry in work.entries}

    assert set(STEPS) == steps
    assert set(CAUTIONS) == cautions
    # Rows of the inspection that are worked from more than one reading.
    assert set(MEASURED) - measured == {"edge", "pickup"}


def test_words_carry_the_books_own_numbers():
    changed = DEFAULT_BENCH.model_copy(update={"square_top_mm": 200.0})

    assert "leave the top 200 mm square" in stage_rule("shaping", changed)


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("cleft", "A cleft for this bat"),
        ("step:bind", "The step “Bind”"),
        ("reading:spine@2200", "The reading “spine at 220 mm from the toe”"),
        ("reading:mass", "The reading “mass”"),
    ],
)
def test_missing_words(word: str, said: str):
    assert missing_words(word, DEFAULT_BENCH) == said
