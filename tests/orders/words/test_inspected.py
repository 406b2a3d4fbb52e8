"""Rows of a final inspection in words: as they are kept now, and as they were kept before."""

from typing import Any

import pytest

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from orders.words.inspected import Row, row_line, row_words
from tests.builds import a_build


@pytest.fixture(scope="module")
def build() -> BuildSheet:
    """An adult bat."""
    return a_build()


def said(row: dict[str, Any], build: BuildSheet, *, staff: bool = True) -> Row:
    return row_words(row, build, DEFAULT_BOOK, staff=staff)


def a_row(key: str, **changes: Any) -> dict[str, Any]:
    """A row with what every row has, and nothing that was added to rows later."""
    row = {"key": key, "from_toe_mm": None, "unit": "mm", "agreed": 60.0, "low": 59.0, "high": 61.0}
    return {**row, "built": 60.5, "off": 0.5, "in_tolerance": True, **changes}


def test_station_shaped_to_its_own_willow_tells_what_was_drawn(build: BuildSheet):
    row = said(a_row("spine", from_toe_mm=220.0, drawn=61.2), build)

    assert (row.agreed, row.built, row.off, row.drawn) == ("60.0 mm", "60.5 mm", "+0.5", "61.2")


def test_station_kept_before_there_were_targets_tells_no_drawing(build: BuildSheet):
    assert said(a_row("spine", from_toe_mm=220.0), build).drawn == ""


def test_sweet_spot_is_told_to_five_millimetres(build: BuildSheet):
    row = said(a_row("sweet_spot", agreed=210.0, low=205.0, high=215.0, built=215.0, off=5.0), build)

    assert (row.agreed, row.allowed, row.built, row.off) == (
        "about 210 mm",
        "205 to 215",
        "about 215 mm",
        "+5",
    )


def test_sweet_spot_that_could_not_be_worked_out_speaks_against_nothing(build: BuildSheet):
    row = said(a_row("sweet_spot", built=None, off=None, in_tolerance=False), build)

    assert (row.built, row.good) == ("not measured", True)


def test_pickup_is_its_own_unit_for_staff_and_a_bat_that_lifts_the_same_for_a_player(build: BuildSheet):
    row = a_row("pickup", unit="kg_m2", agreed=0.19, low=0.184, high=0.196, built=0.2, off=0.01)

    assert said(row, build).built == "0.2000 kg m²"
    assert said(row, build, staff=False).built.endswith(" g")
    assert said(row, build, staff=False).what == "lifts like a bat of"


def test_row_of_the_laws_names_size_clause_and_limit(build: BuildSheet):
    law = {"what": "gauge", "clause": "B.8", "coverings": "on", "dimension": "depth"}
    row = a_row("law", agreed=68.07, low=0.0, high=68.07, built=69.2, off=1.13, in_tolerance=False, **law)

    words = said(row, build)

    assert words.what == "depth in the gauge, with coverings, by the Laws (B.8)"
    assert (words.agreed, words.built, words.off, words.good) == ("at most 68.1 mm", "69.2 mm", "+1.1", False)
    assert row_line(row, build, DEFAULT_BOOK).startswith("Depth in the gauge")
