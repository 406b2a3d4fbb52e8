"""Dimension lines, arrowheads, the balance's knife edge: what a drawing says besides the shape."""

import numpy as np

from fitting.drawing.canvas import NUMBER_WIDTH, Canvas, Spot

ARROW_LONG, ARROW_HALF = 8.0, 2.6
END_MARK = 5.0


def arrowhead(canvas: Canvas, tip: Spot, pointing: Spot) -> None:
    """Fill an arrowhead with its tip at ``tip``, looking along the unit step ``pointing``."""
    (x, y), (dx, dy) = tip, pointing
    long, half = ARROW_LONG * canvas.pen, ARROW_HALF * canvas.pen
    foot_x, foot_y = x - long * dx, y - long * dy
    corners = [
        (x, y),
        (foot_x - half * dy, foot_y + half * dx),
        (foot_x + half * dy, foot_y - half * dx),
    ]
    canvas.path(np.array(corners), "arrow", closed=True, stroke=0)


def dimension(canvas: Canvas, a: Spot, b: Spot, words: str, *, size: float) -> None:
    """Draw a dimension from ``a`` to ``b`` (level or plumb), its words in a gap of the line.

    A plumb one reads upwards. Where the words do not fit between the arrowheads they stand below the line.
    """
    plumb = a[0] == b[0]
    if plumb:
        (start, end), fixed = sorted((a[1], b[1])), a[0]
    else:
        (start, end), fixed = sorted((a[0], b[0])), a[1]

    def at(along: float, across: float = 0.0) -> Spot:
        return (fixed + across, along) if plumb else (along, fixed + across)

    step: Spot = (0.0, 1.0) if plumb else (1.0, 0.0)
    arrowhead(canvas, at(end), step)
    arrowhead(canvas, at(start), (-step[0], -step[1]))
    for place in (start, end):
        canvas.line(at(place, -END_MARK * canvas.pen), at(place, END_MARK * canvas.pen), "dimension")
    middle = (start + end) / 2
    half = NUMBER_WIDTH * size * len(words) / 2 + 6 * canvas.pen
    inside = middle - half > start + (ARROW_LONG + 4) * canvas.pen
    if inside:
        canvas.line(at(start), at(middle - half), "dimension")
        canvas.line(at(middle + half), at(end), "dimension")
        spot = at(middle, size * 0.34)
    else:
        canvas.line(at(start), at(end), "dimension")
        spot = at(middle, size * 1.25)
    canvas.text(spot, words, size=size, anchor="middle", face="number", turned=plumb)


def knife_edge(canvas: Canvas, tip: Spot, away: Spot, *, size: float) -> None:
    """Fill the triangle on which the bat balances: its tip at the bat, its foot along ``away``."""
    (x, y), (dx, dy) = tip, away
    foot_x, foot_y = x + size * dx, y + size * dy
    half = size * 0.62
    corners = [(x, y), (foot_x - half * dy, foot_y + half * dx), (foot_x + half * dy, foot_y - half * dx)]
    canvas.path(np.array(corners), "mark", closed=True, stroke=0)
