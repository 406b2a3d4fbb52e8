"""What lies in stock for tests: each taken in by the verb itself."""

from datetime import date
from typing import Any

from fitting.recommend import recommend
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from orders.people.models import User
from tests.factories import SHEET
from workshop.stock import handles, supplies
from workshop.stock.models import Handle, Supply


def recommended_construction() -> str:
    """Return how the handle is built up that the fitting of the tests is recommended."""
    return str(recommend(read_sheet(FittingSheet, SHEET)).build.handle.construction)


def a_handle(number: int, by: User, **changes: Any) -> Handle:
    """Take in a handle of plain cane with two springs, 280 g raw."""
    values: dict[str, Any] = {"number": number, "mass": 2800, "springs": 2, "construction": "plain_cane"}
    return handles.take_in(Handle(**{**values, **changes}), by=by)


def grips(by: User, came: float = 10, **changes: Any) -> Supply:
    """Take in blue grips, four of which there should always be."""
    values: dict[str, Any] = {
        "kind": "grip",
        "name": "ribbed",
        "colour": "blue",
        "unit": "piece",
        "mass": 500,
        "minimum": 40,
        "arrived_on": date(2027, 1, 10),
    }
    return supplies.enter(Supply(**{**values, **changes}), came, by=by)


def glue(by: User, came: float = 500, **changes: Any) -> Supply:
    """Take in grams of a glue that holds until the end of 2099."""
    values: dict[str, Any] = {
        "kind": "glue",
        "name": "wood glue",
        "unit": "gram",
        "batch": "7",
        "use_by": date(2099, 12, 31),
        "arrived_on": date(2027, 1, 10),
    }
    return supplies.enter(Supply(**{**values, **changes}), came, by=by)
