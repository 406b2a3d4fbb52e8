"""The rack as a picture: density across, grade down, each cleft a point with its spread softly behind it.

Over the points of each grade lie, as dimension lines, the densities that bats of that grade can use.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from workshop.rack.models import Cleft
from workshop.willow import Density

GRADES = (1, 2, 3, 4)
STEP_KG_M3 = 20.0
# Shown however little lies there, so that two days' pictures can be held side by side.
USUAL_KG_M3 = (360.0, 480.0)
# Beyond these a cleft is drawn at the edge: it is mistyped or no willow for a bat.
LEAST_KG_M3, MOST_KG_M3 = 280.0, 600.0
MOST_LINES_A_GRADE = 6
STRIPS_AT_MOST = 9
# How many clefts are still drawn with large points, and with middling ones.
FEW, MANY = 60, 240


@dataclass(frozen=True)
class Frame:
    """Sizes of one arrangement of the picture, in its own units."""

    name: str
    width: float
    left: float
    right: float
    text: float
    point: float
    tick_every: int

    @property
    def line(self) -> float:
        """Height of one dimension line with its words."""
        return round(1.45 * self.text, 1)

    @property
    def under(self) -> float:
        """Height of the ground under the words."""
        return round(1.2 * self.text, 1)


WIDE = Frame("wide", width=1000, left=70, right=24, text=15, point=7, tick_every=20)
NARROW = Frame("narrow", width=360, left=40, right=14, text=12.5, point=6, tick_every=40)


@dataclass(frozen=True)
class Wanted:
    """The willow that one bat still wants, in densities as the rack tells them."""

    label: str
    address: str
    density_min: float
    density_max: float
    grade: int
    short: bool = False


@dataclass(frozen=True)
class Point:
    """One cleft of the picture."""

    cleft: Cleft
    density: Density
    x: float
    y: float
    radius: float
    soft_x: float
    soft_width: float
    reach_x: float
    reach_width: float

    @property
    def soft_y(self) -> float:
        """Upper edge of two spreads; ``reach_y`` that of one."""
        return round(self.y - self.radius / 5, 1)

    @property
    def soft_height(self) -> float:
        """Height of two spreads, a thin stroke."""
        return round(self.radius / 2.5, 1)

    @property
    def reach_y(self) -> float:
        """Upper edge of one spread."""
        return round(self.y - self.radius / 2.2, 1)

    @property
    def reach_height(self) -> float:
        """Height of one spread, a broad stroke."""
        return round(self.radius / 1.1, 1)

    @property
    def bar_from(self) -> float:
        """Upper end of the bar through a cleft that is kept aside or reserved."""
        return round(self.y - 1.5 * self.radius, 1)

    @property
    def bar_to(self) -> float:
        """Lower end of that bar."""
        return round(self.y + 1.5 * self.radius, 1)


@dataclass(frozen=True)
class Dimension:
    """One bat's willow as a dimension line."""

    wanted: Wanted
    start: float
    end: float
    y: float
    text_x: float
    text_y: float
    under: tuple[float, float, float]
    heads: tuple[str, str]


@dataclass
class Row:
    """One grade."""

    grade: int
    top: float
    bottom: float
    text_y: float
    points: list[Point]
    lines: list[Dimension]
    washes: list[tuple[float, float]]
    wash_top: float
    more: int
    more_y: float

    @property
    def wash_height(self) -> float:
        """Height of the part where the points lie."""
        return round(self.bottom - self.wash_top, 1)


@dataclass(frozen=True)
class Scale:
    """Densities across the frame."""

    frame: Frame
    least: float
    most: float

    def at(self, density: float) -> float:
        """Place of a density; what is beyond either end lies on it."""
        inside = min(max(density, self.least), self.most)
        span = self.frame.width - self.frame.left - self.frame.right
        return round(self.frame.left + span * (inside - self.least) / (self.most - self.least), 1)


