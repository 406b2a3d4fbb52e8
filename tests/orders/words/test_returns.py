"""A return in words."""

from orders.care.models import Return
from orders.words.returns import ASKED, DECISIONS, UNSAFE, answers_words, decision_words


def test_every_decision_has_its_words():
    assert set(DECISIONS) == set(Return.Decision.values)
    assert decision_words("") == "not decided yet"
    assert decision_words("adjust") == "to be adjusted"


def test_answers_are_said_in_the_order_of_the_questions_and_open_ones_left_out():
    said = answers_words(
        {"knocked_in_hours": 1, "lifts": "too_heavy", "dead_at": [], "ball": ["soft", "none"]}
    )
    assert [(one.question, one.answer) for one in said] == [
        ("How does it lift?", "too heavy"),
        ("For how many hours was it knocked in?", "1 hour"),
        ("Which balls has it met?", "soft balls, none yet"),
    ]


def test_answers_that_make_a_bat_unsafe_are_marked():
    said = answers_words({"handle": ["loose"], "damage": ["toe_swollen"]})
    assert [one.unsafe for one in said] == [True, False]
    every = {value for _key, _words, choices in ASKED for value, _said in choices}
    assert every >= UNSAFE
