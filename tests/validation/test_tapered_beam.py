"""Tapered beams, by published results and by exact solutions.

Double taper: a clamped bar whose depth and width fall in a straight line to a quarter, or to a quarter and a
fifth, of what they are at the clamp. Mabie H. H. and Rogers C. B. (1972), Transverse vibrations of
double-tapered cantilever beams, J. Acoust. Soc. Am. 51:1771-1774, whose figures are read in the validation
manual of Code_Aster, V2.02.009 (SDLL09): f = l h1 / (2 pi L2) sqrt(E / 12 rho), h1 the depth at the tip and L
the length.

Wedge: depth a x, width the same all along. Kirchhoff G. (1879) solved the wedge that ends in an edge by
Bessel functions; 5.315 for its first mode clamped at the thick end (from memory; also in Timoshenko S. P.,
Vibration Problems in Engineering). Cut short and free at both ends it needs four of them (Conway H. D. and
Dubil J. F. (1965), Vibration frequencies of truncated-cone and wedge beams, J. Appl. Mech. 32:932-934; from
memory). With z = 2 k sqrt x the deflection is the sum of J1, Y1, I1, K1 of z over sqrt x. Deriving
x^(-n/2) C_n turns it to -k x^(-(n+1)/2) C_(n+1) (plus for I), deriving x^(n/2) C_n to k x^((n-1)/2) C_(n-1)
(minus for K); so

    w'' = k2 x^(-3/2) (J3 + Y3 + I3 + K3),  (x3 w'')' = k3 x (J2 + Y2 + I2 - K2),  (x3 w'')'' = k4 x w

The last is the wedge's equation with k4 = 12 rho w2 / (E a2).
"""

import numpy as np
import pytest
from scipy.linalg import eigh
from scipy.optimize import brentq
from scipy.special import iv, jv, kv, yv

from fitting.bat.beam import modes_of, standstills
from tests.beams import beam

MODULUS, DENSITY, LENGTH, WIDTH = 7e9, 420.0, 0.9, 0.1

DOUBLE_TAPER = (
    (4, 4, (23.289, 73.9, 165.23, 299.7, 478.1)),
    (4, 5, (24.308, 75.56, 167.21, 301.9, 480.4)),
)


def tapered(elements, depth, width):
    """Euler and Bernoulli's beam of rectangles, from functions of the place along it."""
    return beam(
        LENGTH,
        elements,
        bending=lambda x: MODULUS * width(x) * depth(x) ** 3 / 12,
        mass=lambda x: DENSITY * width(x) * depth(x),
    )


def clamped_hz(beam_, count):
    """Frequencies with the far end held: its deflection and rotation taken out of both matrices."""
    held = slice(0, -2)
    squares = eigh(
        beam_.stiffness[held, held], beam_.mass[held, held], eigvals_only=True, subset_by_index=(0, count - 1)
    )
    return np.sqrt(squares) / (2 * np.pi)


@pytest.mark.parametrize(("deeper", "wider", "printed"), DOUBLE_TAPER)
def test_double_tapered_cantilever_has_the_published_frequencies(deeper, wider, printed):
    tip, tip_width = 0.012, 0.02
    bar = tapered(
        44,
        lambda x: tip * (1 + (deeper - 1) * x / LENGTH),
        lambda x: tip_width * (1 + (wider - 1) * x / LENGTH),
    )
    unit = tip / (2 * np.pi * LENGTH**2) * np.sqrt(MODULUS / (12 * DENSITY))
    assert clamped_hz(bar, 5) / unit == pytest.approx(printed, rel=1e-3)


def wedge_parameter(number):
    """sqrt(rho A0 / E I0) L2 w of the whole wedge, clamped at its thick end: exact."""

    def held(z):
        return jv(1, z) * iv(2, z) + jv(2, z) * iv(1, z)

    return root_of(held, number) ** 2 / 4


def root_of(function, number, low=1.0, high=40.0):
    grid = np.linspace(low, high, 2000)
    values = function(grid)
    i = np.nonzero(values[:-1] * values[1:] < 0)[0][number - 1]
    return brentq(function, grid[i], grid[i + 1], xtol=1e-12)


