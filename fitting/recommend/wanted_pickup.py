"""Which pickup is wanted: what the bat in use has where it felt right, else one that is told from it."""

from dataclasses import dataclass
from typing import Literal

from fitting.bat.in_use import Estimate
from fitting.sheets.book import Book
from fitting.sheets.fitting_sheet import FittingSheet

Felt = Literal["too_heavy", "right", "too_light"]


@dataclass(frozen=True)
class WantedPickup:
    """Bounds of the pickup, kg m2, both ends included; who asked for it, and whether mass may move for it.

    ``slack`` is how far outside them a pickup may lie and still be felt as what was asked for.
    """

    least: float
    most: float
    slack: float
    felt: Felt
    answer: str
    present: Estimate
    may_move_mass: bool

    def holds(self, pickup: float) -> bool:
        """Whether a pickup is one that is wanted."""
        return self.least <= pickup <= self.most

    def felt_so(self, pickup: float) -> bool:
        """Whether a pickup will be felt as what is wanted."""
        return self.least - self.slack <= pickup <= self.most + self.slack

    def nearest(self, pickup: float) -> float:
        """The wanted pickup nearest to one."""
        return min(max(pickup, self.least), self.most)

    @property
    def tolerance(self) -> float:
        """Half the width of what is wanted where the bat in use felt right."""
        return (self.most - self.least) / 2


def wanted_pickup(sheet: FittingSheet, present: Estimate | None, book: Book) -> WantedPickup | None:
    """Return what the bat in use says of the pickup; None where it says nothing.

    Right: within the book's share, or within one spread of what is known of it, whichever is larger. Too
    heavy or too light: past what a player can just tell apart.
    """
    felt, answer = sheet.present_bat.pickup, "present_bat.pickup"
    if felt is None and sheet.present_bat.liked:
        felt, answer = "right", "present_bat.liked"
    if present is None or felt is None:
        return None
    rules, pickup = book.rules, present.pickup_kg_m2
    step = rules.pickup_step_share * pickup
    near = max(rules.pickup_right_share * pickup, present.sd_kg_m2)
    least, most = {
        "right": (pickup - near, pickup + near),
        "too_heavy": (0.0, pickup - step),
        "too_light": (pickup + step, float("inf")),
    }[felt]
    slack = 0.0 if felt == "right" else (rules.pickup_step_share - rules.pickup_noticed_share) * pickup
    return WantedPickup(least, most, max(slack, 0.0), felt, answer, present, _may_move_mass(sheet))


def _may_move_mass(sheet: FittingSheet) -> bool:
    """Mass ranks before pickup where it was wished, unless the player said that mass gives way first."""
    order = sheet.wishes.gives_way_first or ()
    if "mass" in order and "pickup" in order:
        return order.index("mass") < order.index("pickup")
    wish = sheet.wishes.mass_g
    return wish is None or (wish.min is None and wish.max is None)
