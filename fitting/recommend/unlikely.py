"""Answers that are unlikely by themselves, or that hardly go together: to be asked again, never corrected."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import pi
from statistics import median

from fitting.bat.in_use import BALANCE_MIDDLE, Measured, estimate
from fitting.recommend.findings import MARKS, Findings
from fitting.recommend.length import is_grown
from fitting.recommend.present import present_pickup
from fitting.sheets.book import Book, LengthRow
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Recommendation

# Hand length, mm, on stature, mm: intercept, slope and standard error of the regression, men and women.
# Gordon C. C. et al. (2014) 2012 Anthropometric Survey of U.S. Army Personnel (ANSUR II), NATICK/TR-15/007;
# regressions worked out from its public data files (4,082 men, 1,986 women).
HAND_ON_STATURE = ((21.74, 0.0977, 7.4), (16.23, 0.1012, 7.7))
# About one hand in eighty lies further out than this many standard errors.
HAND_SDS = 2.5
# The rest are choices of this project: beyond what one bat differs from the next, and what one mismeasures.
PICKUP_SHARE = 0.15
GIRTH_SHARE = 0.15
LENGTH_MM = 25.0
# Weights of a stroke from which on it is one of the player's own, and up to which it is hardly played.
PLAYED, HARDLY_PLAYED = 2.0, 0.5


@dataclass(frozen=True)
class Unlikely:
    """What is unlikely, the answers that say so, and the numbers it is told with (mm, g, kg m2)."""

    key: str
    answers: tuple[str, ...]
    numbers: dict[str, float] = field(default_factory=dict)


def unlikely(
    sheet: FittingSheet, found: Recommendation, findings: Findings, book: Book
) -> Iterator[Unlikely]:
    """Yield what should be asked again: measures first, then what the player says against himself."""
    row = _row_in_use(sheet, found, book)
    yield from _mass(sheet, row, book)
    yield from _length(sheet, book)
    yield from _pickup(sheet)
    yield from _hand(sheet)
    yield from _girth(sheet, book)
    yield from _marks(sheet, findings, book)
    yield from _judgement(sheet)
    yield from _mass_wish(sheet)
    yield from _play(sheet)


def _row_in_use(sheet: FittingSheet, found: Recommendation, book: Book) -> LengthRow:
    """The size of the bat in use: as told, else the nearest to its length, else the one recommended."""
    present = sheet.present_bat
    if present.length_code is not None:
        return book.length(present.length_code)
    overall = present.overall_length_mm
    if overall is not None:
        return min(book.lengths, key=lambda row: abs(row.overall_mm - overall))
    return book.length(found.build.length_code)


def _mass(sheet: FittingSheet, row: LengthRow, book: Book) -> Iterator[Unlikely]:
    """A mass outside the trade's limits of its size; of a child's bat of unknown size nothing is known."""
    present = sheet.present_bat
    told = present.length_code is not None or present.overall_length_mm is not None
    if present.mass_g is None or not (told or is_grown(sheet)):
        return
    slack = book.trade_limits(row.code).mass_slack_share
    least, most = row.mass_low_g * (1 - slack), row.mass_high_g * (1 + slack)
    if not least <= present.mass_g <= most:
        yield Unlikely(
            "mass",
            ("present_bat.mass_g",),
            {"mass_g": present.mass_g, "least_g": row.mass_low_g, "most_g": row.mass_high_g},
        )


def _length(sheet: FittingSheet, book: Book) -> Iterator[Unlikely]:
    """An overall length that is not that of the size which was named."""
    present = sheet.present_bat
    if present.length_code is None or present.overall_length_mm is None:
        return
    usual = book.length(present.length_code).overall_mm
    if abs(present.overall_length_mm - usual) > LENGTH_MM:
        yield Unlikely(
            "length",
            ("present_bat.overall_length_mm", "present_bat.length_code"),
            {"length_mm": present.overall_length_mm, "usual_mm": usual},
        )


def _pickup(sheet: FittingSheet) -> Iterator[Unlikely]:
    """Measures that are no bat's, swings that were not believed, a pickup far from a bat of that mass."""
    present = sheet.present_bat
    if present.mass_g is None or present.balance_from_toe_mm is None or present.overall_length_mm is None:
        return
    in_use = present_pickup(present)
    measured = ("present_bat.balance_from_toe_mm", "present_bat.overall_length_mm", "present_bat.mass_g")
    if in_use is None:
        yield Unlikely(
            "no_bat",
            measured,
            {"balance_mm": present.balance_from_toe_mm, "length_mm": present.overall_length_mm},
        )
        return
    if in_use.swings_refused:
        yield Unlikely("swings", ("present_bat.pendulum",))
    usual = _usual_pickup(present.mass_g, present.overall_length_mm)
    off = abs(in_use.pickup_kg_m2 - usual)
    if off > PICKUP_SHARE * usual and off > 2 * in_use.sd_kg_m2:
        told = {"pickup_kg_m2": round(in_use.pickup_kg_m2, 4), "usual_kg_m2": round(usual, 4)}
        yield Unlikely("pickup", measured, told)


