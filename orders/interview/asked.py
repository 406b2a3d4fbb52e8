"""One page of the interview as its template shows it: questions, boxes, choices, echoes and faults."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.http import QueryDict
from django.utils import translation
from django.utils.translation import gettext as _

from fitting.answers import (
    AnswerFault,
    AnswerRefused,
    Boxes,
    Understood,
    situation_of,
    understand,
)
from fitting.questions import UNSURE, Page, Part, Question
from fitting.remarks import remark_on
from fitting.sheets.book import Book
from fitting.units import Typed
from orders.words.answer_faults import BODY_QUESTIONS, say_answer_fault, say_readings
from orders.words.measures import show_body, show_length, show_mass
from orders.words.questions import UNSURE as UNSURE_WORD
from orders.words.questions import Text, Words, words_for
from orders.words.remarks import say_remark

# More choices than this are picked from a list that unfolds.
MOST_RADIOS = 6


@dataclass(frozen=True)
class Choice:
    """One choice: its key, word and explanation, and whether it is chosen."""

    id: str
    value: str
    word: Text
    more: Text
    chosen: bool


@dataclass(frozen=True)
class Box:
    """One box to type in or to pick from, with its own label where a question has several."""

    id: str
    name: str
    label: Text
    value: str
    kind: str
    fault: str
    inputmode: str = "text"
    choices: tuple[Choice, ...] = ()
    # What a doubtful text may mean; each can be picked and then stands in the box.
    readings: tuple[str, ...] = ()


@dataclass(frozen=True)
class Asked:
    """One question as shown."""

    key: str
    ask: Text
    why: Text
    how: Text
    widget: str
    required: bool
    boxes: tuple[Box, ...]
    choices: tuple[Choice, ...]
    echo: str
    remark: str
    fault: str
    drawing: str = ""
    drawing_open: bool = False

    @property
    def is_group(self) -> bool:
        """Whether it needs a fieldset with a legend rather than one label."""
        return self.widget in {"radios", "checks"} or len(self.boxes) > 1

    @property
    def has_fault(self) -> bool:
        """Whether anything in it is refused."""
        return bool(self.fault) or any(box.fault for box in self.boxes)


@dataclass(frozen=True)
class Summed:
    """One line of the error summary."""

    field_id: str
    words: str


def name_of(question: Question, part: str) -> str:
    """Return the name (and id) of a box in the form."""
    return f"{question.key}-{part}" if part else question.key


def read_form(page: Page, posted: QueryDict) -> dict[str, Boxes]:
    """Take what stood in the boxes of a page from its form."""
    return {question.key: _read_question(question, posted) for question in page.questions}


def _read_question(question: Question, posted: QueryDict) -> Boxes:
    if question.kind == "several":
        return {"": posted.getlist(name_of(question, ""))}
    return {key: posted.get(name_of(question, key), "") for key in _part_keys(question)}


def _part_keys(question: Question) -> list[str]:
    if question.kind == "ranked":
        return [str(rank) for rank in range(1, question.most_ranks + 1)]
    return [part.key for part in question.parts] or [""]


def _asked_keys(question: Question, boxes: Boxes) -> list[str]:
    """Return the boxes to show: of a long ranking no more than are asked, or were filled in once."""
    keys = _part_keys(question)
    if question.kind != "ranked":
        return keys
    filled = [int(key) for key in keys if boxes.get(key)]
    return keys[: max([question.ranks, *filled])]


def words_of(question: Question, answers: Mapping[str, Boxes]) -> Words:
    """Return the words of a question as they are put to this player."""
    return words_for(question.key, junior=situation_of(answers, at_counter=False).is_junior)


def page_as_shown(
    page: Page,
    answers: Mapping[str, Boxes],
    book: Book,
    *,
    typed: Mapping[str, Boxes] | None = None,
    faults: Iterable[AnswerFault] = (),
) -> list[Asked]:
    """Lay out the questions of a page with what was answered, or with what was just typed.

    An answer that was kept and no longer goes with another one, changed since, is asked back as well.
    """
    shown = {**answers, **(typed or {})}
    found = list(faults) if typed is not None else stale(page, answers)
    by_question: dict[str, dict[str, AnswerFault]] = {}
    for fault in found:
        by_question.setdefault(fault.question, {})[fault.part] = fault
    return [_asked(question, shown, by_question.get(question.key, {}), book) for question in page.questions]


def stale(page: Page, answers: Mapping[str, Boxes]) -> list[AnswerFault]:
    """Return what is wrong now with answers of a page that were right when they were kept."""
    found: list[AnswerFault] = []
    for question in page.questions:
        try:
            understand(question, answers.get(question.key, {}), answers)
        except AnswerRefused as refused:
            found += refused.faults
    return found


def summary(questions: Iterable[Asked]) -> list[Summed]:
    """List every fault of a page with the place it stands at, in the same words."""
    lines = []
    for asked in questions:
        if asked.fault:
            lines.append(Summed(_first_id(asked), f"{asked.ask} {asked.fault}"))
        lines += [
            Summed(box.id, f"{asked.ask} {box.label + ': ' if box.label else ''}{box.fault}")
            for box in asked.boxes
            if box.fault
        ]
    return lines


def _first_id(asked: Asked) -> str:
    return asked.choices[0].id if asked.choices else asked.key


def _asked(
    question: Question, answers: Mapping[str, Boxes], faults: Mapping[str, AnswerFault], book: Book
) -> Asked:
    words, boxes = words_of(question, answers), answers.get(question.key, {})
    widget = _widget(question)
    shown = tuple(_boxes(question, words, boxes, faults)) if widget in {"boxes", "ranks", "pick"} else ()
    whole = faults.get("")
    return Asked(
        key=question.key,
        ask=words.ask,
        why=words.why,
        how=words.how,
        widget=widget,
        required=question.required,
        boxes=shown,
        choices=_choices(question, words, boxes.get("", "")) if widget in {"radios", "checks"} else (),
        echo="" if faults else echo(question, boxes, answers),
        remark="" if faults or not boxes else _remark(question, boxes, answers, book),
        fault=say_answer_fault(whole) if whole and not shown else "",
        drawing=f"interview/how/{question.drawing}.html" if question.drawing else "",
        drawing_open=question.drawing_open,
    )


def _widget(question: Question) -> str:
    if question.kind == "one":
        return "pick" if len(question.choices) > MOST_RADIOS else "radios"
    return {"typed": "boxes", "several": "checks", "ranked": "ranks"}[question.kind]


def _choices(question: Question, words: Words, chosen: Any, *, prefix: str = "") -> tuple[Choice, ...]:
    picked = chosen if isinstance(chosen, list) else [chosen]
    name = prefix or question.key
    rows = [(key, *words.choices[key]) for key in question.choices]
    if question.offers_unsure:
        rows.append((UNSURE, UNSURE_WORD, ""))
    return tuple(Choice(f"{name}-{key}", key, word, more, key in picked) for key, word, more in rows)


def _boxes(
    question: Question, words: Words, boxes: Boxes, faults: Mapping[str, AnswerFault]
) -> Iterable[Box]:
    parts: dict[str, Part] = {part.key: part for part in question.parts}
    for key in _asked_keys(question, boxes):
        name = name_of(question, key)
        value = boxes.get(key, "")
        part, fault = parts.get(key), faults.get(key)
        yield Box(
            id=name,
            name=name,
            label=_rank_label(int(key)) if question.kind == "ranked" else words.parts.get(key, ""),
            value=value if isinstance(value, str) else "",
            kind="date" if part and part.measure == "date" else "text",
            fault=say_answer_fault(fault) if fault else "",
            inputmode=_inputmode(part),
            choices=() if part else _choices(question, words, value, prefix=name),
            readings=readings_to_type(fault) if fault else (),
        )


def readings_to_type(fault: AnswerFault) -> tuple[str, ...]:
    """Return what a doubtful text may mean as it can be typed: in the language that is read."""
    with translation.override(None):
        return tuple(say_readings(fault))


def _inputmode(part: Part | None) -> str:
    """Numbers alone get the keyboard of numbers; units need letters."""
    if part is None or part.measure in {"length", "mass", "date"}:
        return "text"
    return "numeric" if part.measure == "whole" else "decimal"


def _rank_label(rank: int) -> str:
    return [_("first"), _("second"), _("third"), _("fourth"), _("fifth"), _("sixth")][rank - 1]


def _remark(question: Question, boxes: Boxes, answers: Mapping[str, Boxes], book: Book) -> str:
    """Say what does not quite go with another answer, though it is kept; in the units that were typed."""
    remark = remark_on(question.key, answers, book)
    if remark is None:
        return ""
    measured = understand(question, boxes, answers).measures.values()
    return say_remark(remark, next((typed[0].system for typed in measured if typed), "metric"))


def echo(question: Question, boxes: Boxes, answers: Mapping[str, Boxes]) -> str:
    """Say back what was understood of typed measures, in both systems, or nothing."""
    if question.kind != "typed":
        return ""
    try:
        understood = understand(question, boxes, answers)
    except AnswerRefused:
        return ""
    said = [_say_back(question, part, understood) for part in question.parts]
    return "; ".join(each for each in said if each)


def _say_back(question: Question, part: Part, understood: Understood) -> str:
    typed = understood.measures.get(part.key, ())
    if not typed:
        return ""
    if question.key == "bat_balance" and part.key == "reading":
        return ""
    if question.many:
        return _("%(here)s from the toe") % {"here": ", ".join(show_length(one.value) for one in typed)}
    both = _("%(here)s, that is %(there)s") % {
        "here": _show(question, part, typed[0], own=True),
        "there": _show(question, part, typed[0], own=False),
    }
    if question.key == "bat_balance":
        return _("it balances %(both)s, from the toe") % {"both": both}
    return both


def _show(question: Question, part: Part, typed: Typed, *, own: bool) -> str:
    system = typed.system if own else ("imperial" if typed.system == "metric" else "metric")
    if part.measure == "mass":
        return show_mass(typed.value, system)
    if question.key in BODY_QUESTIONS:
        return show_body(typed.value, system)
    return show_length(typed.value, system)


def answered_words(question: Question, boxes: Boxes, answers: Mapping[str, Boxes]) -> str:
    """Say one answer in words, for the page that shows all of them."""
    words = words_of(question, answers)
    if question.kind == "typed":
        typed = [
            f"{words.parts[part.key]}: {boxes[part.key]}" if part.key else str(boxes[part.key])
            for part in question.parts
            if boxes.get(part.key)
        ]
        said = echo(question, boxes, answers)
        return "; ".join(typed) + (f" ({said})" if said else "")
    chosen: list[str] = []
    for key in _part_keys(question):
        value = boxes.get(key, "")
        chosen += value if isinstance(value, list) else [value]
    return ", ".join(str(UNSURE_WORD if key == UNSURE else words.choices[key][0]) for key in chosen if key)
