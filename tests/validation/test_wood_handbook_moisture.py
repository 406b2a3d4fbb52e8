"""Mass of a fixed dry piece of willow by moisture: USDA Wood Handbook, FPL-GTR-282, eq. 4-2.

The shares of the mass at 12 % are computed from that relation: (1 + M) / 1.12.
"""

import pytest

from fitting.bat.weigh import weigh
from tests.builds import a_build


def _part(weighing, name):
    return next(part for part in weighing.parts if part.name == name)


@pytest.mark.parametrize(
    ("moisture", "share"), [(6, 0.946), (8, 0.964), (10, 0.982), (12, 1.0), (14, 1.018), (16, 1.036)]
)
def test_blade_weighs_the_handbooks_share_at_each_moisture(moisture, share):
    build = a_build()
    damp = _part(weigh(build, moisture_percent=moisture), "blade").mass_g
    assert damp / _part(weigh(build), "blade").mass_g == pytest.approx(share, abs=5e-4)


def test_nine_hundred_grams_of_willow_change_by_eight_grams_with_one_percent():
    build = a_build()
    density = 900 / _part(weigh(build), "blade").volume_mm3 * 1e6
    at = {m: _part(weigh(build, density_kg_m3=density, moisture_percent=m), "blade").mass_g for m in (12, 13)}
    assert at[12] == pytest.approx(900, rel=1e-9)
    assert at[13] - at[12] == pytest.approx(8.0, abs=0.05)
