"""What is typed from an instrument: a bare number in the instrument's unit, or one with its unit."""

import re
from dataclasses import dataclass

from fitting.units import Limits, NotUnderstood, read_length, read_mass

BARE = re.compile(r"^\s*(\d{1,7})(?:[.,](\d{1,4}))?\s*(?P<unit>mm|g|%|s)?\s*$", re.ASCII)
SIGN = {"mm": "mm", "g": "g", "percent": "%", "seconds": "s", "count": "", "metres": "m", "gauge": ""}
# A slipped decimal point, or centimetres and kilograms for what is asked in millimetres and grams.
SLIPS = (10.0, 0.1, 100.0, 0.01, 1000.0, 0.001)
LONGEST = 30


@dataclass(frozen=True)
class Plausible:
    """What a reading can be at all, in its own unit, and what it should be where that is known."""

    unit: str
    least: float
    most: float
    near: float | None = None

    def hold(self, value: float) -> bool:
        """Whether the value is inside."""
        return self.least <= value <= self.most


class ReadingRefused(ValueError):
    """A reading that cannot be: what was given, what is allowed, and the value that was perhaps meant.

    ``kind`` is ``not_a_reading``, ``not_whole`` or ``out_of_range``.
    """

    def __init__(self, kind: str, given: str, allowed: Plausible, meant: float | None = None) -> None:
        super().__init__(f"{kind}: {given}")
        self.kind = kind
        self.given = given
        self.allowed = allowed
        self.meant = meant


def plausible(unit: str, least: float, most: float, target: float | None = None) -> Plausible:
    """Return what is plausible, drawn in to half of the target either way where there is one.

    A reading half as big again as the target is a slip of the finger or of the unit, not of the tool.
    """
    if not target:
        return Plausible(unit, least, most)
    return Plausible(unit, max(least, round(target * 0.5, 1)), min(most, round(target * 1.5, 1)), target)


def read_typed(text: str, allowed: Plausible) -> float:
    """Return a typed reading in its unit, to a tenth.

    Raises ReadingRefused when it is no reading or cannot be right; nothing is mended silently.
    """
    if len(text) > LONGEST:
        raise ReadingRefused("not_a_reading", text[:LONGEST] + "…", allowed)
    value = _value(text.strip(), allowed)
    if allowed.unit == "count" and value != int(value):
        raise ReadingRefused("not_whole", text, allowed)
    if not allowed.hold(value):
        raise ReadingRefused("out_of_range", text, allowed, _meant(value, allowed))
    return round(value, 1)


def as_tenths(value: float, unit: str) -> int:
    """Return the whole number that stands in a column: tenths, but pieces for a count."""
    return round(value) if unit == "count" else round(value * 10)


def _value(text: str, allowed: Plausible) -> float:
    bare = BARE.match(text)
    if bare and bare["unit"] in (None, SIGN[allowed.unit]):
        return float(f"{bare[1]}.{bare[2] or 0}")
    named = any(letter.isalpha() for letter in text)
    if bare or not named or allowed.unit not in ("mm", "g"):
        raise ReadingRefused("not_a_reading", text, allowed)
    read = read_length if allowed.unit == "mm" else read_mass
    try:
        return read(text, Limits(0, 1e9)).value
    except NotUnderstood as error:
        raise ReadingRefused("not_a_reading", text, allowed) from error


def _meant(value: float, allowed: Plausible) -> float | None:
    """Return the value that a slipped point would explain, the nearest to what is expected."""
    meant = [round(value * slip, 1) for slip in SLIPS if allowed.hold(value * slip)]
    if not meant:
        return None
    middle = allowed.near or (allowed.least + allowed.most) / 2
    return min(meant, key=lambda one: abs(one - middle))
