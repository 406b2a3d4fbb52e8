"""The book's part for the room in which willow seasons: its air, how fast wood dries there, when it is ready.

From memory of the trade, no source: defaults that the maker edits. What moisture wood comes to in such air is
no setting: it follows from the Wood Handbook (``workshop/seasoning.py``).
"""

from pydantic import Field

from fitting.sheets.record import Record


class Room(Record):
    """The air of the store, and by what seasoning is followed."""

    room_temperature_c: float = Field(default=18.0, ge=-1, le=45)
    room_humidity_percent: float = Field(default=60.0, ge=5, le=95)
    equilibrium_sd_percent: float = Field(
        default=1.0, gt=0, le=5, description="spread of the moisture that wood comes to in one air"
    )
    drying_days: float = Field(
        default=21.0, ge=2, le=365, description="in so long two thirds of the way to rest are gone"
    )
    drying_spread: float = Field(
        default=2.0, ge=1.1, le=5, description="one cleft dries so many times quicker or slower than the next"
    )
    settled_percent_a_week: float = Field(
        default=0.3, gt=0, le=2, description="change of mass below which a cleft is at rest"
    )
    weigh_again_days: int = Field(default=7, ge=1, le=60)
    mass_read_sd_g: float = Field(default=2.0, gt=0, le=50, description="spread of the scales for clefts")


DEFAULT_ROOM = Room()
