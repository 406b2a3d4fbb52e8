"""The build sheet as a form: every field of it, typed as text, read back into a sheet or refused by field."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, get_args

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import Fault, SheetRefused, read_sheet
from fitting.sheets.values import Construction, Grain, LengthCode, Profile, SweetSpot
from orders.words.faults import say_given_and_allowed
from orders.words.fields import VALUES
from workshop.review.fields import STATION_COLUMNS, Field, fields_by_name, groups, value_at

STATION = "blade.stations"
SPARE_ROWS = 2
MOST_ROWS = 40
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)")

Text = str | Promise
CHOICES: dict[str, tuple[str, ...]] = {
    "length_code": get_args(LengthCode),
    "profile": get_args(Profile),
    "sweet_spot.choice": get_args(SweetSpot),
    "handle.construction": get_args(Construction),
    "handle.section_top": ("round", "oval"),
    "handle.section_bottom": ("round", "oval"),
    "willow.grain": get_args(Grain),
    "outside_edge": ("left", "right"),
}
OPEN = gettext_lazy("left open")
# What the sheet's own cross checks say, at which box it is shown, and in which words.
CROSS_CHECKS: dict[str, tuple[str, Text]] = {
    "spine_mm not below edge_mm": (
        "spine_mm",
        gettext_lazy("The spine cannot be thinner than the edge at the same place."),
    ),
    "stations in order from the toe, each place once": (
        STATION,
        gettext_lazy("Each place along the blade can stand only once."),
    ),
    "first station at 0 and last at length_mm": (
        STATION,
        gettext_lazy("The first station stands at 0, the last at the length of the blade."),
    ),
    "toe.corner_radius_mm at most half of width_mm": (
        "blade.toe.corner_radius_mm",
        gettext_lazy("The corners cannot be rounder than half the width."),
    ),
    "shoulder.width_mm at most width_mm": (
        "blade.shoulder.width_mm",
        gettext_lazy("The shoulder cannot be wider than the blade."),
    ),
    "bow_peak_from_toe_mm below length_mm": (
        "blade.bow_peak_from_toe_mm",
        gettext_lazy("The deepest point of the bow lies on the blade."),
    ),
    "face_crown_mm at least 2 mm below the thinnest edge": (
        "blade.face_crown_mm",
        gettext_lazy("The crown must leave 2 mm of the thinnest edge."),
    ),
    "toe.scoop within the lower half of the blade": (
        "blade.toe.scoop.length_mm",
        gettext_lazy("The scoop ends below the middle of the blade."),
    ),
    "toe.scoop at least 2 mm of edge left under it": (
        "blade.toe.scoop.depth_mm",
        gettext_lazy("The scoop must leave 2 mm of edge under it."),
    ),
    "blade.shoulder.width_mm at least 6 mm above handle.splice_width_mm": (
        "blade.shoulder.width_mm",
        gettext_lazy("The shoulder is at least 6 mm wider than the splice."),
    ),
    "handle.splice_length_mm below blade.length_mm": (
        "handle.splice_length_mm",
        gettext_lazy("The splice is shorter than the blade."),
    ),
    "min not above max": (
        "willow.density_kg_m3.min",
        gettext_lazy("The least density cannot be above the greatest."),
    ),
}


class FormRefused(ValueError):
    """A form that makes no build sheet; ``faults`` by the name of the box."""

    def __init__(self, faults: Mapping[str, str]) -> None:
        super().__init__(", ".join(faults))
        self.faults = dict(faults)


@dataclass(frozen=True)
class Box:
    """One box as shown."""

    name: str
    label: Text
    unit: Text
    value: str
    fault: str
    choices: tuple[tuple[str, Text], ...]

    @property
    def id(self) -> str:
        """The element's id."""
        return box_id(self.name)


