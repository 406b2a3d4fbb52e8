"""Every answer counts: for each there are likely sheets in which changing only it changes the bat.

Confidence and echoes of the answer do not count: only the build sheet, a conflict or a caution. Each is
sought among five hundred seeded sheets until one is found.
"""

import numpy as np
import pytest
from pydantic import ValidationError

from fitting.recommend import recommend
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import SheetRefused
from fitting.sheets.fitting_sheet import FittingSheet
from tests.seeded_sheets import ANSWERS, other_values, seeded_sheets, with_answer

SHEETS = list(seeded_sheets())
_RECOMMENDED: dict[int, object] = {}


def consequence(sheet):
    """What an answer may change: the sheet of the bat, what pulls apart, what has to be said."""
    found = recommend(sheet)
    return found.build, found.conflicts, found.cautions


def known(number):
    """The consequence of one seeded sheet, worked out once."""
    if number not in _RECOMMENDED:
        _RECOMMENDED[number] = consequence(SHEETS[number])
    return _RECOMMENDED[number]


def most_likely_first(answer):
    """The numbers of all sheets; measures of the body decide most often near a bound of the junior sizes."""
    numbers = range(len(SHEETS))
    if not answer.startswith("player."):
        return numbers
    bounds = DEFAULT_BOOK.rules.junior_upper_bounds_mm

    def away(number):
        player = SHEETS[number].player
        return min(abs(player.height_mm - bound) for bound in bounds) + 1000 * (player.age_years > 15)

    return sorted(numbers, key=away)


def leaves_of(record, at=""):
    """Every field of a sheet without those below it that are measures of one answer."""
    whole = {"game.overs_mix", "present_bat.pendulum", "wishes.mass_g"}
    for name, field in record.model_fields.items():
        path = f"{at}{name}"
        inner = field.annotation
        kinds = getattr(inner, "__args__", (inner,))
        nested = next((kind for kind in kinds if hasattr(kind, "model_fields")), None)
        if nested is None or path in whole:
            yield path
        else:
            yield from leaves_of(nested, f"{path}.")


def test_list_of_answers_is_the_whole_sheet():
    assert set(leaves_of(FittingSheet)) - {"sheet"} == set(ANSWERS)


@pytest.mark.parametrize("answer", ANSWERS)
def test_answer_changes_a_bat(answer):
    chance = np.random.default_rng(7)
    for number in most_likely_first(answer):
        sheet = SHEETS[number]
        for value in other_values(answer, chance):
            try:
                other = with_answer(sheet, answer, value)
            except (SheetRefused, ValidationError):
                continue
            if other != sheet and consequence(other) != known(number):
                return
    pytest.fail(f"{answer} changes nothing in {len(SHEETS)} sheets: a question not to ask")
