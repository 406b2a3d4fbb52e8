"""What the answers of a fitting sheet amount to, under the names that the signs of the book ask for."""

from collections.abc import Mapping
from dataclasses import dataclass
from statistics import median

from fitting.sheets.book import Book
from fitting.sheets.book_rules import Condition
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.values import LengthCode

HEIGHT = "player.height_mm"
MARKS = "game.ball_marks_from_toe_mm"
CHOSEN = "build."

# A finding that is worked out from answers, and the field of the sheet that it stands for.
_STANDS_FOR = {
    "player.wrist_to_height": "player.wrist_height_mm",
    "player.leg_to_height": "player.inside_leg_mm",
    "wishes.gives_way_first.0": "wishes.gives_way_first",
    "game.overs_mix.long": "game.overs_mix",
    "game.overs_mix.fifty": "game.overs_mix",
    "game.overs_mix.twenty": "game.overs_mix",
}

Finding = str | bool | int | float | tuple[str, ...]


@dataclass(frozen=True)
class Findings:
    """Findings by dotted name, the ones that a choice already made adds among them."""

    values: Mapping[str, Finding]
    inch_slack_mm: float

    def get(self, name: str) -> Finding | None:
        """Return a finding, or None where nothing was said."""
        return self.values.get(name)

    def has(self, name: str) -> bool:
        """Tell whether the player said anything about it."""
        return name in self.values

    def number(self, name: str) -> float | None:
        """Return a finding that is a number."""
        value = self.values.get(name)
        return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None

    def knowing(self, **chosen: str | bool) -> "Findings":
        """Return the findings with choices already made, as ``build.<name>``."""
        added = {f"{CHOSEN}{name}": value for name, value in chosen.items()}
        return Findings({**self.values, **added}, self.inch_slack_mm)

    def meets(self, condition: Condition) -> bool | None:
        """Tell whether a condition holds; None where its answer is missing."""
        value = self.values.get(condition.answer)
        if value is None:
            return None
        if condition.one_of is not None:
            given = value if isinstance(value, tuple) else (value,)
            return any(one in condition.one_of for one in given)
        # Heights are told in inches: the slack keeps a bound from excluding the person it names.
        number = self.number(condition.answer)
        if number is None:
            return None
        slack = self.inch_slack_mm if condition.answer == HEIGHT else 0.0
        return not (
            (condition.at_least is not None and number < condition.at_least - slack)
            or (condition.below is not None and number >= condition.below - slack)
        )


def field_of(name: str) -> str | None:
    """Return the field of the fitting sheet behind a finding; None for a choice already made."""
    if name.startswith(CHOSEN):
        return None
    return _STANDS_FOR.get(name, name)


def findings_of(sheet: FittingSheet, book: Book) -> Findings:
    """Lay out every answer that was given under its dotted name, with what is worked out from them.

    Overs become shares of their sum, hand positions and the like stay words; ball marks wait for the
    length of the blade (``with_marks``).
    """
    values: dict[str, Finding] = {}
    _lay_out("", sheet.model_dump(mode="json", exclude_none=True), values)
    mix = sheet.game.overs_mix
    if mix is not None:
        whole = mix.long + mix.fifty + mix.twenty
        for name, share in (("long", mix.long), ("fifty", mix.fifty), ("twenty", mix.twenty)):
            values[f"game.overs_mix.{name}"] = share / whole
    if sheet.player.wrist_height_mm is not None:
        values["player.wrist_to_height"] = sheet.player.wrist_height_mm / sheet.player.height_mm
    if sheet.player.inside_leg_mm is not None:
        values["player.leg_to_height"] = sheet.player.inside_leg_mm / sheet.player.height_mm
    if sheet.wishes.gives_way_first:
        values["wishes.gives_way_first.0"] = sheet.wishes.gives_way_first[0]
    return Findings(values, book.rules.inch_slack_mm)


def with_marks(findings: Findings, sheet: FittingSheet, code: LengthCode, book: Book) -> Findings:
    """Add the middle of the ball marks, told on the reference blade so that one threshold serves all.

    The marks were measured on the bat in use; its blade is known by its length code, else taken to be
    the new one's. Too few marks say nothing.
    """
    marks = sheet.game.ball_marks_from_toe_mm or ()
    if len(marks) < book.rules.marks_at_least:
        return findings
    used = book.length(sheet.present_bat.length_code or code)
    scaled = median(marks) * book.wish_numbers.reference_blade_mm / used.blade_mm
    return Findings({**findings.values, MARKS: scaled}, findings.inch_slack_mm)


def _lay_out(prefix: str, content: Mapping[str, object], values: dict[str, Finding]) -> None:
    for key, value in content.items():
        name = f"{prefix}{key}"
        if isinstance(value, dict):
            _lay_out(f"{name}.", value, values)
        elif isinstance(value, list | tuple):
            if value and all(isinstance(one, str) for one in value):
                values[name] = tuple(value)
        elif isinstance(value, str | bool | int | float):
            values[name] = value
