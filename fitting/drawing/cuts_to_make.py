"""What to take off a bat where, drawn on its side: millimetres at stations, targets and limits beside them.

The side of the blade lies on the axis of all drawings, in its own proportions; above it what comes off the
spine, beneath it what comes off the edges, both many times as deep as they are: a millimetre of sixty cannot
be seen.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from fitting.drawing import lines
from fitting.drawing.canvas import ASCENT, DESCENT, Anchor, Box, Canvas, Points, Spot, broken, words_length
from fitting.drawing.request import plain_mm
from fitting.drawing.views import Axis, View, ring
from fitting.sheets.build_sheet import BuildSheet

Layout = Literal["wide", "narrow", "print"]

HANDLE_SHOWN_MM = 46.0
HATCH_APART = 5.0
HATCH_GRAIN, HATCH_LEAST = 0.5, 2
LINE_POINTS = 161
# A cut below this is none: what a calliper shows.
SHOWN_MM = 0.05
TIMES = (2, 5, 10, 20, 50, 100, 200)


@dataclass(frozen=True)
class CutAt:
    """What comes off at one station, mm; how far down its target lies, and as far as limits let.

    A target above the wood as it stands is below 0.
    """

    from_toe_mm: float
    spine_mm: float
    edge_mm: float
    spine_to_target_mm: float
    edge_to_target_mm: float
    spine_room_mm: float
    edge_room_mm: float


@dataclass(frozen=True)
class CutLabels:
    """Every word of the drawing, in the reader's language; names in braces are filled in."""

    title: str
    description: str  # {cuts}
    one_cut: str  # {spine} {edge} {at}
    spine: str
    edge: str
    from_toe: str
    cut: str  # {times}
    target: str
    limit: str
    nothing: str


@dataclass(frozen=True)
class Sizes:
    """Sizes of one arrangement, in units of the drawing."""

    width: float
    margin: float
    type_size: float
    strip: float


SIZES: dict[Layout, Sizes] = {
    "wide": Sizes(width=900, margin=30, type_size=17, strip=74),
    "narrow": Sizes(width=350, margin=16, type_size=13.5, strip=58),
    "print": Sizes(width=700, margin=26, type_size=17, strip=60),
}


@dataclass(frozen=True)
class Strip:
    """A strip of cuts: its zero line, and how many units a millimetre of cut takes."""

    axis: Axis
    zero: float
    scale: float
    height: float
    x: Points
    cut: Points
    target: Points
    room: Points

    def spots(self, depths: Points) -> Points:
        """Return depths over the stations as places on the page, none beyond the strip."""
        return np.array(
            [
                (self.axis.along(float(x)), self.zero + min(float(depth) * self.scale, self.height))
                for x, depth in zip(self.x, depths, strict=True)
            ]
        )

    def inside(self, depths: Points) -> list[Points]:
        """Return a line over the stations as far as it runs inside the strip, in unbroken pieces."""
        x = np.linspace(float(self.x[0]), float(self.x[-1]), LINE_POINTS)
        levels = np.interp(x, self.x, depths) * self.scale
        seen = (levels >= 0) & (levels <= self.height)
        pieces: list[list[tuple[float, float]]] = [[]]
        for place, level, shown in zip(x, levels, seen, strict=True):
            if shown:
                pieces[-1].append((self.axis.along(float(place)), self.zero + float(level)))
            elif pieces[-1]:
                pieces.append([])
        return [np.array(piece) for piece in pieces if len(piece) > 1]

    def depths_at(self, along: Points) -> Points:
        """Return how deep the band is at places on the page, in units."""
        spots = self.spots(self.cut)
        depths: Points = np.interp(along, spots[:, 0], spots[:, 1]) - self.zero
        return depths