@dataclass(frozen=True)
class BuildForm:
    """What stands in the boxes, whatever it is; nothing typed is ever lost."""

    typed: Mapping[str, str]
    rows: Sequence[Mapping[str, str]]
    faults: Mapping[str, str] = field(default_factory=dict)

    @classmethod
    def of_build(cls, build: BuildSheet) -> "BuildForm":
        """Fill the boxes from a build sheet."""
        values = build.model_dump(mode="json")
        typed = {name: _shown(value_at(values, name)) for name in fields_by_name()}
        stations: Sequence[Mapping[str, Any]] = values["blade"]["stations"]
        return cls(typed, [{key: _shown(row[key]) for key in STATION_COLUMNS} for row in stations])

    @classmethod
    def of_post(cls, posted: Mapping[str, str]) -> "BuildForm":
        """Take the boxes as they were sent."""
        typed = {name: posted.get(name, "").strip() for name in fields_by_name()}
        rows = []
        for number in range(MOST_ROWS + SPARE_ROWS):
            row = {key: posted.get(f"{STATION}.{number}.{key}", "").strip() for key in STATION_COLUMNS}
            if any(row.values()):
                rows.append(row)
        return cls(typed, rows)

    def with_faults(self, faults: Mapping[str, str]) -> "BuildForm":
        """Return the same boxes with what is wrong at each."""
        return BuildForm(self.typed, self.rows, faults)

    def groups(self) -> Iterator[tuple[str, Text, list[Box]]]:
        """Yield the boxes by group: key, title, boxes."""
        for group in groups():
            yield group.key, group.title, [self._box(one) for one in group.fields]

    def stations(self) -> list[list[Box]]:
        """Return the table of stations, a few empty rows below."""
        rows = [*self.rows, *[dict.fromkeys(STATION_COLUMNS, "") for _spare in range(SPARE_ROWS)]]
        return [
            [
                Box(
                    name := f"{STATION}.{number}.{key}",
                    label,
                    unit,
                    row[key],
                    self.faults.get(name, ""),
                    (),
                )
                for key, (label, unit) in STATION_COLUMNS.items()
            ]
            for number, row in enumerate(rows)
        ]

    def summary(self) -> list[dict[str, str]]:
        """Return every fault with the box it leads to."""
        labels = fields_by_name()
        found = []
        for name, words in self.faults.items():
            label = str(labels[name].label) if name in labels else _station_label(name)
            found.append({"field_id": box_id(name), "words": f"{label}: {words}"})
        return found

    def read(self) -> BuildSheet:
        """Read the boxes as a build sheet.

        Raises:
            FormRefused: with words at every box that is wrong.
        """
        faults: dict[str, str] = {}
        sheet: dict[str, Any] = {"build": 1}
        for name, one in fields_by_name().items():
            _put(sheet, name, _value(one, name, self.typed.get(name, ""), faults))
        order = sorted(range(len(self.rows)), key=lambda number: _sorting(self.rows[number]["from_toe_mm"]))
        sheet["blade"]["stations"] = [
            {
                key: _required(f"{STATION}.{number}.{key}", self.rows[number][key], faults)
                for key in STATION_COLUMNS
            }
            for number in order
        ]
        if not faults:
            _drop_empty(sheet)
            try:
                return read_sheet(BuildSheet, sheet)
            except SheetRefused as refused:
                faults = dict(_place(fault, order) for fault in refused.faults)
        raise FormRefused(faults)

    def _box(self, one: Field) -> Box:
        value = self.typed.get(one.name, "")
        choices = tuple((key, VALUES.get(key, key)) for key in CHOICES.get(one.name, ()))
        if choices and one.optional:
            choices = (("", OPEN), *choices)
        return Box(one.name, one.label, one.unit, value, self.faults.get(one.name, ""), choices)


def box_id(name: str) -> str:
    """Return the id of a box by its name."""
    return "box-" + name.replace(".", "-")


def _station_label(name: str) -> str:
    *_path, key = name.split(".")
    return str(STATION_COLUMNS[key][0]) if key in STATION_COLUMNS else _("Stations")


def _shown(value: Any) -> str:
    if value is None:
        return ""
    return str(value).removesuffix(".0")


def _put(sheet: dict[str, Any], name: str, value: Any) -> None:
    *path, last = name.split(".")
    for part in path:
        sheet = sheet.setdefault(part, {})
    sheet[last] = value


def _value(one: Field, name: str, text: str, faults: dict[str, str]) -> Any:
    if one.optional and not text:
        return None
    if name in CHOICES:
        return text
    number = _required(name, text, faults)
    return int(number) if one.whole and number is not None and number == int(number) else number


def _required(name: str, text: str, faults: dict[str, str]) -> float | None:
    if not _NUMBER.fullmatch(text):
        faults[name] = (
            _("%(given)s was given, which is no number.") % {"given": text}
            if text
            else _("A number is needed.")
        )
        return None
    return float(text.replace(",", "."))


def _sorting(text: str) -> float:
    return float(text.replace(",", ".")) if _NUMBER.fullmatch(text) else float("inf")


def _drop_empty(sheet: dict[str, Any]) -> None:
    """Make null what is fitted only when its boxes are filled in: scoop and coverings."""
    for place, name in (
        (sheet["blade"]["toe"], "scoop"),
        *((sheet["protection"], key) for key in sheet["protection"]),
    ):
        if all(value is None for value in place[name].values()):
            place[name] = None


def _place(fault: Fault, order: Sequence[int]) -> tuple[str, str]:
    """Return the box that a fault of the sheet belongs to, and its words."""
    name = fault.field
    if name.startswith(STATION + "."):
        parts = name.split(".")
        parts[2] = str(order[int(parts[2])])
        name = ".".join(parts)
    said = fault.allowed.get("error", "")
    if said in CROSS_CHECKS:
        box, words = CROSS_CHECKS[said]
        return (f"{name}.{box}" if box in STATION_COLUMNS else box), str(words)
    return name, say_given_and_allowed(fault, BuildSheet)
