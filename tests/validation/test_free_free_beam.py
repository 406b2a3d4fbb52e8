"""A uniform free-free beam in the limit of Euler and Bernoulli.

Roots of cos x cosh x = 1 and the frequencies from them: Thomson W. T., Theory of Vibration with Applications,
appendix D (squares printed there as 22.3733, 61.6728, 120.9034). Nodes: Blevins R. D. (1979), Formulas for
Natural Frequency and Mode Shape, table 8-1, and Rayleigh, The Theory of Sound, section 178 (both from
memory); the test works them out anew from the printed shape cosh bx + cos bx - s (sinh bx + sin bx).
"""

import numpy as np
import pytest
from scipy.optimize import brentq

from fitting.bat.beam import RIGID, modes_of, standstills
from tests.beams import beam

ROOTS = (4.73004, 7.85320, 10.99561)
NODES = (
    (0.22416, 0.77584),
    (0.13211, 0.50000, 0.86789),
    (0.09444, 0.35580, 0.64420, 0.90556),
)
LENGTH, STIFFNESS, MASS = 0.86, 1700.0, 1.36


def uniform(elements=44):
    return beam(LENGTH, elements, bending=lambda x: STIFFNESS, mass=lambda x: MASS)


def shape(root, share):
    s = (np.cosh(root) - np.cos(root)) / (np.sinh(root) - np.sin(root))
    return np.cosh(root * share) + np.cos(root * share) - s * (np.sinh(root * share) + np.sin(root * share))


def test_printed_roots_and_nodes_are_those_of_the_equation():
    for root, nodes in zip(ROOTS, NODES, strict=True):
        exact = brentq(lambda x: np.cos(x) - 1 / np.cosh(x), root - 0.1, root + 0.1)
        assert root == pytest.approx(exact, abs=5e-6)
        for node in nodes:
            assert node == pytest.approx(
                brentq(lambda x, b=exact: shape(b, x), node - 0.01, node + 0.01), abs=6e-6
            )


def test_frequencies_are_those_of_the_printed_roots():
    found = modes_of(uniform(), 3).frequency_hz
    expected = np.square(ROOTS) / (2 * np.pi * LENGTH**2) * np.sqrt(STIFFNESS / MASS)
    assert found == pytest.approx(expected, rel=1e-3)
    # 44 elements are far finer than that
    assert found == pytest.approx(expected, rel=2e-5)


def test_nodes_are_the_printed_ones():
    for found, printed in zip(standstills(modes_of(uniform(), 3), 3), NODES, strict=True):
        assert found / LENGTH == pytest.approx(printed, abs=1e-4)
        assert found / LENGTH == pytest.approx(printed, abs=2e-5)


def test_eight_modes_stand_in_the_ratios_of_the_higher_roots():
    """From the fourth on the roots are (2 n + 1) pi / 2 to seven figures."""
    roots = np.array([*ROOTS, *((2 * n + 1) * np.pi / 2 for n in range(4, 9))])
    found = modes_of(uniform(), 8).frequency_hz
    assert found / found[0] == pytest.approx((roots / roots[0]) ** 2, rel=1e-3)


def test_shift_and_turn_bend_nothing():
    """Two rigid motions: no force, and so 0 Hz."""
    beam_ = uniform()
    shift = np.tile([1.0, 0.0], len(beam_.nodes))
    turn = np.column_stack([beam_.nodes, np.ones_like(beam_.nodes)]).ravel()
    for motion in (shift, turn):
        forces = beam_.stiffness @ motion
        assert np.abs(forces).max() < 1e-12 * np.abs(beam_.stiffness).max()
    weights = np.linalg.eigvalsh(beam_.stiffness)
    # the two motions, and no third: the others stay well away from nil
    assert np.abs(weights[:RIGID]).max() < 1e-12 * weights[-1]
    assert weights[RIGID] > 1e3 * np.abs(weights[:RIGID]).max()


def test_rigid_motions_carry_the_mass_and_inertia_of_a_rod():
    beam_ = uniform()
    shift = np.tile([1.0, 0.0], len(beam_.nodes))
    turn = np.column_stack([beam_.nodes, np.ones_like(beam_.nodes)]).ravel()
    whole = MASS * LENGTH
    assert shift @ beam_.mass @ shift == pytest.approx(whole, rel=1e-12)
    assert shift @ beam_.mass @ turn == pytest.approx(whole * LENGTH / 2, rel=1e-12)
    assert turn @ beam_.mass @ turn == pytest.approx(whole * LENGTH**2 / 3, rel=1e-12)


def test_error_falls_with_the_fourth_power_of_the_elements():
    exact = ROOTS[2] ** 2 / (2 * np.pi * LENGTH**2) * np.sqrt(STIFFNESS / MASS)
    coarse, fine = (modes_of(uniform(n), 3).frequency_hz[2] / exact - 1 for n in (6, 12))
    assert 0 < fine < coarse / 10
