"""Stamps of sheets and books: canonical rounding first, then a hash of canonical JSON."""

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from fitting.sheets.book import Book

_FINE_FIELDS = frozenset({"inertia_kg_m2", "pickup_kg_m2", "pickup_sd_kg_m2"})
_FINE_DECIMALS = 5
_DECIMALS = 1
_EXACT_FIELDS = frozenset(
    {"scallop", "oval_ratio", "share", "confidence", "wall_mm", "thickness_mm"}
    | {"exit_speed_m_s", "swing_rad_s", "contact_ms", "static_moment_kg_m"}
)

# By identity, each with its book, so that no other can take its place in memory.
_STAMPED: dict[int, tuple[Book, str]] = {}
_MOST_STAMPED = 16


def canonical(content: Mapping[str, Any]) -> dict[str, Any]:
    """Round a JSON-like mapping for keeping: 0.1 mm, 0.1 g, 1e-5 kg m2; ratios, walls, speeds and the
    like to 0.001.

    Rounding twice changes nothing more, and whole floats become integers so that 63 and 63.0 are one.
    """
    return {key: _rounded(value, _decimals_of(key, _DECIMALS)) for key, value in content.items()}


def canonical_json(content: Mapping[str, Any]) -> str:
    """Write a mapping as JSON in one way only: keys in order, no spaces."""
    return json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def snapshot_hash(content: Mapping[str, Any]) -> str:
    """Return the sha256 (64 hex digits) of a mapping after canonical rounding."""
    return hashlib.sha256(canonical_json(canonical(content)).encode()).hexdigest()


def book_hash(book: Book) -> str:
    """Return the first 12 hex digits of the sha256 of a whole book; nothing in it is rounded.

    A book never changes and a page asks for its stamp a dozen times: the last few are remembered.
    """
    known = _STAMPED.get(id(book))
    if known is not None and known[0] is book:
        return known[1]
    stamp = hashlib.sha256(canonical_json(book.model_dump(mode="json")).encode()).hexdigest()[:12]
    if len(_STAMPED) >= _MOST_STAMPED:
        _STAMPED.clear()
    _STAMPED[id(book)] = (book, stamp)
    return stamp


def _decimals_of(key: str, inherited: int) -> int:
    if key in _FINE_FIELDS:
        return _FINE_DECIMALS
    return 3 if key in _EXACT_FIELDS else inherited


def _rounded(value: Any, decimals: int) -> Any:
    if isinstance(value, bool) or value is None or isinstance(value, str | int):
        return value
    if isinstance(value, float):
        near = round(value, decimals)
        return int(near) if near == int(near) else near
    if isinstance(value, Mapping):
        return {key: _rounded(inner, _decimals_of(key, decimals)) for key, inner in value.items()}
    return [_rounded(inner, decimals) for inner in value]
