"""What a field of a sheet takes, read off the sheet's own schema."""

from functools import cache
from typing import Any

from fitting.sheets.record import Record


class Allowed(Record):
    """What is allowed in one field: its kind and bounds, or the closed list of its values."""

    kind: str
    least: float | None = None
    most: float | None = None
    least_counts: bool = True
    values: tuple[str, ...] = ()
    fields: tuple[str, ...] = ()


def allowed_in(sheet: type[Record], field: str) -> Allowed:
    """Return what a dotted field takes; numbers in the path are places in a list.

    For a field that the sheet does not know, what stands where it was looked for: the known fields.
    """
    whole = _schema(sheet)
    node = whole
    for step in [] if field == "sheet" and "sheet" not in whole.get("properties", {}) else field.split("."):
        node = _plain(node, whole)
        properties = node.get("properties", {})
        if step in properties:
            node = properties[step]
        elif step.isdigit() and int(step) < len(node.get("prefixItems", ())):
            node = node["prefixItems"][int(step)]
        elif step.isdigit() and "items" in node:
            node = node["items"]
        elif isinstance(node.get("additionalProperties"), dict):
            node = node["additionalProperties"]
        else:
            break
    return _allowed(_plain(node, whole))


@cache
def _schema(sheet: type[Record]) -> dict[str, Any]:
    return sheet.model_json_schema()


def _plain(node: dict[str, Any], whole: dict[str, Any]) -> dict[str, Any]:
    """Follow references and leave null out of a choice."""
    while True:
        if "$ref" in node:
            node = whole["$defs"][node["$ref"].rsplit("/", 1)[1]]
        elif "anyOf" in node:
            node = next(one for one in node["anyOf"] if one.get("type") != "null")
        else:
            return node


def _allowed(node: dict[str, Any]) -> Allowed:
    if "enum" in node or "const" in node:
        values = node.get("enum", [node.get("const")])
        return Allowed(kind="values", values=tuple(str(value) for value in values))
    if "properties" in node:
        return Allowed(kind="record", fields=tuple(node["properties"]))
    least = node.get("minimum", node.get("exclusiveMinimum"))
    most = node.get("maximum", node.get("exclusiveMaximum"))
    return Allowed(
        kind=node.get("format") or node.get("type", "anything"),
        least=None if least is None else float(least),
        most=None if most is None else float(most),
        least_counts="exclusiveMinimum" not in node,
    )
