"""A free-free beam of varying section by finite elements: frequencies, shapes and nodes.

Timoshenko's theory: shear deflection and rotary inertia counted. Each element has two nodes with deflection
and rotation. Its stiffness comes from its flexibility, integrated along it, so that it is exact for static
loads at the nodes however the section varies; its mass is consistent, integrated at the places where the
mass lies with the shape functions of a uniform Timoshenko element (Przemieniecki J. S. (1968), Theory of
Matrix Structural Analysis, McGraw-Hill; Friedman Z. and Kosmatka J. B. (1993), An improved two-node
Timoshenko beam finite element, Computers & Structures 47:473-481; both from memory). Those shape functions
carry rigid motion exactly, so the beam has the very mass, balance and inertia of the mass put on it.

SI units throughout: m, kg, N m2, N.
"""

from dataclasses import dataclass

import numpy as np
from numpy.polynomial.legendre import leggauss
from scipy.linalg import eigh

from fitting.curve import FloatArray

POINTS = 4
"""Gauss points in an element for its flexibility."""

_GAUSS_AT, _GAUSS_WEIGHT = leggauss(POINTS)
_SHARE, POINT_WEIGHTS = (_GAUSS_AT + 1) / 2, _GAUSS_WEIGHT / 2
RIGID = 2
"""Motions of a free beam that do not bend it: shift and turn."""


@dataclass(frozen=True)
class Beam:
    """Matrices of a beam over its nodes.

    Attributes:
        nodes: places along the beam, m, rising, shape (n + 1,).
        shear: ratio of bending to shear stiffness of each element, 12 EI / (GA l2), shape (n,).
        stiffness: shape (2 n + 2, 2 n + 2), deflection (m) and rotation (rad) of each node in turn.
        mass: the same shape.
    """

    nodes: FloatArray
    shear: FloatArray
    stiffness: FloatArray
    mass: FloatArray


@dataclass(frozen=True)
class Modes:
    """Bending modes of a free beam, rigid motion left out.

    Attributes:
        frequency_hz: rising, shape (k,).
        shapes: deflection and rotation at the beam's nodes, mass-normalised (unit modal mass 1 kg),
            shape (2 n + 2, k).
        beam: what they belong to.
    """

    frequency_hz: FloatArray
    shapes: FloatArray
    beam: Beam


@dataclass(frozen=True)
class MassLine:
    """Mass along a beam at places x (m): mass (kg) and rotary inertia (kg m2) that each stands for."""

    x: FloatArray
    mass: FloatArray
    rotary: FloatArray


def stiffness_places(nodes: FloatArray) -> FloatArray:
    """Where sections are wanted for the stiffness: Gauss points of every element, m, shape (n, POINTS)."""
    return np.asarray(nodes[:-1, None] + np.diff(nodes)[:, None] * _SHARE)


def beam_of(nodes: FloatArray, bending: FloatArray, shearing: FloatArray, line: MassLine) -> Beam:
    """Put a beam together.

    Args:
        nodes: places along it, m, rising, shape (n + 1,).
        bending: EI (N m2) at ``stiffness_places``, shape (n, POINTS).
        shearing: shear stiffness kappa G A (N) there, shape (n, POINTS).
        line: the mass on it.
    """
    length = np.diff(nodes)
    stiff = _stiffness(length, bending, shearing)
    shear = 12 * (bending @ POINT_WEIGHTS) / ((shearing @ POINT_WEIGHTS) * length**2)
    return Beam(
        nodes=nodes,
        shear=shear,
        stiffness=_assembled(stiff),
        mass=_assembled(_masses(nodes, shear, line)),
    )


def modes_of(beam: Beam, count: int) -> Modes:
    """Return the first bending modes of a beam free at both ends (Rayleigh-Ritz; ``scipy.linalg.eigh``)."""
    last = min(RIGID + count, len(beam.mass)) - 1
    squares, shapes = eigh(beam.stiffness, beam.mass, subset_by_index=(0, last), check_finite=False)
    frequency = np.sqrt(np.clip(squares[RIGID:], 0.0, None)) / (2 * np.pi)
    return Modes(frequency_hz=frequency, shapes=shapes[:, RIGID:], beam=beam)


def deflection(modes: Modes, x: FloatArray) -> FloatArray:
    """Deflection of every mode at places along the beam (m), shape (k, len(x))."""
    beam = modes.beam
    element, share = _located(beam.nodes, x)
    length = np.diff(beam.nodes)[element]
    rows = _deflection_shapes(share, length, beam.shear[element])
    ends = modes.shapes[2 * element[:, None] + np.arange(4)]
    return np.asarray(np.einsum("pi,pik->kp", rows, ends))


