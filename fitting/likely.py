"""Answers that cannot both be true: each bound says what is still believable beside another answer.

The bounds are wide, so that no real body or bat is refused; they catch a slip of unit or of the pen. Shares
of the height: means and spreads of ANSUR II (hand 0.11, wrist 0.48 of the stature) widened by a fifth and
more for children; the others are from memory.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from fitting.units import Limits

Known = Mapping[str, Any]
DoubtKind = Literal[
    "too_tall_for_age",
    "against_height",
    "beyond_blade",
    "balance_unlikely",
    "swing_unlikely",
]

# Question: its field and the share of the height that is believable.
SHARES_OF_HEIGHT: dict[str, tuple[str, Limits]] = {
    "wrist_height": ("player.wrist_height_mm", Limits(0.38, 0.60)),
    "hand_length": ("player.hand_length_mm", Limits(0.085, 0.140)),
    "inside_leg": ("player.inside_leg_mm", Limits(0.34, 0.60)),
}
# The tallest that a child is at an age, mm: so much at four, so much more each year, until fourteen.
TALLEST_AT_FOUR_MM = 1300.0
TALLER_EACH_YEAR_MM = 80.0
FULL_GROWTH_FROM = 14
YOUNGEST = 4
# A blade is at most this share of the whole bat, and at most this long (578 mm, the long blade).
BLADE_SHARE = 0.68
LONGEST_BLADE_MM = 580.0
BALANCE_SHARE = Limits(0.28, 0.60)
# Seconds that a bat takes over and back, hung near the top of its handle.
SWING_SECONDS = Limits(0.9, 2.2)


@dataclass(frozen=True)
class Doubt:
    """What does not go with another answer: in which box, how, and what would."""

    part: str
    kind: DoubtKind
    limits: Limits


def doubt(question: str, fields: Mapping[str, Any], known: Known) -> Doubt | None:
    """Return what is not believable in the fields of one answer beside what else is known; lengths in mm."""
    if question == "height":
        return _height(fields, known)
    if question in SHARES_OF_HEIGHT:
        return _share_of_height(question, fields, known)
    if question == "ball_marks":
        return _marks(fields, known)
    if question == "bat_balance":
        return _balance(fields, known)
    if question == "pendulum":
        return _swings(fields)
    return None


def _height(fields: Mapping[str, Any], known: Known) -> Doubt | None:
    height, age = fields.get("player.height_mm"), known.get("player.age_years")
    if height is None or age is None or age >= FULL_GROWTH_FROM:
        return None
    tallest = TALLEST_AT_FOUR_MM + TALLER_EACH_YEAR_MM * (age - YOUNGEST)
    return Doubt("", "too_tall_for_age", Limits(0, tallest)) if height > tallest else None


def _share_of_height(question: str, fields: Mapping[str, Any], known: Known) -> Doubt | None:
    name, share = SHARES_OF_HEIGHT[question]
    length, height = fields.get(name), known.get("player.height_mm")
    if length is None or height is None or share.hold(length / height):
        return None
    return Doubt("", "against_height", Limits(share.least * height, share.most * height))


def _marks(fields: Mapping[str, Any], known: Known) -> Doubt | None:
    marks = fields.get("game.ball_marks_from_toe_mm") or [0.0]
    overall = known.get("present_bat.overall_length_mm")
    blade = LONGEST_BLADE_MM if overall is None else min(LONGEST_BLADE_MM, BLADE_SHARE * overall)
    return Doubt("", "beyond_blade", Limits(0, blade)) if max(marks) > blade else None


def _balance(fields: Mapping[str, Any], known: Known) -> Doubt | None:
    place = fields.get("present_bat.balance_from_toe_mm")
    overall = known.get("present_bat.overall_length_mm")
    if place is None or overall is None or BALANCE_SHARE.hold(place / overall):
        return None
    return Doubt(
        "place", "balance_unlikely", Limits(BALANCE_SHARE.least * overall, BALANCE_SHARE.most * overall)
    )


def _swings(fields: Mapping[str, Any]) -> Doubt | None:
    swings = fields.get("present_bat.pendulum.swings")
    seconds = fields.get("present_bat.pendulum.seconds")
    if swings is None or seconds is None or SWING_SECONDS.hold(seconds / swings):
        return None
    return Doubt(
        "seconds", "swing_unlikely", Limits(SWING_SECONDS.least * swings, SWING_SECONDS.most * swings)
    )
