"""Rows of a file of clefts, for tests."""

from typing import Any

from workshop.rack.exports import head
from workshop.rack.sheets import csv_table, workbook

ROW: dict[str, Any] = {
    "number": 500,
    "load": "Winter load",
    "grower": "Brook Farm",
    "state": "ready",
    "grade": 2,
    "grains": 8,
    "heartwood_percent": 20,
    "run_out_1_in": "",
    "length_mm": 712.5,
    "width_1_mm": 116,
    "width_2_mm": 117.5,
    "width_3_mm": 118,
    "depth_1_mm": 73,
    "depth_2_mm": 74,
    "depth_3_mm": 75.5,
    "mass_g": 2450,
    "moisture_percent": 12.4,
    "moisture_at": "waste",
    "read_on": "2026-10-01",
    "blemishes": "knot a 120 45 8; shake edge_1 30 20 60 through",
    "note": "lively",
}


def rows_in_order(*changes: dict[str, Any]) -> list[list[Any]]:
    """Return a row for each set of changes, numbers counting up from 500."""
    return [
        [{**ROW, "number": 500 + at, **changed}[name] for name in head(None)]
        for at, changed in enumerate(changes)
    ]


def as_csv(*changes: dict[str, Any]) -> bytes:
    """Return the rows as a CSV file."""
    return csv_table(head(None), rows_in_order(*changes))


def as_xlsx(*changes: dict[str, Any]) -> bytes:
    """Return the rows as a workbook."""
    return workbook("clefts", head(None), rows_in_order(*changes))
