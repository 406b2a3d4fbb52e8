"""What the rules would decide: a few answers of the interview, and one subject of what they lead to."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from fitting.answers import AnswerFault, AnswerRefused, sheet_from, situation_of, understand
from fitting.questions import BY_KEY, QUESTIONS, Part, Question
from fitting.recommend.answer import Answer, answer
from fitting.recommend.draft import Draft
from fitting.recommend.findings import CHOSEN
from fitting.recommend.recommend import told
from fitting.recommend.scores import Decision
from fitting.sheets.book import Book
from fitting.sheets.faults import Fault, SheetRefused, read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Reason
from orders.rules.told import WISHES, bar_of
from orders.words.answer_faults import say_answer_fault
from orders.words.faults import say_fault
from orders.words.measures import show_body
from orders.words.pickup import PLAIN_CHILD, PLAIN_PLAYER
from orders.words.questions import WORDS
from orders.words.reasons import WordedReason, say_confidence, word_reason
from orders.words.signs import question_for, say_option

# Without these two there is no recommendation; they stand first, filled in.
BODY = ("age", "height")
MOST_RANKS = 2

# The field of the build sheet that belongs to a subject.
FIELDS: dict[str, str] = {
    "length": "length_code",
    "length_child": "length_code",
    "sweet_spot": "sweet_spot.choice",
    "profile": "profile",
    "edges": "blade.stations.edge_mm",
    "bow": "blade.bow_mm",
    "face": "blade.face_crown_mm",
    "toe": "blade.stations.0.spine_mm",
    "scoop": "blade.toe.scoop",
    "construction": "handle.construction",
    "section": "handle.section_bottom",
    "toe_guard": "protection.toe_guard",
    "face_film": "protection.face_film",
    "edge_tape": "protection.edge_tape",
    "grade": "willow.grade",
}


@dataclass(frozen=True)
class Box:
    """One box of the form; with choices it is a list to pick from."""

    name: str
    label: str
    value: str
    fault: str = ""
    choices: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Weighed:
    """One option with its points as they add up."""

    name: str
    points: float
    bar: int
    wins: bool

    @property
    def points_said(self) -> str:
        """The points as the maker reads them."""
        return f"{self.points:g}"


@dataclass(frozen=True)
class Decided:
    """What the recommendation decides: the option, its value on the bat, why, how sure, and all points."""

    option: str
    name: str
    reason: WordedReason
    sure: str
    is_wish: bool
    weighed: tuple[Weighed, ...]


@dataclass(frozen=True)
class WhatIf:
    """The form as filled in and what comes of it; nothing while something in it is wrong."""

    boxes: tuple[Box, ...]
    decided: Decided | None = None
    faults: tuple[dict[str, str], ...] = field(default=())


def what_if(subject: str, said: Mapping[str, str], book: Book) -> WhatIf:
    """Read the form and let the recommendation decide."""
    questions = questions_of(subject, book)
    answers = {question.key: _boxes_said(question, said) for question in questions}
    if not said:
        body = PLAIN_CHILD if subject == "length_child" else PLAIN_PLAYER
        answers |= {"age": {"": str(body["age_years"])}, "height": {"": show_body(body["height_mm"])}}
    faults = _faults(questions, answers)
    boxes = tuple(box for question in questions for box in _boxes(question, answers[question.key], faults))
    told = tuple({"field_id": f"what-if-{name}", "words": words} for name, words in faults.items())
    if faults:
        return WhatIf(boxes, faults=told)
    drafted = sheet_from(answers, situation_of(answers, at_counter=True))
    try:
        sheet = read_sheet(FittingSheet, drafted.sheet)
    except SheetRefused as refused:
        return WhatIf(boxes, faults=tuple(_sheet_fault(fault) for fault in refused.faults))
    return WhatIf(boxes, decided=decided_in(answer(sheet, book), subject))


def decided_in(found: Answer, subject: str) -> Decided:
    """Say what an answered sheet decides in one subject, with the points of every option."""
    decision = decision_in(found.draft, subject)
    reason = next(one for one in told(found).reasons if one.field == FIELDS[subject])
    shown_as = "length" if subject == "length_child" else subject
    order = sorted(decision.points, key=lambda option: (option != decision.option, -decision.points[option]))
    return Decided(
        option=decision.option,
        name=say_option(shown_as, decision.option),
        reason=word_reason(reason),
        sure=say_confidence(decision.confidence),
        is_wish=_is_wish(subject, reason),
        weighed=tuple(
            Weighed(
                say_option(shown_as, option),
                decision.points[option],
                bar_of(decision.points[option]),
                option == decision.option,
            )
            for option in order
            if decision.points[option] or option == decision.option
        ),
    )


def decision_in(draft: Draft, subject: str) -> Decision:
    """Return the recommendation's own decision in one subject; KeyError where it makes none."""
    name = "length" if subject == "length_child" else subject
    for part in (draft, draft.blade, draft.handle, draft.dress):
        found = getattr(part, name, None)
        if isinstance(found, Decision):
            return found
    raise KeyError(subject)


