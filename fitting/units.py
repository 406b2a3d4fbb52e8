"""Lengths and masses as people type them, and the numbers to show them with.

People write ``5'9"``, ``5 ft 9``, ``175``, ``1,75 m``, ``2lb 9``, ``1160``. What is meant follows from
the unit when there is one. Without a unit every usual reading is tried against what is allowed: one that
fits is taken, two that fit are refused as ambiguous and both are named. Nothing is guessed silently.
"""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal

from pint import UnitRegistry

System = Literal["metric", "imperial"]

LENGTH_UNITS: dict[str, str] = {
    "mm": "millimeter",
    "millimetre": "millimeter",
    "millimeter": "millimeter",
    "cm": "centimeter",
    "centimetre": "centimeter",
    "centimeter": "centimeter",
    "m": "meter",
    "metre": "meter",
    "meter": "meter",
    "in": "inch",
    "inch": "inch",
    "inche": "inch",
    '"': "inch",
    "ft": "foot",
    "foot": "foot",
    "feet": "foot",
    "'": "foot",
}
MASS_UNITS: dict[str, str] = {
    "g": "gram",
    "gr": "gram",
    "gram": "gram",
    "gramme": "gram",
    "kg": "kilogram",
    "kilo": "kilogram",
    "kilogram": "kilogram",
    "oz": "ounce",
    "ounce": "ounce",
    "lb": "pound",
    "pound": "pound",
}
METRIC_UNITS = frozenset({"millimeter", "centimeter", "meter", "gram", "kilogram"})
INCHES_IN_A_FOOT = 12
OUNCES_IN_A_POUND = 16

NUMBER = r"\d+(?:[.,]\d+)?"
FRACTION = r"\d+\s*/\s*\d+"
# A term is a number, perhaps with a fraction, and perhaps a unit: "5 ft", "33 1/2 in", "9".
TERM = re.compile(
    rf"\s*(?P<number>{NUMBER})?(?:\s+|(?<=\d)-)?(?P<fraction>{FRACTION})?\s*(?P<unit>[a-z'\"]+)?\.?\s*",
)
BARE_NUMBER = re.compile(rf"^{NUMBER}$")
BARE_PAIR = re.compile(r"^(\d+)(?:\s*[-/]\s*|\s+)(\d+(?:[.,]\d+)?)$")
METRES_AND_CENTIMETRES = re.compile(r"^(\d)\s*m\s*(\d\d)(?:\s*cm)?$")
THOUSANDS = re.compile(r"^\d{1,3},\d{3}$")
QUOTES = str.maketrans({"’": "'", "‘": "'", "′": "'", "”": '"', "“": '"', "″": '"', "⁄": "/", "−": "-"})

Refusal = Literal[
    "not_a_length",
    "not_a_mass",
    "not_a_number",
    "negative",
    "wrong_unit",
    "inches_past_eleven",
    "ounces_past_fifteen",
    "ambiguous",
    "out_of_range",
    "too_long",
]
LONGEST_TEXT = 40


class NotUnderstood(ValueError):
    """A typed measure that is refused: the kind, what was given, and the readings or limits that matter."""

    def __init__(self, kind: Refusal, given: str, readings: tuple["Typed", ...] = ()) -> None:
        super().__init__(f"{kind}: {given}")
        self.kind: Refusal = kind
        self.given = given
        self.readings = readings


@dataclass(frozen=True)
class Typed:
    """A measure as it was understood, in millimetres or grams, and the system it was typed in."""

    value: float
    system: System
    text: str = field(default="", compare=False)


@dataclass(frozen=True)
class Limits:
    """The least and the most that is allowed, both included, in millimetres or grams."""

    least: float
    most: float

    def hold(self, value: float) -> bool:
        """Whether the value lies inside."""
        return self.least <= value <= self.most


@lru_cache(maxsize=1)
def _registry() -> UnitRegistry[float]:
    return UnitRegistry(cache_folder=None)


@lru_cache(maxsize=64)
def factor(unit: str, to: str) -> float:
    """Return how many of ``to`` one ``unit`` is, by pint's names ("inch", "millimeter", "pound")."""
    return float(_registry().Quantity(1.0, unit).to(to).magnitude)


def read_length(text: str, limits: Limits) -> Typed:
    """Read a typed length in millimetres.

    Raises NotUnderstood when it is no length, has two readings, or lies outside the limits.
    """
    return _read(text, limits, LENGTH)


def read_mass(text: str, limits: Limits) -> Typed:
    """Read a typed mass in grams; ``2.8``, ``2-8`` and ``2/8`` are the trade's pounds and ounces.

    Raises NotUnderstood when it is no mass, has two readings, or lies outside the limits.
    """
    return _read(text, limits, MASS)


