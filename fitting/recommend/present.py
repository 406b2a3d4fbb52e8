"""What the bat in use picks up like, estimated from home measurements or timed swings."""

from math import pi

from fitting.sheets.fitting_sheet import PresentBat
from fitting.sheets.weighing import Weighing

PICKUP_AXIS_FROM_TOP_MM = 152.4
GRAVITY_M_S2 = 9.80665


def present_pickup_kg_m2(present: PresentBat, alike: Weighing) -> float | None:
    """Pickup of the bat in use, kg m2; None without mass, balance and overall length.

    With timed swings: I = m g d T^2 / (4 pi^2) about the knife edge, d from it to the balance (compound
    pendulum). Without: the radius of gyration about the balance is taken as the same share of the length as
    in the bat just computed. Both moved to the pickup axis by the parallel-axis theorem.
    """
    if present.mass_g is None or present.balance_from_toe_mm is None or present.overall_length_mm is None:
        return None
    mass = present.mass_g / 1000
    overall = present.overall_length_mm / 1000
    balance = present.balance_from_toe_mm / 1000
    arm = overall - PICKUP_AXIS_FROM_TOP_MM / 1000 - balance
    if arm <= 0:
        return None
    about_balance = _about_balance_by_swings(present, mass, overall, balance)
    if about_balance is None:
        share = alike.inertia_kg_m2.about_balance / (
            alike.mass_g / 1000 * (alike.overall_length_mm / 1000) ** 2
        )
        about_balance = share * mass * overall**2
    return about_balance + mass * arm**2


def _about_balance_by_swings(
    present: PresentBat, mass: float, overall: float, balance: float
) -> float | None:
    swings = present.pendulum
    if swings is None:
        return None
    arm = overall - swings.pivot_from_handle_top_mm / 1000 - balance
    if arm <= 0:
        return None
    period = swings.seconds / swings.swings
    about_pivot = mass * GRAVITY_M_S2 * arm * (period / (2 * pi)) ** 2
    about_balance = about_pivot - mass * arm**2
    return about_balance if about_balance > 0 else None
