"""The chapters of the book: which fields stand in which, and which of them as a table.

Fields are read off the book itself, so that a new one appears by itself: in the chapter with the longest
matching beginning of its name.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

Text = str | Promise

# The overall length follows from blade and handle; it is never typed.
FOLLOWS = "overall_mm"
# The number of the edition is given by saving.
NUMBER = "version"


@dataclass(frozen=True)
class Chapter:
    """One chapter: its fields by the beginning of their names; what its numbers are for."""

    key: str
    title: Text
    about: Text
    parts: tuple[str, ...]


CHAPTERS: tuple[Chapter, ...] = (
    Chapter(
        "lengths",
        _("Lengths"),
        _("Dimensions and usual mass of every length of bat."),
        ("lengths.",),
    ),
    Chapter(
        "limits",
        _("Limits"),
        _("How far inside the Laws every bat stays, and what stops a shape before the Laws do."),
        ("", "trade_limits_"),
    ),
    Chapter(
        "wishes",
        _("Wishes in numbers"),
        _("What a slight bow or a thick edge is in millimetres."),
        ("wish_numbers.",),
    ),
    Chapter(
        "signs",
        _("Signs"),
        _("Which answer speaks for which option, and with how many points."),
        ("rules.signs",),
    ),
    Chapter(
        "thresholds",
        _("Weights and thresholds"),
        _("Ages, heights, masses, pickups, densities and how sure a reason is."),
        ("rules.",),
    ),
    Chapter(
        "shapes",
        _("Shapes"),
        _("What a profile and a sweet spot are along the blade, and how much room a blade has."),
        ("rules.profiles.", "rules.sweet_spots.", "rules.range_of_depths."),
    ),
    Chapter(
        "materials",
        _("Materials"),
        _("Willow, canes, glue, oil, grips and coverings."),
        ("materials.",),
    ),
    Chapter(
        "spreads",
        _("Spreads"),
        _("How much one piece differs from the next: it makes the forecast's give and take."),
        ("materials.spreads.",),
    ),
    Chapter(
        "blow",
        _("The blow"),
        _("Ball, swing and contact that say where a bat hits hardest."),
        ("materials.impact.",),
    ),
    Chapter(
        "bench",
        _("Bench"),
        _("Plausible readings, rests, the press, and the tolerances of the inspection."),
        ("bench.",),
    ),
    Chapter(
        "room",
        _("The store"),
        _("The air in which willow seasons, how fast it dries there, and when it is at rest."),
        ("room.",),
    ),
    Chapter(
        "costs",
        _("Costs"),
        _("What an hour is worth, and what a handle loses on its way into a bat."),
        ("costs.",),
    ),
    Chapter(
        "matching",
        _("Matching"),
        _("What counts against giving a cleft to a bat, in points that are only held against one another."),
        ("matching.",),
    ),
)
BY_KEY = {chapter.key: chapter for chapter in CHAPTERS}

# Groups of single boxes inside a chapter: title and beginnings of the last part of the name.
GROUPS: dict[str, tuple[tuple[Text, tuple[str, ...]], ...]] = {
    "thresholds": (
        (_("Junior sizes and small adults"), ("junior_", "small_adult", "between_sizes", "inch_slack")),
        (_("Mass"), ("mass_",)),
        (_("Pickup"), ("pickup_", "tilt_")),
        (_("Willow"), ("density_", "fullness_")),
        (_("Handle"), ("hand_", "girth_", "other_material", "splice_")),
        (_("Blade"), ("shoulder_", "toe_", "edge_", "bow_", "width_")),
        (_("Finish"), ("oil_", "knocked_")),
        (
            _("Points, and how sure a reason is"),
            ("prior_", "lead_", "points_", "confidence_", "marks_"),
        ),
    ),
    "wishes": (
        (_("Place of the sweet spot"), ("swell_", "reference_")),
        (_("Bow and face"), ("bow_", "crown_")),
        (_("Toe and edges"), ("toe_", "edge_")),
        (_("Handle"), ("girth_", "oval_")),
    ),
}

# Beginnings of names whose next part is a column of one table, fields downwards.
SIDE_BY_SIDE: tuple[str, ...] = (
    "rules.profiles.",
    "rules.sweet_spots.",
    "materials.canes.",
    "materials.impact.blows.",
    "trade_limits_",
)


def chapter_of(name: str) -> Chapter:
    """Return the chapter in which a field stands."""
    return max(
        CHAPTERS,
        key=lambda chapter: max((len(part) for part in chapter.parts if name.startswith(part)), default=-1),
    )


def names_in(chapter: Chapter, leaves: Mapping[str, Any]) -> list[str]:
    """Return the names of a chapter's numbers, in the book's order."""
    return [
        name
        for name, value in leaves.items()
        if is_number(value) and name != NUMBER and chapter_of(name) is chapter
    ]


def is_number(value: Any) -> bool:
    """Tell whether a value of the book is one that is typed as a number."""
    return isinstance(value, int | float) and not isinstance(value, bool)


def group_of(chapter: Chapter, name: str) -> Text:
    """Return the title of the group in which a single box stands; nothing where there are no groups."""
    last = next(step for step in reversed(name.split(".")) if not step.isdigit())
    steps = [last, *(step for step in name.split(".") if not step.isdigit())]
    return next(
        (
            title
            for title, beginnings in GROUPS.get(chapter.key, ())
            if any(step.startswith(beginning) for step in steps for beginning in beginnings)
        ),
        "",
    )


def table_of(name: str) -> tuple[str, str, str] | None:
    """Return the table that a field stands in as (table, column, row), None for a box by itself."""
    for beginning in SIDE_BY_SIDE:
        if name.startswith(beginning):
            column, _dot, row = name.removeprefix(beginning).partition(".")
            return beginning, column, row
    steps = name.split(".")
    if steps[0] == "lengths":
        return "lengths.", steps[2], steps[1]
    if steps[:1] == ["bench"] and "entries" in steps:
        at = steps.index("entries")
        return ".".join(steps[: at + 1]) + ".", steps[at + 2], steps[at + 1]
    return None


def in_order(names: Iterable[str]) -> list[str]:
    """Return names once each, in the order they came."""
    return list(dict.fromkeys(names))
