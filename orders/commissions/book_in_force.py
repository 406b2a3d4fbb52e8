"""The book that the workshop works by now."""

import json
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from fitting.sheets.book import Book
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from orders.commissions.models import BookVersion

# What names a row of a list: a row of an older program gets its new fields from the default row of that name.
_NAMES_OF_ROWS = ("code", "stage", "key")


def book_in_force() -> Book:
    """Return the newest edition of the book, the default one before there is any."""
    newest = BookVersion.objects.values_list("number", "hash").first()
    return DEFAULT_BOOK if newest is None else edition(*newest)


@lru_cache(maxsize=8)
def edition(number: int, stamp: str) -> Book:
    """Read one edition; its content never changes, so that one reading serves a process.

    An edition that was kept by an older program lacks what came later: that it takes from the default book.
    """
    content = BookVersion.objects.values_list("content", flat=True).get(number=number, hash=stamp)
    return read_sheet(Book, json.dumps(brought_up(content)))


def brought_up(content: Mapping[str, Any]) -> dict[str, Any]:
    """Return the content of an edition with every field and every subject of signs that it lacks."""
    default = DEFAULT_BOOK.model_dump(mode="json")
    whole: dict[str, Any] = _filled(content, default)
    signs = whole["rules"]["signs"]
    told = {sign["subject"] for sign in signs}
    missing = [sign for sign in default["rules"]["signs"] if sign["subject"] not in told]
    whole["rules"]["signs"] = [*signs, *missing]
    return whole


def _filled(kept: Any, default: Any) -> Any:
    if isinstance(kept, dict) and isinstance(default, dict):
        return {key: _filled(kept[key], default[key]) if key in kept else default[key] for key in default} | {
            key: value for key, value in kept.items() if key not in default
        }
    if isinstance(kept, list) and isinstance(default, list):
        return [_filled(row, _row_like(row, default)) for row in kept]
    return kept


def _row_like(row: Any, rows: list[Any]) -> Any:
    """Return the default row that has the same name, None where there is none."""
    if not isinstance(row, dict):
        return None
    name = next((key for key in _NAMES_OF_ROWS if key in row), None)
    return next((one for one in rows if name and isinstance(one, dict) and one.get(name) == row[name]), None)
