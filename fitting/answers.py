"""From answers as they were typed to the fields of the fitting sheet, and back.

An answer is what stood in the boxes of one question, by part: ``{"": "175 cm"}``, ``{"min": "2lb 8"}``,
``{"": ["toe", "edge"]}``, ``{"1": "cut", "2": "sweep"}``. Nothing is stored in another unit than the one
typed; the sheet is made from the answers each time.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from fitting.questions import (
    BY_KEY,
    NO_BAT,
    QUESTIONS,
    UNSURE,
    Part,
    Question,
    Situation,
    applies,
)
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.units import NotUnderstood, Typed, read_length, read_mass, read_number

Boxes = Mapping[str, str | list[str]]
Answers = Mapping[str, Boxes]

# Where the two supports of the home measurement stand: from the handle's top and from the toe.
SUPPORT_MM = 50.0
SHOT_WEIGHTS = (3, 2, 1)
BETWEEN_MARKS = re.compile(r"[;\n]|,\s+|\s+and\s+")


@dataclass(frozen=True)
class AnswerFault:
    """Why one box is refused: the kind, what was given, and the part that says what is allowed."""

    question: str
    part: str
    kind: str
    given: str
    allowed: Part | None = None
    readings: tuple[Typed, ...] = ()


class AnswerRefused(ValueError):
    """An answer that cannot be used, with every fault."""

    def __init__(self, *faults: AnswerFault) -> None:
        super().__init__("; ".join(f"{fault.question}: {fault.kind}" for fault in faults))
        self.faults = faults


@dataclass(frozen=True)
class Understood:
    """What an answer fills in: sheet fields with their values, and the measures for saying them back."""

    fields: dict[str, Any] = field(default_factory=dict)
    measures: dict[str, tuple[Typed, ...]] = field(default_factory=dict)
    unsure: bool = False

    @property
    def is_empty(self) -> bool:
        """Whether nothing was answered, not even "not sure"."""
        return not self.fields and not self.unsure


@dataclass(frozen=True)
class SheetDraft:
    """The fitting sheet as far as it is answered, as JSON, and the required questions still open."""

    sheet: dict[str, Any]
    missing: tuple[str, ...]


def balance_from_reading(*, reading_g: float, mass_g: float, overall_length_mm: float) -> float:
    """Return the balance in mm from the toe, from a scale under the blade.

    The bat lies on two supports, one 50 mm below the handle's top, one on the scale 50 mm above the toe;
    taking moments about the first: b = (L - 50) - reading / mass (L - 100). Lengths in mm, masses in g.
    """
    span = overall_length_mm - 2 * SUPPORT_MM
    return overall_length_mm - SUPPORT_MM - reading_g / mass_g * span


def situation_of(answers: Answers, *, at_counter: bool) -> Situation:
    """Return what the answers say about which questions apply."""
    age = _quietly("age", answers).fields.get("player.age_years")
    liked = answers.get("bat_liked", {}).get("")
    has_bat = {NO_BAT: False, "yes": True, "no": True}.get(str(liked))
    return Situation(age_years=age, has_bat=has_bat, at_counter=at_counter)


def understand(question: Question, boxes: Boxes, answers: Answers) -> Understood:
    """Read the boxes of one question; ``answers`` are the others, which a balance needs.

    Raises AnswerRefused with a fault for each box that is wrong. An empty answer is not a fault.
    """
    readers: dict[str, Callable[[Question, Boxes], Understood]] = {
        "one": _one,
        "several": _several,
        "ranked": _ranked,
    }
    if question.kind in readers:
        return readers[question.kind](question, boxes)
    if question.key == "bat_balance":
        return _balance(question, boxes, answers)
    measured = _measured(question, boxes)
    return _JOINED.get(question.key, _single)(question, measured)


def sheet_from(answers: Answers, situation: Situation) -> SheetDraft:
    """Make the fitting sheet from every answer that applies and can be read."""
    sheet: dict[str, Any] = {"sheet": 1}
    missing = []
    for question in QUESTIONS:
        if not applies(question, situation):
            continue
        understood = _quietly(question.key, answers)
        if question.required and understood.is_empty:
            missing.append(question.key)
        for name, value in understood.fields.items():
            _put(sheet, name, value)
    return SheetDraft(sheet, tuple(missing))


def answers_from(sheet: FittingSheet) -> dict[str, dict[str, str | list[str]]]:
    """Return the answers that make this sheet, typed in millimetres and grams."""
    values = sheet.model_dump(mode="json", exclude_none=True)
    answers: dict[str, dict[str, str | list[str]]] = {}
    for question in QUESTIONS:
        boxes = _boxes(question, values)
        if boxes:
            answers[question.key] = boxes
    return answers


def _quietly(key: str, answers: Answers) -> Understood:
    """Read an answer, counting one that is refused as none: only good ones are kept anyway."""
    try:
        return understand(BY_KEY[key], answers.get(key, {}), answers)
    except AnswerRefused:
        return Understood()


def _text(boxes: Boxes, key: str) -> str:
    found = boxes.get(key, "")
    return found.strip() if isinstance(found, str) else ""


def _one(question: Question, boxes: Boxes) -> Understood:
    chosen = _text(boxes, "")
    if not chosen:
        return Understood()
    if chosen == UNSURE:
        return Understood(unsure=True)
    if chosen not in question.choices:
        raise AnswerRefused(AnswerFault(question.key, "", "not_a_choice", chosen))
    if chosen == NO_BAT and question.key == "bat_liked":
        return Understood()
    value: str | int | bool = chosen
    if question.becomes == "yes_no":
        value = chosen == "yes"
    elif question.becomes == "whole":
        value = int(chosen)
    return Understood({question.fields[0]: value})


def _several(question: Question, boxes: Boxes) -> Understood:
    given = boxes.get("", [])
    chosen = [given] if isinstance(given, str) else list(given)
    stray = [word for word in chosen if word not in question.choices]
    if stray:
        raise AnswerRefused(AnswerFault(question.key, "", "not_a_choice", stray[0]))
    ticked = [word for word in question.choices if word in chosen]
    return Understood({question.fields[0]: ticked} if ticked else {})


def _ranked(question: Question, boxes: Boxes) -> Understood:
    order: list[str] = []
    for rank in range(1, question.ranks + 1):
        chosen = _text(boxes, str(rank))
        if not chosen:
            continue
        if chosen not in question.choices:
            raise AnswerRefused(AnswerFault(question.key, str(rank), "not_a_choice", chosen))
        if chosen in order:
            raise AnswerRefused(AnswerFault(question.key, str(rank), "twice", chosen))
        order.append(chosen)
    if not order:
        return Understood()
    if question.key == "shots":
        weights = zip(order, SHOT_WEIGHTS, strict=False)
        return Understood({f"game.shots.{shot}": weight for shot, weight in weights})
    return Understood({question.fields[0]: order})


def _measured(question: Question, boxes: Boxes) -> dict[str, tuple[Any, ...]]:
    """Read every box that holds something; the numbers by part, several where marks are listed."""
    faults: list[AnswerFault] = []
    measured: dict[str, tuple[Any, ...]] = {}
    for part in question.parts:
        text = _text(boxes, part.key)
        pieces = _pieces(text) if question.many else [text]
        if not text:
            continue
        try:
            measured[part.key] = tuple(_read(part, piece) for piece in pieces)
        except NotUnderstood as refused:
            faults.append(
                AnswerFault(question.key, part.key, refused.kind, refused.given, part, refused.readings)
            )
        except _Odd as odd:
            faults.append(AnswerFault(question.key, part.key, odd.kind, text, part))
    if faults:
        raise AnswerRefused(*faults)
    return measured


class _Odd(ValueError):
    def __init__(self, kind: str) -> None:
        super().__init__(kind)
        self.kind = kind


def _read(part: Part, text: str) -> Any:
    if part.measure == "length":
        return read_length(text, part.limits)
    if part.measure == "mass":
        return read_mass(text, part.limits)
    if part.measure == "date":
        return _date(text, part)
    value = read_number(text, part.limits)
    if part.measure == "whole" and value != int(value):
        raise _Odd("not_whole")
    return int(value) if part.measure == "whole" else value


def _date(text: str, part: Part) -> str:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise _Odd("not_a_date") from None
    if not part.limits.hold(day.year):
        raise _Odd("date_out_of_range")
    return day.isoformat()


def _pieces(text: str) -> list[str]:
    """Split a list of marks: at commas with a space, semicolons, "and"; bare numbers at spaces too."""
    if re.fullmatch(r"[\d\s]+", text):
        return text.split()
    if re.fullmatch(r"\d{2,3}(\s*,\s*\d{2,3})+", text):
        return re.split(r"\s*,\s*", text)
    return [piece.strip() for piece in BETWEEN_MARKS.split(text) if piece.strip()]


def _plain(value: Any) -> Any:
    """Return a measure as the sheet holds it: to a tenth of a millimetre or gram."""
    return round(value.value, 1) if isinstance(value, Typed) else value


def _said(measured: Mapping[str, tuple[Any, ...]]) -> dict[str, tuple[Typed, ...]]:
    return {
        key: tuple(value for value in values if isinstance(value, Typed)) for key, values in measured.items()
    }


def _single(question: Question, measured: Mapping[str, tuple[Any, ...]]) -> Understood:
    values = measured.get("", ())
    if not values:
        return Understood()
    plain = [_plain(value) for value in values]
    return Understood({question.fields[0]: plain if question.many else plain[0]}, _said(measured))


def _overs_mix(question: Question, measured: Mapping[str, tuple[Any, ...]]) -> Understood:
    if not measured:
        return Understood()
    played = {part.key: measured.get(part.key, (0,))[0] for part in question.parts}
    if not any(played.values()):
        raise AnswerRefused(AnswerFault(question.key, question.parts[0].key, "nothing_played", "0"))
    return Understood({f"game.overs_mix.{key}": value for key, value in played.items()})


def _mass_range(question: Question, measured: Mapping[str, tuple[Any, ...]]) -> Understood:
    ends = {key: _plain(values[0]) for key, values in measured.items()}
    if len(ends) == 2 and ends["min"] > ends["max"]:
        given = measured["min"][0]
        raise AnswerRefused(AnswerFault(question.key, "min", "ends_crossed", given.text, readings=(given,)))
    return Understood({f"wishes.mass_g.{key}": value for key, value in ends.items()}, _said(measured))


def _pendulum(question: Question, measured: Mapping[str, tuple[Any, ...]]) -> Understood:
    if not measured:
        return Understood()
    without = [part for part in question.parts if part.key not in measured]
    if without:
        raise AnswerRefused(
            *(AnswerFault(question.key, part.key, "also_needed", "", part) for part in without)
        )
    values = [_plain(measured[part.key][0]) for part in question.parts]
    return Understood(dict(zip(question.fields, values, strict=True)), _said(measured))


_JOINED: dict[str, Callable[[Question, Mapping[str, tuple[Any, ...]]], Understood]] = {
    "overs_mix": _overs_mix,
    "wish_mass": _mass_range,
    "pendulum": _pendulum,
}


def _balance(question: Question, boxes: Boxes, answers: Answers) -> Understood:
    """Take the balance as found by hand, else from the scale's reading with mass and length."""
    measured = _measured(question, boxes)
    reading_part, place_part = question.parts
    if "place" in measured:
        return Understood({question.fields[0]: _plain(measured["place"][0])}, _said(measured))
    if "reading" not in measured:
        return Understood()
    reading = measured["reading"][0]
    mass = _quietly("bat_mass", answers).fields.get("present_bat.mass_g")
    overall = _quietly("bat_overall", answers).fields.get("present_bat.overall_length_mm")
    if mass is None or overall is None:
        raise AnswerRefused(
            AnswerFault(
                question.key, "reading", "needs_mass_and_length", _text(boxes, "reading"), reading_part
            )
        )
    place = balance_from_reading(reading_g=reading.value, mass_g=mass, overall_length_mm=overall)
    if not place_part.limits.hold(place) or place >= overall:
        found = (Typed(round(place, 1), reading.system),)
        raise AnswerRefused(
            AnswerFault(
                question.key, "reading", "balance_unlikely", _text(boxes, "reading"), place_part, found
            )
        )
    found = (Typed(round(place, 1), reading.system),)
    return Understood({question.fields[0]: round(place, 1)}, {**_said(measured), "place": found})


