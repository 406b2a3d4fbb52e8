"""Beams for tests from functions of the place along them, mass and stiffness at the same Gauss points."""

import numpy as np

from fitting.bat.beam import POINT_WEIGHTS, MassLine, beam_of, stiffness_places

STIFF = 1e9
"""Shear stiffness, as a multiple of EI over length squared, at which shear deflection is nil."""


def beam(length, elements, *, bending, mass, shearing=None, rotary=None):
    """A beam of one length (m); the rest are functions of x (m): EI (N m2), kg/m, kGA (N), kg m.

    Without ``shearing`` and ``rotary`` it is an Euler-Bernoulli beam.
    """
    nodes = np.linspace(0.0, length, elements + 1)
    x = stiffness_places(nodes)
    weights = np.diff(nodes)[:, None] * POINT_WEIGHTS
    stiff = np.broadcast_to(bending(x), x.shape)
    slip = STIFF * stiff.max() / length**2 if shearing is None else shearing(x)
    turning = 0.0 if rotary is None else rotary(x)
    line = MassLine(x.ravel(), (weights * mass(x)).ravel(), (weights * turning * np.ones_like(x)).ravel())
    return beam_of(nodes, stiff, np.broadcast_to(slip, x.shape), line)
