"""A sheet of paper to draw on: SVG by presentation attributes and classes, every label's box kept."""

from dataclasses import dataclass, field
from html import escape
from math import hypot
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Anchor = Literal["start", "middle", "end"]
Spot = tuple[float, float]

# Widths of letters as shares of their size, those of the widest of the usual faces (DejaVu), so that no
# label is taken for shorter than it is.
NUMBER_WIDTH = 0.62
SLIM, SLIM_WIDTH = frozenset("fijlrtI.,:;'()| -"), 0.42
BROAD, BROAD_WIDTH = frozenset("mwMW%@"), 1.0
CAPITAL_WIDTH, LETTER_WIDTH = 0.78, 0.645
BOLD_SERIF = 1.16
ASCENT, DESCENT = 0.8, 0.24

# What a class looks like where no stylesheet reaches (a PDF, a saved file); look.css overrides it by tokens.
PAINT = {
    "willow": 'fill="#e5c98f" stroke="#1f2d2a"',
    "face-side": 'fill="#eed9ac" stroke="none"',
    "cane": 'fill="#eadfc6" stroke="#1f2d2a"',
    "grain": 'fill="none" stroke="#8a6a2c"',
    "swell": 'fill="#8a6a2c" stroke="none"',
    "sweet": 'fill="#9e1f2b" stroke="none"',
    "sweet-dot": 'fill="#9e1f2b" stroke="none"',
    "sweet-line": 'fill="none" stroke="#9e1f2b"',
    "speed": 'fill="#eed9ac" stroke="none"',
    "swell-line": 'fill="none" stroke="#8a6a2c"',
    "dimension": 'fill="none" stroke="#56635e"',
    "leader": 'fill="none" stroke="#56635e"',
    "arrow": 'fill="#56635e" stroke="none"',
    "mark": 'fill="#1f2d2a" stroke="none"',
    "ink": 'fill="none" stroke="#1f2d2a"',
    "other": 'fill="none" stroke="#1f2d2a"',
    "at-work": 'fill="none" stroke="#9e1f2b"',
    "at-work-wash": 'fill="#9e1f2b" stroke="none"',
    "text": 'fill="#1f2d2a"',
    "quiet": 'fill="#56635e"',
    "at-work-word": 'fill="#9e1f2b"',
    "sweet-word": 'fill="#9e1f2b"',
}
INK = {
    name: look.replace("#e5c98f", "#fff")
    .replace("#eed9ac", "#fff")
    .replace("#eadfc6", "#fff")
    .replace("#1f2d2a", "#000")
    .replace("#56635e", "#333")
    .replace("#8a6a2c", "#555")
    .replace("#9e1f2b", "#000")
    for name, look in PAINT.items()
}
FACES = {
    "number": 'font-family="monospace"',
    "view": 'font-family="serif" font-weight="700"',
    "word": 'font-family="sans-serif"',
}


@dataclass(frozen=True)
class Box:
    """What a label covers, in units of the drawing."""

    left: float
    top: float
    right: float
    bottom: float

    def touches(self, other: "Box", gap: float = 0.0) -> bool:
        """Whether the two overlap or come closer than ``gap``."""
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.top < other.bottom + gap
            and other.top < self.bottom + gap
        )


def short(value: float, decimals: int = 1) -> str:
    """Return a coordinate to a tenth of a unit or finer, without idle zeros."""
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def words_length(words: str, size: float, face: str = "word") -> float:
    """Return at most how long a label is."""
    if face == "number":
        return NUMBER_WIDTH * size * len(words)
    length = 0.0
    for letter in words:
        if letter in SLIM:
            length += SLIM_WIDTH
        elif letter in BROAD:
            length += BROAD_WIDTH
        else:
            length += CAPITAL_WIDTH if letter.isupper() else LETTER_WIDTH
    return length * size * (BOLD_SERIF if face == "view" else 1.0)


def text_box(spot: Spot, words: str, *, size: float, anchor: Anchor, face: str, turned: bool) -> Box:
    """Return the box that a label will cover at most; ``turned`` reads upwards."""
    length = words_length(words, size, face)
    before = {"start": 0.0, "middle": length / 2, "end": length}[anchor]
    x, y = spot
    if turned:
        return Box(x - ASCENT * size, y + before - length, x + DESCENT * size, y + before)
    return Box(x - before, y - ASCENT * size, x - before + length, y + DESCENT * size)


def broken(words: str, room: float, size: float) -> list[str]:
    """Break words into lines that fit into ``room``; a no-break space holds a fraction to its whole."""
    rows: list[str] = []
    for word in filter(None, words.split(" ")):
        if rows and words_length(f"{rows[-1]} {word}", size) <= room:
            rows[-1] += " " + word
        else:
            rows.append(word)
    return rows


