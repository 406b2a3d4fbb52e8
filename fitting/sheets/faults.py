"""Faults of a sheet as keys and values; the edge words them."""

import json
from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from fitting.sheets.record import Record


class Fault(Record):
    """One fault: the dotted field, what was given (as JSON text), the kind and its limits."""

    field: str
    given: str
    kind: str
    allowed: dict[str, str]


class SheetRefused(ValueError):
    """A sheet that is not valid, with every fault."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("; ".join(f"{f.field}: {f.kind}" for f in faults))
        self.faults = faults


def read_sheet[Sheet: Record](kind: type[Sheet], source: str | bytes | Mapping[str, Any]) -> Sheet:
    """Read a sheet from JSON text or a JSON-like mapping.

    Raises SheetRefused with one fault for every field that is wrong.
    """
    try:
        text = source if isinstance(source, str | bytes) else json.dumps(source)
        return kind.model_validate_json(text)
    except ValidationError as error:
        raise SheetRefused(_faults(error)) from error


def _faults(error: ValidationError) -> tuple[Fault, ...]:
    return tuple(
        Fault(
            field=".".join(str(part) for part in detail["loc"]) or "sheet",
            given=_shown(detail["input"]),
            kind=detail["type"],
            allowed={key: str(value) for key, value in detail.get("ctx", {}).items()},
        )
        for detail in error.errors(include_url=False)
    )


def _shown(given: object) -> str:
    try:
        text = json.dumps(given, default=str)
    except (TypeError, ValueError):
        text = str(given)
    return text if len(text) <= 80 else text[:77] + "..."
