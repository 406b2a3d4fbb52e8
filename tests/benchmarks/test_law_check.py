"""The law check runs with every keystroke of a draft: a fraction of what a bat takes to be hefted."""

import pytest

from fitting.bat.weigh import heft
from fitting.laws import law_check
from fitting.laws.gauge import gauge_margin
from fitting.recommend import recommend
from tests.benchmarks.test_recommend import fastest
from tests.sheets import fitting

# Measured: 43 % for the whole check, 28 % for the gauge with coverings on. Twice that is red.
MOST_RATIO, MOST_RATIO_OF_GAUGE = 0.9, 0.6


@pytest.mark.bench
def test_law_check_stays_below_a_hefting():
    build = recommend(fitting()).build
    hefted = fastest(lambda: heft(build))
    whole = fastest(lambda: law_check(build, level="club"))
    gauge = fastest(lambda: gauge_margin(build))
    print(f"law check {1000 * whole:.2f} ms, gauge {1000 * gauge:.2f} ms, hefting {1000 * hefted:.2f} ms")
    assert whole / hefted <= MOST_RATIO
    assert gauge / hefted <= MOST_RATIO_OF_GAUGE
