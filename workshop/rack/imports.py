"""A file of clefts read row by row: what is good and what is wrong with the rest. Nothing is stored here."""

import difflib
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from datetime import date
from typing import Any

from workshop.rack.allowed import no_willow
from workshop.rack.columns import Column, ValueRefused, columns, plain
from workshop.rack.models import Cleft, CleftState, Load
from workshop.rack.sheets import SheetUnreadable
from workshop.rack.words import no_willow_words
from workshop.rack.words_of_files import refused_value

LONGEST_TOLD = 60


@dataclass(frozen=True)
class Fault:
    """What is wrong in one row: its number as a spreadsheet shows it, column, what was given, why."""

    row: int
    column: str
    given: str
    words: str


@dataclass
class ParsedFile:
    """A file as read: good rows as a cleft's columns (``load`` and ``grower`` by name), and faults."""

    good: list[dict[str, Any]] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    rows: int = 0
    not_read: list[str] = field(default_factory=list)
    new_loads: dict[str, str] = field(default_factory=dict)

    @property
    def bad_rows(self) -> int:
        """How many rows have a fault."""
        return len({fault.row for fault in self.faults})

    def as_json(self) -> dict[str, Any]:
        """Return it as it is kept until confirmed."""
        return asdict(self)

    @classmethod
    def from_json(cls, kept: Mapping[str, Any]) -> "ParsedFile":
        """Return what was kept."""
        return cls(**{**kept, "faults": [Fault(**fault) for fault in kept["faults"]]})


def parse(table: Sequence[Sequence[str]], *, today: date, currency: str | None) -> ParsedFile:
    """Read a table with its head; every row is good or named with all that is wrong with it.

    Raises:
        SheetUnreadable: ``columns_missing`` (with those missing and those found), ``column_twice``,
            ``no_rows``.
    """
    known = columns(today, currency)
    places, not_read = _places(table[0], known)
    found = ParsedFile(not_read=not_read)
    numbers: dict[int, int] = {}
    on_rack = set(Cleft.objects.values_list("number", flat=True))
    growers = dict(Load.objects.values_list("name", "grower"))
    for at, row in enumerate(table[1:], start=2):
        if not any(row):
            continue
        found.rows += 1
        values, faults = _row(at, row, places)
        if not faults:
            faults = _whole_row(at, values, growers, found.new_loads)
        number = values.get("number")
        if number is not None:
            if number in on_rack:
                faults.append(_taken(at, number))
            if number in numbers:
                faults.append(_twice(at, number, numbers[number]))
            numbers.setdefault(number, at)
        found.faults += faults
        if not faults:
            found.good.append({"row": at, **_with_defaults(values, today)})
    if not found.rows:
        raise SheetUnreadable("no_rows")
    # The load of a row that fell out for another reason is not made.
    named = {row["load"] for row in found.good}
    found.new_loads = {name: grower for name, grower in found.new_loads.items() if name in named}
    return found


def taken_meanwhile(found: ParsedFile) -> list[int]:
    """Return the numbers of good rows that somebody has since put on the rack."""
    return sorted({row["number"] for row in found.good} & set(Cleft.objects.values_list("number", flat=True)))


def loads_told(found: ParsedFile) -> list[dict[str, Any]]:
    """Return each load that the good rows name: how many clefts, and whether it is a new one."""
    counted = Counter(row["load"] for row in found.good)
    return [
        {"name": name, "count": count, "is_new": name in found.new_loads}
        for name, count in sorted(counted.items())
    ]


def _places(head: Sequence[str], known: Sequence[Column]) -> tuple[dict[int, Column], list[str]]:
    """Return which column stands where, and the names of those that nobody knows."""
    by_name = {plain(name): column for column in known for name in (column.name, *column.others)}
    places: dict[int, Column] = {}
    not_read = []
    seen: dict[str, int] = defaultdict(int)
    for at, name in enumerate(head):
        column = by_name.get(plain(name))
        if column is not None:
            seen[column.name] += 1
            places[at] = column
        elif name:
            not_read.append(name[:LONGEST_TOLD])
    twice = [name for name, count in seen.items() if count > 1]
    if twice:
        raise SheetUnreadable("column_twice", columns=twice)
    missing = [column.name for column in known if column.needed and column.name not in seen]
    if missing:
        near = {
            name: close[0]
            for name in missing
            for close in [difflib.get_close_matches(name, not_read, n=1, cutoff=0.7)]
            if close
        }
        raise SheetUnreadable("columns_missing", missing=missing, found=[n for n in head if n], near=near)
    return places, not_read


def _row(at: int, row: Sequence[str], places: Mapping[int, Column]) -> tuple[dict[str, Any], list[Fault]]:
    values: dict[str, Any] = {}
    faults = []
    for place, column in places.items():
        text = row[place] if place < len(row) else ""
        if not text:
            if column.needed:
                faults.append(Fault(at, column.name, "", refused_value(ValueRefused("empty"))))
            continue
        try:
            values[column.field] = column.read(text)
        except ValueRefused as error:
            faults.append(Fault(at, column.name, _short(text), refused_value(error)))
    return values, faults


def _whole_row(
    at: int, values: Mapping[str, Any], growers: Mapping[str, str], new_loads: dict[str, str]
) -> list[Fault]:
    """Hold a row's values against each other: mass and sizes, load and grower, blemishes and length."""
    wrong = no_willow(values)
    if wrong is not None:
        return [Fault(at, "mass_g", f"{values['mass'] / 10:g}", no_willow_words(wrong))]
    load, grower = values.get("load", ""), values.get("grower", "")
    if grower and not load:
        return [Fault(at, "grower", _short(grower), refused_value(ValueRefused("grower_without_load")))]
    if load:
        noted = growers.get(load, new_loads.get(load, grower))
        if grower and noted and noted != grower:
            return [
                Fault(at, "grower", _short(grower), refused_value(ValueRefused("other_grower", grower=noted)))
            ]
        if load not in growers:
            new_loads[load] = noted or grower
    for blemish in values.get("blemishes", ()):
        if blemish["from_end"] > values["length"]:
            beyond = ValueRefused("blemish_beyond", length=values["length"] / 10)
            return [Fault(at, "blemishes", f"{blemish['from_end'] / 10:g}", refused_value(beyond))]
    return []


def _with_defaults(values: dict[str, Any], today: date) -> dict[str, Any]:
    return {
        "load": "",
        "grower": "",
        "state": str(CleftState.SEASONING),
        "read_on": today.isoformat(),
        "blemishes": [],
        **values,
    }


def _taken(at: int, number: int) -> Fault:
    return Fault(at, "number", str(number), refused_value(ValueRefused("on_rack")))


def _twice(at: int, number: int, first: int) -> Fault:
    return Fault(at, "number", str(number), refused_value(ValueRefused("twice", row=first)))


def _short(text: str) -> str:
    return text if len(text) <= LONGEST_TOLD else text[:LONGEST_TOLD] + "…"
