"""Fitting sheets for tests: a plain grown player, changed where a test says so, and valid ones by chance."""

from collections.abc import Mapping
from typing import Any

from hypothesis import strategies as st

from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet

LENGTHS = [*(f"size_{n}" for n in range(1, 7)), "harrow", "small_adult", "super_short", "short_handle"]
LENGTHS += ["long_handle", "long_blade", "long_handle_long_blade", "long_handle_short_blade"]
THICKNESS = ["thin", "medium", "thick"]


def fitting_json(**chapters: Any) -> dict[str, Any]:
    """A fitting sheet as JSON would give it: a grown player of 1,740 mm, with what is given put over it."""
    player = {"age_years": 30, "height_mm": 1740, **chapters.pop("player", {})}
    return {"sheet": 1, "player": player, **chapters}


def fitting(**chapters: Any) -> FittingSheet:
    """The same, read."""
    return read_sheet(FittingSheet, fitting_json(**chapters))


def _some(fields: Mapping[str, st.SearchStrategy[Any]]) -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries({}, optional=dict(fields))


def _numbers(least: float, most: float) -> st.SearchStrategy[float]:
    return st.floats(least, most, allow_nan=False).map(lambda value: round(value, 1))


@st.composite
def _mass_wishes(draw: st.DrawFn) -> dict[str, float]:
    low, high = sorted(draw(st.tuples(_numbers(450, 1600), _numbers(450, 1600))))
    return draw(st.sampled_from([{"min": low}, {"max": high}, {"min": low, "max": high}, {}]))


_PLAYER = {
    "wrist_height_mm": _numbers(300, 1300),
    "inside_leg_mm": _numbers(300, 1200),
    "hand_length_mm": _numbers(90, 260),
    "batting_hand": st.sampled_from(["left", "right"]),
    "strength": st.sampled_from(["light", "average", "strong"]),
}
_SHOTS = ["straight_drive", "drive_on_the_up", "cut", "pull_and_hook", "sweep", "lofted"]
_SHOTS += ["leg_glance", "back_foot_punch"]
_SHARES = st.fixed_dictionaries({name: _numbers(0.1, 100) for name in ("long", "fifty", "twenty")})
_GAME = {
    "batting_place": st.sampled_from(["opener", "top_order", "middle_order", "lower_order"]),
    "approach": st.sampled_from(["patient", "balanced", "attacking", "big_hitting"]),
    "overs_mix": _SHARES,
    "shots": _some({shot: _numbers(0, 3) for shot in _SHOTS}),
    "ball_marks_from_toe_mm": st.lists(_numbers(0, 600), max_size=12),
    "ball": st.lists(st.sampled_from(["hard", "machine", "soft"]), max_size=3),
    "nets_hours_a_week": _numbers(0, 60),
}
_PITCHES = {
    "bounce": st.sampled_from(["low", "medium", "high", "varied"]),
    "surface": st.sampled_from(["turf", "artificial", "matting", "concrete"]),
    "outfield_grass": st.sampled_from(["short", "medium", "long"]),
    "often_damp": st.booleans(),
}
_HOLD = {
    "hands": st.sampled_from(["top", "middle", "bottom"]),
    "tightness": st.sampled_from(["light", "firm", "tight"]),
    "stance": st.sampled_from(["upright", "medium", "crouched"]),
    "leading_hand": st.sampled_from(["top", "bottom"]),
    "taps_ground": st.booleans(),
}
_PRESENT = {
    "liked": st.booleans(),
    "mass_g": _numbers(400, 1800),
    "balance_from_toe_mm": _numbers(150, 600),
    "overall_length_mm": _numbers(550, 1000),
    "grip_girth_mm": _numbers(70, 170),
    "length_code": st.sampled_from(LENGTHS),
    "pendulum": st.fixed_dictionaries(
        {
            "pivot_from_handle_top_mm": _numbers(0, 400),
            "swings": st.integers(1, 60),
            "seconds": _numbers(1, 120),
        }
    ),
    "pickup": st.sampled_from(["too_heavy", "right", "too_light"]),
    "sweet_spot": st.sampled_from(["too_low", "right", "too_high"]),
    "handle": st.sampled_from(["too_thin", "right", "too_thick"]),
    "broke_at": st.lists(st.sampled_from(["toe", "edge", "face", "handle", "splice"]), max_size=5),
}
_WISHES = {
    "mass_g": _mass_wishes(),
    "length_code": st.sampled_from(LENGTHS),
    "sweet_spot": st.sampled_from(["low", "mid", "high", "long"]),
    "profile": st.sampled_from(["tapered_spine", "spine_to_toe", "scalloped", "full"]),
    "edges": st.sampled_from(THICKNESS),
    "bow": st.sampled_from(["none", "slight", "full"]),
    "face": st.sampled_from(["flat", "rounded"]),
    "toe": st.sampled_from(["light", "strong"]),
    "handle_section": st.sampled_from(["round", "oval", "round_to_oval"]),
    "handle_thickness": st.sampled_from(THICKNESS),
    "feel": st.sampled_from(["traditional", "balanced", "stiff"]),
    "looks_grade": st.integers(1, 4),
    "grain": st.sampled_from(["few", "many"]),
    "grips": st.integers(1, 3),
    "easy_on_joints": st.booleans(),
    "gives_way_first": st.permutations(["mass", "edges", "pickup", "looks", "life", "date"]),
}


@st.composite
def fittings(draw: st.DrawFn) -> FittingSheet:
    """Any valid fitting sheet."""
    player = {"age_years": draw(st.integers(4, 100)), "height_mm": draw(_numbers(900, 2300))}
    content: dict[str, Any] = {"sheet": 1, "player": {**player, **draw(_some(_PLAYER))}}
    for name, fields in (
        ("game", _GAME),
        ("pitches", _PITCHES),
        ("hold", _HOLD),
        ("present_bat", _PRESENT),
        ("wishes", _WISHES),
    ):
        content[name] = draw(_some(fields))
    content |= draw(
        _some(
            {
                "level": st.sampled_from(["junior", "club", "first_class", "international"]),
                "play_from": st.sampled_from(["2026-09-30", "2026-10-01", "2027-05-01"]),
            }
        )
    )
    return read_sheet(FittingSheet, content)
