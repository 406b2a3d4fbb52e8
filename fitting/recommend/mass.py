"""The mass to aim at: from the bat in use, else the usual of the size; never more for strength."""

from dataclasses import dataclass, replace

from fitting.recommend.length import is_grown
from fitting.recommend.scores import UNANSWERED
from fitting.sheets.book import Book, LengthRow
from fitting.sheets.fitting_sheet import FittingSheet, MassWish
from fitting.sheets.recommendation import Because, Conflict


@dataclass(frozen=True)
class MassAim:
    """Target and tolerance, g, with why and how sure; least and most that the size allows."""

    target_g: float
    tolerance_g: float
    because: tuple[Because, ...]
    confidence: float
    conflicts: tuple[Conflict, ...]
    least_g: float
    most_g: float
    wished: bool

    def shifted(self, by_g: float) -> "MassAim":
        """The same aim moved, inside what the size allows, to a whole gram."""
        return replace(self, target_g=round(min(max(self.target_g + by_g, self.least_g), self.most_g)))


@dataclass(frozen=True)
class _Guess:
    grams: float
    because: tuple[Because, ...]
    known: float
    from_answers: bool


def aim_mass(sheet: FittingSheet, row: LengthRow, book: Book, *, child: bool) -> MassAim:
    """Aim at a finished mass, g, grips and dress included.

    A wish is followed inside the trade's limits of the size; a child's bat never passes the top of its
    size's usual mass, whatever is wished.
    """
    rules = book.rules
    low = row.mass_low_g * (1 - book.trade_limits(row.code).mass_slack_share)
    high = row.mass_high_g * (1 + book.trade_limits(row.code).mass_slack_share)
    ceiling = row.mass_high_g if child else high
    guess = _guess(sheet, row, book, child=child)
    grams = min(max(guess.grams, low), ceiling)
    because = guess.because
    if abs(grams - guess.grams) > 0.5:
        fact = "child.mass_ceiling" if child and grams < guess.grams else "limits.mass"
        because = (*because, Because(answer=None, fact=fact))
    sure = rules.confidence_floor + (1 - rules.confidence_floor) * guess.known
    wish = sheet.wishes.mass_g
    if wish is None or (wish.min is None and wish.max is None):
        return MassAim(
            round(grams), rules.mass_tolerance_g, because, round(sure, 2), (), low, ceiling, wished=False
        )
    return _wished(wish, grams, guess, (low, ceiling), book, child=child)


def _wished(
    wish: MassWish, grams: float, guess: _Guess, bounds: tuple[float, float], book: Book, *, child: bool
) -> MassAim:
    rules = book.rules
    target, tolerance = _inside(wish, grams, book)
    low, ceiling = bounds
    kept = min(max(target, low), ceiling)
    because = (Because(answer="wishes.mass_g", fact="wish.followed"),)
    if abs(kept - target) > tolerance:
        over_child = child and kept < target
        fact = "child.mass_ceiling" if over_child else "limits.mass"
        conflict = Conflict(
            key="mass.child_ceiling" if over_child else "mass.trade_limit",
            fields=("mass_g", "wishes.mass_g"),
            kept=f"{kept:.0f}",
            given_up=f"{target:.0f}",
            cost={"mass_g": round(kept - target, 1)},
            ways_out=("length_code",),
        )
        return MassAim(
            round(kept),
            rules.mass_tolerance_g,
            (*because, Because(answer=None, fact=fact)),
            rules.confidence_of_wish_against_rule,
            (conflict,),
            low,
            ceiling,
            wished=True,
        )
    conflicts: tuple[Conflict, ...] = ()
    if guess.from_answers and abs(kept - grams) > rules.mass_step_g:
        conflicts = (
            Conflict(
                key="mass.wish",
                fields=("mass_g", "wishes.mass_g"),
                kept=f"{kept:.0f}",
                given_up=f"{grams:.0f}",
                cost={"mass_g": round(kept - grams, 1)},
                ways_out=("wishes.mass_g",),
            ),
        )
    sure = rules.confidence_of_wish_against_rule if conflicts else rules.confidence_of_wish
    return MassAim(round(kept), tolerance, because, sure, conflicts, low, ceiling, wished=True)


