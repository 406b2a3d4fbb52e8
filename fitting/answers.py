"""From answers as they were typed to the fields of the fitting sheet, and back.

An answer is what stood in the boxes of one question, by part: ``{"": "175 cm"}``, ``{"min": "2lb 8"}``,
``{"": ["toe", "edge"]}``, ``{"1": "cut", "2": "sweep"}``. Nothing is stored in another unit than the one
typed; the sheet is made from the answers each time.

What is asked in a player's words becomes a word of the sheet by common practice, no source: a good length
that reaches the knee roll is ``low`` bounce, the thigh ``medium``, the waist or higher ``high``; one finger
above the top glove is ``top``, two or three ``middle``, four or more ``bottom``; strength is the mass that
still goes where it is wanted late in a long innings (below 2 lb 7 ``light``, above 2 lb 10 ``strong``), for
juniors the seconds that a bat can be held straight out in the top hand (below 10 ``light``, above 20
``strong``); a bat that stings towards the toe has its sweet spot ``too_high`` for its player, one that stings
up by the splice ``too_low``, and a sting out at an edge says nothing of its height.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from fitting.likely import doubt
from fitting.questions import (
    BY_KEY,
    NO_BAT,
    QUESTIONS,
    UNSURE,
    Part,
    Question,
    Situation,
    counts,
)
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
    # What the whole box could be meant to say, where one unit for a list would settle it.
    written_out: tuple[str, ...] = ()


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
    """Read the boxes of one question; ``answers`` are the others, beside which it must be believable.

    Raises AnswerRefused with a fault for each box that is wrong, or that cannot be true beside another
    answer. An empty answer is not a fault.
    """
    known = _known_beside(question.key, answers)
    try:
        found = _understand(question, boxes, answers)
    except AnswerRefused as refused:
        believable = _believable(question, refused.faults, known)
        if believable is None:
            raise
        return believable
    odd = doubt(question.key, found.fields, known)
    if odd is None:
        return found
    part = next((part for part in question.parts if part.key == odd.part), question.parts[0])
    given = _text(boxes, part.key) or _text(boxes, question.parts[0].key)
    box = part.key if _text(boxes, part.key) else question.parts[0].key
    allowed = Part(part.key, part.measure, odd.limits)
    raise AnswerRefused(AnswerFault(question.key, box, odd.kind, given, allowed, _of(found, part.key)))


# Which other answers a question is looked at beside; none of these looks back at it.
_BESIDE: dict[str, tuple[str, ...]] = {
    "height": ("age",),
    "wrist_height": ("height",),
    "hand_length": ("height",),
    "inside_leg": ("height",),
    "ball_marks": ("bat_overall",),
    "bat_balance": ("bat_overall",),
}


def _known_beside(key: str, answers: Answers) -> dict[str, Any]:
    known: dict[str, Any] = {}
    for other in _BESIDE.get(key, ()):
        known |= _quietly(other, answers).fields
    return known


def _believable(
    question: Question, faults: tuple[AnswerFault, ...], known: Mapping[str, Any]
) -> Understood | None:
    """Return the one reading of a doubtful text that can be true beside other answers, if there is one."""
    if len(faults) != 1 or len(question.fields) != 1 or question.many:
        return None
    name = question.fields[0]
    left = [each for each in faults[0].readings if not doubt(question.key, {name: each.value}, known)]
    if faults[0].kind != "ambiguous" or len(left) != 1:
        return None
    return Understood({name: _plain(left[0])}, {faults[0].part: (left[0],)})


def _of(found: Understood, part: str) -> tuple[Typed, ...]:
    return found.measures.get(part, ())


def _understand(question: Question, boxes: Boxes, answers: Answers) -> Understood:
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
        if not counts(question, situation):
            continue
        understood = _quietly(question.key, answers)
        if question.required and understood.is_empty:
            missing.append(question.key)
        for name, value in understood.fields.items():
            _put(sheet, name, value)
    return SheetDraft(sheet, tuple(missing))


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
    if chosen in question.fills_nothing:
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
    for rank in range(1, question.most_ranks + 1):
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
            faults.append(_not_understood(question, part, pieces, refused))
        except _Odd as odd:
            faults.append(AnswerFault(question.key, part.key, odd.kind, text, part))
    if faults:
        raise AnswerRefused(*faults)
    return measured


def _not_understood(question: Question, part: Part, pieces: list[str], refused: NotUnderstood) -> AnswerFault:
    written_out: tuple[str, ...] = ()
    if question.many and refused.kind == "ambiguous":
        written_out = _in_one_unit(part, pieces)
    return AnswerFault(
        question.key, part.key, refused.kind, refused.given, part, refused.readings, written_out
    )


def _in_one_unit(part: Part, pieces: list[str]) -> tuple[str, ...]:
    """Return the list with one unit put to each bare number, for every unit in which all of it is allowed."""
    found = []
    for unit in ("mm", "cm", "in"):
        written = [f"{piece} {unit}" if re.fullmatch(r"[\d.,]+", piece) else piece for piece in pieces]
        try:
            for piece in written:
                _read(part, piece)
        except NotUnderstood:
            continue
        found.append("; ".join(written))
    return tuple(found)


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
    reading_part = question.parts[0]
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
    found = (Typed(round(place, 1), reading.system),)
    return Understood({question.fields[0]: round(place, 1)}, {**_said(measured), "place": found})


def _put(sheet: dict[str, Any], name: str, value: Any) -> None:
    *path, last = name.split(".")
    at = sheet
    for step in path:
        at = at.setdefault(step, {})
    at[last] = value
