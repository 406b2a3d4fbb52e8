"""One bat's willow as a line: what it can use, the cleft it gets, the others, each with its spread."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from workshop.matching import Pair
from workshop.matching_costs import Wanted, usable_kg_m3

WIDTH, MARGIN = 360.0, 14.0
# Narrower than this two numbers would touch.
BOTH_ENDS_WIDTH = 84.0
STEP_KG_M3 = 20.0


@dataclass(frozen=True)
class Scale:
    """Densities across the width, the same for every bat of a page."""

    least: float
    most: float

    @classmethod
    def over(cls, bats: Iterable[Wanted], pairs: Iterable[Pair]) -> "Scale":
        """Wide enough for every range and every cleft, whole steps at both ends."""
        ends = [end for bat in bats for end in (usable_kg_m3(bat) or ())]
        ends += [pair.density_kg_m3 + side * pair.density_sd_kg_m3 for pair in pairs for side in (-1.0, 1.0)]
        if not ends:
            return cls(340.0, 520.0)
        return cls(STEP_KG_M3 * (min(ends) // STEP_KG_M3), -STEP_KG_M3 * (-max(ends) // STEP_KG_M3))

    def at(self, density: float) -> float:
        """Place of a density."""
        inside = min(max(density, self.least), self.most)
        return round(MARGIN + (WIDTH - 2 * MARGIN) * (inside - self.least) / (self.most - self.least), 1)


@dataclass(frozen=True)
class Mark:
    """A cleft on the line."""

    x: float
    reach_from: float
    reach_to: float


@dataclass(frozen=True)
class Number:
    """A number under the line."""

    x: float
    anchor: str
    words: str


@dataclass(frozen=True)
class Line:
    """What the template draws."""

    soft_from: float
    soft_to: float
    least: float
    most: float
    drawn: float
    numbers: tuple[Number, ...]
    chosen: Mark | None
    others: tuple[Mark, ...]

    @property
    def soft_width(self) -> float:
        """Width of what still keeps the mass tolerance."""
        return round(self.soft_to - self.soft_from, 1)

    @property
    def width(self) -> float:
        """Width of what meets mass and sweet spot."""
        return round(self.most - self.least, 1)


def line_of(wanted: Wanted, scale: Scale, chosen: Pair | None, others: Sequence[Pair]) -> Line | None:
    """Draw one bat's willow; None where no willow can become it."""
    usable = usable_kg_m3(wanted)
    if usable is None or wanted.table is None:
        return None
    low, high = usable
    return Line(
        soft_from=scale.at(low),
        soft_to=scale.at(high),
        least=scale.at(wanted.table.least_kg_m3),
        most=scale.at(wanted.table.most_kg_m3),
        drawn=scale.at(wanted.drawn_kg_m3),
        numbers=_numbers(scale, low, high),
        chosen=None if chosen is None else _mark(chosen, scale),
        others=tuple(_mark(one, scale) for one in others),
    )


def _numbers(scale: Scale, low: float, high: float) -> tuple[Number, ...]:
    left, right = scale.at(low), scale.at(high)
    if right - left < BOTH_ENDS_WIDTH:
        middle = min(max((left + right) / 2, 40.0), WIDTH - 40.0)
        return (Number(round(middle, 1), "middle", f"{low:.0f}–{high:.0f}"),)
    return (Number(left, "start", f"{low:.0f}"), Number(right, "end", f"{high:.0f}"))


def _mark(pair: Pair, scale: Scale) -> Mark:
    density, spread = pair.density_kg_m3, pair.density_sd_kg_m3
    return Mark(scale.at(density), scale.at(density - spread), scale.at(density + spread))
