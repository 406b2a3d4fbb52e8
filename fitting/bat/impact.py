"""A ball against a free bat: the blow as it happens, for many places on the face at once.

The bat answers with the motion of a rigid body and with its bending modes, superposed; ball and willow
together are one spring between them, non-linear and with loss. Within the millisecond of a blow the bat
moves a few millimetres, so its shape and the place of the blow are taken as they were when it began; gravity,
the hands and the ball's own spin are left out.

Time goes in steps of the splitting that W. C. Swope and others (1982, J. Chem. Phys. 76:637-649; from memory)
give for rigid motion, with each mode carried on exactly between two kicks of the force: second order in the
step, and stable as long as no kick falls in time with a mode's own swing. SI units.
"""

from dataclasses import dataclass
from math import ceil

import numpy as np

from fitting.curve import FloatArray

STEPS = 120
FOLLOWED = 3.6
"""How long a blow is followed, in units of its time scale (see ``_time_scale``): a bat has let the ball go by
3.3, whatever the constants of the contact and the speed."""
STEPS_IN_A_SWING = 5
"""Least steps in one swing of the highest mode: a kick once a swing would drive it (resonance of the steps).
Only blows far softer and slower than a cricket ball's need more than ``STEPS`` for it."""
TINY_M = 1e-12
OVER = 0.1
"""Ball and willow count as touching until the force has fallen to this share of its greatest."""


@dataclass(frozen=True)
class Contact:
    """The spring between ball and willow.

    Pressed in by d it pushes back with ``stiffness * d**press``; let go after a greatest depth D it pushes
    with the same force at D times ``(d / D)**release``, and follows that line again if it is pressed anew.
    The share of energy that it gives back is ``(press + 1) / (release + 1)``, whatever the speed and the
    masses (Nathan A. M. (2000), Dynamics of the baseball-bat collision, Am. J. Phys. 68:979-990, uses this
    form; from memory).

    Attributes:
        stiffness: N / m**press.
        press: exponent on the way in; 1.5 is Hertz's for two round bodies.
        restitution: speed given back over speed at which a ball strikes a heavy block, 0 to 1.
    """

    stiffness: float
    press: float
    restitution: float

    def depth(self, energy: FloatArray) -> FloatArray:
        """Depth at which it has taken up an energy (J) on the way in, m."""
        return np.asarray(((self.press + 1) * energy / self.stiffness) ** (1 / (self.press + 1)))

    @property
    def release(self) -> float:
        """Exponent on the way out."""
        return (self.press + 1) / self.restitution**2 - 1

    def force(self, depth: FloatArray, deepest: FloatArray) -> FloatArray:
        """Force at a depth after a greatest depth, N; both m, not below 0."""
        share = depth / np.maximum(deepest, TINY_M)
        return np.asarray(self.stiffness * deepest**self.press * share**self.release)


@dataclass(frozen=True)
class Struck:
    """What the bat offers a ball at each of p places.

    Attributes:
        rigid: 1 / kg, how the bat as a rigid body gives way: 1/m + b2/I + z2/I_long, shape (p,).
        shapes: deflection of each bending mode there, of unit modal mass (1 kg), shape (k, p).
        frequency_hz: of those modes, shape (k,).
    """

    rigid: FloatArray
    shapes: FloatArray
    frequency_hz: FloatArray


@dataclass(frozen=True)
class Blow:
    """What came of a blow at each of p places, arrays of shape (p,).

    Attributes:
        returned: apparent coefficient of restitution e_A, the ball's speed off over its speed on, both
            against the bat's motion before the blow.
        contact_s: how long they touched.
        bent: share of the energy of the approach (half the ball's mass times its speed squared) left in the
            bending of the bat.
        energy: share of it left in ball and bat together; never above 1.
    """

    returned: FloatArray
    contact_s: FloatArray
    bent: FloatArray
    energy: FloatArray


def strike(
    struck: Struck,
    contact: Contact,
    *,
    ball_kg: float,
    speed: FloatArray,
    steps: int = STEPS,
) -> Blow:
    """Let a ball strike at every place at its own speed of approach (m/s, shape (p,)).

    The bat is looked at from its own motion before the blow, in which it is at rest. Each place has a step of
    its own, so that a slow blow is followed to its end and a hard contact in as many steps. Error in
    ``returned`` below 0.001 (many more steps and a longer look move it by less).
    """
    looked_s = FOLLOWED * _time_scale(struck, contact, ball_kg, speed)
    steps = max(steps, ceil(STEPS_IN_A_SWING * float(struck.frequency_hz[-1]) * float(looked_s.max())))
    step_s = looked_s / steps
    turn = 2 * np.pi * struck.frequency_hz[:, None]
    carried = np.exp(1j * turn * step_s)
    reach = struck.shapes / turn
    kick = struck.shapes * step_s
    loose = (1 / ball_kg + struck.rigid) * step_s
    # One complex number a mode: its speed, and its displacement times its circular frequency.
    mode = np.zeros(struck.shapes.shape, dtype=np.complex128)
    gap, closing = np.zeros_like(speed), np.array(speed, dtype=np.float64)
    deepest = np.zeros_like(speed)
    pushes = np.empty((steps, len(speed)))
    for step in range(steps):
        mode *= carried
        gap += closing * step_s
        depth = np.maximum(gap - np.einsum("kp,kp->p", reach, mode.imag), 0.0)
        np.maximum(deepest, depth, out=deepest)
        push = contact.force(depth, deepest)
        # The half kick that ends this step and the one that begins the next in one.
        mode += kick * push
        closing -= loose * push
        pushes[step] = push
    impulse = pushes.sum(axis=0) * step_s
    leaving = impulse / ball_kg - speed
    whole = ball_kg * speed**2 / 2
    bent = (np.abs(mode) ** 2).sum(axis=0) / 2
    kept = ball_kg * leaving**2 / 2 + struck.rigid * impulse**2 / 2 + bent
    touching = pushes > OVER * pushes.max(axis=0)
    return Blow(
        returned=leaving / speed,
        contact_s=np.asarray((steps - np.argmax(touching[::-1], axis=0)) * step_s, dtype=np.float64),
        bent=bent / whole,
        energy=kept / whole,
    )


def _time_scale(struck: Struck, contact: Contact, ball_kg: float, speed: FloatArray) -> FloatArray:
    """Greatest depth over speed of a blow on a rigid bat, s; pressing in takes 1.3 to 1.6 of it."""
    together = 1 / (1 / ball_kg + struck.rigid)
    return np.asarray(contact.depth(together * speed**2 / 2) / np.abs(speed))
