"""The pickup to aim at: what the solved bat has, or what the bat in use has where that felt right."""

from dataclasses import dataclass

from fitting.bat.in_use import Estimate
from fitting.recommend.scores import UNANSWERED
from fitting.recommend.solve import Solved
from fitting.recommend.wanted_pickup import WantedPickup
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import Target
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


def aim_pickup(solved: Solved, wanted: WantedPickup | None, in_use: Estimate | None, book: Book) -> PickupAim:
    """Aim at the pickup of the bat in use where it felt right and was met; else at the solved bat's.

    Mass and sweet spot rank before pickup: one that they do not allow is told as a conflict.
    """
    rules = book.rules
    found = solved.weighing.inertia_kg_m2.pickup
    own = Target(target=round(found, 4), tolerance=round(rules.pickup_tolerance_share * found, 5))
    floor = rules.confidence_floor
    if wanted is None:
        because = (Because(answer=None, fact="pickup.from_shape"), Because(answer=None, fact=UNANSWERED))
        return PickupAim(own, because, round(floor + (1 - floor) * 0.3, 2), in_use, ())
    present = wanted.present
    felt_so = (*_measured(present), Because(answer=wanted.answer, fact="pickup.felt"))
    if wanted.felt == "right" and wanted.holds(found):
        near = Target(target=round(present.pickup_kg_m2, 4), tolerance=round(wanted.tolerance, 5))
        return PickupAim(near, felt_so, 0.9, present, ())
    if wanted.felt_so(found):
        return PickupAim(own, felt_so, 0.8, present, ())
    conflict = Conflict(
        key="pickup.present",
        fields=("pickup_kg_m2", wanted.answer),
        kept=f"{found:.4f}",
        given_up=f"{present.pickup_kg_m2:.4f}",
        cost={
            "pickup_kg_m2": round(found - present.pickup_kg_m2, 4),
            PRESENT_SD: round(present.sd_kg_m2, 4),
        },
        ways_out=("mass_g", "length_code"),
    )
    return PickupAim(own, felt_so, 0.5, present, (conflict,))


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
