"""Blemishes placed on a cleft, and the drawing on which they are placed.

The four long sides lie side by side as if unfolded, end 1 on the left: edge 1, side A, edge 2, side B. So
neighbours on the sheet are neighbours on the wood, and edge 1 is above side A and below side B.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from orders.people.models import User
from workshop.rack.clefts import CleftRefused
from workshop.rack.columns import MOST_BLEMISHES
from workshop.rack.history import note_down
from workshop.rack.models import Blemish, Cleft, CleftState

SIDES = ("edge_1", "a", "edge_2", "b")
# On which side a blemish that goes right through comes out.
OPPOSITE = {"a": "b", "b": "a", "edge_1": "edge_2", "edge_2": "edge_1"}
# Sides on which the count across begins at the lower line of the strip.
FROM_BELOW = frozenset({"edge_1", "b"})
LEFT, RIGHT, TOP, GAP, TEXT = 96.0, 16.0, 30.0, 16.0, 24.0
LEAST_MARK = 7.0


@dataclass(frozen=True)
class Strip:
    """One side of the wood on the drawing, in its own units, which are mm."""

    side: str
    label: str
    x: float
    y: float
    width: float
    height: float
    from_below: bool

    @property
    def text_y(self) -> float:
        """Where the side's name stands."""
        return self.y + self.height / 2 + TEXT / 3

    def place(self, along_mm: float, across_mm: float) -> tuple[float, float]:
        """Return where a point of the wood lies on the drawing."""
        across = min(across_mm, self.height)
        return self.x + along_mm, self.y + (self.height - across if self.from_below else across)


@dataclass(frozen=True)
class Mark:
    """A blemish as it is drawn: its number in the list, its kind, middle and half its length and height."""

    number: int
    kind: str
    x: float
    y: float
    half: float
    across: float
    comes_through: bool

    @property
    def points(self) -> str:
        """The two triangles of a butterfly stain."""
        x, y, a, b = self.x, self.y, self.half, self.across
        return (
            f"{x - a:.1f},{y - b:.1f} {x - a:.1f},{y + b:.1f} {x + a:.1f},{y - b:.1f} {x + a:.1f},{y + b:.1f}"
        )

    @property
    def left_x(self) -> float:
        """Where it begins along the wood."""
        return self.x - self.half

    @property
    def right_x(self) -> float:
        """Where it ends along the wood."""
        return self.x + self.half

    @property
    def label_x(self) -> float:
        """Where its number stands."""
        return self.x + self.half + 4

    @property
    def label_y(self) -> float:
        """How high its number stands."""
        return self.y + TEXT / 3


@transaction.atomic
def place(
    cleft: Cleft,
    *,
    kind: str,
    side: str,
    from_end: int,
    across: int,
    size: int,
    through: bool,
    by: User,
    at: datetime | None = None,
) -> Blemish:
    """Note a blemish; lengths in 0.1 mm.

    Raises CleftRefused: "thrown_out", "beyond_end" and "beyond_edge" (it lies outside the wood),
    "many_blemishes".
    """
    if cleft.state == CleftState.REJECTED:
        raise CleftRefused("thrown_out")
    if from_end > cleft.length:
        raise CleftRefused("beyond_end")
    if across > most_across(cleft, side):
        raise CleftRefused("beyond_edge")
    if cleft.blemishes.count() >= MOST_BLEMISHES:
        raise CleftRefused("many_blemishes")
    noted = Blemish(
        cleft=cleft, kind=kind, side=side, from_end=from_end, across=across, size=size, through=through, by=by
    )
    if at is not None:
        noted.at = at
    noted.save()
    note_down(cleft, "blemish", _told(noted), by=by, at=at)
    return noted


@transaction.atomic
def strike_out(blemish: Blemish, *, by: User) -> None:
    """Take a blemish off, because it was dressed away or noted wrongly; the history keeps it."""
    note_down(blemish.cleft, "blemish_off", _told(blemish), by=by)
    blemish.delete()


def most_across(cleft: Cleft, side: str) -> int:
    """Return how far across a side a blemish can lie, 0.1 mm: the greatest width or depth read."""
    if side in ("a", "b"):
        return max(cleft.width_1, cleft.width_2, cleft.width_3)
    return max(cleft.depth_1, cleft.depth_2, cleft.depth_3)


def draw_sides(cleft: Cleft, blemishes: Iterable[Blemish]) -> dict[str, Any]:
    """Return what the template draws: four strips, marks, the length with its ticks; the unit is 1 mm."""
    strips, top = {}, TOP
    labels = {str(value): str(words) for value, words in Blemish.Side.choices}
    for side in SIDES:
        height = most_across(cleft, side) / 10
        strips[side] = Strip(side, labels[side], LEFT, top, cleft.length_mm, height, side in FROM_BELOW)
        top += height + GAP
    marks = []
    for number, one in enumerate(blemishes, start=1):
        marks.append(_mark(number, one, strips[one.side], comes_through=False))
        if one.through:
            marks.append(_mark(number, one, strips[OPPOSITE[one.side]], comes_through=True))
    length = cleft.length_mm
    return {
        "width": LEFT + length + RIGHT,
        "height": top + TEXT,
        "text": TEXT,
        "strips": list(strips.values()),
        "marks": marks,
        "ticks": [
            {
                "x": LEFT + mm,
                "words": f"{mm:.0f}",
                "y": top - GAP,
                "foot": top - GAP + 8,
                "text_y": top + TEXT * 0.8,
            }
            for mm in range(0, int(length) + 1, 100)
        ],
        "head_y": TOP - 9,
        "left": LEFT,
        "right": LEFT + length,
    }


def _mark(number: int, one: Blemish, strip: Strip, *, comes_through: bool) -> Mark:
    x, y = strip.place(one.from_end_mm, one.across_mm)
    half = max(one.size_mm / 2, LEAST_MARK)
    flat = {"shake": 0.0, "stain": half / 2, "butterfly": half / 2}.get(one.kind, half)
    return Mark(number, one.kind, x, y, half, max(flat, 0.0), comes_through)


def _told(blemish: Blemish) -> dict[str, Any]:
    return {
        "kind": blemish.kind,
        "side": blemish.side,
        "from_end": blemish.from_end,
        "across": blemish.across,
        "size": blemish.size,
        "through": blemish.through,
    }