def questions_of(subject: str, book: Book) -> tuple[Question, ...]:
    """Return the questions whose answers the signs of a subject look at, the body first, its wish last."""
    asked = {question.key: question for key in BODY if (question := BY_KEY.get(key))}
    for sign in book.rules.signs:
        for condition in sign.when if sign.subject == subject else ():
            chosen = condition.answer.removeprefix(CHOSEN)
            answer = WISHES.get(chosen) if condition.answer.startswith(CHOSEN) else condition.answer
            question = question_for(answer) if answer else None
            if question is not None:
                asked.setdefault(question.key, question)
    wish = question_for(WISHES[subject]) if subject in WISHES else None
    last = {wish.key} if wish else set()
    ordered = [question for question in QUESTIONS if question.key in asked and question.key not in last]
    return (*ordered, wish) if wish else tuple(ordered)


def _boxes_said(question: Question, said: Mapping[str, str]) -> dict[str, str | list[str]]:
    given = {part: said.get(_name(question, part), "").strip() for part in _parts(question)}
    if question.kind == "several":
        return {"": [given[""]] if given[""] else []}
    return dict(given)


def _faults(questions: tuple[Question, ...], answers: Mapping[str, Any]) -> dict[str, str]:
    """Return what is wrong by the name of the box."""
    found: dict[str, str] = {}
    for question in questions:
        try:
            understood = understand(question, answers[question.key], answers)
        except AnswerRefused as refused:
            for fault in refused.faults:
                found[_name(question, fault.part)] = say_answer_fault(fault)
            continue
        if question.key in BODY and understood.is_empty:
            part = question.parts[0] if question.parts else None
            found[_name(question, part.key if part else "")] = say_answer_fault(_needed(question, part))
    return found


def _needed(question: Question, part: Part | None) -> AnswerFault:
    return AnswerFault(question.key, part.key if part else "", "also_needed", "", part)


def _boxes(question: Question, said: Mapping[str, Any], faults: Mapping[str, str]) -> list[Box]:
    words = WORDS[question.key]
    choices = tuple((key, str(words.choices[key][0])) for key in question.choices if key in words.choices)
    return [
        Box(
            name=(name := _name(question, part)),
            label=_label(question, part),
            value=_shown(said.get(part, "")),
            fault=faults.get(name, ""),
            choices=choices,
        )
        for part in _parts(question)
    ]


def _shown(given: str | list[str]) -> str:
    return given if isinstance(given, str) else "".join(given[:1])


def _label(question: Question, part: str) -> str:
    words = WORDS[question.key]
    if part and part in words.parts:
        return f"{words.ask} {str(words.parts[part])[:1].upper()}{str(words.parts[part])[1:]}"
    return f"{words.ask} {part}." if part.isdigit() and question.ranks > 1 else str(words.ask)


def _parts(question: Question) -> tuple[str, ...]:
    if question.kind == "ranked":
        return tuple(str(rank) for rank in range(1, min(question.ranks, MOST_RANKS) + 1))
    return tuple(part.key for part in question.parts) or ("",)


def _name(question: Question, part: str) -> str:
    return f"{question.key}.{part}" if part else question.key


def _is_wish(subject: str, reason: Reason) -> bool:
    return any(one.answer == WISHES.get(subject) for one in reason.because if one.answer)


def _sheet_fault(fault: Fault) -> dict[str, str]:
    return {"field_id": "", "words": say_fault(fault, FittingSheet)}
