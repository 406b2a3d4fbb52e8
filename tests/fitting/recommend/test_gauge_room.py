"""Whatever depth a book allows, every bat that is designed keeps the book's margin in the gauge."""

import numpy as np
import pytest

from fitting.laws.gauge import gauge_margin
from fitting.recommend import recommend
from fitting.recommend.answer import draft_of
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.sheets import fitting

# A maker who knows no depth of the trade: nothing but the Laws' own 67 mm and the gauge stands in the way.
BOLD = DEFAULT_BOOK.model_copy(
    update={
        "gauge_depth_on_flat_face_mm": 70.0,
        "rules": DEFAULT_BOOK.rules.model_copy(
            update={
                "range_of_depths": DEFAULT_BOOK.rules.range_of_depths.model_copy(
                    update={
                        "more": DEFAULT_BOOK.rules.range_of_depths.more.model_copy(update={"swell_mm": 9})
                    }
                )
            }
        ),
    }
)
WISHES = [
    {},
    {"profile": "full", "edges": "thick", "face": "flat"},
    {"profile": "spine_to_toe", "edges": "thin"},
]


@pytest.mark.parametrize("margin", [1.0, 2.5])
@pytest.mark.parametrize("wishes", WISHES)
def test_fullest_shape_is_lowered_to_the_margin_and_no_further(wishes, margin):
    book = BOLD.model_copy(update={"law_margin_mm": margin})
    draft = draft_of(fitting(wishes=wishes), book)
    shapes = draft.shapes()
    left = [gauge_margin(draft.build(shapes, fullness, 410)) for fullness in np.linspace(-1, 1, 21)]
    assert min(left) >= margin
    assert left[-1] < margin + 0.25


@pytest.mark.parametrize("wishes", WISHES)
def test_depth_of_the_trade_needs_no_lowering(wishes):
    draft = draft_of(fitting(wishes=wishes), DEFAULT_BOOK)
    assert gauge_margin(draft.build(draft.shapes(), 1, 410)) > DEFAULT_BOOK.law_margin_mm
    deepest = float(draft.shapes().spine_mm.max())
    assert deepest <= DEFAULT_BOOK.gauge_depth_on_flat_face_mm + draft.crown_mm


def test_recommendation_by_a_bold_book_goes_through_the_gauge():
    heavy = fitting(wishes={"mass_g": {"min": 1400, "max": 1420}, "profile": "full"})
    found = recommend(heavy, BOLD)
    assert BOLD.law_margin_mm <= gauge_margin(found.build) < BOLD.law_margin_mm + 0.5
