"""Clefts as arrays, and bats that want one, for the tests of matching: made by hand, no model behind them."""

from typing import Any

import numpy as np

from workshop.matching_costs import FREE, Clefts, Table, Wanted
from workshop.matching_marks import LOOKS, SIDES, Marks, Zones

COLUMNS: dict[str, Any] = {
    "length_mm": 710.0,
    "width_mm": 116.0,
    "depth_mm": 75.0,
    "density_kg_m3": 400.0,
    "density_sd_kg_m3": 8.0,
    "grade": 2,
    "price": np.nan,
    "age_days": 365.0,
    "run_out": np.nan,
    "kept_for": FREE,
    "for_smaller": False,
}


def clefts(count: int, marks: Any = None, /, **columns: Any) -> Clefts:
    """So many clefts alike but for the columns given, each a value or a list of values."""
    arrays = {
        name: np.array(np.broadcast_to(columns.get(name, usual), count)) for name, usual in COLUMNS.items()
    }
    return Clefts(**arrays, marks=marks or Marks.none())


def marks(*rows: tuple[int, str, str, float, float, bool]) -> Marks:
    """Blemishes, each as (cleft, kind, side, from end 1 in mm, size in mm, through)."""
    cleft, kind, side, from_end, size, through = zip(*rows, strict=True)
    return Marks.of_clefts(
        np.array(cleft),
        side=np.array([SIDES.index(one) for one in side]),
        from_end_mm=np.array(from_end, float),
        size_mm=np.array(size, float),
        through=np.array(through),
        looks=np.array([one in LOOKS and not deep for one, deep in zip(kind, through, strict=True)]),
    )


def a_table(**changes: Any) -> Table:
    """A bat of 1,165 g from 370 to 470 kg/m3, 2 g per kg/m3 beyond either end."""
    values: dict[str, Any] = {
        "least_kg_m3": 370.0,
        "most_kg_m3": 470.0,
        "density_kg_m3": np.array([170.0, 370.0, 420.0, 470.0, 670.0]),
        "mass_g": np.array([765.0, 1165.0, 1165.0, 1165.0, 1565.0]),
        "mass_sd_g": np.full(5, 20.0),
        "peak_mm": np.array([212.0, 212.0, 208.0, 206.0, 206.0]),
        "spine_mm": np.array([64.0, 64.0, 63.0, 60.0, 60.0]),
        "light_g": 2.0,
        "dense_g": 2.0,
    }
    return Table(**{**values, **changes})


def a_bat(**changes: Any) -> Wanted:
    """An adult bat that is drawn for 420 kg/m3 and asks for grade 2."""
    values: dict[str, Any] = {
        "zones": Zones(blade_mm=558, splice_from_mm=423, reach_from_mm=150, reach_to_mm=270, rough_mm=25),
        "rough_length_mm": 583.0,
        "rough_width_mm": 113.0,
        "rough_depth_mm": 6.0,
        "grade": 2,
        "target_g": 1165.0,
        "tolerance_g": 14.0,
        "peak_mm": 208.0,
        "drawn_kg_m3": 420.0,
        "fixed_g": 315.0,
        "density_share": 0.015,
        "gain": 1.05,
        "gain_sd": 0.012,
        "days_left": None,
        "table": a_table(),
    }
    return Wanted(**{**values, **changes})
