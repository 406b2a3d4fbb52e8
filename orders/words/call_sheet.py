"""The call sheet in words, for the maker: what to ask, and why."""

from collections.abc import Iterable

from django.utils.functional import Promise
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from fitting.questions import QUESTIONS
from fitting.recommend.call_sheet import PRESENT_BAT, CallLine
from fitting.sheets.recommendation import Conflict
from orders.words.measures import PickupReference, say_pickup, show_body, show_length, show_mass
from orders.words.questions import WORDS
from orders.words.reasons import say_conflict
from orders.words.values import say_field

Text = str | Promise
# More choices than these are not read out.
MOST_TOUCHED = 4
ABOUT_THE_BAT_IN_USE = frozenset(
    question.key
    for question in QUESTIONS
    if question.about_bat or any(name.startswith(PRESENT_BAT) for name in question.fields)
) - {"broke_at"}  # asks of earlier bats as well

UNLIKELY: dict[str, Text] = {
    "mass": _(
        "Ask for the mass of the bat in use again, because %(mass)s was given and bats of its size have "
        "%(least)s to %(most)s."
    ),
    "length": _(
        "Ask for the length of the bat in use and its size again, because %(length)s was given and a bat "
        "of that size has %(usual)s."
    ),
    "no_bat": _(
        "Ask how the bat in use was measured, because no bat of %(length)s balances %(balance)s from the "
        "toe: perhaps it was measured from the handle's end."
    ),
    "swings": _(
        "Ask how the bat in use was hung and timed, because the swings do not fit its mass and balance; "
        "they were left aside."
    ),
    "pickup": _(
        "Ask how mass, length and balance of the bat in use were measured, because together they say that it "
        "picks up %(pickup)s, and a bat as heavy and as long usually picks up %(usual)s."
    ),
    "hand": _(
        "Ask for the length of the hand again, crease of the wrist to tip of the middle finger, because "
        "%(hand)s was given at %(height)s, where hands measure %(least)s to %(most)s."
    ),
    "girth": _(
        "Ask for the girth over the grip again, and how the handle feels, because %(girth)s was given and a "
        "hand of %(hand)s takes about %(suits)s."
    ),
    "marks": _(
        "Ask where along the blade the runs come from, because the ball marks lie about %(marks)s from the "
        "toe and the sweet spot is wished at the other end."
    ),
    "liked_too_heavy": _(
        "Ask what is to stay of the bat in use, because it is liked and yet called too heavy."
    ),
    "liked_too_light": _(
        "Ask what is to stay of the bat in use, because it is liked and yet called too light."
    ),
    "bounce_too_low": _(
        "Ask where the bat in use meets the ball, because its sweet spot is called too low and the pitches "
        "low as well."
    ),
    "bounce_too_high": _(
        "Ask where the bat in use meets the ball, because its sweet spot is called too high and the pitches "
        "high as well."
    ),
    "wish_heavier": _(
        "Ask what mass is meant, because the bat in use is called too heavy at %(mass)s and at least "
        "%(wished)s is wished."
    ),
    "wish_lighter": _(
        "Ask what mass is meant, because the bat in use is called too light at %(mass)s and at most "
        "%(wished)s is wished."
    ),
    "patient_lofted": _(
        "Ask how the innings goes, because the play is called patient and lofted strokes bring the runs."
    ),
    "big_hitting_grounded": _(
        "Ask how the innings goes, because the play is called big hitting and hardly a lofted stroke is told."
    ),
}


def say_call_line(line: CallLine, reference: PickupReference) -> str:
    """Say one line of the call sheet; pickups are told by a bat that people know."""
    if line.kind == "unlikely":
        return str(UNLIKELY[line.key]) % _numbers(line, reference)
    if line.conflict is not None:
        return _conflict(line.conflict, reference)
    return _unanswered(line)


def _conflict(conflict: Conflict, reference: PickupReference) -> str:
    """Ask which side is to give way; the sentence is the one that the player has read."""
    if conflict.key != "pickup.present":
        return gettext("Ask what is to give way: “%(conflict)s”") % {"conflict": say_conflict(conflict)}
    words = gettext(
        "Ask whether the new bat may lift otherwise, because the one in use picks up %(yours)s by its "
        "measures and this one %(new)s."
    )
    return words % {
        "yours": say_pickup(float(conflict.given_up), reference),
        "new": say_pickup(float(conflict.kept), reference),
    }


def _unanswered(line: CallLine) -> str:
    ask = {"touches": _touched(line.touches)}
    if line.key == PRESENT_BAT:
        return (
            gettext(
                "Ask which bat is used now, what it weighs and what is right and wrong about it, because "
                "nothing was said of it and it can still change: %(touches)s."
            )
            % ask
        )
    words = gettext("Ask “%(question)s”, because it was left open and can still change: %(touches)s.")
    if line.key in ABOUT_THE_BAT_IN_USE:
        words = gettext(
            "Ask of the bat in use “%(question)s”, because it was left open and can still change: "
            "%(touches)s."
        )
    return words % {"question": str(WORDS[line.key].ask), **ask}


def report_call_sheet(lines: Iterable[CallLine], reference: PickupReference) -> str:
    """Report the call sheet as plain text, empty where there is nothing to ask."""
    asks = [f"- {say_call_line(line, reference)}" for line in lines]
    return "\n".join(["", gettext("To ask the player"), *asks]) if asks else ""


def _touched(fields: Iterable[str]) -> str:
    names = list(dict.fromkeys(say_field(field) for field in fields))
    if len(names) <= MOST_TOUCHED:
        return ", ".join(names)
    return gettext("%(names)s and more") % {"names": ", ".join(names[:MOST_TOUCHED])}


def _numbers(line: CallLine, reference: PickupReference) -> dict[str, str]:
    """Say each number in the unit of its name; heights and hands as bodies are told."""
    said = {}
    for key, value in line.numbers.items():
        name, _of, unit = key.partition("_")
        if unit == "g":
            said[name] = show_mass(value)
        elif unit == "kg_m2":
            said[name] = say_pickup(value, reference)
        else:
            said[name] = show_body(value) if name == "height" else show_length(value)
    return said