def _inside(wish: MassWish, grams: float, book: Book) -> tuple[float, float]:
    """Target nearest to the guess with its tolerance inside the wish, and that tolerance, both g."""
    rules = book.rules
    usual, least = rules.mass_tolerance_g, rules.mass_tolerance_least_g
    if wish.min is not None and wish.max is not None:
        half = (wish.max - wish.min) / 2
        if half <= usual:
            return (wish.min + wish.max) / 2, max(half, least)
    low = wish.min + usual if wish.min is not None else grams
    high = wish.max - usual if wish.max is not None else grams
    return (min(max(grams, low), high) if low <= high else (low if wish.min is not None else high)), usual


def _guess(sheet: FittingSheet, row: LengthRow, book: Book, *, child: bool) -> _Guess:
    """First guess before limits and wishes, g.

    A bat in use is the best guess. Strength speaks only downwards: nobody gets more wood for being strong.
    """
    rules, present = book.rules, sheet.present_bat
    usual, because, light_known = _usual(sheet, row, book)
    if present.mass_g is None:
        if present.pickup == "too_heavy":
            lighter = min(usual, _share(row, rules.mass_light_share))
            told = Because(answer="present_bat.pickup", fact="mass.lighter")
            return _Guess(lighter, (*because, told), 0.5, from_answers=True)
        known = 0.6 if child else 0.2 + 0.1 * light_known
        return _Guess(usual, (*because, Because(answer=None, fact=UNANSWERED)), known, from_answers=False)
    grams = present.mass_g
    reasons = [Because(answer="present_bat.mass_g", fact="prior.present_bat")]
    if present.length_code is not None and present.length_code != row.code:
        grams += row.mass_middle_g - book.length(present.length_code).mass_middle_g
        reasons.append(Because(answer="present_bat.length_code", fact="mass.other_size"))
    if present.liked is False and present.pickup is None:
        grams = (grams + usual) / 2
        reasons.append(Because(answer="present_bat.liked", fact="mass.not_liked"))
    if present.pickup == "too_heavy":
        grams -= rules.mass_step_g
        reasons.append(Because(answer="present_bat.pickup", fact="mass.lighter"))
    elif present.pickup == "too_light":
        grams += rules.mass_step_g
        reasons.append(Because(answer="present_bat.pickup", fact="mass.heavier"))
    elif present.pickup == "right":
        reasons.append(Because(answer="present_bat.pickup", fact="prior.present_bat"))
    if sheet.wishes.easy_on_joints:
        grams = min(grams, _share(row, rules.mass_light_share))
        reasons.append(Because(answer="wishes.easy_on_joints", fact="mass.joints"))
    known = 0.9 if present.pickup or present.liked else 0.6
    return _Guess(grams, tuple(reasons), known, from_answers=True)


def _usual(sheet: FittingSheet, row: LengthRow, book: Book) -> tuple[float, tuple[Because, ...], int]:
    """Usual mass of the size, at its lighter part for the young, the light and sore joints."""
    rules = book.rules
    reasons = [Because(answer=None, fact="mass.adult")]
    lighter = False
    if not is_grown(sheet):
        lighter = True
        reasons = [Because(answer="player.age_years", fact="child.lighter")]
    if sheet.player.strength == "light":
        lighter = True
        reasons.append(Because(answer="player.strength", fact="mass.light_player"))
    if sheet.wishes.easy_on_joints:
        lighter = True
        reasons.append(Because(answer="wishes.easy_on_joints", fact="mass.joints"))
    share = rules.mass_light_share if lighter else rules.mass_usual_share
    told = int(sheet.player.strength is not None)
    return _share(row, share), tuple(reasons), told


def _share(row: LengthRow, share: float) -> float:
    return row.mass_low_g + share * (row.mass_high_g - row.mass_low_g)
