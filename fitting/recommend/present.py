"""The bat in use as the fitting sheet tells it, handed to the model of a bat in use."""

from fitting.bat.in_use import Estimate, Measured, TimedSwings, estimate
from fitting.sheets.fitting_sheet import PresentBat


def present_pickup(present: PresentBat) -> Estimate | None:
    """Pickup of the bat in use with its spread; None without mass, balance and overall length of a bat."""
    if present.mass_g is None or present.balance_from_toe_mm is None or present.overall_length_mm is None:
        return None
    timed = present.pendulum
    swings = (
        None if timed is None else TimedSwings(timed.pivot_from_handle_top_mm, timed.swings, timed.seconds)
    )
    return estimate(Measured(present.mass_g, present.balance_from_toe_mm, present.overall_length_mm, swings))
