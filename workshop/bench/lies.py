"""How a cleft can lie in a bat: toe end, face and edges, and where its blemishes come to lie then.

End 1 is where width 1 and depth 1 were measured; with end 1 down and side A towards you edge 1 is on the
left. Seen on the face, toe down, the outside edge of a right-handed player's bat is on the left: the player
stands on the right of it then.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from django.utils.functional import Promise
from django.utils.translation import gettext, gettext_lazy

from fitting.sheets.book_bench import BenchBook
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import Weighing
from workshop.bench.models import Side
from workshop.rack.models import Blemish, Cleft

Place = Literal["face", "back", "left", "right"]
Zone = Literal["splice", "reach", "edge", "blade", "surplus"]
# Only to be seen, as long as they do not go through the wood.
LOOKS = frozenset({Blemish.Kind.SPECK, Blemish.Kind.STAIN, Blemish.Kind.BUTTERFLY})
# How far either side of the thickest place counts as hit where the sweet spot was not computed.
NEAR_SWELL_MM = 50.0


@dataclass(frozen=True)
class Lie:
    """The end that is the toe and the broad side that is the face."""

    toe_end: int
    face_side: str

    @property
    def value(self) -> str:
        """The lie as one word of a form: ``1a``."""
        return f"{self.toe_end}{self.face_side}"

    @property
    def left_edge(self) -> int:
        """Which edge is on the left, seen on the face with the toe down."""
        return 1 if (self.toe_end == 1) == (self.face_side == Side.A) else 2

    def outside_edge(self, batting_hand: str) -> int | None:
        """Which edge is out for a right- or left-handed player; None where the hand is not known."""
        if batting_hand not in ("right", "left"):
            return None
        return self.left_edge if batting_hand == "right" else 3 - self.left_edge


LIES = (Lie(1, Side.A), Lie(1, Side.B), Lie(2, Side.A), Lie(2, Side.B))


@dataclass(frozen=True)
class Zones:
    """Of one bat, mm from the toe: its blade, where its splice begins, where the ball is hit.

    ``rough_mm`` is what is cut off for the ends, half at each.
    """

    blade_mm: float
    splice_from_mm: float
    reach_from_mm: float
    reach_to_mm: float
    rough_mm: float


def zones_of(build: BuildSheet, weighing: Weighing, bench: BenchBook) -> Zones:
    """Return where the splice and the hitting zone of a bat lie: the reach of its sweet spot."""
    sweet, swell = weighing.sweet_spot, weighing.swell_from_toe_mm
    blade = build.blade.length_mm
    return Zones(
        blade_mm=blade,
        splice_from_mm=blade - build.handle.splice_length_mm,
        reach_from_mm=sweet.from_mm if sweet else swell - NEAR_SWELL_MM,
        reach_to_mm=sweet.to_mm if sweet else swell + NEAR_SWELL_MM,
        rough_mm=bench.rough_length_mm,
    )


@dataclass(frozen=True)
class Mark:
    """A blemish as it lies in the bat.

    Attributes:
        number: by which it is told.
        blemish: the row itself.
        from_toe_mm: its middle, from the bat's toe; below 0 and above the blade it comes off.
        place: where it shows.
        across: share of the width from the left on the broad sides, seen on the face; of the depth from the
            face on the edges.
        zone: what part of the bat it touches.
    """

    number: int
    blemish: Blemish
    from_toe_mm: float
    place: Place
    across: float
    zone: Zone

    @property
    def is_looks(self) -> bool:
        """Whether it is only to be seen."""
        return self.blemish.kind in LOOKS and not self.blemish.through

    @property
    def spoils(self) -> bool:
        """Whether the wood cannot be this bat so.

        A fault in the splice does on whichever side it lies, one where the ball is hit when it shows on the
        face or an edge or goes through; a knot in an edge anywhere.
        """
        if self.is_looks or self.zone in ("blade", "surplus"):
            return False
        if self.zone == "edge":
            return self.blemish.kind == Blemish.Kind.KNOT
        return self.zone == "splice" or self.place != "back" or self.blemish.through


@dataclass(frozen=True)
class Lying:
    """A cleft lying in a bat: how, where the toe begins on it, and what comes to lie where."""

    lie: Lie
    surplus_at_toe: bool
    toe_from_end_mm: float
    marks: tuple[Mark, ...]

    @property
    def spoilt_by(self) -> tuple[Mark, ...]:
        """The marks that spoil the bat so."""
        return tuple(mark for mark in self.marks if mark.spoils)

    @property
    def _rank(self) -> tuple[int, int, int]:
        seen = sum(mark.zone != "surplus" and mark.place != "back" for mark in self.marks)
        kept = sum(mark.zone != "surplus" for mark in self.marks)
        return len(self.spoilt_by), seen, kept


def lying(cleft: Cleft, lie: Lie, zones: Zones) -> Lying:
    """Return a cleft lying so, the surplus cut off at the end where it takes more of the blemishes off."""
    surplus = max(0.0, cleft.length_mm - zones.blade_mm - zones.rough_mm)
    blemishes = list(cleft.blemishes.all())
    ways = [(False, zones.rough_mm / 2)] + ([(True, surplus + zones.rough_mm / 2)] if surplus else [])
    found = [Lying(lie, at_toe, start, _marks(cleft, blemishes, lie, start, zones)) for at_toe, start in ways]
    return min(found, key=lambda one: one._rank)


def every_lie(cleft: Cleft, zones: Zones) -> list[Lying]:
    """Return the four ways in which a cleft can lie."""
    return [lying(cleft, lie, zones) for lie in LIES]


def best_of(ways: Iterable[Lying]) -> Lying:
    """Return the way with the fewest faults that spoil it, then the fewest to be seen."""
    return min(ways, key=lambda one: one._rank)


def _marks(
    cleft: Cleft, blemishes: list[Blemish], lie: Lie, toe_from_end_mm: float, zones: Zones
) -> tuple[Mark, ...]:
    found = []
    for number, one in enumerate(blemishes, start=1):
        along = one.from_end_mm if lie.toe_end == 1 else cleft.length_mm - one.from_end_mm
        x, place = along - toe_from_end_mm, _place(one, lie)
        zone = _zone(x, one.size_mm / 2, place, zones)
        found.append(Mark(number, one, x, place, _across(cleft, one, lie), zone))
    return tuple(found)


def _place(one: Blemish, lie: Lie) -> Place:
    if one.side in (Side.A, Side.B):
        return "face" if one.side == lie.face_side else "back"
    edge = 1 if one.side == Blemish.Side.EDGE_1 else 2
    return "left" if edge == lie.left_edge else "right"


def _across(cleft: Cleft, one: Blemish, lie: Lie) -> float:
    if one.side in (Side.A, Side.B):
        share = min(1.0, one.across_mm / cleft.widths_mm[1])
        return share if lie.left_edge == 1 else 1 - share
    share = min(1.0, one.across_mm / cleft.depths_mm[1])
    return share if lie.face_side == Side.A else 1 - share


def _zone(x: float, reach: float, place: Place, zones: Zones) -> Zone:
    low, high = x - reach, x + reach
    if high <= 0 or low >= zones.blade_mm:
        return "surplus"
    if high > zones.splice_from_mm:
        return "splice"
    if high > zones.reach_from_mm and low < zones.reach_to_mm:
        return "reach"
    return "edge" if place in ("left", "right") else "blade"


PLACES: dict[str, Promise] = {
    "face": gettext_lazy("on the face"),
    "back": gettext_lazy("on the back"),
    "left": gettext_lazy("on the left edge"),
    "right": gettext_lazy("on the right edge"),
}
ZONES: dict[str, Promise] = {
    "splice": gettext_lazy("in the splice"),
    "reach": gettext_lazy("where the ball is hit"),
    "edge": gettext_lazy("in the blade"),
    "blade": gettext_lazy("in the blade"),
    "surplus": gettext_lazy("comes off with what is over"),
}


def mark_words(mark: Mark) -> str:
    """Say what a blemish is, how large, and where it comes to lie."""
    words = gettext("%(number)s: %(kind)s of %(size)s mm %(place)s, %(zone)s")
    told = words % {
        "number": mark.number,
        "kind": mark.blemish.get_kind_display(),
        "size": f"{mark.blemish.size_mm:.0f}",
        "place": PLACES[mark.place],
        "zone": ZONES[mark.zone],
    }
    return f"{told}, {gettext('right through')}" if mark.blemish.through else told


def lie_words(lie: Lie, outside_edge: int | None = None) -> str:
    """Say how a cleft lies."""
    side = Side(lie.face_side).label
    if outside_edge is None:
        return gettext("end %(end)s is the toe, %(side)s the face") % {"end": lie.toe_end, "side": side}
    words = gettext("end %(end)s is the toe, %(side)s the face, edge %(edge)s is out")
    return words % {"end": lie.toe_end, "side": side, "edge": outside_edge}


def reasons_against(cleft: Cleft, bench: BenchBook) -> list[str]:
    """Say what speaks against a cleft however it lies: its moisture, its grain."""
    found = []
    moisture = cleft.moisture_percent
    if not bench.moisture_least_percent <= moisture <= bench.moisture_most_percent:
        words = gettext("Moisture %(given)s %%, outside %(least)s to %(most)s %%: back to season.")
        numbers = {"least": f"{bench.moisture_least_percent:g}", "most": f"{bench.moisture_most_percent:g}"}
        found.append(words % {"given": f"{moisture:.1f}", **numbers})
    if not cleft.is_straight:
        words = gettext(
            "The grain runs out by 1 in %(given)s, through splice and hitting zone: not for a bat."
        )
        found.append(words % {"given": cleft.run_out})
    return found