def read_number(text: str, limits: Limits) -> float:
    """Read a plain number, comma or point.

    Raises NotUnderstood when it is no number or lies outside the limits.
    """
    plain = _plain(text, "not_a_number")
    if not BARE_NUMBER.match(plain):
        raise NotUnderstood("not_a_number", text)
    value = _number(plain)
    if not limits.hold(value):
        raise NotUnderstood("out_of_range", text, (Typed(value, "metric"),))
    return value


@dataclass(frozen=True)
class Measure:
    """What is particular to lengths or to masses."""

    units: dict[str, str]
    base: str
    big: str
    small: str
    small_in_big: int
    bare: tuple[str, ...]
    refused: Refusal
    too_many: Refusal

    def of(self, value: float, unit: str) -> float:
        """Return a number of a unit in the base unit (mm, g)."""
        return value * factor(unit, self.base)


LENGTH = Measure(
    units=LENGTH_UNITS,
    base="millimeter",
    big="foot",
    small="inch",
    small_in_big=INCHES_IN_A_FOOT,
    bare=("millimeter", "centimeter", "meter", "inch"),
    refused="not_a_length",
    too_many="inches_past_eleven",
)
MASS = Measure(
    units=MASS_UNITS,
    base="gram",
    big="pound",
    small="ounce",
    small_in_big=OUNCES_IN_A_POUND,
    bare=("gram", "kilogram", "ounce"),
    refused="not_a_mass",
    too_many="ounces_past_fifteen",
)


def _read(text: str, limits: Limits, measure: Measure) -> Typed:
    plain = _plain(text, measure.refused)
    readings = list(_distinct(_readings(plain, text, measure)))
    fitting = [reading for reading in readings if limits.hold(reading.value)]
    if len(fitting) == 1:
        return fitting[0]
    if len(fitting) > 1:
        raise NotUnderstood("ambiguous", text, tuple(fitting))
    if _past_the_small_unit(plain, limits, measure):
        raise NotUnderstood(measure.too_many, text)
    raise NotUnderstood("out_of_range", text, tuple(readings))


def _plain(text: str, refused: Refusal) -> str:
    if len(text) > LONGEST_TEXT:
        raise NotUnderstood("too_long", text)
    # Vulgar fractions first: the normal form alone would glue "33½" into "331/2".
    spaced = re.sub(r"([¼½¾⅛⅜⅝⅞])", r" \1", text)
    plain = unicodedata.normalize("NFKC", spaced).translate(QUOTES).lower().strip()
    plain = "".join(str(unicodedata.digit(c)) if c.isdecimal() else c for c in plain)
    plain = re.sub(r"''", '"', plain)
    if re.match(r"^-\s*[\d.,]", plain):
        raise NotUnderstood("negative", text)
    if not plain or not plain[0].isdigit():
        raise NotUnderstood(refused, text)
    return plain


def _readings(plain: str, text: str, measure: Measure) -> Iterable[Typed]:
    if BARE_NUMBER.match(plain):
        return _bare(plain, measure)
    pair = BARE_PAIR.match(plain)
    if pair:
        small = _number(pair[2])
        if small >= measure.small_in_big:
            raise NotUnderstood(measure.too_many, text)
        return [_in_two(int(pair[1]), small, measure)]
    return _with_units(plain, text, measure)


def _bare(plain: str, measure: Measure) -> Iterable[Typed]:
    """Yield every usual reading of a number without a unit."""
    for value in _numbers(plain):
        for unit in measure.bare:
            yield Typed(measure.of(value, unit), _system(unit))
    big, _, small = plain.replace(",", ".").partition(".")
    if not small:
        yield Typed(measure.of(int(big), measure.big), "imperial")
    elif len(small) <= 2 and int(small) < measure.small_in_big:
        yield _in_two(int(big), int(small), measure)


def _past_the_small_unit(plain: str, limits: Limits, measure: Measure) -> bool:
    """Whether a bare "2.16" would be a pair of pounds and ounces, were its ounces fewer."""
    big, _, small = plain.replace(",", ".").partition(".")
    if not BARE_NUMBER.match(plain) or len(small) != 2 or int(small) < measure.small_in_big:
        return False
    return limits.hold(measure.of(int(big), measure.big))


