"""The numbers of the Laws as printed: sizes in both units, shares, and which clause each comes from.

Source: MCC, Laws of Cricket, 2017 Code, 3rd edition (in force from 1 October 2022) and 4th edition (in force
from 1 October 2026), Law 5 and Appendix B. Clause numbers and numbers only, in the project's own words. The
Laws print two units that are not exact equals and do not say which rules: a bat passes the smaller. Both
editions print the same numbers in these tables.
"""

from typing import Literal

from fitting.sheets.record import Record

MM_PER_INCH = 25.4

Subject = Literal["bat", "covering", "handle", "repair", "insert", "marking"]


class SizeLimit(Record):
    """One greatest size as printed. ``subject`` tells on which part of the job it is looked for."""

    clause: str
    what: str
    inches: float
    metric: float
    metric_unit: Literal["cm", "mm"] = "cm"
    subject: Subject
    on_build_sheet: bool = False

    @property
    def mm(self) -> float:
        """The smaller of the two printed limits, mm."""
        return min(self.inches * MM_PER_INCH, self.metric * (10 if self.metric_unit == "cm" else 1))

    @property
    def as_printed(self) -> str:
        """Both limits as they are printed."""
        return f"{self.inches:g} in / {self.metric:g} {self.metric_unit}"


class ShareLimit(Record):
    """One greatest share as printed, percent."""

    clause: str
    what: str
    percent: float
    subject: Subject
    on_build_sheet: bool = False

    @property
    def as_printed(self) -> str:
        """The limit as it is printed, fractions as percent."""
        return f"{self.percent:g} %"


def _checked(clause: str, what: str, inches: float, centimetres: float, subject: Subject) -> SizeLimit:
    return SizeLimit(
        clause=clause,
        what=what,
        inches=inches,
        metric=centimetres,
        subject=subject,
        on_build_sheet=True,
    )


def _kept_by_hand(clause: str, what: str, inches: float, centimetres: float, subject: Subject) -> SizeLimit:
    return SizeLimit(clause=clause, what=what, inches=inches, metric=centimetres, subject=subject)


# What a build sheet tells of, and can therefore break.
_ON_THE_SHEET = (
    _checked("5.7.1", "overall_length", 38, 96.52, "bat"),
    _checked("5.7.2", "blade_width", 4.25, 10.8, "bat"),
    _checked("5.7.2", "blade_depth", 2.64, 6.7, "bat"),
    _checked("5.7.2", "edge", 1.56, 4.0, "bat"),
    # on face, sides and shoulders, protective or repairing: film and tape alike
    _checked("5.7.4", "covering", 0.04, 0.1, "covering"),
    _checked("5.7.5", "toe_guard", 0.12, 0.3, "covering"),
    _checked("B.2.3", "other_material_reach", 3.25, 8.26, "handle"),
)

# What no build sheet tells of: for the bench, the desk of returns and whoever reads the rules.
_BY_HAND = (
    _kept_by_hand("B.2.4", "twine_past_junction", 2.5, 6.35, "handle"),
    _kept_by_hand("B.2.4", "grip_past_junction", 2.75, 6.99, "handle"),
    SizeLimit(clause="B.3.3", what="cloth", inches=0.012, metric=0.3, metric_unit="mm", subject="covering"),
    _kept_by_hand("B.4.2", "repair_wrap", 0.04, 0.1, "repair"),
    _kept_by_hand("B.4.2", "repair_beyond_damage", 0.79, 2.0, "repair"),
    _kept_by_hand("B.4.2", "hard_treatment", 0.004, 0.01, "repair"),
    _kept_by_hand("B.5", "insert_thickness", 0.35, 0.89, "insert"),
    _kept_by_hand("B.5", "toe_insert_reach", 2.5, 6.35, "insert"),
    _kept_by_hand("B.5", "side_insert_reach", 1, 2.54, "insert"),
    _kept_by_hand("B.6", "marking_thickness", 0.008, 0.02, "marking"),
    _kept_by_hand("B.6", "marking_zone_of_face", 9, 22.86, "marking"),
)

SIZES = (*_ON_THE_SHEET, *_BY_HAND)

SHARES = (
    # of the overall length; size 6 and smaller are free of it, but not in the international conditions
    ShareLimit(clause="5.7.3", what="handle_share", percent=52, subject="bat", on_build_sheet=True),
    ShareLimit(clause="B.6", what="marking_share_of_back", percent=50, subject="marking"),
)
