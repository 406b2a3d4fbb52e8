"""The columns in which clefts come from a file and go into one, and how each value is read and written."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from orders.money.amounts import PriceRefused, parse_price
from workshop.rack.allowed import (
    ACROSS,
    ALONG,
    BLEMISH_SIZE,
    DEPTH,
    GRAINS,
    HEARTWOOD,
    LENGTH,
    MASS,
    MOISTURE,
    NUMBER_LEAST,
    NUMBER_MOST,
    RUN_OUT,
    UNPRINTABLE,
    WIDTH,
)
from workshop.rack.models import Blemish, CleftState, MoisturePlace
from workshop.readings import Plausible, ReadingRefused, as_tenths, read_typed

# A cleft comes by file as it lies on the rack; bound to a bat it can only be at the bench.
STATES = (CleftState.SEASONING, CleftState.READY, CleftState.SMALLER, CleftState.REJECTED)
DAY = re.compile(r"^(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ][\d:.]*)?$|^(\d{1,2})\.(\d{1,2})\.(\d{4})$", re.ASCII)
MOST_BLEMISHES = 40


class ValueRefused(ValueError):
    """A value of a file that is not taken.

    ``kind`` names why; ``words`` has what the sentence needs. ``reading`` is there where an instrument's
    reading was refused.
    """

    def __init__(self, kind: str, *, reading: ReadingRefused | None = None, **words: Any) -> None:
        super().__init__(kind)
        self.kind = kind
        self.reading = reading
        self.words = words


@dataclass(frozen=True)
class Column:
    """One column: its name in a file, the field of a cleft, how it is read; other names it goes by."""

    name: str
    field: str
    read: Callable[[str], Any]
    needed: bool = False
    others: tuple[str, ...] = ()


def plain(text: str) -> str:
    """Return a column's name without case, blanks, brackets and lines, to be compared."""
    return re.sub(r"[^a-z0-9%]", "", text.lower())


def read_whole(least: int, most: int) -> Callable[[str], int]:
    """Return what reads a whole number within bounds."""

    def read(text: str) -> int:
        bare = text.removesuffix(".0").lstrip("0") or "0"
        if not (bare.isascii() and bare.isdigit()) or not least <= int(bare[:12]) <= most:
            raise ValueRefused("not_whole", least=least, most=most)
        return int(bare)

    return read


def read_reading(allowed: Plausible) -> Callable[[str], int]:
    """Return what reads an instrument's reading into tenths, or pieces."""

    def read(text: str) -> int:
        try:
            return as_tenths(read_typed(text, allowed), allowed.unit)
        except ReadingRefused as error:
            raise ValueRefused(error.kind, reading=error) from error

    return read


def read_percent(text: str) -> int:
    """Read a whole percent."""
    return round(read_reading(HEARTWOOD)(text) / 10)


def read_one_of(*allowed: str) -> Callable[[str], str]:
    """Return what reads one of some words."""

    def read(text: str) -> str:
        if text.lower() not in allowed:
            raise ValueRefused("not_one_of", allowed=list(allowed))
        return text.lower()

    return read


def read_words(most: int) -> Callable[[str], str]:
    """Return what reads a text of so many signs at most."""

    def read(text: str) -> str:
        if len(text) > most:
            raise ValueRefused("too_long", length=len(text), most=most)
        if UNPRINTABLE.search(text):
            raise ValueRefused("unprintable")
        return text

    return read


def read_day(today: date) -> Callable[[str], str]:
    """Return what reads a day not later than today, as year-month-day or day.month.year."""

    def read(text: str) -> str:
        found = DAY.match(text)
        if found is None:
            raise ValueRefused("no_day", example=today.isoformat())
        year, month, day = (found[1], found[2], found[3]) if found[1] else (found[6], found[5], found[4])
        try:
            read = date(int(year), int(month), int(day))
        except ValueError:
            raise ValueRefused("no_day", example=today.isoformat()) from None
        if not date(2000, 1, 1) <= read <= today:
            raise ValueRefused("day_outside", today=today.isoformat())
        return read.isoformat()

    return read


def read_price(currency: str) -> Callable[[str], int]:
    """Return what reads a sum of money into the currency's smallest unit."""

    def read(text: str) -> int:
        try:
            return parse_price(text, currency)
        except PriceRefused as error:
            raise ValueRefused("no_price") from error

    return read


def read_blemishes(text: str) -> list[dict[str, Any]]:
    """Read ``knot a 120 45 8; shake edge_1 30 20 60 through``: mm from end 1, mm across, size in mm."""
    found = []
    for part in text.split(";"):
        words = part.split()
        if not words:
            continue
        if len(words) not in (5, 6) or (len(words) == 6 and words[5].lower() != "through"):
            raise ValueRefused("no_blemish", part=part.strip()[:40])
        kind, side = words[0].lower(), words[1].lower()
        if kind not in Blemish.Kind.values or side not in Blemish.Side.values:
            raise ValueRefused("no_blemish", part=part.strip()[:40])
        along, across, size = (
            read_reading(allowed)(word)
            for allowed, word in zip((ALONG, ACROSS, BLEMISH_SIZE), words[2:5], strict=True)
        )
        found.append(
            {
                "kind": kind,
                "side": side,
                "from_end": along,
                "across": across,
                "size": size,
                "through": len(words) == 6,
            }
        )
    if len(found) > MOST_BLEMISHES:
        raise ValueRefused("too_many_blemishes", most=MOST_BLEMISHES)
    return found


def columns(today: date, currency: str | None) -> tuple[Column, ...]:
    """Return the columns in their order; a price is among them only for somebody who sees prices."""
    sizes = [
        Column(
            f"{what}_{at}_mm", f"{what}_{at}", read_reading(allowed), needed=True, others=(f"{what}_{at}",)
        )
        for what, allowed in (("width", WIDTH), ("depth", DEPTH))
        for at in (1, 2, 3)
    ]
    price = [Column("price", "price", read_price(currency))] if currency else []
    return (
        Column("number", "number", read_whole(NUMBER_LEAST, NUMBER_MOST), needed=True),
        Column("load", "load", read_words(120)),
        Column("grower", "grower", read_words(120)),
        Column("state", "state", read_one_of(*STATES)),
        Column("grade", "grade", read_whole(1, 4), needed=True),
        Column("grains", "grains", read_reading(GRAINS)),
        Column("heartwood_percent", "heartwood", read_percent, others=("heartwood",)),
        Column("run_out_1_in", "run_out", read_reading(RUN_OUT), others=("run_out",)),
        Column("length_mm", "length", read_reading(LENGTH), needed=True, others=("length",)),
        *sizes,
        Column("mass_g", "mass", read_reading(MASS), needed=True, others=("mass",)),
        Column("moisture_percent", "moisture", read_reading(MOISTURE), needed=True, others=("moisture",)),
        Column("moisture_at", "moisture_at", read_one_of(*MoisturePlace.values)),
        Column("read_on", "read_on", read_day(today)),
        *price,
        Column("blemishes", "blemishes", read_blemishes),
        Column("note", "note", read_words(1000)),
    )


def as_text(value: Any) -> str:
    """Return a cell as it would be typed: a number without needless zeros, a day as year-month-day."""
    if value is None:
        return ""
    if isinstance(value, datetime | date):
        return value.isoformat()[:10]
    if isinstance(value, float):
        return repr(round(value, 6)).removesuffix(".0")
    return str(value).replace("\r\n", "\n").replace("\r", "\n").strip()
