"""The care of one bat, worked out from its build sheet: keys and numbers, worded in orders/words/care.py.

All of it is common practice of the trade, no source, its numbers from memory; but for the grams a per cent
of moisture, which follow from the mass of this bat's own willow (the dry mass stays, so the mass goes with
1 + moisture; USDA Wood Handbook, FPL-GTR-282, ch. 4).
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
# Between a heated room in winter and a damp store in summer a blade may move by so much.
WIDE_MOISTURE_PERCENT = 3.0
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
    """Return the care of this bat, what keeps people from harm first.

    Args:
        build: the bat as it was built.
        weighing: its weighing; the mass of the blade is taken from it.
        age_years: the player's age now, where it is known.
        often_damp: whether the player said to play where it is often damp.
    """
    return (
        *_cautions(age_years),
        *_knocking_in(build, age_years),
        Advice("first_innings", "opens_up", {}),
        _face(build),
        *_toe(build, often_damp),
        Advice("edges", "taped" if build.protection.edge_tape else "bare", {}),
        *_handle(build),
        Advice("store", "even_damp", {}),
        _moisture(weighing),
        Advice("wear", "normal", {}),
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


def _face(build: BuildSheet) -> Advice:
    return Advice(
        "face", "filmed" if build.protection.face_film else "natural", {"coats": build.finish.oil_coats}
    )


def _knocking_in(build: BuildSheet, age_years: int | None) -> tuple[Advice, ...]:
    minutes = knocking_in_minutes(build, age_years)
    plan = Advice(
        "knocking_in",
        "plan",
        {
            "minutes": minutes,
            "sittings": -(-minutes // SITTING_MINUTES),
            "sitting_minutes": SITTING_MINUTES,
            "edge_minutes": 5 * round(minutes * EDGE_AND_TOE_SHARE / 5),
        },
    )
    test = Advice("knocking_in", "seam_test", {})
    if not build.finish.knocked_in_minutes:
        return (plan, test)
    done = Advice("knocking_in", "done_here", {"done_minutes": build.finish.knocked_in_minutes})
    return (plan, done, test)


def _toe(build: BuildSheet, often_damp: bool | None) -> tuple[Advice, ...]:
    toe = Advice("toe", "guarded" if build.protection.toe_guard else "unguarded", {})
    return (toe, Advice("toe", "damp_ground", {})) if often_damp else (toe,)


def _handle(build: BuildSheet) -> tuple[Advice, ...]:
    grip = Advice("handle", "grips", {})
    if build.grips.count < 2:
        return (grip,)
    return (grip, Advice("handle", "grips_two", {"count": build.grips.count}))


def _moisture(weighing: Weighing) -> Advice:
    grams = grams_a_percent(weighing)
    return Advice(
        "moisture", "grams_a_percent", {"grams": grams, "grams_wide": grams * WIDE_MOISTURE_PERCENT}
    )


def _cautions(age_years: int | None) -> tuple[Advice, ...]:
    # Back and edges are oiled even under a filmed face.
    mind = ["eye_care", "oily_rags", "pain"]
    if age_years is not None and age_years < ADULT_AGE:
        mind.append("child_with_adult")
    return (
        *(Advice("caution", key, {}) for key in ("loose_handle", "splinter", "through_crack")),
        *(Advice("mind", key, {}) for key in mind),
    )
