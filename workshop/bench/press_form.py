"""One pass of the press as it is typed: tool, gauge, depths, width, dropped ball; whole or not at all."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from django.utils.functional import Promise
from django.utils.text import capfirst
from django.utils.translation import gettext, gettext_lazy

from workshop.bench.page import Fault, Field, plain
from workshop.bench.press_depths import LINES, Depths
from workshop.rack.words import refused_reading
from workshop.readings import SIGN, Plausible, ReadingRefused, as_tenths, plausible, read_typed

TOOLS: dict[str, Promise] = {
    "edge_roller": gettext_lazy("edge roller"),
    "edge_hammer": gettext_lazy("edge hammer"),
    "flat_roller": gettext_lazy("flat roller"),
    "crown_roller": gettext_lazy("crown roller"),
    "platen": gettext_lazy("platen"),
}
# A bowed bat goes through the press a second time where the shop works that way.
BOW_TOOL = "second_bow"
BOW_WORDS = gettext_lazy("second pressing, bow")
LINE_WORDS: dict[str, Promise] = {
    "left": gettext_lazy("left edge"),
    "centre": gettext_lazy("centre"),
    "right": gettext_lazy("right edge"),
}
DROPS = 5
GAUGE = Plausible("gauge", 0, 9999)
DROP_HEIGHT = Plausible("mm", 200, 3000, 1000)
LEAST_DEPTH_MM, MOST_DEPTH_MM = 20.0, 110.0
LEAST_WIDTH_MM, MOST_WIDTH_MM = 70.0, 130.0
LONGEST_NAME, LONGEST_WORDS = 60, 500


@dataclass(frozen=True)
class Before:
    """What a pass is read against.

    Attributes:
        number: of the pass to come.
        bowed: whether the second pressing of a bowed bat is offered.
        places: of the press grid, 0.1 mm from the toe.
        depths: the last that were read.
        width_mm: of the blade that is to come out of it.
        drop: how the ball fell the last time: ``height_mm``, ``ball``, ``support``.
    """

    number: int
    bowed: bool
    places: tuple[int, ...]
    depths: Depths
    width_mm: float
    drop: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class PassForm:
    """The form of a pass: as shown, with what is wrong at each field, and the values of the row to keep."""

    number: int
    tools: list[tuple[str, str]]
    tool: str
    tool_fault: str
    gauge: Field
    width: Field
    heads: list[str]
    rows: list[tuple[str, list[Field]]]
    drops: list[Field]
    height: Field
    ball: Field
    support: Field
    words: str
    values: dict[str, Any]

    @property
    def drop(self) -> list[Field]:
        """How the ball fell."""
        return [self.height, self.ball, self.support]

    @property
    def opens_drops(self) -> bool:
        """Whether a ball was dropped."""
        return any(one.shown or one.fault for one in self.drops)

    def all_fields(self) -> list[Field]:
        """Every number and name, in the order of the page."""
        placed = [one for _, fields in self.rows for one in fields]
        return [self.gauge, *placed, self.width, *self.drops, self.height, self.ball, self.support]

    def faults(self) -> list[Fault]:
        """A line for everything that was refused."""
        found = [Fault("id_tool", self.tool_fault)] if self.tool_fault else []
        return found + [
            Fault(f"id_{one.name}", f"{capfirst(one.label)}: {one.fault}")
            for one in self.all_fields()
            if one.fault
        ]


def tool_words(key: str) -> str:
    """Return a tool in words; one that is no longer known as its key."""
    return str(BOW_WORDS if key == BOW_TOOL else TOOLS.get(key, key))


def pass_form(before: Before, posted: Mapping[str, str] | None = None) -> PassForm:
    """Return the form of the next pass: empty, or as it was typed with what is wrong in it."""
    reader = _Reader(before, posted)
    tools = [(key, str(words)) for key, words in TOOLS.items()]
    if before.bowed:
        tools.append((BOW_TOOL, str(BOW_WORDS)))
    tool = (posted or {}).get("tool", "")
    unknown = posted is not None and tool not in dict(tools)
    gauge, width = reader.gauge(), reader.width()
    rows, depths = reader.depths()
    drops, rebounds = reader.drops()
    named, drop = reader.drop(rebounds)
    words = (posted or {}).get("words", "").strip()[:LONGEST_WORDS]
    return PassForm(
        number=before.number,
        tools=tools,
        tool=tool,
        tool_fault=gettext("Say which tool pressed.") if unknown else "",
        gauge=gauge[0],
        width=width[0],
        heads=[str(LINE_WORDS[line]) for line in LINES],
        rows=rows,
        drops=drops,
        height=named[0],
        ball=named[1],
        support=named[2],
        words=words,
        values={
            "tool": tool,
            "gauge": None if gauge[1] is None else as_tenths(gauge[1], "gauge"),
            "width": None if width[1] is None else as_tenths(width[1], "mm"),
            "depths": depths,
            "rebounds": rebounds,
            "drop": drop,
            "words": words,
        },
    )


class _Reader:
    """Reads the fields of one pass; what is missing beside something that was typed is a fault too."""

    def __init__(self, before: Before, posted: Mapping[str, str] | None) -> None:
        self.before = before
        self.posted = posted or {}

    def text(self, name: str) -> str:
        """What was typed in a field."""
        return self.posted.get(name, "").strip()

    def number(
        self,
        name: str,
        label: str,
        allowed: Plausible,
        *,
        aim: str = "",
        shown: str = "",
        lacks: str = "",
        column: str = "",
    ) -> tuple[Field, float | None]:
        """Read one number: its field, and its value where there is one that can be."""
        typed = self.text(name)
        fault, value = lacks if not typed else "", None
        if typed:
            try:
                value = read_typed(typed, allowed)
            except ReadingRefused as error:
                fault = refused_reading(error)
        return _field(name, label, SIGN[allowed.unit], aim, typed or shown, fault, column), value

    def gauge(self) -> tuple[Field, float | None]:
        """The gauge, in the machine's own unit."""
        return self.number("gauge", gettext("gauge, in the machine's own unit"), GAUGE)

    def width(self) -> tuple[Field, float | None]:
        """The width after the pass."""
        allowed = plausible("mm", LEAST_WIDTH_MM, MOST_WIDTH_MM, self.before.width_mm)
        return self.number("pass_width", gettext("width after the pass"), allowed)

    def depths(self) -> tuple[list[tuple[str, list[Field]]], dict[str, list[float]]]:
        """The depths at the grid: a line along the blade is read whole or left out."""
        begun = {line: any(self.text(_name(line, at)) for at in self.before.places) for line in LINES}
        rows: list[tuple[str, list[Field]]] = []
        found: dict[str, list[float]] = {line: [] for line in LINES if begun[line]}
        for place in self.before.places:
            fields = []
            for line in LINES:
                one, value = self._depth(line, place, begun=begun[line])
                fields.append(one)
                if value is not None:
                    found[line].append(value)
            rows.append((f"{place / 10:.0f}", fields))
        return rows, found

    def _depth(self, line: str, place: int, *, begun: bool) -> tuple[Field, float | None]:
        was = self.before.depths.get((line, place))
        label = gettext("depth after the pass, %(line)s, %(place)s mm from the toe")
        return self.number(
            _name(line, place),
            label % {"line": LINE_WORDS[line], "place": f"{place / 10:.0f}"},
            plausible("mm", LEAST_DEPTH_MM, MOST_DEPTH_MM, was),
            aim=gettext("was %(depth)s") % {"depth": plain(was)} if was is not None else "",
            lacks=gettext("Read it too, or leave the whole line out.") if begun else "",
            column=str(LINE_WORDS[line]),
        )

    def drops(self) -> tuple[list[Field], list[float]]:
        """The five rebounds, all or none."""
        names = [f"drop_{number}" for number in range(1, DROPS + 1)]
        begun = any(self.text(name) for name in names)
        allowed = Plausible("mm", 50, self._height() or DROP_HEIGHT.most)
        lacks = gettext("Five drops, or none.") if begun else ""
        fields, found = [], []
        for number, name in enumerate(names, start=1):
            label = gettext("rebound, drop %(number)s") % {"number": number}
            one, value = self.number(name, label, allowed, lacks=lacks)
            fields.append(one)
            if value is not None:
                found.append(value)
        return fields, found

    def _height(self) -> float | None:
        try:
            return read_typed(self.text("drop_height"), DROP_HEIGHT)
        except ReadingRefused:
            return None

    def drop(self, rebounds: list[float]) -> tuple[list[Field], dict[str, Any]]:
        """Height, ball and support of the drop: part of the record wherever a ball was dropped."""
        known = self.before.drop
        lacks = gettext("It belongs to the record of the rebounds.") if rebounds else ""
        usual = plain(float(known.get("height_mm") or DROP_HEIGHT.near or 0.0))
        height, value = self.number(
            "drop_height",
            gettext("dropped from"),
            DROP_HEIGHT,
            shown="" if self.posted else usual,
            lacks=lacks,
        )
        fields = [height]
        found: dict[str, Any] = {"height_mm": value}
        for name, label in (("ball", gettext("which ball")), ("support", gettext("supported how"))):
            typed = self.text(name)[:LONGEST_NAME]
            shown = typed if self.posted else str(known.get(name, ""))
            fields.append(_field(name, label, "", "", shown, lacks if not typed else ""))
            found[name] = typed
        return fields, found if rebounds else {}


def _name(line: str, place: int) -> str:
    return f"pass-{line}-{place}"


def _field(name: str, label: str, unit: str, aim: str, shown: str, fault: str, column: str = "") -> Field:
    return Field(
        name=name,
        label=label,
        column=column or label,
        unit=unit,
        aim=aim,
        needed=True,
        shown=shown,
        was="",
        fault=fault,
        judged=None,
    )
