"""The stations' curve against scipy's PCHIP and the property it is named for.

Fritsch F. N., Butland J. (1984), A method for constructing local monotone piecewise cubic interpolants,
SIAM J. Sci. Stat. Comput. 5:300-304, as scipy.interpolate.PchipInterpolator computes it.
"""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from fitting.curve import monotone_cubic

steps = st.lists(st.floats(0.5, 200), min_size=2, max_size=12)


@given(steps, st.data())
def test_curve_is_that_of_scipy(step, data):
    knots = np.concatenate([[0.0], np.cumsum(step)])
    values = np.array(data.draw(st.lists(st.floats(5, 80), min_size=len(knots), max_size=len(knots))))
    at = np.linspace(0.0, knots[-1], 173)
    ours = monotone_cubic(knots, values[:, None], at)[:, 0]
    assert np.allclose(ours, PchipInterpolator(knots, values)(at), rtol=1e-10, atol=1e-9)


@given(steps, st.data())
def test_curve_stays_between_its_two_stations(step, data):
    knots = np.concatenate([[0.0], np.cumsum(step)])
    values = np.array(data.draw(st.lists(st.floats(5, 80), min_size=len(knots), max_size=len(knots))))
    for left in range(len(knots) - 1):
        at = np.linspace(knots[left], knots[left + 1], 21)
        between = monotone_cubic(knots, values[:, None], at)[:, 0]
        low, high = sorted(values[left : left + 2])
        assert between.min() >= low - 1e-9
        assert between.max() <= high + 1e-9
        assert between[0] == values[left]
