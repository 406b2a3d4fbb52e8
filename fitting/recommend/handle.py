"""Choices of the handle: construction, section, girth, grips."""

from dataclasses import dataclass, field
from math import pi
from typing import Literal, cast

from fitting.recommend.findings import Findings
from fitting.recommend.scores import UNANSWERED, Decision, choose
from fitting.sheets.book import Book, LengthRow
from fitting.sheets.book_materials import Dressing
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Because, Conflict
from fitting.sheets.values import Construction

Section = Literal["round", "oval"]
_CONSTRUCTION_OF_FEEL: dict[str, str] = {
    "traditional": "plain_cane",
    "balanced": "lightened_cane",
    "stiff": "stiffened_cane",
}


_SECTIONS: dict[str, tuple[Section, Section]] = {
    "round": ("round", "round"),
    "oval": ("oval", "oval"),
    "round_to_oval": ("round", "oval"),
}


def sections_of(option: str) -> tuple[Section, Section]:
    """Return a handle's section at the top and at the bottom."""
    return _SECTIONS[option]


@dataclass(frozen=True)
class HandleChoices:
    """The handle's choices; girth bound, under the grip, at the middle."""

    construction: Decision
    section: Decision
    girth_mm: float
    girth_because: tuple[Because, ...]
    girth_confidence: float
    girth_alternatives: tuple[float, ...]
    grip: Dressing
    grip_count: int
    conflicts: tuple[Conflict, ...] = field(default=())

    @property
    def construction_value(self) -> Construction:
        """The construction chosen."""
        return cast(Construction, self.construction.option)

    @property
    def sections(self) -> tuple[Section, Section]:
        """Section at the top and at the bottom."""
        return sections_of(self.section.option)


def choose_handle(
    sheet: FittingSheet, findings: Findings, row: LengthRow, book: Book, *, child: bool
) -> HandleChoices:
    """Choose the handle for one length."""
    wishes = sheet.wishes
    grip = book.materials.grip_junior if child else book.materials.grip
    count = wishes.grips or 1
    girth, because, sure, conflicts = _girth(sheet, row, book, child=child, grip=grip, count=count)
    step = book.wish_numbers.girth_step_mm
    limits = book.trade_limits(row.code)
    return HandleChoices(
        construction=choose(
            "construction",
            findings,
            book,
            _CONSTRUCTION_OF_FEEL[wishes.feel] if wishes.feel else None,
            "wishes.feel",
        ),
        section=choose("section", findings, book, wishes.handle_section, "wishes.handle_section"),
        girth_mm=girth,
        girth_because=because,
        girth_confidence=sure,
        girth_alternatives=tuple(
            round(other, 1)
            for other in (girth - step, girth + step)
            if limits.girth_least_mm <= other <= limits.girth_most_mm
        ),
        grip=grip,
        grip_count=count,
        conflicts=conflicts,
    )


def girth_over_grip_for_hand_mm(hand_length_mm: float, book: Book) -> float:
    """Girth over the grip that suits a hand.

    Diameter = 0.197 x hand length (wrist crease to the tip of the middle finger): Kong Y.-K., Lowe B. D.
    (2005) Optimal cylindrical handle diameter for grip force tasks, Int. J. Ind. Ergon. 35(6):495-507.
    Found for hard grips on bare cylinders of 25 to 50 mm by adults: a default to start from, not a claim
    about batting, and not known for children.
    """
    return pi * book.rules.hand_to_diameter * hand_length_mm


def bound_girth_mm(over_grip_mm: float, wall_mm: float, count: int) -> float:
    """Girth under so many grips of one wall: each wall takes 2 pi of itself off."""
    return over_grip_mm - 2 * pi * wall_mm * count


def _girth(
    sheet: FittingSheet, row: LengthRow, book: Book, *, child: bool, grip: Dressing, count: int
) -> tuple[float, tuple[Because, ...], float, tuple[Conflict, ...]]:
    """Bound girth at the middle: from the bat in use, else the hand, else the table; then wish and grip."""
    rules = book.rules
    bound, because, known = _girth_before_wishes(sheet, row, book, child=child, grip=grip, count=count)
    step = book.wish_numbers.girth_step_mm
    wish = sheet.wishes.handle_thickness
    sure = rules.confidence_floor + (1 - rules.confidence_floor) * known
    if wish in ("thin", "thick"):
        bound += step if wish == "thick" else -step
        fact = "handle.thick" if wish == "thick" else "handle.thin"
        because = (*because, Because(answer="wishes.handle_thickness", fact=fact))
        sure = rules.confidence_of_wish
    elif sheet.hold.tightness == "tight" and not _held_as_tightly(because):
        bound -= rules.girth_tight_less_mm
        because = (*because, Because(answer="hold.tightness", fact="handle.thin"))
    limits = book.trade_limits(row.code)
    least, most = limits.girth_least_mm, limits.girth_most_mm
    kept = round(min(max(bound, least), most), 1)
    conflicts: tuple[Conflict, ...] = ()
    if abs(kept - bound) > 0.5:
        conflicts = (
            Conflict(
                key="girth.limit",
                fields=("handle.girth_mm", *(one.answer for one in because if one.answer)),
                kept=f"{kept:g}",
                given_up=f"{bound:.1f}",
                cost={"girth_mm": round(kept - bound, 1)},
                ways_out=("grips.count",) if kept < bound else ("grips.thinner",),
            ),
        )
    return kept, because, round(sure, 2), conflicts


def _girth_before_wishes(
    sheet: FittingSheet, row: LengthRow, book: Book, *, child: bool, grip: Dressing, count: int
) -> tuple[float, tuple[Because, ...], float]:
    """Bound girth, why, and how much of what matters is known (0 to 1)."""
    present, hand = sheet.present_bat, sheet.player.hand_length_mm
    step, felt = _as_the_handle_felt(sheet, book)
    if present.grip_girth_mm is not None and (present.handle is not None or present.liked is True):
        bound = bound_girth_mm(present.grip_girth_mm, grip.thickness_mm, count)
        because = (Because(answer="present_bat.grip_girth_mm", fact="prior.present_bat"), *felt)
        return bound + step, because, 0.95
    if hand is not None and not child:
        over = girth_over_grip_for_hand_mm(hand, book)
        bound = bound_girth_mm(over, grip.thickness_mm, count)
        return bound, (Because(answer="player.hand_length_mm", fact="handle.hand"),), 0.7
    if child:
        return row.girth_low_mm, (Because(answer="player.age_years", fact="child.thin_handle"),), 0.7
    if step:
        return row.girth_middle_mm + step, felt, 0.5
    unknown = (Because(answer=None, fact="handle.table"), Because(answer=None, fact=UNANSWERED))
    return row.girth_middle_mm, unknown, 0.2


def _held_as_tightly(because: tuple[Because, ...]) -> bool:
    """Whether the girth is that of a handle already held so: how it felt has told what the hold asks for."""
    return any(one.answer == "present_bat.grip_girth_mm" for one in because)


def _as_the_handle_felt(sheet: FittingSheet, book: Book) -> tuple[float, tuple[Because, ...]]:
    """What the handle of the bat in use asks for: a step of girth, mm, and why; nothing if not told."""
    felt, step = sheet.present_bat.handle, book.wish_numbers.girth_step_mm
    if felt is None:
        return 0.0, ()
    more, fact = {
        "too_thin": (step, "handle.thick"),
        "too_thick": (-step, "handle.thin"),
        "right": (0.0, "prior.present_bat"),
    }[felt]
    return more, (Because(answer="present_bat.handle", fact=fact),)
