"""The costs part of the book: what an hour is worth, and what a handle loses on its way into a bat.

All of it is common practice of small workshops, no source; the maker's to edit.
"""

from pydantic import Field

from fitting.sheets.record import Record


class Costs(Record):
    """What work costs and what is lost while it is done."""

    hour_rate: float = Field(
        default=30.0, ge=0, le=10000, description="an hour at the bench, in the workshop's own currency"
    )
    handle_turning_loss_g: float = Field(
        default=60.0, ge=0, le=400, description="lost in turning and in cutting the splice"
    )


DEFAULT_COSTS = Costs()
