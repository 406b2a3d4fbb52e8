"""The sizes of the Laws as printed, both units, by edition.

Source: MCC, Laws of Cricket, 2017 Code: 3rd edition (in force from 1 October 2022) and 4th edition (in
force from 1 October 2026), Law 5.7. Clause numbers and numbers only, in the project's own words. The Laws
print two units that are not exact equals and do not say which rules: a bat passes the smaller.
"""

from datetime import date
from typing import Literal

from fitting.sheets.book import Edition
from fitting.sheets.record import Record

MM_PER_INCH = 25.4


class SizeLimit(Record):
    """One size as printed, in inches and centimetres."""

    clause: str
    what: Literal["overall_length", "blade_width", "blade_depth", "edge"]
    inches: float
    centimetres: float

    @property
    def mm(self) -> float:
        """The smaller of the two printed limits, mm."""
        return min(self.inches * MM_PER_INCH, self.centimetres * 10)

    @property
    def as_printed(self) -> str:
        """Both limits as they are printed."""
        return f"{self.inches:g} in / {self.centimetres:g} cm"


class LawsEdition(Record):
    """One edition: since when, its sizes, the handle's greatest share of the overall length."""

    year: Edition
    in_force_from: date
    sizes: tuple[SizeLimit, ...]
    handle_share_percent: float

    def size(self, what: str) -> SizeLimit:
        """Return the limit for one size."""
        return next(limit for limit in self.sizes if limit.what == what)


# Both editions print the same sizes; they are kept apart so that a later one can differ.
_SIZES = (
    SizeLimit(clause="5.7.1", what="overall_length", inches=38, centimetres=96.52),
    SizeLimit(clause="5.7.2", what="blade_width", inches=4.25, centimetres=10.8),
    SizeLimit(clause="5.7.2", what="blade_depth", inches=2.64, centimetres=6.7),
    SizeLimit(clause="5.7.2", what="edge", inches=1.56, centimetres=4.0),
)

EDITIONS: dict[Edition, LawsEdition] = {
    2022: LawsEdition(year=2022, in_force_from=date(2022, 10, 1), sizes=_SIZES, handle_share_percent=52),
    2026: LawsEdition(year=2026, in_force_from=date(2026, 10, 1), sizes=_SIZES, handle_share_percent=52),
}


def edition_on(first_play: date | None, otherwise: Edition) -> Edition:
    """Return the edition in force on the day of first play; without a day, the book's."""
    if first_play is None:
        return otherwise
    return 2026 if first_play >= EDITIONS[2026].in_force_from else 2022