def draw_cuts(
    build: BuildSheet,
    cuts: Sequence[CutAt],
    labels: CutLabels,
    *,
    layout: Layout = "wide",
    show_mm: Callable[[float], str] = plain_mm,
) -> str:
    """Draw the cuts on the side of a bat as SVG; the same arguments give the same text.

    ``build`` is the bat as it stands. Numbers that would touch each other stand one row higher.
    """
    canvas = canvas_of(build, cuts, labels, layout=layout, show_mm=show_mm)
    told = [
        labels.one_cut.format(
            spine=show_mm(one.spine_mm), edge=show_mm(one.edge_mm), at=show_mm(one.from_toe_mm)
        )
        for one in cuts
        if max(one.spine_mm, one.edge_mm) >= SHOWN_MM
    ]
    description = labels.description.format(cuts="; ".join(told)) if told else labels.nothing
    return canvas.svg(title=labels.title, description=description)


def canvas_of(
    build: BuildSheet,
    cuts: Sequence[CutAt],
    labels: CutLabels,
    *,
    layout: Layout = "wide",
    show_mm: Callable[[float], str] = plain_mm,
) -> Canvas:
    """Lay the drawing out: spine's strip, the blade's side, its stations, edge's strip, what lines mean."""
    sizes = SIZES[layout]
    canvas = Canvas(width=sizes.width, ink_only=layout == "print")
    size, line = sizes.type_size, sizes.type_size * 1.3
    scale = (sizes.width - 2 * sizes.margin) / (build.blade.length_mm + HANDLE_SHOWN_MM)
    axis = Axis(sizes.margin, scale, 1, upright=False)
    times = enlarged(cuts, scale, sizes.strip)

    head = size * 1.2
    canvas.text((sizes.margin, head), labels.spine, size=size, face="view")
    top = head + 0.4 * line + _rows_needed(axis, cuts, "spine", sizes.width, size, show_mm) * line
    spine = _strip(axis, top, scale * times, sizes.strip, cuts, "spine")
    _draw_strip(canvas, spine, size, show_mm)

    deepest = float(lines.side_lines(build)[3].max())
    base = top + sizes.strip + 0.9 * line + deepest * scale
    side = View(axis, base, -1)
    _draw_blade(canvas, side, build, cuts)
    foot = _draw_places(canvas, side, cuts, labels, base + 0.5 * line, size, show_mm)
    _leaders(canvas, axis, cuts, top, foot - 1.3 * line)

    head = foot + 1.5 * line
    canvas.text((sizes.margin, head), labels.edge, size=size, face="view")
    top = head + 0.4 * line + _rows_needed(axis, cuts, "edge", sizes.width, size, show_mm) * line
    edge = _strip(axis, top, scale * times, sizes.strip, cuts, "edge")
    _draw_strip(canvas, edge, size, show_mm)
    canvas.height = _legend(canvas, labels, times, sizes, top + sizes.strip + 1.4 * line) + 0.6 * line
    return canvas


def enlarged(cuts: Sequence[CutAt], scale: float, height: float) -> int:
    """Return how many times deeper than the bat the strips are drawn: the deepest cut fits, with air."""
    deepest = max((max(one.spine_mm, one.edge_mm) for one in cuts), default=0.0)
    if deepest < SHOWN_MM:
        deepest = max((abs(one.spine_to_target_mm) for one in cuts), default=1.0) or 1.0
    fitting = [times for times in TIMES if deepest * scale * times <= 0.9 * height]
    return max(fitting, default=TIMES[0])


def _strip(
    axis: Axis,
    zero: float,
    scale: float,
    height: float,
    cuts: Sequence[CutAt],
    kind: Literal["spine", "edge"],
) -> Strip:
    return Strip(
        axis=axis,
        zero=zero,
        scale=scale,
        height=height,
        x=np.array([one.from_toe_mm for one in cuts]),
        cut=np.array([getattr(one, f"{kind}_mm") for one in cuts]),
        target=np.array([getattr(one, f"{kind}_to_target_mm") for one in cuts]),
        room=np.array([getattr(one, f"{kind}_room_mm") for one in cuts]),
    )