def _usual_pickup(mass_g: float, overall_mm: float) -> float:
    """Pickup of a bat as heavy and as long that balances where most do, kg m2."""
    usual = estimate(Measured(mass_g, BALANCE_MIDDLE * overall_mm, overall_mm))
    return usual.pickup_kg_m2 if usual else 0.0


def _hand(sheet: FittingSheet) -> Iterator[Unlikely]:
    """A hand that hardly belongs to the height, of a man or of a woman; children are not in that survey."""
    hand, height = sheet.player.hand_length_mm, sheet.player.height_mm
    if hand is None or not is_grown(sheet):
        return
    least = min(a + b * height - HAND_SDS * se for a, b, se in HAND_ON_STATURE)
    most = max(a + b * height + HAND_SDS * se for a, b, se in HAND_ON_STATURE)
    if not least <= hand <= most:
        yield Unlikely(
            "hand",
            ("player.hand_length_mm", "player.height_mm"),
            {"hand_mm": hand, "height_mm": height, "least_mm": round(least), "most_mm": round(most)},
        )


def _girth(sheet: FittingSheet, book: Book) -> Iterator[Unlikely]:
    """A girth over the grip far from what the hand would take, unless the player finds it so as well."""
    girth, hand = sheet.present_bat.grip_girth_mm, sheet.player.hand_length_mm
    if girth is None or hand is None:
        return
    # Kong and Lowe (2005), the book's share of the hand's length.
    suits = pi * book.rules.hand_to_diameter * hand
    felt = sheet.present_bat.handle
    far = abs(girth - suits) > GIRTH_SHARE * suits
    agrees = felt == ("too_thick" if girth > suits else "too_thin")
    against = felt == ("too_thin" if girth > suits else "too_thick")
    if (far and not agrees) or (against and abs(girth - suits) > GIRTH_SHARE / 3 * suits):
        named = ("present_bat.grip_girth_mm", "player.hand_length_mm")
        numbers = {"girth_mm": girth, "hand_mm": hand, "suits_mm": round(suits)}
        yield Unlikely("girth", (*named, "present_bat.handle") if against else named, numbers)


def _marks(sheet: FittingSheet, findings: Findings, book: Book) -> Iterator[Unlikely]:
    """Ball marks that speak for the other end of the blade than the one that is wished for."""
    wished = sheet.wishes.sweet_spot
    opposite = {"low": "high", "high": "low"}.get(wished or "")
    speaking = {
        sign.option
        for sign in book.rules.signs
        if sign.subject == "sweet_spot"
        and sign.points > 0
        and any(one.answer == MARKS for one in sign.when)
        and all(findings.meets(one) for one in sign.when)
    }
    if opposite in speaking:
        yield Unlikely(
            "marks",
            (MARKS, "wishes.sweet_spot"),
            {"marks_mm": round(median(sheet.game.ball_marks_from_toe_mm or (0.0,)))},
        )


def _judgement(sheet: FittingSheet) -> Iterator[Unlikely]:
    """A bat that is liked although it lifts wrongly, or whose middle is said to lie where the pitches ask."""
    present, bounce = sheet.present_bat, sheet.pitches.bounce
    if present.liked and present.pickup in {"too_heavy", "too_light"}:
        yield Unlikely(f"liked_{present.pickup}", ("present_bat.liked", "present_bat.pickup"))
    for height, felt in (("low", "too_low"), ("high", "too_high")):
        if bounce == height and present.sweet_spot == felt:
            yield Unlikely(f"bounce_{felt}", ("present_bat.sweet_spot", "pitches.bounce"))


def _mass_wish(sheet: FittingSheet) -> Iterator[Unlikely]:
    """A wish for more mass where the bat in use is too heavy, or for less where it is too light."""
    present, wish = sheet.present_bat, sheet.wishes.mass_g
    if wish is None or present.mass_g is None:
        return
    answers = ("wishes.mass_g", "present_bat.pickup", "present_bat.mass_g")
    if present.pickup == "too_heavy" and wish.min is not None and wish.min > present.mass_g:
        yield Unlikely("wish_heavier", answers, {"wished_g": wish.min, "mass_g": present.mass_g})
    if present.pickup == "too_light" and wish.max is not None and wish.max < present.mass_g:
        yield Unlikely("wish_lighter", answers, {"wished_g": wish.max, "mass_g": present.mass_g})


def _play(sheet: FittingSheet) -> Iterator[Unlikely]:
    """A patient player whose runs come from lofted strokes, or a big hitter who plays none."""
    shots = sheet.game.shots
    lofted = shots.lofted if shots else None
    if lofted is None:
        return
    answers = ("game.approach", "game.shots.lofted")
    if sheet.game.approach == "patient" and lofted >= PLAYED:
        yield Unlikely("patient_lofted", answers)
    if sheet.game.approach == "big_hitting" and lofted <= HARDLY_PLAYED:
        yield Unlikely("big_hitting_grounded", answers)
