"""In which units a player thinks: those that most of the typed measures were given in."""

from collections import Counter
from collections.abc import Iterator, Mapping

from fitting.answers import AnswerRefused, Boxes, understand
from fitting.questions import QUESTIONS
from fitting.units import System, Typed


def system_of(answers: Mapping[str, Boxes]) -> System:
    """Return the system of units of most measures that were typed; metric where they are even or none."""
    counted = Counter(typed.system for typed in _typed(answers))
    return "imperial" if counted["imperial"] > counted["metric"] else "metric"


def _typed(answers: Mapping[str, Boxes]) -> Iterator[Typed]:
    for question in QUESTIONS:
        boxes = answers.get(question.key)
        if not boxes or question.kind != "typed":
            continue
        try:
            understood = understand(question, boxes, answers)
        except AnswerRefused:
            continue
        for measures in understood.measures.values():
            yield from measures
