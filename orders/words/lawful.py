"""What a law check comes to: one line for a player, and where along the blade each size is tightest."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from fitting.laws import LawRow
from fitting.sheets.values import Level
from fitting.units import System
from orders.words.laws import by_body_words, law_what, law_words
from orders.words.measures import show_length
from orders.words.sweet_spot import soft_place

# Of a millimetre or three at most, or of what is hidden in the splice: they say nothing of the blade.
ASIDE = frozenset({"face_film", "edge_tape", "toe_guard", "other_material_reach"})
FOR_LEVEL: dict[Level, Any] = {
    "junior": gettext_lazy("for junior cricket"),
    "club": gettext_lazy("for club cricket"),
    "first_class": gettext_lazy("for first-class cricket"),
    "international": gettext_lazy("for international cricket"),
}


@dataclass(frozen=True)
class Lawful:
    """Whether a bat is inside the Laws, in one line; ``by_body`` is what needs the national body's word."""

    ok: bool
    words: str
    by_body: str


def lawful_words(rows: Sequence[LawRow], level: Level | None, system: System = "metric") -> Lawful:
    """Say in one line whether a bat is inside the Laws for its level, and by how much at the tightest."""
    where = str(FOR_LEVEL[level]) if level else _("for club cricket")
    by_body = "; ".join(dict.fromkeys(words for row in rows if (words := _by_body(row))))
    broken = [row for row in rows if not row.passes]
    if broken:
        names = "; ".join(dict.fromkeys(law_what(row.model_dump(mode="json")) for row in broken))
        return Lawful(
            ok=False,
            words=_("Outside the Laws %(level)s: %(what)s.") % {"level": where, "what": names},
            by_body=by_body,
        )
    tightest = tightest_of(rows)
    return Lawful(
        ok=True,
        words=_("Inside the Laws %(level)s. Tightest is the %(what)s: %(left)s to spare.")
        % {
            "level": where,
            # In mm whatever the player types: fractions of an inch would say nothing here.
            "left": show_length(tightest.margin, decimals=1),
            "what": _what_and_where(tightest, system),
        },
        by_body=by_body,
    )


def tightest_of(rows: Sequence[LawRow]) -> LawRow:
    """Return the row of sizes and gauge that has the least to spare."""
    return min(
        (row for row in rows if row.unit == "mm" and row.what not in ASIDE), key=lambda row: row.margin
    )


def book_margin_words(rows: Sequence[LawRow], margin_mm: float) -> str:
    """Say to the maker which sizes pass but keep less than the book's margin; empty where all keep it."""
    close = [row for row in rows if row.passes and not row.book_margin_kept]
    if not close:
        return ""
    names = "; ".join(dict.fromkeys(law_what(row.model_dump(mode="json")) for row in close))
    return _("Less than your margin of %(margin)s: %(what)s.") % {
        "margin": show_length(margin_mm, decimals=1),
        "what": names,
    }


def law_rows_worded(rows: Sequence[LawRow]) -> list[dict[str, Any]]:
    """Say every row of a law check, with its place along the blade, the tightest marked."""
    tightest = tightest_of(rows)
    return [
        {
            **law_words(content := row.model_dump(mode="json")),
            "place": place_words(content),
            "is_tightest": row is tightest,
        }
        for row in rows
    ]


def place_words(row: Mapping[str, Any], system: System = "metric") -> str:
    """Say where along the blade a size is greatest or the gauge tightest; empty where it has no place."""
    place = row.get("station_from_toe_mm")
    return "" if place is None else _("%(place)s above the toe") % {"place": soft_place(place, system)}


def _what_and_where(row: LawRow, system: System) -> str:
    content = row.model_dump(mode="json")
    what, place = law_what(content), place_words(content, system)
    return f"{what}, {place}" if place else what


def _by_body(row: LawRow) -> str:
    return by_body_words(row.model_dump(mode="json"))
