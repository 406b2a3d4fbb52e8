"""Every question of the interview has its words, and they stay plain."""

import re

import pytest

from fitting.questions import CHAPTERS, QUESTIONS, Situation, pages
from orders.words.questions import CHAPTERS as CHAPTER_WORDS
from orders.words.questions import JUNIOR_WORDS, PAGES, WORDS, words_for

SITUATIONS = [Situation(30, at_counter=True), Situation(12), Situation(None)]
JUNIOR_QUESTIONS = [question.key for page in pages(Situation(12)) for question in page.questions]
# The project's own bound for what a child reads (grade of Flesch and Kincaid).
HARDEST_GRADE = 6.0


def syllables(word: str) -> int:
    groups = re.findall(r"[aeiouy]+", word.lower())
    silent = word.lower().endswith("e") and len(groups) > 1 and not word.lower().endswith("le")
    return max(1, len(groups) - silent)


def reading_grade(text: str) -> float:
    """Flesch and Kincaid's grade: 0.39 words a sentence + 11.8 syllables a word - 15.59."""
    sentences = [part for part in re.split(r"[.?!:;]+(?:\s|$)", text) if re.search(r"[A-Za-z]", part)]
    words = re.findall(r"[A-Za-z']+", text)
    return 0.39 * len(words) / len(sentences) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59


def test_every_question_has_words_and_nothing_else_has() -> None:
    assert set(WORDS) == {question.key for question in QUESTIONS}


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda question: question.key)
def test_question_words_its_why_its_choices_and_its_boxes(question) -> None:
    words = WORDS[question.key]
    assert str(words.ask).endswith("?")
    assert str(words.why).endswith(".")
    assert set(words.choices) == set(question.choices)
    assert set(words.parts) == {part.key for part in question.parts if part.key}


def test_chapters_and_pages_have_words() -> None:
    assert set(CHAPTER_WORDS) == set(CHAPTERS)
    assert set(PAGES) == {page.key for situation in SITUATIONS for page in pages(situation)}


def test_page_titles_differ() -> None:
    assert len({str(title) for title in PAGES.values()}) == len(PAGES)


def test_reading_grade_tells_hard_from_easy() -> None:
    assert reading_grade("The cat sat. The dog ran.") < 2
    assert (
        reading_grade("Anthropometric considerations necessitate comprehensive dimensional verification.")
        > 12
    )


@pytest.mark.parametrize("key", JUNIOR_QUESTIONS)
def test_what_a_child_is_asked_reads_easily(key: str) -> None:
    words = words_for(key, junior=True)
    assert reading_grade(f"{words.ask} {words.why}") <= HARDEST_GRADE


@pytest.mark.parametrize("key", JUNIOR_WORDS)
def test_words_for_a_child_choose_among_the_same(key: str) -> None:
    assert set(JUNIOR_WORDS[key].choices) == set(WORDS[key].choices)
    assert words_for(key, junior=True) is not words_for(key, junior=False)


def test_strength_of_a_grown_player_is_asked_by_a_mass_that_still_goes_where_it_is_wanted() -> None:
    assert "Late in a long innings" in str(WORDS["strength"].ask)
    assert {key: str(word) for key, (word, _more) in WORDS["strength"].choices.items()} == {
        "light": "under 2 lb 7",
        "average": "2 lb 7 to 2 lb 10",
        "strong": "over 2 lb 10",
    }
