"""The Laws in words: what a row of a law check looked at, and what a level rests on."""

from collections.abc import Mapping
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from fitting.laws import types_at
from fitting.sheets.book import Edition
from fitting.sheets.values import Level
from orders.words.measures import show_decimals

Words = str | Promise

LAW_SIZES: dict[str, Words] = {
    "overall_length": gettext_lazy("overall length"),
    "blade_width": gettext_lazy("width of the blade"),
    "blade_depth": gettext_lazy("greatest depth"),
    "edge": gettext_lazy("thickest edge"),
    "handle_share": gettext_lazy("handle's share of the length"),
    "face_film": gettext_lazy("thickness of the face film"),
    "edge_tape": gettext_lazy("thickness of the edge tape"),
    "toe_guard": gettext_lazy("thickness of the toe guard"),
    "other_material": gettext_lazy("other material in the handle"),
    "other_material_reach": gettext_lazy("its reach into the splice"),
    "gauge": gettext_lazy("the gauge"),
}
# A stored row names no dimension where none decides.
GAUGE: dict[tuple[str, str], Words] = {
    ("depth", "off"): gettext_lazy("depth in the gauge, bare"),
    ("depth", "on"): gettext_lazy("depth in the gauge, with coverings"),
    ("width", "off"): gettext_lazy("width in the gauge, bare"),
    ("width", "on"): gettext_lazy("width in the gauge, with coverings"),
}
# Below this limit tenths of a millimetre say too little.
THIN_MM = 5.0


def law_words(row: Mapping[str, Any]) -> dict[str, Any]:
    """Say one row of a law check: what, as it is, the limit as printed, what is left, and what it rests on.

    A row that was stored with an agreed bat may lack what was added to the rows later.
    """
    percent = row["unit"] == "percent"
    unit = "%" if percent else _("mm")
    decimals = 2 if not percent and row["limit"] < THIN_MM else 1
    return {
        "clause": row["clause"],
        "what": law_what(row),
        "value": f"{show_decimals(row['value'], decimals)} {unit}",
        "limit": row["limit_as_printed"],
        "margin": f"{show_decimals(row['margin'], decimals)} {unit}",
        "over": f"{show_decimals(abs(row['margin']), decimals)} {unit}",
        "passes": row["passes"],
        "exempt": row.get("exempt", False),
        "by_body": by_body_words(row),
    }


def law_what(row: Mapping[str, Any]) -> str:
    """Say what a row looked at."""
    return str(GAUGE.get((row.get("dimension") or "", row["coverings"]), LAW_SIZES[row["what"]]))


def by_body_words(row: Mapping[str, Any]) -> str:
    """Say that a bat passes only if the national body allows its type at the level; else nothing."""
    if not row.get("decided_by_body", False):
        return ""
    return _("only if your national governing body allows type %(types)s at this level") % {
        "types": _(" or ").join(row.get("types", ()))
    }


def level_words(level: Level | None, edition: Edition) -> str:
    """Say which types of bat are played at a level, and which of them a national body decides on."""
    played = types_at(level, edition)
    asked = [one.letter for one in played if one.decided_by_body]
    if not asked:
        return _("International matches take bats of type A only.")
    return _(
        "Type A may be played at every level. Types %(types)s only where the national governing body has "
        "allowed them at this level: what it and your league have decided is for you and the maker to check."
    ) % {"types": ", ".join(asked)}