def _with_units(plain: str, text: str, measure: Measure) -> list[Typed]:
    metres = METRES_AND_CENTIMETRES.match(plain)
    if metres and measure is LENGTH:
        return [
            Typed(
                measure.of(int(metres[1]), "meter") + measure.of(int(metres[2]), "centimeter"),
                "metric",
            )
        ]
    terms = _terms(plain, text, measure)
    if len(terms) == 1:
        number, fraction, unit = terms[0]
        if unit == measure.big and not fraction and re.search(r"[.,]", number):
            return _decimal_of_big(number, measure)
        return [Typed(measure.of(value + fraction, unit), _system(unit)) for value in _numbers(number or "0")]
    if len(terms) == 2 and terms[0][2] == measure.big and terms[1][2] == measure.small:
        (big, big_fraction, _), (small, fraction, _) = terms
        if big_fraction or "." in big or "," in big:
            raise NotUnderstood(measure.refused, text)
        smalls = _number(small or "0") + fraction
        if smalls >= measure.small_in_big:
            raise NotUnderstood(measure.too_many, text)
        return [_in_two(int(big), smalls, measure)]
    raise NotUnderstood(measure.refused, text)


def _terms(plain: str, text: str, measure: Measure) -> list[tuple[str, float, str]]:
    terms: list[tuple[str, float, str]] = []
    at = 0
    while at < len(plain):
        match = TERM.match(plain, at)
        if match is None or match.end() == at or not (match["number"] or match["fraction"]):
            raise NotUnderstood(measure.refused, text)
        after_big = bool(terms) and terms[-1][2] == measure.big
        small = measure.small if after_big or match["fraction"] else None
        unit = _unit(match["unit"], measure, text, bare=small)
        terms.append((match["number"] or "", _fraction(match["fraction"], text, measure), unit))
        at = match.end()
    return terms


def _unit(word: str | None, measure: Measure, text: str, *, bare: str | None) -> str:
    if word is None:
        if bare is None:
            raise NotUnderstood(measure.refused, text)
        return bare
    for name in (word, word.removesuffix("s")):
        if name in measure.units:
            return measure.units[name]
    known = LENGTH_UNITS if measure is MASS else MASS_UNITS
    raise NotUnderstood("wrong_unit" if word.removesuffix("s") in known else measure.refused, text)


def _decimal_of_big(number: str, measure: Measure) -> list[Typed]:
    """Read "5.9 ft": decimal feet to some, five feet nine to others, so both are readings."""
    readings = [Typed(measure.of(_number(number), measure.big), "imperial")]
    big, _, small = number.replace(",", ".").partition(".")
    if len(small) <= 2 and int(small) < measure.small_in_big:
        readings.append(_in_two(int(big), int(small), measure))
    return readings


def _in_two(big: int, small: float, measure: Measure) -> Typed:
    return Typed(measure.of(big, measure.big) + measure.of(small, measure.small), "imperial")


def _numbers(number: str) -> list[float]:
    """Return the readings of a number: a comma is a point, or before three digits a thousand's mark."""
    values = [_number(number)]
    if THOUSANDS.match(number):
        values.append(float(number.replace(",", "")))
    return values


def _number(number: str) -> float:
    return float(number.replace(",", "."))


def _fraction(text: str | None, given: str, measure: Measure) -> float:
    if text is None:
        return 0.0
    over, under = (int(part) for part in text.split("/"))
    if under == 0 or over >= under:
        raise NotUnderstood(measure.refused, given)
    return over / under


def _system(unit: str) -> System:
    return "metric" if unit in METRIC_UNITS else "imperial"


def _distinct(readings: Iterable[Typed]) -> Iterable[Typed]:
    """Drop readings that come to the same within half a tenth, "1,750" being 1.750 m and 1,750 mm."""
    kept: list[Typed] = []
    for reading in readings:
        if all(abs(reading.value - other.value) > 0.05 for other in kept):
            kept.append(reading)
            yield reading


def feet_and_inches(length_mm: float, *, parts_of_inch: int = 2) -> tuple[int, int, int]:
    """Return feet, whole inches and parts of an inch, rounded and carried: never 5 ft 12 in."""
    parts = round(length_mm / factor("inch", "millimeter") * parts_of_inch)
    inches, rest = divmod(parts, parts_of_inch)
    feet, inches = divmod(inches, INCHES_IN_A_FOOT)
    return feet, inches, rest


def inches_and_sixteenths(length_mm: float) -> tuple[int, int]:
    """Return whole inches and sixteenths, rounded and carried."""
    inches, sixteenths = divmod(round(length_mm / factor("inch", "millimeter") * 16), 16)
    return inches, sixteenths


def pounds_and_ounces(mass_g: float, *, parts_of_ounce: int = 10) -> tuple[int, float]:
    """Return pounds and ounces, rounded to a part of an ounce and carried: never 2 lb 16 oz."""
    parts = round(mass_g / factor("ounce", "gram") * parts_of_ounce)
    pounds, rest = divmod(parts, OUNCES_IN_A_POUND * parts_of_ounce)
    return pounds, rest / parts_of_ounce
