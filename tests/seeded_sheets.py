"""Five hundred likely fitting sheets from one seed, and every other answer that could stand in one."""

from collections.abc import Iterator
from typing import Any

import numpy as np

from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet

COUNT = 500
SEED = 1936

CHOICES: dict[str, tuple[Any, ...]] = {
    "level": ("junior", "club", "first_class", "international"),
    "play_from": ("2026-09-01", "2026-11-01"),
    "player.batting_hand": ("left", "right"),
    "player.strength": ("light", "average", "strong"),
    "game.batting_place": ("opener", "top_order", "middle_order", "lower_order"),
    "game.approach": ("patient", "balanced", "attacking", "big_hitting"),
    "game.ball": (["hard"], ["machine"], ["soft"], ["hard", "machine"]),
    "pitches.bounce": ("low", "medium", "high", "varied"),
    "pitches.surface": ("turf", "artificial", "matting", "concrete"),
    "pitches.outfield_grass": ("short", "medium", "long"),
    "pitches.often_damp": (True, False),
    "hold.hands": ("top", "middle", "bottom"),
    "hold.tightness": ("light", "firm", "tight"),
    "hold.stance": ("upright", "medium", "crouched"),
    "hold.leading_hand": ("top", "bottom"),
    "hold.taps_ground": (True, False),
    "present_bat.liked": (True, False),
    "present_bat.length_code": (
        "size_5",
        "harrow",
        "super_short",
        "short_handle",
        "long_handle",
        "long_blade",
    ),
    "present_bat.pickup": ("too_heavy", "right", "too_light"),
    "present_bat.sweet_spot": ("too_low", "right", "too_high"),
    "present_bat.handle": ("too_thin", "right", "too_thick"),
    "present_bat.broke_at": (["toe"], ["edge"], ["face"], ["handle"], ["splice"], ["toe", "edge"]),
    "wishes.length_code": ("harrow", "super_short", "short_handle", "long_handle", "long_handle_short_blade"),
    "wishes.sweet_spot": ("low", "mid", "high", "long"),
    "wishes.profile": ("tapered_spine", "spine_to_toe", "scalloped", "full"),
    "wishes.edges": ("thin", "medium", "thick"),
    "wishes.bow": ("none", "slight", "full"),
    "wishes.face": ("flat", "rounded"),
    "wishes.toe": ("light", "strong"),
    "wishes.handle_section": ("round", "oval", "round_to_oval"),
    "wishes.handle_thickness": ("thin", "medium", "thick"),
    "wishes.feel": ("traditional", "balanced", "stiff"),
    "wishes.looks_grade": (1, 2, 3, 4),
    "wishes.grain": ("few", "many"),
    "wishes.grips": (1, 2, 3),
    "wishes.easy_on_joints": (True, False),
}
SHOTS = (
    "straight_drive",
    "drive_on_the_up",
    "cut",
    "pull_and_hook",
    "sweep",
    "lofted",
    "leg_glance",
    "back_foot_punch",
)
GIVES_WAY = ("mass", "edges", "pickup", "looks", "life", "date")
NUMBERS: dict[str, tuple[float, float]] = {
    "player.age_years": (9, 60),
    "player.height_mm": (1250, 2050),
    "player.wrist_height_mm": (640, 960),
    "player.inside_leg_mm": (560, 930),
    "player.hand_length_mm": (150, 220),
    "game.nets_hours_a_week": (0, 8),
    "present_bat.mass_g": (1000, 1300),
    "present_bat.balance_from_toe_mm": (330, 390),
    "present_bat.overall_length_mm": (815, 880),
    "present_bat.grip_girth_mm": (108, 128),
}
"""Measures, and between which of them a likely player lies."""

ANSWERS: tuple[str, ...] = (
    *CHOICES,
    *NUMBERS,
    "game.overs_mix",
    *(f"game.shots.{shot}" for shot in SHOTS),
    "game.ball_marks_from_toe_mm",
    "present_bat.pendulum",
    "wishes.mass_g",
    "wishes.gives_way_first",
)
"""Every answer that a fitting sheet has room for."""

_WISHED = 0.15
_ANSWERED = 0.7


def seeded_sheets(count: int = COUNT, seed: int = SEED) -> Iterator[FittingSheet]:
    """Give likely sheets one by one, each answered in part."""
    chance = np.random.default_rng(seed)
    for _ in range(count):
        yield read_sheet(FittingSheet, _sheet(chance))


def with_answer(sheet: FittingSheet, answer: str, value: Any) -> FittingSheet:
    """Return the same sheet with one answer put in, changed, or (None) taken out."""
    content = sheet.model_dump(mode="json", exclude_none=True)
    _put(content, answer, value)
    return read_sheet(FittingSheet, content)


def other_values(answer: str, chance: np.random.Generator) -> list[Any]:
    """Return values that the answer may have instead, None (unanswered) where that is allowed."""
    if answer in CHOICES:
        return [*CHOICES[answer], None]
    if answer in NUMBERS:
        least, most = NUMBERS[answer]
        values: list[Any] = [_number(answer, float(value)) for value in np.linspace(least, most, 6)]
        return values if answer in ("player.age_years", "player.height_mm") else [*values, None]
    return [_made(answer, chance) for _ in range(4)] + [None]


def _sheet(chance: np.random.Generator) -> dict[str, Any]:
    grown = chance.random() < 0.75
    age = int(chance.integers(18, 55)) if grown else int(chance.integers(8, 18))
    height = chance.normal(1755, 75) if grown else chance.normal(1120 + 42 * (age - 4), 60)
    content: dict[str, Any] = {"sheet": 1}
    _put(content, "player.age_years", age)
    _put(content, "player.height_mm", round(float(np.clip(height, 1000, 2080))))
    has_bat = chance.random() < 0.7
    for answer in ANSWERS:
        if answer in ("player.age_years", "player.height_mm") or (
            answer.startswith("present_bat.") and not has_bat
        ):
            continue
        if chance.random() < (_WISHED if answer.startswith("wishes.") else _ANSWERED):
            _put(content, answer, _made(answer, chance))
    return content


def _made(answer: str, chance: np.random.Generator) -> Any:
    if answer in CHOICES:
        choices = CHOICES[answer]
        return choices[int(chance.integers(len(choices)))]
    if answer in NUMBERS:
        return _number(answer, float(chance.uniform(*NUMBERS[answer])))
    if answer == "game.overs_mix":
        return {name: round(float(chance.uniform(0.1, 10)), 1) for name in ("long", "fifty", "twenty")}
    if answer.startswith("game.shots."):
        return int(chance.integers(4))
    if answer == "game.ball_marks_from_toe_mm":
        middle = chance.uniform(170, 260)
        return [round(float(chance.normal(middle, 20)), 1) for _ in range(int(chance.integers(3, 12)))]
    if answer == "present_bat.pendulum":
        return {
            "pivot_from_handle_top_mm": 20,
            "swings": 20,
            "seconds": round(float(chance.uniform(29, 32)), 1),
        }
    if answer == "wishes.mass_g":
        low = round(float(chance.uniform(1020, 1220)))
        return {"min": low, "max": low + 40}
    return [str(one) for one in chance.permutation(GIVES_WAY)]


def _number(answer: str, value: float) -> float | int:
    return int(value) if answer == "player.age_years" else round(value, 1)


def _put(content: dict[str, Any], answer: str, value: Any) -> None:
    *path, last = answer.split(".")
    at = content
    for step in path:
        at = at.setdefault(step, {})
    if value is None:
        at.pop(last, None)
    else:
        at[last] = value
