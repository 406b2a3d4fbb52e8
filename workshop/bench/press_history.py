"""What this bench's earlier pieces did in the press: loss and rebound by pass, middle and spread."""

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from statistics import median, quantiles
from typing import Any

from orders.commissions.models import Bat, Reading
from orders.commissions.states import Stage
from workshop.bench.models import PressPass
from workshop.bench.press_depths import AFTER, BEFORE, Depths, depths_after_pass, mean_loss

# As many bats as are looked back to, and as few as make no spread worth drawing.
LOOKED_BACK, FEWEST = 60, 5


@dataclass(frozen=True)
class Drop:
    """How a ball was dropped: rebounds are compared only with others of the same drop."""

    height_mm: float
    ball: str
    support: str


@dataclass
class Piece:
    """One piece of wood in the press: mean loss and median rebound by pass, and the rested loss; all mm."""

    losses: dict[int, float] = field(default_factory=dict)
    rebounds: dict[int, float] = field(default_factory=dict)
    drops: dict[int, Drop] = field(default_factory=dict)
    rested: float | None = None


@dataclass(frozen=True)
class Band:
    """The middle of earlier pieces at one pass and where half of them lie; how many they are."""

    number: int
    low: float
    middle: float
    high: float
    count: int

    def moved(self, number: int) -> "Band":
        """Return the same at another place of the axis."""
        return replace(self, number=number)


def rebound_of(one: PressPass) -> float | None:
    """Return the median of the dropped ball's rebounds, mm; None where none was dropped."""
    return float(median(one.rebounds)) if one.rebounds else None


def drop_of(one: PressPass) -> Drop | None:
    """Return how the ball was dropped after a pass; None where none was or nothing is told of it."""
    if not one.rebounds or not one.drop.get("height_mm"):
        return None
    names = (" ".join(str(one.drop.get(name, "")).casefold().split()) for name in ("ball", "support"))
    return Drop(float(one.drop["height_mm"]), *names)


def piece_of(passes: Iterable[PressPass], before: Depths, after: Depths) -> Piece:
    """Return what one piece of wood did, by pass."""
    piece = Piece(rested=mean_loss(before, after))
    places = {place for _, place in before}
    for one in passes:
        lost, rebound, drop = (
            mean_loss(before, depths_after_pass(one, places)),
            rebound_of(one),
            drop_of(one),
        )
        if lost is not None:
            piece.losses[one.number] = lost
        if rebound is not None and drop is not None:
            piece.rebounds[one.number] = rebound
            piece.drops[one.number] = drop
    return piece


def earlier_pieces(bat: Bat) -> list[Piece]:
    """Return the pieces that this bench pressed before, but for the bat's own, the last ones only."""
    rows = PressPass.objects.standing().exclude(bat=bat).order_by("-at")
    passes: dict[tuple[int, int], list[PressPass]] = defaultdict(list)
    for row in rows[: LOOKED_BACK * 12]:
        trip = (row.bat_id, row.round)
        if trip in passes or len(passes) < LOOKED_BACK:
            passes[trip].append(row)
    depths = _depths_of(passes)
    return [
        piece_of(reversed(rows), depths[trip, "before"], depths[trip, "after"])
        for trip, rows in passes.items()
    ]


def _depths_of(trips: Iterable[tuple[int, int]]) -> dict[tuple[tuple[int, int], str], Depths]:
    named = {
        key: (when, line)
        for when, keys in (("before", BEFORE), ("after", AFTER))
        for line, key in keys.items()
    }
    rows: Any = Reading.objects.standing().filter(
        bat__in={bat for bat, _ in trips}, stage=Stage.PRESSING, key__in=named, from_toe__isnull=False
    )
    found: dict[tuple[tuple[int, int], str], Depths] = defaultdict(dict)
    for row in rows.order_by("pk"):
        when, line = named[row.key]
        found[(row.bat_id, row.round), when][line, row.from_toe] = row.in_unit
    return found


def bands(pieces: Iterable[Piece], of: Callable[[Piece], dict[int, float]]) -> list[Band]:
    """Return the middle and the middle half of earlier pieces at each pass that enough of them had."""
    values: dict[int, list[float]] = defaultdict(list)
    for piece in pieces:
        for number, value in of(piece).items():
            values[number].append(value)
    return [_band(number, found) for number, found in sorted(values.items()) if len(found) >= FEWEST]


def rested_band(pieces: Iterable[Piece]) -> Band | None:
    """Return the middle of what earlier pieces had lost for good, mm; None where they are too few."""
    found = [piece.rested for piece in pieces if piece.rested is not None]
    return _band(0, found) if len(found) >= FEWEST else None


def same_drop(drop: Drop | None) -> Callable[[Piece], dict[int, float]]:
    """Return what picks the rebounds of one drop out of a piece."""

    def rebounds(piece: Piece) -> dict[int, float]:
        return {number: value for number, value in piece.rebounds.items() if piece.drops[number] == drop}

    return rebounds


def _band(number: int, values: list[float]) -> Band:
    low, middle, high = quantiles(values, n=4, method="inclusive")
    return Band(number, low, middle, high, len(values))
