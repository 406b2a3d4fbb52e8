"""Which length: by the junior table for children, by height, grip and stance for adults."""

from typing import cast

from fitting.recommend.findings import HEIGHT, Findings
from fitting.recommend.scores import Decision, Prior, decide
from fitting.sheets.book import Book
from fitting.sheets.book_rules import Condition, Sign
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.values import JUNIOR_CODES, LengthCode

_TABLE_POINTS = 4.5
_GROWN_YEARS = 18


def choose_length(sheet: FittingSheet, findings: Findings, book: Book) -> tuple[LengthCode, Decision]:
    """Choose the length code; a wish for one outranks the table, openly."""
    wished = sheet.wishes.length_code
    present = sheet.present_bat
    liked = present.liked is True and present.length_code is not None
    decision = decide(
        _signs(sheet, findings, book),
        findings,
        book.rules,
        wish=(wished, "wishes.length_code") if wished else None,
        # the young grow out of a bat: the one that was right last year says nothing about the size
        prior=Prior(cast(str, present.length_code), "present_bat.length_code", "prior.present_bat")
        if liked and is_grown(sheet)
        else None,
    )
    return cast(LengthCode, decision.option), decision


def goes_by_junior_table(sheet: FittingSheet, book: Book) -> bool:
    """Tell whether the table of junior sizes applies: by age, or for very small adults by height alone."""
    player, rules = sheet.player, book.rules
    young = player.age_years < rules.junior_sizes_below_years or (
        player.age_years < rules.junior_level_below_years and sheet.level == "junior"
    )
    tallest = rules.junior_upper_bounds_mm[-1] + rules.inch_slack_mm
    return (young and player.height_mm <= tallest) or player.height_mm < rules.small_adult_by_table_below_mm


def is_child(sheet: FittingSheet, code: LengthCode) -> bool:
    """Tell whether the rules for children apply: under 18 and in a junior size."""
    return not is_grown(sheet) and code in JUNIOR_CODES


def is_grown(sheet: FittingSheet) -> bool:
    """Tell whether the player is 18 or older."""
    return sheet.player.age_years >= _GROWN_YEARS


def _signs(sheet: FittingSheet, findings: Findings, book: Book) -> tuple[Sign, ...]:
    if not goes_by_junior_table(sheet, book):
        return tuple(sign for sign in book.rules.signs if sign.subject == "length")
    # Upper bounds include the height they name; between two sizes the smaller one. The findings take
    # the slack off every bound, so that twice of it puts it on top of an upper one.
    slack = 2 * book.rules.inch_slack_mm + 1e-6
    signs = []
    lower = 0.0
    for code, bound in zip(JUNIOR_CODES, book.rules.junior_upper_bounds_mm, strict=True):
        upper = None if code == JUNIOR_CODES[-1] else bound + slack
        signs.append(_by_table(code, Condition(answer=HEIGHT, at_least=lower, below=upper)))
        lower = bound + slack
    return (*signs, *_between_sizes(sheet, findings, book))


def _by_table(code: LengthCode, when: Condition) -> Sign:
    return Sign(subject="length", option=code, points=_TABLE_POINTS, fact="length.junior_table", when=(when,))


def _between_sizes(sheet: FittingSheet, findings: Findings, book: Book) -> tuple[Sign, ...]:
    """Signs for the next junior size where the height comes near it, told for that size.

    The signs of the book speak for the table's own size or for the next; what speaks for the table's own
    counts against the next, so that the next needs more than the table's size is sure of.
    """
    rules, height = book.rules, sheet.player.height_mm
    bounds = dict(zip(JUNIOR_CODES, rules.junior_upper_bounds_mm, strict=True))
    own = next((code for code, bound in bounds.items() if height <= bound + rules.inch_slack_mm), None)
    if own is None or own == JUNIOR_CODES[-1] or bounds[own] - height > rules.between_sizes_mm:
        return ()
    following = JUNIOR_CODES[JUNIOR_CODES.index(own) + 1]
    told = [sign for sign in rules.signs if sign.subject == "length_child"]
    return (
        Sign(
            subject="length",
            option=following,
            points=_TABLE_POINTS,
            fact="length.between_sizes",
            when=(Condition(answer=HEIGHT, at_least=0),),
        ),
        *(
            Sign(
                subject="length",
                option=following if sign.option == "next" else own,
                points=sign.points,
                fact=sign.fact,
                when=sign.when or (Condition(answer=HEIGHT, at_least=0),),
            )
            for sign in told
        ),
    )
