"""A sheet or book as single values by dotted name, and back."""

from collections.abc import Collection, Iterator, Mapping
from copy import deepcopy
from typing import Any


def leaves(content: Mapping[str, Any], whole: Collection[str] = ()) -> dict[str, Any]:
    """Return every value of a JSON-like mapping by its dotted name; places in a list are numbers from 0.

    What ``whole`` names is kept as it is, not taken apart.
    """
    return dict(_leaves(content, "", frozenset(whole)))


def with_leaves(content: Mapping[str, Any], changes: Mapping[str, Any]) -> dict[str, Any]:
    """Return a copy with some values put in by dotted name.

    Raises KeyError where a name leads to no place that was there before.
    """
    changed: dict[str, Any] = deepcopy(dict(content))
    for name, value in changes.items():
        *path, last = name.split(".")
        at: Any = changed
        for step in path:
            at = at[_step(at, step)]
        place = _step(at, last)
        if isinstance(at, dict) and place not in at:
            raise KeyError(name)
        at[place] = value
    return changed


def value_at(content: Mapping[str, Any], name: str) -> Any:
    """Return one value by its dotted name; KeyError where there is none."""
    at: Any = content
    for step in name.split("."):
        at = at[_step(at, step)]
    return at


def _leaves(value: Any, name: str, whole: frozenset[str]) -> Iterator[tuple[str, Any]]:
    if name in whole or not isinstance(value, dict | list | tuple):
        yield name, value
        return
    parts = value.items() if isinstance(value, dict) else enumerate(value)
    for key, inner in parts:
        yield from _leaves(inner, f"{name}.{key}" if name else str(key), whole)


def _step(at: Any, step: str) -> str | int:
    if isinstance(at, list | tuple):
        if not step.isdigit() or int(step) >= len(at):
            raise KeyError(step)
        return int(step)
    if not isinstance(at, dict):
        raise KeyError(step)
    return step
