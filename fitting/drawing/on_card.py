"""The drawing of a job card: face and side on one axis, and under every station the numbers to hit."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fitting.bat import outline
from fitting.drawing import lines, views
from fitting.drawing.canvas import Canvas, words_length
from fitting.drawing.views import Axis, View
from fitting.sheets.build_sheet import BuildSheet

WIDTH = 700.0
MARGIN = 6.0
# 12 points where the drawing is printed 190 mm wide.
TYPE_SIZE = 15.6
ROW = 25.0
FAN = 26.0
HEAD_ROOM = 176.0


@dataclass(frozen=True)
class CardRow:
    """One row under the stations: its words, and a number for each station; none is a row to write in."""

    words: str
    values: tuple[str, ...] = ()


def draw_for_card(
    build: BuildSheet,
    rows: Sequence[CardRow],
    *,
    title: str,
    square_from_mm: float | None = None,
    square_words: str = "",
    width_mm: float = 190.0,
) -> str:
    """Draw a bat for its job card.

    Args:
        build: the sheet that is shaped to; its stations are the columns.
        rows: what stands under the stations, from top to bottom, worded already.
        title: of the drawing, for whoever cannot see it.
        square_from_mm: from there up to the shoulder the blade is left square until the handle is in.
        square_words: what is written there.
        width_mm: how wide it is printed.

    Returns:
        One SVG element, in ink alone.
    """
    canvas = Canvas(width=WIDTH, ink_only=True)
    overall = build.blade.length_mm + build.handle.length_mm
    axis = Axis(MARGIN, (WIDTH - 2 * MARGIN) / max(overall, 700.0), 1, upright=False)
    half = axis.scale * build.blade.width_mm / 2
    face = View(axis, 4 + half, 1)
    deep = axis.scale * (float(np.max(lines.side_lines(build)[3])) + 4)
    side = View(axis, 4 + 2 * half + 14 + deep, -1)
    views.draw_face(canvas, face, build)
    views.draw_side(canvas, side, build)
    if square_from_mm is not None:
        _square(canvas, side, build, square_from_mm, square_words)
    top = side.base + 8 + FAN
    _columns(canvas, side, build, rows, top)
    canvas.height = top + len(rows) * ROW + 2
    return canvas.svg(title=title, description="", width_mm=width_mm)


def _square(canvas: Canvas, side: View, build: BuildSheet, from_mm: float, words: str) -> None:
    """Mark from where on the top is left square, above the side."""
    shoulder = build.blade.length_mm
    height = float(np.max(outline.spine(build.blade, np.array([from_mm])))) + 8
    left, right = side.spot(from_mm, height), side.spot(shoulder, height)
    canvas.line(left, right, "dimension", stroke=1)
    for at in (from_mm, shoulder):
        canvas.line(side.spot(at, height - 6), side.spot(at, height + 4), "dimension", stroke=1)
    canvas.text((right[0] + 6, right[1] + 4), words, size=TYPE_SIZE)


def _columns(canvas: Canvas, side: View, build: BuildSheet, rows: Sequence[CardRow], top: float) -> None:
    """Lead every station down to a column of its own, and write the rows."""
    stations = build.blade.stations
    room = WIDTH - MARGIN - HEAD_ROOM
    column = room / len(stations)
    widest = max((len(value) for row in rows for value in row.values), default=1)
    size = min(TYPE_SIZE, TYPE_SIZE * (column - 3) / words_length("0" * widest, TYPE_SIZE, "number"))
    for number, station in enumerate(stations):
        middle = MARGIN + column * (number + 0.5)
        across = float(outline.bow(build.blade, np.array([station.from_toe_mm]))[0])
        foot = side.spot(station.from_toe_mm, across)
        canvas.line(foot, (foot[0], side.base + 8), "leader", stroke=0.6)
        canvas.line((foot[0], side.base + 8), (middle, top), "leader", stroke=0.6)
        for at, row in enumerate(rows):
            foot_y = top + at * ROW
            if row.values:
                canvas.text(
                    (middle, foot_y + 18), row.values[number], size=size, anchor="middle", face="number"
                )
            else:
                box = np.array(
                    [
                        (middle - column / 2 + 2, foot_y + 2),
                        (middle + column / 2 - 2, foot_y + 2),
                        (middle + column / 2 - 2, foot_y + ROW - 2),
                        (middle - column / 2 + 2, foot_y + ROW - 2),
                    ]
                )
                canvas.path(box, "dimension", closed=True, stroke=0.8)
    for at, row in enumerate(rows):
        canvas.text((MARGIN + room + 8, top + at * ROW + 18), row.words, size=TYPE_SIZE)
