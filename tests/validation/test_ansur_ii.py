"""Bodies drawn by chance against those that were measured, and the handles that their hands get.

ANSUR II (2012): Gordon C. C. et al. (2014) NATICK/TR-15/007, 4,082 men and 1,986 women, percentiles in mm
computed from its public data files. The table's own percentiles err by chance, sqrt(p (1 - p) / n) over the
density there, as do those of the bodies drawn; they are printed to a whole mm.

Girths: Kong Y.-K., Lowe B. D. (2005) Optimal cylindrical handle diameter for grip force tasks. International
Journal of Industrial Ergonomics 35(6):495-507: a diameter of 19.7 % of hand length. Found for hard grips on
bare cylinders: a default to start from, no claim about batting.
"""

from math import hypot, pi, sqrt

import numpy as np
import pytest
from scipy.stats import norm

from fitting.recommend import recommend
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.bodies import CHILD_HAND_SHARE, MEN, WOMEN, bodies, grown_bodies
from tests.sheets import fitting

DRAWN = 20_000
PERCENTILES = (1, 5, 25, 50, 75, 95, 99)
MEN_MM = {
    "hand_length_mm": (193.3, 9.9, (172, 177, 187, 193, 200, 210, 218)),
    "height_mm": (1756.2, 68.6, (1602, 1648, 1710, 1755, 1802, 1870, 1927)),
    "wrist_height_mm": (847.5, 41.7, (753, 780, 819, 847, 875, 917, 947)),
}
WOMEN_MM = {
    "hand_length_mm": (181.1, 10.1, (160, 165, 174, 180, 187, 199, 207)),
    "height_mm": (1628.5, 64.2, (1483, 1525, 1586, 1626, 1672, 1740, 1777)),
    "wrist_height_mm": (794.2, 38.2, (711, 732, 769, 794, 819, 860, 889)),
}
PRINTED_MM = 0.5
SURE = 3
"""So many standard errors two samples of the same people may lie apart."""


@pytest.fixture(scope="module")
def drawn():
    """Grown bodies of both sexes, each measure a column."""
    chance = np.random.default_rng(8)
    return {
        sex: {
            name: np.array([getattr(body, name) for body in people])
            for name in ("hand_length_mm", "height_mm", "wrist_height_mm")
        }
        for sex, people in (
            ("men", list(grown_bodies(DRAWN, MEN, chance))),
            ("women", list(grown_bodies(DRAWN, WOMEN, chance))),
        )
    }


def error_of_percentile(share, people):
    """Standard error of a percentile of normally spread people, as a share of their standard deviation."""
    return sqrt(share * (1 - share) / people) / norm.pdf(norm.ppf(share))


@pytest.mark.parametrize(
    ("sex", "measured", "table"), [("men", MEN, MEN_MM), ("women", WOMEN, WOMEN_MM)], ids=["men", "women"]
)
@pytest.mark.parametrize("name", ["height_mm", "hand_length_mm", "wrist_height_mm"])
def test_drawn_bodies_have_the_percentiles_that_were_measured(drawn, sex, measured, table, name):
    mean, sd, percentiles = table[name]
    found = drawn[sex][name]
    error = hypot(1 / sqrt(DRAWN), 1 / sqrt(measured.people)) * sd
    assert found.mean() == pytest.approx(mean, abs=SURE * error)
    # of a standard deviation, the error is that of the mean over the square root of 2
    assert found.std() == pytest.approx(sd, abs=SURE * error / sqrt(2))
    for percentile, printed in zip(PERCENTILES, percentiles, strict=True):
        share = percentile / 100
        error = hypot(error_of_percentile(share, DRAWN), error_of_percentile(share, measured.people)) * sd
        assert np.percentile(found, percentile) == pytest.approx(printed, abs=SURE * error + PRINTED_MM)


@pytest.mark.parametrize(("sex", "correlation"), [("men", 0.67), ("women", 0.65)])
def test_drawn_hands_go_with_stature_as_measured(drawn, sex, correlation):
    found = np.corrcoef(drawn[sex]["height_mm"], drawn[sex]["hand_length_mm"])[0, 1]
    # printed to 0.01; by chance (1 - r^2) / sqrt(n)
    assert found == pytest.approx(correlation, abs=SURE * (1 - correlation**2) / sqrt(1986) + 0.005)


def test_children_are_drawn_with_the_grown_share():
    children = [body for body in bodies(400) if body.age_years < 18]
    assert 60 < len(children) < 140
    for body in children:
        assert body.hand_length_mm / body.height_mm == pytest.approx(CHILD_HAND_SHARE, abs=1e-4)


@pytest.mark.parametrize(
    ("hand_mm", "girth_mm", "stopped_at"),
    [
        # worked out by hand: 19.7 % of the percentile, times pi
        (177, 109.5, None),  # men, P5
        (193, 119.4, None),  # men, P50
        (210, 130.0, "girth_most_mm"),  # men, P95
        (165, 102.1, "girth_least_mm"),  # women, P5
        (180, 111.4, None),  # women, P50
        (199, 123.2, None),  # women, P95
    ],
)
def test_handle_over_its_grip_suits_the_percentiles_of_hands_or_tells_the_limit(
    hand_mm, girth_mm, stopped_at
):
    found = recommend(fitting(player={"hand_length_mm": hand_mm}))
    handle, grips, limits = found.build.handle, found.build.grips, DEFAULT_BOOK.trade_limits_adult
    over_grip = handle.girth_mm.middle + 2 * pi * grips.wall_mm * grips.count
    told = [one for one in found.conflicts if one.key == "girth.limit"]
    assert bool(told) == bool(stopped_at)
    # the figure, the girth and what is told as missing are rounded to 0.1 mm each
    if stopped_at:
        assert handle.girth_mm.middle == getattr(limits, stopped_at)
        assert over_grip - told[0].cost["girth_mm"] == pytest.approx(girth_mm, abs=0.16)
        assert "player.hand_length_mm" in told[0].fields
    else:
        assert limits.girth_least_mm <= handle.girth_mm.middle <= limits.girth_most_mm
        assert over_grip == pytest.approx(girth_mm, abs=0.11)
