"""What is offered in place of a choice is what the bat would be with it."""

import pytest

from fitting.recommend import recommend
from fitting.recommend.answer import draft_of
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.sheets import fitting

CHILD = {"age_years": 11, "height_mm": 1400}


def reason(sheet, field):
    """The recommendation's reason for a field."""
    return next(one for one in recommend(sheet).reasons if one.field == field)


@pytest.mark.parametrize("player", [CHILD, {}])
@pytest.mark.parametrize("surface", [None, "concrete", "artificial"])
def test_another_toe_has_the_depth_that_it_would_be_made_with(player, surface):
    sheet = fitting(player=player, pitches={"surface": surface} if surface else {}, wishes={"toe": "light"})
    draft = draft_of(sheet, DEFAULT_BOOK)
    offered = [one.value for one in reason(sheet, "blade.stations.0.spine_mm").alternatives]
    made = [
        draft.deciding("toe", option).shapes().stations(0)[0].spine_mm for option in draft.blade.toe.others
    ]
    assert offered == made[:3]


@pytest.mark.parametrize("player", [CHILD, {}])
def test_a_scoop_offered_has_the_depth_that_it_would_be_made_with(player):
    sheet = fitting(player=player, wishes={"profile": "full", "toe": "light"})
    other = draft_of(sheet, DEFAULT_BOOK).deciding("scoop", "scooped")
    scoop = other.build(other.shapes(), 0, 650).blade.toe.scoop
    assert scoop
    assert [one.value for one in reason(sheet, "blade.toe.scoop").alternatives] == [scoop.depth_mm]
