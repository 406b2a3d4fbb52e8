"""A uniform free-free beam with shear deflection and rotary inertia: Timoshenko's equations solved exactly.

The equations (Timoshenko S. P. (1921), Philosophical Magazine 41:744-746; the usual form, from memory), for a
motion in sin wt, with deflection w, rotation p, moment M = EI p' and shear force Q = kGA (w' - p):

    w' = p + Q / kGA,  p' = M / EI,  M' = -Q - rho I w2 p,  Q' = -rho A w2 w

Constant coefficients, so the transfer matrix from end to end is a matrix exponential; a free beam sounds
where the block from (w, p) at one end to (M, Q) at the other is singular. No finite element is in that. The
plank is of a bat's size: 0.86 m of 108 x 30 mm, 7 GPa, 420 kg/m3, shear coefficient 5/6.
"""

from itertools import pairwise

import numpy as np
import pytest
from scipy.linalg import expm
from scipy.optimize import brentq

from fitting.bat.beam import modes_of, standstills
from tests.beams import beam

LENGTH, WIDTH, DEPTH = 0.86, 0.108, 0.030
MODULUS, DENSITY, KAPPA = 7e9, 420.0, 5 / 6
AREA, SECOND = WIDTH * DEPTH, WIDTH * DEPTH**3 / 12

# G over E (0: no shear deflection, no rotary inertia), frequencies in Hz, first node in shares of the length.
TABLE = (
    (0.0, (170.219, 469.215, 919.849), (0.2242, 0.1321, 0.0944)),
    (1 / 15, (167.936, 448.490, 840.638), (0.2246, 0.1330, 0.0960)),
    (1 / 2.6, (169.467, 463.345, 897.768), (0.2242, 0.1321, 0.0945)),
)


def equations(share, frequency):
    """Matrix of the four equations in (w, p, M, Q)."""
    turn = (2 * np.pi * frequency) ** 2
    slip = 1 / (KAPPA * share * MODULUS * AREA) if share else 0.0
    rotary = DENSITY * SECOND if share else 0.0
    return np.array(
        [
            [0, 1, 0, slip],
            [0, 0, 1 / (MODULUS * SECOND), 0],
            [0, -rotary * turn, 0, -1],
            [-DENSITY * AREA * turn, 0, 0, 0],
        ]
    )


def transfer(share, frequency, along=1.0):
    return expm(equations(share, frequency) * LENGTH * along)


def unheld(share, frequency):
    """Nil where moment and force are nil at both ends; the sign convention of Q does not matter."""
    return np.linalg.det(transfer(share, frequency)[2:, :2] / [[1e3], [1e4]])


def exact(share):
    """Frequencies and first nodes from the equations alone, by sign changes."""
    grid = np.arange(30.0, 1100.0, 10.0)
    values = [unheld(share, f) for f in grid]
    places = [i for i in range(len(grid) - 1) if values[i] * values[i + 1] < 0][:3]
    found = [brentq(lambda f: unheld(share, f), grid[i], grid[i + 1], xtol=1e-9) for i in places]
    return found, [first_node(share, f) for f in found]


def first_node(share, frequency):
    block = transfer(share, frequency)[2:, :2]
    start = np.array([block[0, 1], -block[0, 0], 0.0, 0.0])

    def deflection(along):
        return (transfer(share, frequency, along) @ start)[0]

    grid = np.linspace(0.0, 0.5, 51)
    values = [deflection(a) for a in grid]
    i = next(i for i in range(50) if values[i] * values[i + 1] < 0)
    return brentq(deflection, grid[i], grid[i + 1], xtol=1e-10)


def plank(share, elements=44):
    shear = {
        "shearing": lambda x: KAPPA * share * MODULUS * AREA,
        "rotary": lambda x: DENSITY * SECOND,
    }
    return beam(
        LENGTH,
        elements,
        bending=lambda x: MODULUS * SECOND,
        mass=lambda x: DENSITY * AREA,
        **(shear if share else {}),
    )


@pytest.mark.parametrize(("share", "frequencies", "nodes"), TABLE)
def test_table_is_that_of_the_equations(share, frequencies, nodes):
    found, places = exact(share)
    assert found == pytest.approx(frequencies, abs=6e-4)
    assert places == pytest.approx(nodes, abs=6e-5)


@pytest.mark.parametrize(("share", "frequencies", "nodes"), TABLE)
def test_elements_give_the_frequencies_and_nodes_of_the_equations(share, frequencies, nodes):
    modes = modes_of(plank(share), 3)
    firsts = [still[0] / LENGTH for still in standstills(modes, 3)]
    assert modes.frequency_hz == pytest.approx(frequencies, rel=2e-3)
    assert modes.frequency_hz == pytest.approx(exact(share)[0], rel=2e-3)
    assert firsts == pytest.approx(nodes, abs=1e-4)


def test_error_falls_with_the_square_of_the_elements_towards_the_equations():
    """Shear makes short elements a chain of straight pieces: second order, and to the exact frequency."""
    third = exact(1 / 15)[0][2]
    off = [modes_of(plank(1 / 15, n), 3).frequency_hz[2] / third - 1 for n in (22, 44, 88, 176)]
    print(
        "third mode with 22, 44, 88, 176 elements above the exact one by", *(f"{1e6 * o:.0f}e-6" for o in off)
    )
    for coarse, fine in pairwise(off):
        assert coarse / fine == pytest.approx(4, abs=0.1)
    assert off[-1] < 5e-5


def test_shear_left_out_would_overstate_the_third_mode_by_nine_per_cent():
    stiff, real = (modes_of(plank(share), 3).frequency_hz[2] for share in (0.0, 1 / 15))
    assert stiff / real - 1 == pytest.approx(0.094, abs=0.001)
