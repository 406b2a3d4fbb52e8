"""A return in words: what is asked when a bat comes back, what was answered, what was decided."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from orders.words.measures import show_length

Choices = tuple[tuple[str, Promise], ...]

LIFTS: Choices = (
    ("too_heavy", gettext_lazy("too heavy")),
    ("toe_heavy", gettext_lazy("heavy at the toe")),
    ("right", gettext_lazy("right")),
    ("too_light", gettext_lazy("too light")),
)
DEAD_AT: Choices = (
    ("toe", gettext_lazy("at the toe")),
    ("below", gettext_lazy("below the middle")),
    ("middle", gettext_lazy("in the middle itself")),
    ("above", gettext_lazy("above the middle")),
    ("edges", gettext_lazy("towards the edges")),
    ("everywhere", gettext_lazy("everywhere")),
)
HANDLE: Choices = (
    ("too_thin", gettext_lazy("too thin")),
    ("too_thick", gettext_lazy("too thick")),
    ("loose", gettext_lazy("loose, or it rattles")),
    ("creaks", gettext_lazy("it creaks or gives too much")),
    ("binding", gettext_lazy("the binding comes off")),
    ("grip", gettext_lazy("the grip is worn or slips")),
)
DAMAGE: Choices = (
    ("toe_cracked", gettext_lazy("the toe is cracked or chipped")),
    ("toe_swollen", gettext_lazy("the toe is swollen")),
    ("edge", gettext_lazy("an edge is cracked or crushed")),
    ("face", gettext_lazy("the face is cracked or flakes")),
    ("through", gettext_lazy("a crack goes right through")),
    ("splinter", gettext_lazy("a splinter lifts")),
    ("shoulder", gettext_lazy("shoulder or splice is open")),
    ("covering", gettext_lazy("film, tape or guard comes off")),
)
KNOCKED_IN_BY: Choices = (
    ("player", gettext_lazy("by the player")),
    ("someone", gettext_lazy("by somebody else")),
    ("machine", gettext_lazy("by a machine")),
    ("nobody", gettext_lazy("nobody")),
)
BALL: Choices = (
    ("new_hard", gettext_lazy("new, hard balls")),
    ("old_hard", gettext_lazy("old, hard balls")),
    ("machine", gettext_lazy("balls of a bowling machine")),
    ("soft", gettext_lazy("soft balls")),
    ("none", gettext_lazy("none yet")),
)
STORED: Choices = (
    ("room", gettext_lazy("a heated room")),
    ("cool", gettext_lazy("a cool, dry room")),
    ("shed", gettext_lazy("garage, shed or cellar")),
    ("car", gettext_lazy("a car")),
    ("bag", gettext_lazy("a bag that gets damp")),
)

# In the order in which they are asked: key, question, what can be answered.
ASKED: tuple[tuple[str, Promise, Choices], ...] = (
    ("lifts", gettext_lazy("How does it lift?"), LIFTS),
    ("dead_at", gettext_lazy("Where does it sting, or go dead?"), DEAD_AT),
    ("handle", gettext_lazy("What of the handle?"), HANDLE),
    ("damage", gettext_lazy("What is broken?"), DAMAGE),
    ("knocked_in_by", gettext_lazy("Who knocked it in?"), KNOCKED_IN_BY),
    ("ball", gettext_lazy("Which balls has it met?"), BALL),
    ("stored", gettext_lazy("Where has it been kept?"), STORED),
)
QUESTIONS: dict[str, Promise] = {
    **{key: words for key, words, _choices in ASKED},
    "dead_from_toe_mm": gettext_lazy("How far from the toe is that?"),
    "knocked_in_hours": gettext_lazy("For how many hours was it knocked in?"),
}
# What makes a bat one to be put down at once.
UNSAFE = frozenset({"loose", "through", "splinter", "shoulder"})

DECISIONS: dict[str, Promise] = {
    "adjust": gettext_lazy("to be adjusted"),
    "rebuild": gettext_lazy("to be made again from another cleft"),
    "refund": gettext_lazy("money given back"),
    "nothing_wrong": gettext_lazy("nothing found wrong"),
}


@dataclass(frozen=True)
class Answered:
    """One question and its answer, in words."""

    question: str
    answer: str
    unsafe: bool


def answers_words(answers: Mapping[str, Any]) -> list[Answered]:
    """Say what was answered, in the order of the questions; what was left open is left out."""
    found = []
    for key, _words, choices in ASKED:
        given = _as_list(answers.get(key))
        if given:
            words = dict(choices)
            said = ", ".join(str(words.get(one, one)) for one in given)
            found.append(Answered(str(QUESTIONS[key]), said, bool(UNSAFE & set(given))))
        found += _numbers_after(key, answers)
    return found


def _numbers_after(key: str, answers: Mapping[str, Any]) -> list[Answered]:
    """Say the number that is asked after a question."""
    if key == "dead_at" and (place := answers.get("dead_from_toe_mm")) is not None:
        return [Answered(str(QUESTIONS["dead_from_toe_mm"]), show_length(place), False)]
    if key == "knocked_in_by" and (hours := answers.get("knocked_in_hours")) is not None:
        words = ngettext("%(hours)s hour", "%(hours)s hours", hours) % {"hours": f"{hours:g}"}
        return [Answered(str(QUESTIONS["knocked_in_hours"]), words, False)]
    return []


def _as_list(given: Any) -> list[str]:
    if not given:
        return []
    return [given] if isinstance(given, str) else list(given)


def decision_words(decision: str) -> str:
    """Say what was decided; that nothing is decided yet where nothing is."""
    return str(DECISIONS[decision]) if decision else _("not decided yet")