@dataclass(frozen=True)
class Strips:
    """Lies things of some width in as few strips as keep them apart, as long as there are strips."""

    most: int
    gap: float
    ends: list[float] = field(default_factory=list)

    def place(self, start: float, end: float) -> int:
        """Return the strip of the next thing; things come in the order of their starts."""
        for at, taken in enumerate(self.ends):
            if start >= taken + self.gap:
                self.ends[at] = end
                return at
        if len(self.ends) < self.most:
            self.ends.append(end)
            return len(self.ends) - 1
        # No room: where it covers least.
        at = min(range(len(self.ends)), key=lambda strip: self.ends[strip])
        self.ends[at] = max(end, self.ends[at])
        return at


def draw_rack(
    clefts: Iterable[tuple[Cleft, Density]], wanted: Iterable[Wanted], frame: Frame
) -> dict[str, Any]:
    """Return what the template draws: rows with points and lines, ticks, all in the frame's own units."""
    drawn, wants = list(clefts), list(wanted)
    scale = _scale(drawn, wants, frame)
    top = round(1.6 * frame.text, 1)
    rows: list[Row] = []
    for grade in GRADES:
        row = _row(grade, top, drawn, wants, scale)
        rows.append(row)
        top = row.bottom
    return {
        "frame": frame,
        "rows": rows,
        "ticks": _ticks(scale, top),
        "floor": top,
        "height": round(top + 3.6 * frame.text, 1),
        "unit_y": round(top + 3.2 * frame.text, 1),
        "head": round(frame.text, 1),
        "words_y": round(top + 1.9 * frame.text, 1),
        "right": frame.width - frame.right,
    }


