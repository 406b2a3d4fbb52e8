"""A weighing against the bare arithmetic that it cannot do without, on the same machine.

The yardstick takes the blade's own quadrature points and integrates a plain section over them in bare numpy:
no sheet, no handle, no dressing, no rounded corners. The ratio tells what the model of the bat adds to that.
"""

import numpy as np
import pytest

from fitting.bat.outline import edge, local_width, spine
from fitting.bat.parts import blade_rule
from fitting.bat.weigh import weigh
from fitting.recommend import recommend
from tests.benchmarks.test_recommend import fastest
from tests.sheets import fitting

# A weighing has eight bodies, each with sections, corners and a tensor, where the yardstick has one plain
# one, and curves through the stations where it has straight lines: 150 were measured. Twice that is red.
MOST_RATIO = 300


def bare(x, weight, width, places, spines, edges):
    """Return mass, centre and the three moments of one plain body in bare numpy."""
    deep = np.interp(x, places, spines)
    thin = np.interp(x, places, edges)
    area = width * (deep + thin) / 2
    first = area * deep / 2
    second_yy = area * deep**2 / 3
    second_zz = area * width**2 / 12
    volume = weight @ area
    along = (weight @ (x * area)) / volume
    across = (weight @ first) / volume
    off = x - along
    xx = weight @ (off**2 * area)
    yy = weight @ second_yy - across**2 * volume
    zz = weight @ second_zz
    xy = weight @ (off * first)
    tensor = np.array([[yy + zz, -xy, 0.0], [-xy, xx + zz, 0.0], [0.0, 0.0, xx + yy]])
    return volume, along, across, tensor


@pytest.mark.bench
def test_weighing_stays_near_its_bare_arithmetic():
    build = recommend(fitting()).build
    rule = blade_rule(build)
    places = np.array([station.from_toe_mm for station in build.blade.stations])
    spines, edges = spine(build.blade, places), edge(build.blade, places)
    width = local_width(build.blade, rule.x)
    volume, along, _across, _tensor = bare(rule.x, rule.weight, width, places, spines, edges)
    blade = next(part for part in weigh(build).parts if part.name == "blade")
    # The yardstick must be about the same work: a plain section holds more wood than a hollowed one.
    assert 0.8 < volume / blade.volume_mm3 < 1.6
    assert abs(along - blade.centre_from_toe_mm) < 30

    slow = fastest(lambda: weigh(build))
    quick = fastest(lambda: bare(rule.x, rule.weight, width, places, spines, edges), times=400)
    print(f"weigh takes {slow / quick:.0f} bare evaluations of {len(rule.x)} points ({1000 * slow:.1f} ms)")
    assert slow / quick <= MOST_RATIO
