"""The forecast in words, as softly as it is known: spreads, what the lower hand feels, an older model."""

from django.utils.translation import gettext as _

from fitting.sheets.fitting_sheet import PresentBat
from fitting.sheets.weighing import Weighing
from fitting.units import System, factor
from orders.words.measures import PickupReference, like_spread_g

OTHER: dict[System, System] = {"metric": "imperial", "imperial": "metric"}
# No longer than this a note stays on one line.
SHORT = 14
SPREAD_STEP_G, SPREAD_STEP_OZ = 5, 0.5
# What a hand cannot tell apart, as a share.
SAME_TO_THE_HAND = 0.03


def together(*notes: str) -> str:
    """Set notes in a row, those that are empty left out; a short one is not broken between lines."""
    kept = [note for note in notes if note]
    return " · ".join(note.replace(" ", "\N{NO-BREAK SPACE}") if len(note) < SHORT else note for note in kept)


def say_spread(sd_g: float, system: System = "metric") -> str:
    """Say the spread of a mass: ``give or take 25 g``, ``give or take 1 oz``."""
    if system == "imperial":
        steps = max(round(sd_g / factor("ounce", "gram") / SPREAD_STEP_OZ), 1)
        number = f"{steps * SPREAD_STEP_OZ:.1f}".removesuffix(".0")
        return _("give or take %(ounces)s oz") % {"ounces": number}
    return _("give or take %(grams)s g") % {
        "grams": max(SPREAD_STEP_G * round(sd_g / SPREAD_STEP_G), SPREAD_STEP_G)
    }


def say_pickup_spread(weighing: Weighing, reference: PickupReference) -> str:
    """Say the spread of a pickup as that of the bat it lifts like; empty where an older model told none."""
    if weighing.pickup_sd_kg_m2 is None:
        return ""
    return say_spread(like_spread_g(weighing.pickup_sd_kg_m2, reference), "imperial")


def say_lower_hand(weighing: Weighing, present: PresentBat) -> str:
    """Say how the bat weighs in the lower hand beside the bat in use; empty where that one was not measured.

    Both are held level at the same place of the handle: mass times the distance of the balance from there.
    """
    hand = weighing.lower_hand
    mass, balance, overall = present.mass_g, present.balance_from_toe_mm, present.overall_length_mm
    if hand is None or mass is None or balance is None or overall is None:
        return ""
    below_top = weighing.overall_length_mm - hand.axis_from_toe_mm
    old = mass * (overall - below_top - balance) / 1e6
    if old <= 0:
        return ""
    change = hand.static_moment_kg_m / old - 1
    if abs(change) < SAME_TO_THE_HAND:
        return _("Held level in the lower hand it weighs as much as the bat you use.")
    words = (
        _("Held level in the lower hand it is about %(percent)s %% lighter than the bat you use.")
        if change < 0
        else _("Held level in the lower hand it is about %(percent)s %% heavier than the bat you use.")
    )
    return words % {"percent": round(100 * abs(change))}