def _scale(drawn: Sequence[tuple[Cleft, Density]], wants: Sequence[Wanted], frame: Frame) -> Scale:
    """From the least to the most that is drawn, in whole steps."""
    ends = [*USUAL_KG_M3]
    ends += [density.pressed + side * density.pressed_sd for _cleft, density in drawn for side in (-1, 1)]
    ends += [end for one in wants for end in (one.density_min, one.density_max)]
    least = max(LEAST_KG_M3, STEP_KG_M3 * (min(ends) // STEP_KG_M3))
    most = min(MOST_KG_M3, -STEP_KG_M3 * (-max(ends) // STEP_KG_M3))
    return Scale(frame, least, most)


def _ticks(scale: Scale, floor: float) -> list[dict[str, float | int]]:
    every = scale.frame.tick_every
    first = -int(-scale.least // every) * every
    return [
        {"density": density, "x": scale.at(density), "foot": round(floor + 6, 1)}
        for density in range(first, int(scale.most) + 1, every)
    ]


def _row(
    grade: int,
    top: float,
    drawn: Sequence[tuple[Cleft, Density]],
    wants: Sequence[Wanted],
    scale: Scale,
) -> Row:
    frame = scale.frame
    # Those that are short come first, so that they are drawn whatever else there is.
    asked = sorted((one for one in wants if one.grade == grade), key=lambda one: (not one.short, one.label))
    lines, y = _lines(asked[:MOST_LINES_A_GRADE], top + 0.5 * frame.text, scale)
    more = len(asked) - len(lines)
    more_y = round(y + frame.text, 1)
    y += 1.3 * frame.text if more else 0
    here = [(cleft, density) for cleft, density in drawn if cleft.grade == grade]
    radius = _radius(len(drawn), frame)
    wash_top = round(y + 0.35 * frame.text, 1)
    spreads = 1.0 if len(drawn) <= FEW else 0.5 if len(drawn) <= MANY else 0.0
    points, bottom = _points(here, wash_top + 0.3 * frame.text, radius, spreads, scale)
    bottom = round(max(bottom + 0.3 * frame.text, top + 3 * frame.text), 1)
    return Row(
        grade=grade,
        top=top,
        bottom=bottom,
        text_y=round((wash_top + bottom) / 2, 1),
        points=points,
        lines=lines,
        washes=_washes([one for one in wants if one.grade >= grade], scale),
        wash_top=wash_top,
        more=more,
        more_y=more_y,
    )


def _lines(asked: Sequence[Wanted], top: float, scale: Scale) -> tuple[list[Dimension], float]:
    """Dimension lines, side by side where they do not touch, the words over each."""
    frame = scale.frame
    strips = Strips(most=len(asked) or 1, gap=frame.text)
    found = []
    for one in sorted(asked, key=lambda wanted: wanted.density_min):
        start, end = scale.at(one.density_min), scale.at(one.density_max)
        # A word is about so wide as its letters; "short" stands behind the number.
        words = 0.62 * frame.text * (len(one.label) + (6 if one.short else 0))
        middle = min(max((start + end) / 2, frame.left + words / 2), frame.width - frame.right - words / 2)
        strip = strips.place(min(start, middle - words / 2), max(end, middle + words / 2))
        y = round(top + (strip + 0.5) * frame.line, 1)
        found.append(_dimension(one, start, end, (middle, words), y, frame))
    return found, round(top + len(strips.ends) * frame.line, 1)


def _dimension(
    one: Wanted, start: float, end: float, words: tuple[float, float], y: float, frame: Frame
) -> Dimension:
    """One line with its arrowheads, and the words in it on a ground of their own."""
    middle, width = words
    head, half = 0.55 * frame.text, 0.2 * frame.text
    heads = (
        f"M{start} {y} l{head:.1f} {-half:.1f} v{2 * half:.1f} z",
        f"M{end} {y} l{-head:.1f} {-half:.1f} v{2 * half:.1f} z",
    )
    ground = width + 0.5 * frame.text
    return Dimension(
        wanted=one,
        start=start,
        end=end,
        y=y,
        text_x=round(middle, 1),
        text_y=round(y + 0.35 * frame.text, 1),
        under=(round(middle - ground / 2, 1), round(y - 0.6 * frame.text, 1), round(ground, 1)),
        heads=heads,
    )


def _points(
    here: Sequence[tuple[Cleft, Density]], top: float, radius: float, spreads: float, scale: Scale
) -> tuple[list[Point], float]:
    """Points in as few strips as keep them from covering one another."""
    strips = Strips(most=STRIPS_AT_MOST, gap=1.0)
    pitch = 2 * radius + 2
    found = []
    for cleft, density in sorted(here, key=lambda pair: (pair[1].pressed, pair[0].number)):
        x = scale.at(density.pressed)
        # Where there is room, spreads are kept apart too, not only the points.
        beside = spreads * density.pressed_sd
        left, right = scale.at(density.pressed - beside), scale.at(density.pressed + beside)
        strip = strips.place(min(left, x - radius), max(right, x + radius))
        found.append(_point(cleft, density, x, round(top + (strip + 0.5) * pitch, 1), radius, scale))
    return found, round(top + len(strips.ends) * pitch, 1)


def _point(cleft: Cleft, density: Density, x: float, y: float, radius: float, scale: Scale) -> Point:
    def stretch(spreads: float) -> tuple[float, float]:
        left = scale.at(density.pressed - spreads * density.pressed_sd)
        right = scale.at(density.pressed + spreads * density.pressed_sd)
        return left, round(right - left, 1)

    reach_x, reach_width = stretch(1)
    soft_x, soft_width = stretch(2)
    return Point(cleft, density, x, y, radius, soft_x, soft_width, reach_x, reach_width)


def _radius(count: int, frame: Frame) -> float:
    if count <= FEW:
        return frame.point
    return round(frame.point * (0.7 if count <= MANY else 0.45), 1)


def _washes(wants: Sequence[Wanted], scale: Scale) -> list[tuple[float, float]]:
    """Stretches that any bat could use which takes this grade, as x and width: the union of them."""
    found: list[list[float]] = []
    for one in sorted(wants, key=lambda wanted: wanted.density_min):
        start, end = scale.at(one.density_min), scale.at(one.density_max)
        if found and start <= found[-1][1]:
            found[-1][1] = max(found[-1][1], end)
        else:
            found.append([start, end])
    return [(start, round(end - start, 1)) for start, end in found]
