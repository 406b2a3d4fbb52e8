"""The way back from a fitting sheet to the answers that make it, as somebody would type them."""

from collections.abc import Iterator, Mapping
from typing import Any

from fitting.answers import SHOT_WEIGHTS
from fitting.questions import QUESTIONS, Part, Question
from fitting.sheets.fitting_sheet import FittingSheet


def answers_from(sheet: FittingSheet) -> dict[str, dict[str, str | list[str]]]:
    """Return the answers that make this sheet, typed in millimetres and grams."""
    values = sheet.model_dump(mode="json", exclude_none=True)
    answers: dict[str, dict[str, str | list[str]]] = {}
    for question in QUESTIONS:
        boxes = _boxes(question, values)
        if boxes:
            answers[question.key] = boxes
    return answers


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
        order = first if question.field_is_a_list else _heaviest(present)
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
