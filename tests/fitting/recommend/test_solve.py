"""The joint solve: what it tells of the bat is true of the bat that was weighed."""

import pytest

from fitting.bat.weigh import weigh
from fitting.recommend.answer import draft_of
from fitting.recommend.solve import Willingness, solve
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.sheets import fitting

# The second stops at the last correction, short of the mass by more than a gram.
SHEETS = [
    fitting(),
    fitting(wishes={"mass_g": {"min": 1240, "max": 1250}, "profile": "tapered_spine", "edges": "thin"}),
    fitting(wishes={"mass_g": {"min": 1050, "max": 1060}, "profile": "scalloped", "edges": "thin"}),
]


@pytest.mark.parametrize("sheet", SHEETS)
def test_solve_tells_the_fullness_of_the_bat_that_was_weighed(sheet):
    draft = draft_of(sheet, DEFAULT_BOOK)
    solved = solve(draft, Willingness())
    assert solved.build.blade.stations == draft.shapes().stations(solved.fullness)
    assert weigh(solved.build) == solved.weighing
