"""How fast a heavier bat is swung.

Cross R. and Bower R. (2006), Effects of swing-weight on swing speed and racket power, J. Sports Sci.
24:23-30: speed goes as swing-weight to the power -0.27 above 0.03 kg m2.
So 10 % more inertia costs 2.5 % of the speed, and 20 % 4.8 %. Their swing-weight is about the held end (from
memory); here the book's pickup stands for it. Cross R. (2005), Physics of Cricket, University of Sydney, adds
that a light bat is swung only some 10 % faster over the usual range of weights.
"""

import numpy as np
import pytest

from fitting.bat.response import respond
from tests.builds import a_build
from tests.fitting.bat.struck import MATERIALS, modes_and_body, weighed


def swing(pickup):
    modes, body = modes_and_body(a_build())
    return respond(a_build(), MATERIALS.impact, body, modes, pickup_kg_m2=pickup).impact.swing_rad_s


@pytest.mark.parametrize("pickup", [0.05, 0.15, 0.2, 0.26])
def test_ten_per_cent_more_inertia_is_swung_two_and_a_half_per_cent_slower(pickup):
    assert swing(1.1 * pickup) / swing(pickup) == pytest.approx(1 - 0.025, abs=5e-4)
    assert swing(1.2 * pickup) / swing(pickup) == pytest.approx(0.952, abs=5e-4)


def test_speed_goes_as_the_published_power():
    pickups = np.array([0.05, 0.1, 0.2, 0.3])
    slope = np.polyfit(np.log(pickups), np.log([swing(p) for p in pickups]), 1)[0]
    assert slope == pytest.approx(-0.27, abs=1e-9)


def test_book_tells_the_speed_of_its_own_pickup():
    assert swing(MATERIALS.impact.swing_pickup_kg_m2) == MATERIALS.impact.blow("short_handle").swing_rad_s


def test_weighing_swings_by_its_own_pickup():
    build = a_build()
    weighing = weighed(build)
    assert weighing.reference_impact.swing_rad_s == swing(weighing.inertia_kg_m2.pickup)


def test_lightest_and_heaviest_usual_bat_are_swung_about_ten_per_cent_apart():
    """0.16 and 0.22 kg m2 stand for the usual range (from memory of the trade)."""
    assert swing(0.16) / swing(0.22) - 1 == pytest.approx(0.10, abs=0.03)