def _draw_strip(canvas: Canvas, strip: Strip, size: float, show_mm: Callable[[float], str]) -> None:
    """Draw one strip: the hatched band with its numbers, the target's broken line, the limit's fine one."""
    ends = strip.axis.along(float(strip.x[0])), strip.axis.along(float(strip.x[-1]))
    band = strip.spots(strip.cut)
    if strip.cut.max(initial=0.0) >= SHOWN_MM:
        closed = np.concatenate([band, [(ends[1], strip.zero), (ends[0], strip.zero)]])
        canvas.path(closed, "at-work-wash", closed=True, opacity=0.14)
        canvas.strokes(_hatching(strip, ends), "at-work", stroke=0.9)
        canvas.path(band, "at-work", stroke=1.8)
    for run in strip.inside(strip.room):
        canvas.path(run, "leader", stroke=0.7)
    for run in strip.inside(strip.target):
        canvas.path(run, "ink", stroke=1.3, dashes="7 4")
    canvas.line((ends[0], strip.zero), (ends[1], strip.zero), "ink", stroke=1.3)
    for place, row, words in _placed(strip.axis, strip.x, strip.cut, canvas.width, size, show_mm):
        level = strip.zero - size * 0.45 - row * size * 1.25
        canvas.text((place, level), words, size=size, anchor="middle", face="number", colour="at-work-word")


def _hatching(strip: Strip, ends: tuple[float, float]) -> list[tuple[Spot, Spot]]:
    """Slanted strokes from the zero line down to the band's foot."""
    down = np.arange(0.0, strip.height + HATCH_GRAIN, HATCH_GRAIN)
    strokes: list[tuple[Spot, Spot]] = []
    for start in np.arange(ends[0] - strip.height, ends[1], HATCH_APART):
        along = start + down
        inside = (along >= ends[0]) & (along <= ends[1]) & (down <= strip.depths_at(along))
        # Where the inside begins and where it ends, in pairs.
        turns = np.flatnonzero(np.diff(np.concatenate([[False], inside, [False]]).astype(int)))
        for first, last in zip(turns[::2], turns[1::2] - 1, strict=True):
            if last - first >= HATCH_LEAST:
                begin = (float(along[first]), strip.zero + float(down[first]))
                strokes.append((begin, (float(along[last]), strip.zero + float(down[last]))))
    return strokes


def _placed(
    axis: Axis, x: Points, depths: Points, width: float, size: float, show_mm: Callable[[float], str]
) -> list[tuple[float, int, str]]:
    """Return place, row and words of every number: in the lowest row where it touches no other."""
    placed: list[tuple[float, int, str]] = []
    boxes: list[tuple[int, Box]] = []
    for at, depth in zip(x, depths, strict=True):
        if depth < SHOWN_MM:
            continue
        words, place = show_mm(float(depth)), axis.along(float(at))
        half = words_length(words, size, "number") / 2
        place = min(max(place, half + 2), width - half - 2)
        box = Box(place - half, -ASCENT * size, place + half, DESCENT * size)
        row = 0
        while any(other == row and box.touches(there, gap=3) for other, there in boxes):
            row += 1
        boxes.append((row, box))
        placed.append((place, row, words))
    return placed


def _rows_needed(
    axis: Axis,
    cuts: Sequence[CutAt],
    kind: Literal["spine", "edge"],
    width: float,
    size: float,
    show_mm: Callable[[float], str],
) -> int:
    x = np.array([one.from_toe_mm for one in cuts])
    depths = np.array([getattr(one, f"{kind}_mm") for one in cuts])
    return 1 + max((row for _, row, _ in _placed(axis, x, depths, width, size, show_mm)), default=0)


