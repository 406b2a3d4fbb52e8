"""What the player said and why the recommendation is as it is, in words, for the maker's eyes."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from fitting.answers import Boxes, situation_of
from fitting.answers_written import answers_from
from fitting.questions import QUESTIONS, UNSURE, applies
from fitting.sheets.faults import read_sheet
from fitting.sheets.recommendation import Caution, Conflict, Reason
from orders.commissions.builds import sheet_of, weighing_of
from orders.commissions.models import BuildVersion, Commission
from orders.interview.asked import answered_words, words_of
from orders.words.choices import SUBJECTS, subject_of
from orders.words.effects import say_effect
from orders.words.questions import CHAPTERS
from orders.words.reasons import WordedReason, say_caution, say_conflict, say_ways_out, word_reason


@dataclass(frozen=True)
class Answer:
    """One question and what was said."""

    ask: str
    words: str
    unsure: bool


@dataclass(frozen=True)
class Chapter:
    """The answers of one chapter."""

    title: str
    answers: tuple[Answer, ...]


@dataclass(frozen=True)
class Said:
    """All answers, and the questions that were left open: what to ask on the phone."""

    chapters: tuple[Chapter, ...]
    left_open: tuple[str, ...]


@dataclass(frozen=True)
class PulledApart:
    """Answers or wishes that disagree."""

    words: str
    cost: tuple[str, ...]
    ways_out: tuple[str, ...]


@dataclass(frozen=True)
class Why:
    """The recommendation's reasons by subject, what pulls apart, and the cautions."""

    subjects: tuple[tuple[str, tuple[WordedReason, ...]], ...]
    conflicts: tuple[PulledApart, ...]
    cautions: tuple[str, ...]


def said_by(commission: Commission) -> Said:
    """Return what the player said, as typed where the fitting keeps it, else from the sheet."""
    fitting = commission.fitting
    typed: Mapping[str, Boxes] = (fitting.answers if fitting else {}) or answers_from(sheet_of(commission))
    situation = situation_of(typed, at_counter=fitting is not None and fitting.begun_by_id is not None)
    found: dict[str, list[Answer]] = {}
    left_open = []
    for question in QUESTIONS:
        boxes = typed.get(question.key, {})
        words = answered_words(question, boxes, typed)
        if words:
            answer = Answer(str(words_of(question, typed).ask), words, boxes.get("") == UNSURE)
            found.setdefault(question.chapter, []).append(answer)
        elif applies(question, situation):
            left_open.append(str(words_of(question, typed).ask))
    chapters = tuple(Chapter(str(CHAPTERS[key]), tuple(rows)) for key, rows in found.items())
    return Said(chapters, tuple(left_open))


def why_of(version: BuildVersion) -> Why:
    """Return the reasons stored with a recommended build."""
    stored = version.reasons
    reasons = [read_sheet(Reason, one) for one in stored.get("reasons", ())]
    conflicts = [read_sheet(Conflict, one) for one in stored.get("conflicts", ())]
    pickup = weighing_of(version).inertia_kg_m2.pickup
    cautions = [read_sheet(Caution, one) for one in stored.get("cautions", ())]
    return Why(
        subjects=tuple(_by_subject(reasons)),
        conflicts=tuple(
            PulledApart(say_conflict(one), say_effect(one.cost, pickup_kg_m2=pickup), say_ways_out(one))
            for one in conflicts
        ),
        cautions=tuple(say_caution(one.key) for one in cautions),
    )


def _by_subject(reasons: list[Reason]) -> Iterator[tuple[str, tuple[WordedReason, ...]]]:
    for key, title in SUBJECTS.items():
        of_it = tuple(word_reason(one) for one in reasons if subject_of(one.field) == key)
        if of_it:
            yield str(title), of_it
