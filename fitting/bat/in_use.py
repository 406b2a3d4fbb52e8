"""What is known of a bat in use: its pickup from mass, balance and length, or from timed swings.

Every figure has its spread, one standard deviation, from the measurement and, without swings, from how much
one bat differs from the next of the same mass, balance and length.

Lengths in mm, masses in g, inertia in kg m2; places along the bat from the toe. Left out: the few millimetres
by which handle axis and balance differ in depth (below 0.1 % of a pickup), the air that swings along, and
that standard gravity is 0.2 % off towards the poles and the equator.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from typing import Literal

from fitting.bat.weigh import PICKUP_AXIS_MM

STANDARD_GRAVITY_M_S2 = 9.80665
"""CGPM 1901 (from memory)."""

# Printed by ``python -m tests.fitting.bat.fit_in_use``: 4,000 bats of the book's lengths and profiles.
FITTED_WITH_MODEL = "2"
BALANCE_MIDDLE = 0.425
"""Balance from the toe over overall length, about the middle of all bats; the line is told from here."""
INERTIA_SHARE = 0.06549
"""Inertia about the balance over mass times overall length squared, of a bat balanced at the middle."""
INERTIA_SHARE_RISE = 0.21793
"""By how much that share rises with the balance's; a square of it, length or mass as well gain nothing."""
REGRESSION_SD_SHARE = 0.0395
"""How far model bats scatter about the regression, of their inertia about the balance."""

REAL_BATS_SD_SHARE = 0.03
"""Least spread told of a pickup by regression: real handles scatter more than the model's. From memory of
the trade, no source."""

BALANCE_SHARES = (0.35, 0.52)
"""No bat balances outside these shares of its length: what does was measured from the wrong end. The model's
bats lie from 0.371 to 0.491."""
INERTIA_SHARES = (0.045, 0.095)
"""No bat's inertia about its balance lies outside these shares. The model's bats lie from 0.052 to 0.081; a
rod of one thickness has 0.083."""
SWINGS_SD_MOST_SHARE = 2 * REAL_BATS_SD_SHARE
"""Swings that leave the pickup more uncertain than this are too few to be believed."""

USUAL_AMPLITUDE_DEGREES = 8.0


@dataclass(frozen=True)
class TimedSwings:
    """A bat hung on a knife edge; a swing is over and back, the amplitude what it swings to one side."""

    pivot_from_handle_top_mm: float
    swings: int
    seconds: float
    amplitude_degrees: float = USUAL_AMPLITUDE_DEGREES


@dataclass(frozen=True)
class Measured:
    """A bat as its owner measured it."""

    mass_g: float
    balance_from_toe_mm: float
    overall_length_mm: float
    swings: TimedSwings | None = None


@dataclass(frozen=True)
class MeasuringSpreads:
    """One standard deviation of each measurement, from memory of the trade where no other source is named.

    The balance is that of two supports and a kitchen scale; by finger it is 5 mm. The time is that of the
    whole count, a thumb on a watch at both ends.
    """

    mass_g: float = 5.0
    balance_from_toe_mm: float = 1.6
    overall_length_mm: float = 2.0
    seconds: float = 0.2
    amplitude_degrees: float = 3.0


@dataclass(frozen=True)
class Estimate:
    """The pickup of a bat in use, kg m2, and its standard deviation; what it rests on.

    ``swings_refused``: swings were given and not believed, so the regression answers.
    """

    pickup_kg_m2: float
    sd_kg_m2: float
    about_balance_kg_m2: float
    by: Literal["swings", "regression"]
    swings_refused: bool = False

    @property
    def sd_share(self) -> float:
        """Standard deviation over the pickup."""
        return self.sd_kg_m2 / self.pickup_kg_m2


HOME = MeasuringSpreads()


def estimate(bat: Measured, spreads: MeasuringSpreads = HOME) -> Estimate | None:
    """Estimate a bat's pickup; None where the measures are no bat's.

    Swings rank before the regression unless they are not believed: hung at or below the balance, timed so
    that the inertia is no bat's, or too few to say more than mass, balance and length do.
    """
    if not _like_a_bat(bat):
        return None
    swings = _by_swings(bat, spreads)
    return swings or _by_regression(bat, spreads)


def small_period_s(seconds: float, swings: int, amplitude_degrees: float) -> float:
    """Period of small swings, s, from that of wider ones.

    T = T0 (1 + a^2/16 + 11 a^4/3072 + ...), a the amplitude in radians: the standard series for a simple
    pendulum, and for a compound one, whose equation is the same (any textbook of mechanics, from memory).
    """
    a = math.radians(amplitude_degrees)
    return seconds / swings / (1 + a**2 / 16 + 11 * a**4 / 3072)


