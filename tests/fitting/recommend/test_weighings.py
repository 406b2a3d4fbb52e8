"""How often a bat is weighed for one recommendation: speed counted, whatever the machine."""

from collections import Counter

import pytest

from fitting.bat import weigh as weighing
from fitting.recommend import recommend
from tests.seeded_sheets import seeded_sheets
from tests.sheets import fitting

MOST_WEIGHINGS = 8
SHEETS = 60
# Both solves of edges that give way, and the weighing of what a long sweet spot costs.
BUSY = fitting(
    game={"approach": "big_hitting"},
    present_bat={"mass_g": 1100, "balance_from_toe_mm": 395, "overall_length_mm": 851, "pickup": "too_heavy"},
    wishes={
        "mass_g": {"max": 1040},
        "edges": "thick",
        "profile": "full",
        "sweet_spot": "long",
        "gives_way_first": ["edges", "mass", "pickup"],
    },
)


@pytest.fixture
def counted(monkeypatch):
    """Count, inside the model, what every weighing comes through, whoever asks; nothing else is changed."""
    counts: Counter[str] = Counter()

    def counting(name):
        real = getattr(weighing, name)

        def count(*arguments, **options):
            counts[name] += 1
            return real(*arguments, **options)

        return count

    for name in ("solid_of", "respond"):
        monkeypatch.setattr(weighing, name, counting(name))
    return counts


def test_recommendation_weighs_at_most_eight_times(counted):
    most = 0.0
    for sheet in [BUSY, *seeded_sheets(SHEETS)]:
        counted.clear()
        recommend(sheet)
        # the impact is worked out in a full weighing only, the solid in a hefting too
        full, hefted = counted["respond"], counted["solid_of"] - counted["respond"]
        assert 1 <= full <= MOST_WEIGHINGS
        most = max(most, full + hefted / 4)
    # a hefting takes about a quarter of a weighing
    assert most <= MOST_WEIGHINGS


def test_counts_are_those_of_weighings(counted):
    build = recommend(fitting()).build
    counted.clear()
    weighing.weigh(build)
    weighing.heft(build)
    assert counted == {"respond": 1, "solid_of": 2}
