"""Clefts for tests: plain blocks whose density once pressed is what a test asks for."""

from datetime import date
from typing import Any

from fitting.sheets.book_bench import DEFAULT_BENCH
from orders.people.models import User
from workshop.rack.clefts import take_in
from workshop.rack.models import Cleft, CleftState
from workshop.willow import usual_pressing


def a_cleft(number: int, by: User, *, density: float = 425.0, **changes: Any) -> Cleft:
    """Take in an adult cleft that is dense once pressed (kg/m3) at 12 %."""
    length, width, depth = 710, 118, 76
    raw = density / usual_pressing(DEFAULT_BENCH).gain()
    values: dict[str, Any] = {
        "number": number,
        "grade": 1,
        "grains": 8,
        "length": length * 10,
        "width_1": width * 10,
        "width_2": width * 10,
        "width_3": width * 10,
        "depth_1": depth * 10,
        "depth_2": depth * 10,
        "depth_3": depth * 10,
        "mass": round(raw * length * width * depth / 1e6 * 10),
        "moisture": 120,
        "read_on": date(2027, 1, 20),
        "state": CleftState.READY,
    }
    return take_in(Cleft(**{**values, **changes}), by=by)