def pendulum_inertia_kg_m2(mass_kg: float, arm_m: float, small_period: float) -> float:
    """Inertia about the axis that a body hangs on: I = m g d T0^2 / (4 pi^2), d from there to the balance.

    The compound pendulum (any textbook of mechanics).
    """
    return mass_kg * STANDARD_GRAVITY_M_S2 * arm_m * (small_period / (2 * math.pi)) ** 2


def swung_about_balance_kg_m2(bat: Measured, swings: TimedSwings) -> float:
    """Inertia about the balance by timed swings, moved there from the knife edge (parallel axes)."""
    mass = bat.mass_g / 1000
    arm = (bat.overall_length_mm - swings.pivot_from_handle_top_mm - bat.balance_from_toe_mm) / 1000
    period = small_period_s(swings.seconds, swings.swings, swings.amplitude_degrees)
    return pendulum_inertia_kg_m2(mass, arm, period) - mass * arm**2


def usual_about_balance_kg_m2(bat: Measured) -> float:
    """Inertia about the balance that bats of this mass, balance and length have, by regression."""
    share = INERTIA_SHARE + INERTIA_SHARE_RISE * (_balance_share(bat) - BALANCE_MIDDLE)
    return share * _mass_length_squared(bat)


def _by_swings(bat: Measured, spreads: MeasuringSpreads) -> Estimate | None:
    swings = bat.swings
    if swings is None or not _swings_possible(bat, swings):
        return None

    def pickup(of: Measured, timed: TimedSwings) -> float:
        return _moved_to_pickup_axis(of, swung_about_balance_kg_m2(of, timed))

    about_balance = swung_about_balance_kg_m2(bat, swings)
    least, most = INERTIA_SHARES
    if not least <= about_balance / _mass_length_squared(bat) <= most:
        return None
    sd = math.hypot(
        _spread(bat, spreads, lambda of: pickup(of, swings)),
        _spread(swings, spreads, lambda timed: pickup(bat, timed)),
    )
    found = Estimate(pickup(bat, swings), sd, about_balance, "swings")
    return found if found.sd_share <= SWINGS_SD_MOST_SHARE else None


def _by_regression(bat: Measured, spreads: MeasuringSpreads) -> Estimate:
    def pickup(of: Measured) -> float:
        return _moved_to_pickup_axis(of, usual_about_balance_kg_m2(of))

    about_balance, found = usual_about_balance_kg_m2(bat), pickup(bat)
    sd = math.hypot(_spread(bat, spreads, pickup), REGRESSION_SD_SHARE * about_balance)
    return Estimate(
        pickup_kg_m2=found,
        sd_kg_m2=max(sd, REAL_BATS_SD_SHARE * found),
        about_balance_kg_m2=about_balance,
        by="regression",
        swings_refused=bat.swings is not None,
    )


def _spread[Reading: (Measured, TimedSwings)](
    at: Reading, spreads: MeasuringSpreads, value: Callable[[Reading], float]
) -> float:
    """Standard deviation of a value whose readings err independently: central differences, squares added."""
    changes = []
    for field in fields(spreads):
        if hasattr(at, field.name):
            here, by = getattr(at, field.name), getattr(spreads, field.name)
            up, down = (value(replace(at, **{field.name: here + step})) for step in (by, -by))
            changes.append((up - down) / 2)
    return math.hypot(*changes)


def _moved_to_pickup_axis(bat: Measured, about_balance: float) -> float:
    arm = (bat.overall_length_mm - PICKUP_AXIS_MM - bat.balance_from_toe_mm) / 1000
    return about_balance + bat.mass_g / 1000 * arm**2


def _balance_share(bat: Measured) -> float:
    return bat.balance_from_toe_mm / bat.overall_length_mm


def _mass_length_squared(bat: Measured) -> float:
    return bat.mass_g / 1000 * (bat.overall_length_mm / 1000) ** 2


def _like_a_bat(bat: Measured) -> bool:
    """Whether there is a mass, a length, a balance where bats have it, and a handle above the pickup axis."""
    readings = (bat.mass_g, bat.balance_from_toe_mm, bat.overall_length_mm)
    if not all(math.isfinite(one) and one > 0 for one in readings):
        return False
    least, most = BALANCE_SHARES
    below_axis = bat.overall_length_mm - PICKUP_AXIS_MM - bat.balance_from_toe_mm
    return least <= _balance_share(bat) <= most and below_axis > 0


def _swings_possible(bat: Measured, swings: TimedSwings) -> bool:
    """Whether a bat so hung swings at all, through less than a quarter turn to each side."""
    readings = (swings.pivot_from_handle_top_mm, swings.seconds, swings.amplitude_degrees)
    if not all(math.isfinite(one) and one >= 0 for one in readings):
        return False
    hung_above = bat.overall_length_mm - swings.pivot_from_handle_top_mm > bat.balance_from_toe_mm
    return hung_above and swings.swings >= 1 and swings.amplitude_degrees <= 90
