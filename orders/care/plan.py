"""The care of one bat, worked out from its build sheet: keys and numbers, worded in orders/words/care.py.

All of it is common practice of the trade from memory, no source, except the grams a per cent of
moisture, which follow from the mass of this bat's own willow (a fixed dry mass: mass goes with
1 + moisture; USDA Wood Handbook, eq. 4-2).
"""

from dataclasses import dataclass

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import Weighing

ADULT_KNOCKING_IN_MINUTES = 360.0
JUNIOR_KNOCKING_IN_MINUTES = 180.0
LEAST_KNOCKING_IN_MINUTES = 60.0
FILM_SHARE = 0.75
SITTING_MINUTES = 15.0
EDGE_AND_TOE_SHARE = 0.25
ADULT_AGE = 18


@dataclass(frozen=True)
class Advice:
    """One piece of advice: its subject, its key, and the numbers that go into its sentence."""

    subject: str
    key: str
    numbers: dict[str, float]


def care_plan(
    build: BuildSheet, weighing: Weighing, *, age_years: int | None, often_damp: bool | None
) -> tuple[Advice, ...]:
    """Return the care of this bat in the order in which it is needed.

    Subjects are ``face``, ``knocking_in``, ``first_innings``, ``toe``, ``edges``, ``store``, ``moisture``,
    ``handle`` and ``caution``.
    """
    return (
        *_face(build),
        *_knocking_in(build, age_years),
        Advice("first_innings", "opens_up", {}),
        *_toe(build, often_damp),
        Advice("edges", "taped" if build.protection.edge_tape else "bare", {}),
        Advice("store", "even_damp", {}),
        Advice("moisture", "grams_a_percent", {"grams": grams_a_percent(weighing)}),
        Advice("handle", "grips", {"count": build.grips.count}),
        *_cautions(build, age_years),
    )


def knocking_in_minutes(build: BuildSheet, age_years: int | None) -> float:
    """Return the minutes of knocking-in left to the player.

    The maker's minutes shorten it but never replace it; a filmed face needs less.
    """
    junior = age_years is not None and age_years < ADULT_AGE
    whole = JUNIOR_KNOCKING_IN_MINUTES if junior else ADULT_KNOCKING_IN_MINUTES
    if build.protection.face_film:
        whole *= FILM_SHARE
    return max(LEAST_KNOCKING_IN_MINUTES, whole - build.finish.knocked_in_minutes)


def grams_a_percent(weighing: Weighing) -> float:
    """Return how many grams this blade gains with one per cent of moisture."""
    blade = next(part.mass_g for part in weighing.parts if part.name == "blade")
    return blade / (1 + weighing.moisture_percent / 100) / 100


def _face(build: BuildSheet) -> tuple[Advice, ...]:
    if build.protection.face_film:
        return (Advice("face", "filmed", {"coats": build.finish.oil_coats}),)
    return (Advice("face", "natural", {"coats": build.finish.oil_coats}),)


def _knocking_in(build: BuildSheet, age_years: int | None) -> tuple[Advice, ...]:
    minutes = knocking_in_minutes(build, age_years)
    edges = minutes * EDGE_AND_TOE_SHARE
    plan = Advice(
        "knocking_in",
        "plan",
        {
            "minutes": minutes,
            "sittings": -(-minutes // SITTING_MINUTES),
            "sitting_minutes": SITTING_MINUTES,
            "edge_minutes": edges,
            "done_minutes": build.finish.knocked_in_minutes,
        },
    )
    return (plan, Advice("knocking_in", "stop_rule", {}))


def _toe(build: BuildSheet, often_damp: bool | None) -> tuple[Advice, ...]:
    guarded = "guarded" if build.protection.toe_guard else "unguarded"
    advice = [Advice("toe", guarded, {})]
    if often_damp:
        advice.append(Advice("toe", "damp_ground", {}))
    return tuple(advice)


def _cautions(build: BuildSheet, age_years: int | None) -> tuple[Advice, ...]:
    keys = ["loose_handle", "splinter", "through_crack", "eye_care"]
    if not build.protection.face_film:
        keys.append("oily_rags")
    if age_years is not None and age_years < ADULT_AGE:
        keys.append("child_with_adult")
    return tuple(Advice("caution", key, {}) for key in keys)