def _put(sheet: dict[str, Any], name: str, value: Any) -> None:
    *path, last = name.split(".")
    at = sheet
    for step in path:
        at = at.setdefault(step, {})
    at[last] = value


def _get(values: Any, name: str) -> Any:
    for step in name.split("."):
        values = values.get(step) if isinstance(values, dict) else None
    return values


def _boxes(question: Question, values: dict[str, Any]) -> dict[str, str | list[str]]:
    found = {name: _get(values, name) for name in question.fields}
    present = {name: value for name, value in found.items() if value is not None}
    if not present:
        return {}
    first = found[question.fields[0]]
    if question.kind == "ranked":
        order = first if question.ranks > len(SHOT_WEIGHTS) else _heaviest(present)
        return {str(rank): str(word) for rank, word in enumerate(order, start=1)}
    if question.kind == "several":
        return {"": [str(word) for word in first]}
    if question.kind == "one":
        return {"": _word(first)}
    if question.many:
        return {"": "; ".join(_measure_text(question.parts[0], value) for value in first)}
    if question.key == "bat_balance":
        return {"place": _measure_text(question.parts[1], first)}
    return {
        part.key: _measure_text(part, found[name])
        for name, part in zip(question.fields, question.parts, strict=True)
        if found[name] is not None
    }


def _heaviest(shots: Mapping[str, float]) -> Iterator[str]:
    most = sorted(shots.items(), key=lambda item: -item[1])[: len(SHOT_WEIGHTS)]
    return (name.rpartition(".")[2] for name, weight in most if weight > 0)


def _word(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _measure_text(part: Part, value: Any) -> str:
    unit = {"length": " mm", "mass": " g"}.get(part.measure, "")
    return f"{value:g}{unit}" if isinstance(value, float | int) else str(value)


def leaf_fields(questions: Iterable[Question] = QUESTIONS) -> list[str]:
    """Return every field of the fitting sheet that the questions fill."""
    return [name for question in questions for name in question.fields]
