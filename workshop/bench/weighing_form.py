"""The form of a weighing: what the scales showed, and in which condition the bat lay on them."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext as _

from fitting.bat.condition import Condition, Scales
from orders.words.standing import pending_words
from workshop.bench.condition import MOISTURE_LEAST, MOISTURE_MOST, square_most_mm
from workshop.bench.page import Fault, Field, faults_of, plain
from workshop.bench.work import Work
from workshop.rack.words import refused_reading
from workshop.readings import SIGN, Plausible, ReadingRefused, read_typed

TICKS = ("handle", "bound", "square", "sanded", "toe_guard", "face_film", "edge_tape")
# What the numbers of a weighing can be at all: from memory of the trade, wide enough for a child's blade and
# an adult's block.
LIMITS = {
    "scales": Plausible("g", 250, 3000),
    "balance_at": Plausible("mm", 120, 600),
    "cane": Plausible("g", 50, 600),
    "square_top": Plausible("mm", 10, 640),
    "square_depth": Plausible("mm", 20, 110),
    "square_width": Plausible("mm", 60, 130),
    "grips": Plausible("count", 0, 4),
    "oil_coats": Plausible("count", 0, 10),
    "moisture": Plausible("percent", MOISTURE_LEAST, MOISTURE_MOST),
}
# Which numbers count only with which tick.
NEEDS_TICK = {"cane": "handle", "square_top": "square", "square_depth": "square", "square_width": "square"}
MUST_BE_THERE = frozenset({"scales", "square_top", "square_depth", "square_width", "moisture"})


@dataclass(frozen=True)
class Tick:
    """One tick of the condition."""

    name: str
    words: str
    ticked: bool


@dataclass(frozen=True)
class WeighingForm:
    """The fields of the form: as the stage and its steps tell, or as they were typed and refused."""

    scales: list[Field]
    ticks: list[Tick]
    numbers: list[Field]
    square: list[Field]

    @property
    def faults(self) -> list[Fault]:
        """A line for every field that was refused."""
        return faults_of([*self.scales, *self.numbers, *self.square])


@dataclass(frozen=True)
class TypedWeighing:
    """What was typed: the reading in its condition, or faults by field."""

    scales: Scales | None
    condition: Condition
    faults: dict[str, ReadingRefused]


def read_weighing(work: Work, posted: Mapping[str, str], *, near_g: float | None = None) -> TypedWeighing:
    """Read the form; with one fault there is no reading."""
    values: dict[str, float] = {}
    faults: dict[str, ReadingRefused] = {}
    ticked = {name for name in TICKS if posted.get(name) == "on"}
    for name in LIMITS:
        if NEEDS_TICK.get(name) and NEEDS_TICK[name] not in ticked:
            continue
        text = posted.get(name, "").strip()
        if not text and name not in MUST_BE_THERE:
            continue
        try:
            values[name] = read_typed(text, _allowed(work, name, near_g))
        except ReadingRefused as error:
            faults[name] = error
    condition = Condition(
        handle="handle" in ticked,
        cane_g=values.get("cane"),
        bound={"handle", "bound"} <= ticked,
        square_top_mm=values.get("square_top", 0.0),
        square_depth_mm=values.get("square_depth", 0.0),
        square_width_mm=values.get("square_width", 0.0),
        sanded="sanded" in ticked,
        grips=round(values.get("grips", 0)),
        toe_guard="toe_guard" in ticked,
        face_film="face_film" in ticked,
        edge_tape="edge_tape" in ticked,
        oil_coats=round(values.get("oil_coats", 0)),
        moisture_percent=values.get("moisture", 12.0),
    )
    scales = None
    if not faults:
        scales = Scales(mass_g=values["scales"], balance_from_toe_mm=values.get("balance_at"))
    return TypedWeighing(scales, condition, faults)


def _allowed(work: Work, name: str, near_g: float | None) -> Plausible:
    limits = LIMITS[name]
    if name == "square_top":
        return Plausible("mm", limits.least, min(limits.most, square_most_mm(work)))
    return Plausible(limits.unit, limits.least, limits.most, near_g if name == "scales" else None)


def weighing_form(
    condition: Condition,
    block: Condition,
    *,
    posted: Mapping[str, str] | None = None,
    faults: Mapping[str, ReadingRefused] | None = None,
) -> WeighingForm:
    """Return the form: ``condition`` as guessed, ``block`` what a square top would be, or as it was typed."""
    square = condition if condition.square_top_mm else block
    shown = {
        "scales": "",
        "balance_at": "",
        "cane": "" if condition.cane_g is None else plain(condition.cane_g),
        "square_top": plain(square.square_top_mm),
        "square_depth": plain(square.square_depth_mm),
        "square_width": plain(square.square_width_mm),
        "grips": str(condition.grips),
        "oil_coats": str(condition.oil_coats),
        "moisture": plain(condition.moisture_percent),
    }
    ticked = {name for name in TICKS if name != "square" and getattr(condition, name)}
    if condition.square_top_mm:
        ticked.add("square")
    if posted is not None:
        shown |= {name: posted.get(name, "") for name in shown}
        ticked = {name for name in TICKS if posted.get(name) == "on"}
    fields = {name: _field(name, text, (faults or {}).get(name)) for name, text in shown.items()}
    return WeighingForm(
        scales=[fields["scales"], fields["balance_at"]],
        ticks=[Tick(name, words, name in ticked) for name, words in _tick_words().items()],
        numbers=[fields[name] for name in ("grips", "oil_coats", "cane", "moisture")],
        square=[fields[name] for name in ("square_top", "square_depth", "square_width")],
    )


def _field(name: str, shown: str, fault: ReadingRefused | None) -> Field:
    label, aim = _field_words()[name]
    return Field(
        name=name,
        label=label,
        column=label,
        unit=SIGN[LIMITS[name].unit],
        aim=aim,
        needed=name in MUST_BE_THERE,
        shown=shown,
        was="",
        fault=refused_reading(fault) if fault else "",
        judged=None,
    )


def _tick_words() -> dict[str, str]:
    return {
        "handle": _("the handle is glued in"),
        "bound": _("the handle is bound"),
        "square": _("it is still square below the shoulder"),
        "sanded": _("it is sanded"),
        **{name: pending_words(name) for name in ("toe_guard", "face_film", "edge_tape")},
    }


def _field_words() -> dict[str, tuple[str, str]]:
    """Each number's name and what is to be known about it."""
    return {
        "scales": (_("mass on the scales"), ""),
        "balance_at": (_("balance, from the toe"), _("if you balanced it")),
        "cane": (_("mass of the handle as it went in"), _("only while it is not turned")),
        "square_top": (_("square, down from the shoulder"), ""),
        "square_depth": (_("depth of the square part"), ""),
        "square_width": (_("width of the square part"), ""),
        "grips": (_("grips on it"), ""),
        "oil_coats": (_("coats of oil on it"), ""),
        "moisture": (_("moisture by the meter"), ""),
    }
