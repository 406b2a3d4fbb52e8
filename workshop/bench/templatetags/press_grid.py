"""The fields of the press grid, picked out of a stage's fields: a row a place, a column a line."""

from statistics import mean
from typing import Any

from django import template

from workshop.bench.page import Entries, Field
from workshop.bench.press_depths import AFTER, BEFORE
from workshop.bench.press_form import LINE_WORDS

register = template.Library()

KEYS = {"before": BEFORE, "after": AFTER}


@register.simple_tag
def depth_grid(entries: Entries, when: str) -> dict[str, Any]:
    """Return heads and rows of the depths ``before`` or ``after``; a line that the book lacks is left out."""
    lines = {key: line for line, key in KEYS[when].items()}
    found: dict[int, dict[str, Field]] = {}
    for one in entries.all_fields():
        key, _, place = one.name.partition("-")
        if key in lines and place:
            found.setdefault(int(place), {})[lines[key]] = one
    shown = [line for line in KEYS[when] if any(line in row for row in found.values())]
    return {
        "heads": [LINE_WORDS[line] for line in shown],
        "rows": [
            (f"{place / 10:.0f}", [(LINE_WORDS[line], row[line]) for line in shown if line in row])
            for place, row in sorted(found.items())
        ],
        **_state([one for row in found.values() for one in row.values()]),
    }


def _state(fields: list[Field]) -> dict[str, Any]:
    """Whether all is read, what the mean is, whether something typed was refused or lies off."""
    read = [float(one.was) for one in fields if one.was]
    whole = bool(fields) and len(read) == len(fields)
    off = any(one.fault or (one.judged is not None and not one.judged.inside) for one in fields)
    return {"whole": whole, "mean": mean(read) if read else None, "faulty": off}


@register.simple_tag
def beside_the_grid(entries: Entries) -> list[Field]:
    """Return the fields that are not depths at the press grid."""
    depths = {*BEFORE.values(), *AFTER.values()}
    return [one for one in entries.all_fields() if one.name.partition("-")[0] not in depths]