def test_wedge_clamped_at_its_thick_end_has_kirchhoffs_frequency():
    assert wedge_parameter(1) == pytest.approx(5.315, abs=5e-4)
    slope = 0.04 / LENGTH
    # an edge of no depth wants short elements: 88 are off by 0.1 % in the third mode
    whole = tapered(176, lambda x: slope * x, lambda x: WIDTH + 0 * x)
    unit = np.sqrt(MODULUS / (12 * DENSITY)) * 0.04 / (2 * np.pi * LENGTH**2)
    exact = [wedge_parameter(n) for n in (1, 2, 3)]
    assert clamped_hz(whole, 3) / unit == pytest.approx(exact, rel=1e-3)


def free_wedge(share):
    """Exact frequencies (Hz) and nodes (m from the thin end) of a free wedge cut at a share of its depth.

    Depth 40 mm at the thick end, ``share`` of that at the thin one; the edge would lie beyond the thin end.
    """
    slope = 0.04 * (1 - share) / LENGTH
    thin, thick = 0.04 * share / slope, 0.04 / slope

    def rows(k):
        z = 2 * k * np.sqrt(np.array([thin, thick]))
        moment = np.array([jv(3, z), yv(3, z), iv(3, z), kv(3, z)]).T
        shear = np.array([jv(2, z), yv(2, z), iv(2, z), -kv(2, z)]).T
        matrix = np.vstack([moment, shear])
        return matrix / [1, 1, iv(3, z[1]), kv(3, z[0])]

    grid = np.linspace(1.0, 30.0, 1000)
    values = np.array([np.linalg.det(rows(k)) for k in grid])
    places = np.nonzero(values[:-1] * values[1:] < 0)[0][:3]
    roots = [brentq(lambda k: np.linalg.det(rows(k)), grid[i], grid[i + 1], xtol=1e-13) for i in places]
    frequencies = [k**2 * slope * np.sqrt(MODULUS / (12 * DENSITY)) / (2 * np.pi) for k in roots]
    return frequencies, [_nodes(rows(k), k, thin, thick) for k in roots]


def _nodes(matrix, k, thin, thick):
    parts = np.linalg.svd(matrix)[2][-1]
    ends = 2 * k * np.sqrt(np.array([thin, thick]))

    def deflection(x):
        z = 2 * k * np.sqrt(x)
        shapes = [jv(1, z), yv(1, z), iv(1, z) / iv(3, ends[1]), kv(1, z) / kv(3, ends[0])]
        return parts @ np.array(shapes) / np.sqrt(x)

    grid = np.linspace(thin, thick, 500)
    values = np.array([deflection(x) for x in grid])
    places = np.nonzero(values[:-1] * values[1:] < 0)[0]
    return [brentq(deflection, grid[i], grid[i + 1]) - thin for i in places]


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8])
def test_free_wedge_has_the_exact_frequencies_and_nodes(share):
    frequencies, nodes = free_wedge(share)
    modes = modes_of(
        tapered(44, lambda x: 0.04 * (share + (1 - share) * x / LENGTH), lambda x: WIDTH + 0 * x), 3
    )
    assert modes.frequency_hz == pytest.approx(frequencies, rel=1e-3)
    for found, exact in zip(standstills(modes, 3), nodes, strict=True):
        assert found == pytest.approx(exact, abs=2e-4)


def test_node_lies_further_from_a_thin_end_than_from_a_thick_one():
    """What the exact wedge tells of a bat: a toe that grows thinner sends its node away from the toe."""
    found = [free_wedge(share)[1][0] for share in (0.2, 0.5, 0.8)]
    from_thin, from_thick = [n[0] for n in found], [LENGTH - n[1] for n in found]
    print("first node from the thin and from the thick end, mm, depth at the thin end 20, 50, 80 %:")
    print(*(f"{1000 * a:.0f}/{1000 * b:.0f}" for a, b in zip(from_thin, from_thick, strict=True)))
    assert from_thin[0] > from_thin[1] > from_thin[2] > 0.22416 * LENGTH
    assert all(a > b for a, b in zip(from_thin, from_thick, strict=True))
