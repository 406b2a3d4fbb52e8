"""The book's part for the blow: the contact of ball and willow, and the reference impacts.

No published constants for a cricket ball on willow are at hand. ``restitution`` is from memory of balls
dropped and fired on heavy blocks; ``stiffness`` is calibrated on one bat, the short handle with a mid sweet
spot that an empty sheet is recommended, so that it hits hardest about 0.35 m below the shoulder, the one
published place (Kant A., Padole P. M., Uddanwadikar R. (2013), iNaCoMM 2013, through a summary). The force
then stays above half its greatest for 0.75 ms and is down to a tenth 1.39 ms after the touch, where blows of
about 1 ms are told. Every other bat is a
prediction. The reference impacts are this project's convention: the peak moves by tens of millimetres with
them, so they are shown beside every response.
"""

from typing import Annotated

from pydantic import Field, model_validator

from fitting.sheets.record import Record
from fitting.sheets.values import LengthCode


class ContactNumbers(Record):
    """The spring between ball and willow; what each number means stands in ``fitting.bat.impact``."""

    stiffness: float = Field(default=2.6e6, gt=1e4, le=1e10, description="N / m**press")
    press: float = Field(default=1.5, ge=1, le=4)
    restitution: float = Field(default=0.5, gt=0.05, le=0.95)


class Blow(Record):
    """A reference impact for some lengths: a ball that comes in along the bat's depth, a bat that turns.

    The bat turns at ``swing_rad_s * (pickup_kg_m2 / its own pickup)**swing_power``: a heavier pickup is swung
    more slowly (Cross R. and Bower R. (2006), J. Sports Sci. 24:23-30: power 0.27).
    """

    codes: tuple[LengthCode, ...] = Field(description="lengths it is for; none: all that no other row names")
    ball_mass_g: float = Field(ge=50, le=250)
    ball_speed_m_s: float = Field(ge=0, le=60)
    swing_rad_s: float = Field(ge=1, le=80)


def _blows() -> tuple[Blow, ...]:
    return (
        Blow(codes=(), ball_mass_g=159, ball_speed_m_s=25, swing_rad_s=28),
        Blow(codes=("size_1", "size_2", "size_3"), ball_mass_g=135, ball_speed_m_s=14, swing_rad_s=15),
        Blow(codes=("size_4", "size_5", "size_6"), ball_mass_g=135, ball_speed_m_s=18, swing_rad_s=19),
        Blow(codes=("harrow",), ball_mass_g=156, ball_speed_m_s=21, swing_rad_s=23),
    )


class ImpactNumbers(Record):
    """Everything that the blow needs beside the bat."""

    contact: ContactNumbers = ContactNumbers()
    blows: Annotated[tuple[Blow, ...], Field(min_length=1)] = Field(default_factory=_blows)
    swing_pickup_kg_m2: float = Field(default=0.2, gt=0, le=1)
    swing_power: float = Field(default=0.27, ge=0, le=1)
    pivot_from_handle_top_mm: float = Field(default=50.0, ge=-300, le=300)
    peak_share: float = Field(
        default=0.97, gt=0.5, lt=1, description="of the speed at the peak: the sweet spot's end"
    )
    lower_hand_from_handle_top_mm: float = Field(
        default=210.0, ge=50, le=350, description="middle of the lower hand; from memory"
    )

    @model_validator(mode="after")
    def _one_row_for_each(self) -> "ImpactNumbers":
        named = [code for blow in self.blows for code in blow.codes]
        if len(set(named)) != len(named):
            raise ValueError("blows: each length in one row only")
        if sum(not blow.codes for blow in self.blows) != 1:
            raise ValueError("blows: one row without codes")
        return self

    def blow(self, code: LengthCode) -> Blow:
        """Return the reference impact for a length."""
        rest = next(blow for blow in self.blows if not blow.codes)
        return next((blow for blow in self.blows if code in blow.codes), rest)
