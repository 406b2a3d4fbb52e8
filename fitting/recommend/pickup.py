"""The pickup to aim at: what the solved bat has, or what the bat in use has where that felt right."""

from dataclasses import dataclass

from fitting.bat.in_use import Estimate
from fitting.recommend.present import present_pickup
from fitting.recommend.scores import UNANSWERED
from fitting.recommend.solve import Solved
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import Target
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Because, Conflict

# In a conflict's cost: the standard deviation to which the bat in use is known.
PRESENT_SD = "present_pickup_sd_kg_m2"


@dataclass(frozen=True)
class PickupAim:
    """Target and tolerance, kg m2, why, how sure, and where the bat in use disagrees."""

    target: Target
    because: tuple[Because, ...]
    confidence: float
    present: Estimate | None
    conflicts: tuple[Conflict, ...]


def aim_pickup(sheet: FittingSheet, solved: Solved, book: Book) -> PickupAim:
    """Aim at the pickup of the bat in use where it felt right and can be met; else at the solved bat's.

    Mass ranks before pickup: a pickup that the mass does not allow is told as a conflict.
    """
    rules = book.rules
    found = solved.weighing.inertia_kg_m2.pickup
    in_use = present_pickup(sheet.present_bat)
    felt, felt_answer = sheet.present_bat.pickup, "present_bat.pickup"
    if felt is None and sheet.present_bat.liked:
        felt, felt_answer = "right", "present_bat.liked"
    tolerance = round(rules.pickup_tolerance_share * found, 5)
    own = Target(target=round(found, 4), tolerance=tolerance)
    floor = rules.confidence_floor
    if in_use is None or felt is None:
        because = (Because(answer=None, fact="pickup.from_shape"), Because(answer=None, fact=UNANSWERED))
        return PickupAim(own, because, round(floor + (1 - floor) * 0.3, 2), in_use, ())
    present = in_use.pickup_kg_m2
    felt_so = (*_measured(in_use), Because(answer=felt_answer, fact="pickup.felt"))
    if felt == "right" and abs(present - found) <= tolerance:
        near = Target(target=round(present, 4), tolerance=tolerance)
        return PickupAim(near, felt_so, 0.9, in_use, ())
    missed = (
        felt == "right"
        or (felt == "too_heavy" and found > present)
        or (felt == "too_light" and found < present)
    )
    conflicts: tuple[Conflict, ...] = ()
    if missed:
        conflicts = (
            Conflict(
                key="pickup.present",
                fields=("pickup_kg_m2", felt_answer),
                kept=f"{found:.4f}",
                given_up=f"{present:.4f}",
                cost={
                    "pickup_kg_m2": round(found - present, 4),
                    PRESENT_SD: round(in_use.sd_kg_m2, 4),
                },
                ways_out=("mass_g", "length_code"),
            ),
        )
    return PickupAim(own, felt_so, 0.5 if missed else 0.8, in_use, conflicts)


def _measured(in_use: Estimate) -> tuple[Because, ...]:
    """Which measures the estimate rests on, and that swings were not believed where they were not."""
    swung = (Because(answer="present_bat.pendulum", fact="pickup.present_swings"),)
    refused = (Because(answer="present_bat.pendulum", fact="pickup.swings_refused"),)
    by_measures = tuple(
        Because(answer=f"present_bat.{name}", fact="pickup.present_estimate")
        for name in ("mass_g", "balance_from_toe_mm", "overall_length_mm")
    )
    if in_use.by == "swings":
        return swung
    return by_measures + (refused if in_use.swings_refused else ())
