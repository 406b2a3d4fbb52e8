"""Bats as the ball meets them, for tests of the blow: their body, modes, what they offer along the blade."""

import numpy as np
from scipy.interpolate import CubicSpline

from fitting.bat.bending import MODES, bend
from fitting.bat.response import _places_along, _struck
from fitting.bat.weigh import solid_of, weigh_with
from fitting.sheets.book_materials import Materials

MATERIALS = Materials()
BALL_KG = 0.159


def modes_and_body(build, materials=MATERIALS, *, count=MODES):
    bat = solid_of(build, materials, None, 12.0)
    modes = bend(
        build,
        materials,
        bat.bodies,
        bat.whole,
        density_kg_m3=bat.density_kg_m3,
        moisture_percent=12.0,
        count=count,
    )
    return modes, bat.whole


def along_the_blade(build, materials=MATERIALS, *, count=MODES, apart_mm=20.0, across_mm=0.0):
    """Places (mm from the toe), and what the bat offers there."""
    modes, body = modes_and_body(build, materials, count=count)
    x = _places_along(build.blade.length_mm, apart_mm)
    return x, _struck(body, modes, x, np.full_like(x, across_mm))


def curve_of(weighing):
    """The response's smooth curve: speed off the bat over the place."""
    places = [point.from_toe_mm for point in weighing.response]
    return CubicSpline(places, [point.exit_speed_m_s for point in weighing.response])


def weighed(build, materials=MATERIALS, **more):
    """A weighing with everything in it: nothing here is from an older model."""
    weighing = weigh_with(build, materials, **more)
    assert weighing.sweet_spot is not None
    assert weighing.reference_impact is not None
    return weighing