def _draw_blade(canvas: Canvas, side: View, build: BuildSheet, cuts: Sequence[CutAt]) -> None:
    """Draw the blade from its side with what comes off its back, and where the handle begins."""
    x, face, edge, back = lines.side_lines(build)
    at = np.array([one.from_toe_mm for one in cuts])
    off = np.interp(x, at, [one.spine_mm for one in cuts])
    canvas.path(side.spots(ring(x, face, back)), "willow", closed=True, stroke=1.3)
    canvas.path(side.spots(ring(x, face, edge)), "face-side", closed=True)
    if off.max(initial=0.0) >= SHOWN_MM:
        canvas.path(side.spots(ring(x, back - off, back)), "at-work-wash", closed=True, opacity=0.6)
    canvas.path(side.spots(np.column_stack([x, edge])), "ink", stroke=0.7)
    canvas.path(side.spots(ring(x, face, back)), "ink", closed=True, stroke=1.3)
    handle = lines.handle_strip(build, seen="side", grip=False)
    length, count = build.blade.length_mm, len(handle) // 2
    reach = length + HANDLE_SHOWN_MM
    ends = [
        np.interp(reach, handle[:count, 0], handle[:count, 1]),
        np.interp(reach, handle[count:][::-1, 0], handle[count:][::-1, 1]),
    ]
    upper = [(length, handle[0, 1]), (reach, ends[0])]
    lower = [(length, handle[-1, 1]), (reach, ends[1])]
    for piece in (upper, lower):
        canvas.path(side.spots(np.array(piece)), "ink", stroke=1.3)


def _draw_places(
    canvas: Canvas,
    side: View,
    cuts: Sequence[CutAt],
    labels: CutLabels,
    level: float,
    size: float,
    show_mm: Callable[[float], str],
) -> float:
    """Write the stations' places from the toe beneath the blade; return the level of the last row."""
    small = size * 0.93
    x = np.array([one.from_toe_mm for one in cuts])
    first = float(x[0])
    half = words_length(show_mm(first), small, "number") / 2
    rows = 1
    taken: list[tuple[int, float]] = []
    for at in x:
        words, place = show_mm(float(at)), side.axis.along(float(at))
        half = words_length(words, small, "number") / 2
        place = min(max(place, half + 2), canvas.width - half - 2)
        row = 0
        while any(other == row and place - half < end + 4 for other, end in taken):
            row += 1
        taken.append((row, place + half))
        rows = max(rows, row + 1)
        spot = (place, level + small * (1.0 + 1.3 * row))
        canvas.text(spot, words, size=small, anchor="middle", face="number", colour="quiet")
    foot = level + small * (1.0 + 1.3 * rows)
    canvas.text((side.axis.along(0.0), foot), labels.from_toe, size=small, colour="quiet")
    return foot


def _leaders(canvas: Canvas, axis: Axis, cuts: Sequence[CutAt], top: float, foot: float) -> None:
    """Draw a fine broken line from the spine's strip through the blade at every station."""
    for one in cuts:
        along = axis.along(one.from_toe_mm)
        canvas.line((along, top), (along, foot), "leader", stroke=0.6, dashes="2 4")


def _legend(canvas: Canvas, labels: CutLabels, times: int, sizes: Sizes, level: float) -> float:
    """Say what band and lines mean; return the level of the last row."""
    small = sizes.type_size * 0.93
    start, end = sizes.margin, sizes.width - sizes.margin
    notes = [
        ("at-work", "", 1.8, labels.cut.format(times=times)),
        ("ink", "7 4", 1.3, labels.target),
        ("leader", "", 0.7, labels.limit),
    ]
    anchor: Anchor = "start"
    at = start
    for kind, dashes, stroke, words in notes:
        rows = broken(words, end - start - 42, small)
        if at > start and at + 42 + words_length(words, small) > end:
            at, level = start, level + 1.4 * small
        canvas.line((at, level - 5), (at + 32, level - 5), kind, stroke=stroke, dashes=dashes)
        for number, row in enumerate(rows):
            box = canvas.text((at + 42, level + number * 1.3 * small), row, size=small, anchor=anchor)
        level += (len(rows) - 1) * 1.3 * small
        at = box.right + 26
    return level