@dataclass
class Canvas:
    """One drawing in the making.

    ``pen`` widens or thins every stroke, dash and arrowhead; coordinates have so many ``decimals``.
    """

    width: float
    ink_only: bool = False
    height: float = 0.0
    pen: float = 1.0
    decimals: int = 1
    boxes: list[tuple[str, Box]] = field(default_factory=list)
    _parts: list[str] = field(default_factory=list)

    def _spots(self, points: Points) -> str:
        return " ".join(
            f"{short(float(x), self.decimals)} {short(float(y), self.decimals)}" for x, y in points
        )

    def _dashes(self, dashes: str) -> str:
        lengths = " ".join(f"{float(length) * self.pen:g}" for length in dashes.split())
        return f' stroke-dasharray="{lengths}"' if dashes else ""

    def _look(self, name: str) -> str:
        return f'class="{name}" ' + (INK if self.ink_only else PAINT)[name]

    def path(
        self,
        points: Points,
        name: str,
        *,
        closed: bool = False,
        stroke: float = 1.0,
        dashes: str = "",
        opacity: float = 1.0,
    ) -> None:
        """Draw a line through ``points`` (n, 2)."""
        spots = self._spots(thinned(points, 0.6 * 10.0**-self.decimals))
        more = self._dashes(dashes)
        more += f' opacity="{opacity:g}"' if opacity < 1 else ""
        more += f' stroke-linejoin="round" d="M{spots}{"Z" if closed else ""}"'
        self._parts.append(f'<path {self._look(name)} stroke-width="{stroke * self.pen:g}"{more}/>')

    def line(self, a: Spot, b: Spot, name: str, *, stroke: float = 0.8, dashes: str = "") -> None:
        """Draw one straight line."""
        self.path(np.array([a, b], dtype=np.float64), name, stroke=stroke, dashes=dashes)

    def strokes(
        self, pairs: list[tuple[Spot, Spot]], name: str, *, stroke: float, opacity: float = 1.0
    ) -> None:
        """Draw many short straight lines as one path."""
        if not pairs:
            return
        d = "".join(f"M{self._spots(np.array(pair))}" for pair in pairs)
        more = f' opacity="{opacity:g}"' if opacity < 1 else ""
        self._parts.append(f'<path {self._look(name)} stroke-width="{stroke * self.pen:g}"{more} d="{d}"/>')

    def text(
        self,
        spot: Spot,
        words: str,
        *,
        size: float,
        anchor: Anchor = "start",
        face: str = "word",
        colour: str = "text",
        turned: bool = False,
    ) -> Box:
        """Write a label and keep its box."""
        box = text_box(spot, words, size=size, anchor=anchor, face=face, turned=turned)
        self.boxes.append((words, box))
        x, y = short(spot[0], self.decimals), short(spot[1], self.decimals)
        place = f'x="{x}" y="{y}"' + (f' transform="rotate(-90 {x} {y})"' if turned else "")
        paint = (INK if self.ink_only else PAINT)[colour]
        kind = face if colour == "text" else f"{face} {colour}"
        self._parts.append(
            f'<text class="{kind}" {place} {paint} {FACES[face]} font-size="{size:g}"'
            f' text-anchor="{anchor}">{escape(words)}</text>'
        )
        return box

    def text_where_free(
        self, spots: list[Spot], words: str, *, size: float, anchor: Anchor = "start"
    ) -> bool:
        """Write a label at the first of ``spots`` where it touches no other; return whether there was one."""
        for spot in spots:
            if self.is_free(spot, words, size, anchor):
                self.text(spot, words, size=size, anchor=anchor)
                return True
        return False

    def is_free(self, spot: Spot, words: str, size: float, anchor: Anchor) -> bool:
        """Whether a label would touch no other and stay on the sheet."""
        box = text_box(spot, words, size=size, anchor=anchor, face="word", turned=False)
        inside = box.left >= 0 and box.right <= self.width
        return inside and not any(box.touches(other, gap=3) for _, other in self.boxes)

    def drawn(self) -> str:
        """Return what has been drawn so far, without the SVG element about it."""
        return "".join(self._parts)

    def svg(self, *, title: str, description: str, width_mm: float | None = None) -> str:
        """Return the drawing as one SVG element."""
        size = (
            f' width="{width_mm:g}mm" height="{width_mm * self.height / self.width:.2f}mm"'
            if width_mm
            else ""
        )
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="bat" role="img" aria-label="{escape(title)}"'
            f' viewBox="0 0 {short(self.width)} {short(self.height)}"{size}>'
            f"<title>{escape(title)}</title><desc>{escape(description)}</desc>{self.drawn()}</svg>"
        )


def thinned(points: Points, tolerance: float = 0.06) -> Points:
    """Leave out points that lie on the line through their neighbours (Douglas and Peucker 1973)."""
    if len(points) < 3:
        return points
    # Lines have some dozens of points: plain numbers are quicker here than many small arrays.
    xs, ys = points[:, 0].tolist(), points[:, 1].tolist()
    keep = [0, len(points) - 1]
    spans = [(0, len(points) - 1)]
    while spans:
        first, last = spans.pop()
        worst, middle = _farthest(xs, ys, first, last)
        if worst > tolerance:
            keep.append(middle)
            spans += [(first, middle), (middle, last)]
    kept: Points = points[sorted(keep)]
    return kept


def _farthest(xs: list[float], ys: list[float], first: int, last: int) -> tuple[float, int]:
    """Return how far the points between two lie from the line through these at most, and which one does."""
    x, y = xs[first], ys[first]
    dx, dy = xs[last] - x, ys[last] - y
    length = hypot(dx, dy)
    worst, middle = 0.0, first
    for i in range(first + 1, last):
        a, b = xs[i] - x, ys[i] - y
        away = abs(dx * b - dy * a) / length if length > 0 else hypot(a, b)
        if away > worst:
            worst, middle = away, i
    return worst, middle
