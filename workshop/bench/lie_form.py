"""How a cleft lies as it is chosen: toe end with face, and the outside edge; both or nothing."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext

from workshop.bench.lies import LIES, Lie
from workshop.bench.page import Fault


@dataclass(frozen=True)
class TypedLie:
    """What was chosen; ``shown`` goes back into the form where it was refused."""

    lie: Lie | None
    outside_edge: int | None
    seen: int
    shown: dict[str, str]


def read_lie(posted: Mapping[str, str]) -> TypedLie:
    """Read the two choices and the row that the form was shown for."""
    value, edge, seen = (posted.get(name, "") for name in ("lie", "edge", "lie_seen"))
    lie = next((one for one in LIES if one.value == value), None)
    outside = int(edge) if edge in ("1", "2") else None
    shown = {
        "value": value if lie else "",
        "edge": edge if outside else "",
        "lie_fault": "" if lie else gettext("Choose how it lies: one of the four drawings."),
        "edge_fault": "" if outside else gettext("Choose the edge that is out: 1 or 2."),
    }
    number = int(seen) if seen.isascii() and seen.isdigit() and len(seen) < 12 else -1
    return TypedLie(lie, outside, number, shown)


def lie_faults(typed: TypedLie) -> list[Fault]:
    """Return a line for each choice that is lacking."""
    lacking = (("id_lie", typed.shown["lie_fault"]), ("id_edge", typed.shown["edge_fault"]))
    return [Fault(anchor, words) for anchor, words in lacking if words]
