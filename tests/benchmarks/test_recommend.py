"""A recommendation is a handful of weighings: its time as a ratio to one weighing on the same machine."""

from time import perf_counter

import pytest

from fitting.bat.weigh import weigh
from fitting.recommend import recommend
from tests.sheets import fitting

MOST_WEIGHINGS = 8
# choosing, shaping, reasons and the book's stamp take about as long as two weighings more
MOST_RATIO = 2 * MOST_WEIGHINGS


def fastest(what, times=40):
    """Shortest of several runs, in seconds."""
    best = float("inf")
    for _ in range(times):
        begun = perf_counter()
        what()
        best = min(best, perf_counter() - begun)
    return best


@pytest.mark.bench
@pytest.mark.parametrize(
    "chapters",
    [
        {},
        {"wishes": {"mass_g": {"max": 900}, "edges": "thick", "profile": "full", "bow": "none"}},
        {
            "game": {"approach": "patient", "shots": {"lofted": 3}},
            "wishes": {"profile": "full", "toe": "strong", "sweet_spot": "low"},
        },
    ],
)
def test_recommendation_takes_a_handful_of_weighings(chapters):
    sheet = fitting(**chapters)
    build = recommend(sheet).build
    ratio = fastest(lambda: recommend(sheet)) / fastest(lambda: weigh(build))
    print(f"recommend takes {ratio:.1f} weighings")
    assert ratio <= MOST_RATIO
