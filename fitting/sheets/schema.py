"""JSON Schema of the two sheets, for programs that write or read them."""

from typing import Any

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.fitting_sheet import FittingSheet

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def sheets_schema() -> dict[str, Any]:
    """Return ``{"fitting_sheet": schema, "build_sheet": schema}`` with the bounds of every field."""
    return {
        "fitting_sheet": {"$schema": _DIALECT} | FittingSheet.model_json_schema(),
        "build_sheet": {"$schema": _DIALECT} | BuildSheet.model_json_schema(),
    }
