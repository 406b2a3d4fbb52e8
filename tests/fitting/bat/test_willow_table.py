"""What a bat would be in willow of any density, against the re-shaping itself."""

from itertools import pairwise

import numpy as np
import pytest

from fitting.bat.reshape import reshape
from fitting.bat.willow_table import willow_table
from fitting.recommend import recommend
from fitting.sheets.build_sheet import Target
from tests.sheets import fitting


@pytest.fixture(scope="module")
def build():
    return recommend(fitting()).build


def test_between_two_points_the_figures_are_those_of_the_bat_really_shaped(build):
    table = willow_table(build)
    densities = [point.density_kg_m3 for point in table.points]
    assert len(densities) == 5
    assert densities == sorted(densities)
    assert densities[0] == pytest.approx(table.willow.least_kg_m3)
    assert densities[-1] == pytest.approx(table.willow.most_kg_m3)
    for low, high in pairwise(densities):
        bat = reshape(build, (low + high) / 2, build.mass_g.target).weighing
        assert bat.sweet_spot is not None
        between = {
            name: float(np.interp((low + high) / 2, densities, [getattr(p, name) for p in table.points]))
            for name in ("mass_g", "peak_from_toe_mm", "balance_from_toe_mm")
        }
        assert between["mass_g"] == pytest.approx(bat.mass_g, abs=1)
        # Each bat's own peak lies within 1.5 mm of the one that is held.
        assert between["peak_from_toe_mm"] == pytest.approx(bat.sweet_spot.peak_from_toe_mm, abs=3)
        assert between["balance_from_toe_mm"] == pytest.approx(bat.balance_from_toe_mm, abs=2)


def test_a_bat_that_no_willow_can_become_has_no_points(build):
    impossible = build.model_copy(update={"mass_g": Target(target=1900, tolerance=10)})
    table = willow_table(impossible)
    assert table.points == ()
    assert table.willow.least_kg_m3 is None