def standstills(modes: Modes, count: int, places: int = 801) -> list[FloatArray]:
    """Where each of the first modes stands still: its nodes along the beam, m, rising.

    Found between places of a grid by linear interpolation; off by less than 1e-5 of the length.
    """
    nodes = modes.beam.nodes
    x = np.linspace(nodes[0], nodes[-1], places)
    shapes = deflection(modes, x)[:count]
    found = []
    for w in shapes:
        i = np.nonzero(np.signbit(w[:-1]) != np.signbit(w[1:]))[0]
        found.append(np.asarray(x[i] - w[i] * (x[i + 1] - x[i]) / (w[i + 1] - w[i])))
    return found


def _stiffness(length: FloatArray, bending: FloatArray, shearing: FloatArray) -> FloatArray:
    """Stiffness of each element from its flexibility, shape (n, 4, 4)."""
    soft = POINT_WEIGHTS / bending
    slip = (POINT_WEIGHTS / shearing).sum(axis=1) / length
    near = length * (soft @ (1 - _SHARE) ** 2) + slip
    far = length * (soft @ _SHARE**2) + slip
    both = -length * (soft @ (_SHARE * (1 - _SHARE))) + slip
    flexibility = np.moveaxis(np.array([[near, both], [both, far]]), -1, 0)
    turning = np.linalg.inv(flexibility)
    # Rotations of both ends against the chord, from deflection and rotation of the ends.
    chord = np.zeros((len(length), 2, 4))
    chord[:, :, 0], chord[:, :, 2] = 1 / length[:, None], -1 / length[:, None]
    chord[:, 0, 1] = chord[:, 1, 3] = 1.0
    return np.asarray(chord.transpose(0, 2, 1) @ turning @ chord)


def _masses(nodes: FloatArray, shear: FloatArray, line: MassLine) -> FloatArray:
    """Consistent mass of each element, summed over the places where the mass lies, shape (n, 4, 4)."""
    element, share = _located(nodes, line.x)
    length = np.diff(nodes)[element]
    shift = _deflection_shapes(share, length, shear[element])
    turn = _rotation_shapes(share, length, shear[element])
    mass = np.empty((len(shear), 4, 4))
    for i in range(4):
        for j in range(i, 4):
            grains = line.mass * shift[:, i] * shift[:, j] + line.rotary * turn[:, i] * turn[:, j]
            mass[:, i, j] = mass[:, j, i] = np.bincount(element, grains, minlength=len(shear))
    return mass


def _located(nodes: FloatArray, x: FloatArray) -> tuple[np.ndarray, FloatArray]:
    """Element of each place and its share of the way along it."""
    element = np.clip(np.searchsorted(nodes, x, side="right") - 1, 0, len(nodes) - 2)
    share = (x - nodes[element]) / (nodes[element + 1] - nodes[element])
    return element, np.asarray(share)


def _deflection_shapes(s: FloatArray, length: FloatArray, shear: FloatArray) -> FloatArray:
    """Deflection at shares of an element for a unit of each of its four freedoms, shape (p, 4)."""
    part = 1 / (1 + shear)
    far = part * s * (s * (3 - 2 * s) + shear)
    near_turn = length * part * s * (1 - s) * (1 - s + shear / 2)
    far_turn = -length * part * s * (1 - s) * (s + shear / 2)
    return np.column_stack([1 - far, near_turn, far, far_turn])


def _rotation_shapes(s: FloatArray, length: FloatArray, shear: FloatArray) -> FloatArray:
    """Rotation at shares of an element for a unit of each of its four freedoms, shape (p, 4)."""
    part = 1 / (1 + shear)
    bow = 6 * part * s * (1 - s) / length
    near_turn = part * (1 - s) * (1 - 3 * s + shear)
    far_turn = part * s * (3 * s - 2 + shear)
    return np.column_stack([-bow, near_turn, bow, far_turn])


def _assembled(elements: FloatArray) -> FloatArray:
    """Elements of a chain summed into one matrix."""
    count = len(elements)
    whole = np.zeros((count + 1, 2, count + 1, 2))
    at = np.arange(count)
    parts = elements.reshape(count, 2, 2, 2, 2)
    for i in range(2):
        for j in range(2):
            whole[at + i, :, at + j, :] += parts[:, i, :, j, :]
    return whole.reshape(2 * (count + 1), 2 * (count + 1))
