"""The bat in true size, one unit of the drawing a millimetre: to lay wood on, in ink, with a bar to check."""

from dataclasses import dataclass
from math import ceil

import numpy as np

from fitting.bat import outline, sections
from fitting.drawing import cuts, marks, response, views
from fitting.drawing.canvas import Anchor, Canvas, words_length
from fitting.drawing.request import Request
from fitting.drawing.response import Plot
from fitting.drawing.views import Axis, View

MARGIN_MM = 12.0
SIZE = 4.5
LINE = SIZE * 1.4
BAR_MM = 100.0
BAR_HIGH_MM = 2.5
CURVE_MM = 48.0
CLEAR_MM = 5.0
# Strokes of 1.3 units on the other sheets become 0.35 mm.
PEN = 0.27


@dataclass(frozen=True)
class Cut:
    """One section: its place, the room it and its words take along the axis, its height, what is said."""

    place_mm: float
    room_mm: float
    high_mm: float
    words: tuple[str, str]
    of_handle: bool

    @property
    def start(self) -> float:
        """Where its room begins along the axis, mm from the toe."""
        return self.place_mm - self.room_mm / 2

    @property
    def end(self) -> float:
        """Where its room ends along the axis, mm from the toe."""
        return self.place_mm + self.room_mm / 2


def draw_full_size(asked: Request) -> Canvas:
    """Draw the response curve, and in true size side, face and every station's section, all on one axis."""
    cut = cuts_of(asked)
    before = MARGIN_MM + max(0.0, -min(one.start for one in cut))
    end = max(asked.longest_mm, *(one.end for one in cut))
    canvas = Canvas(width=float(ceil(before + end + MARGIN_MM)), ink_only=True, pen=PEN, decimals=2)
    origin = canvas.width - before if asked.left_handed else before
    axis = Axis(origin, 1.0, -1 if asked.left_handed else 1, upright=False)

    top = _scale_bar(canvas, asked) + 2 * LINE
    plot = None
    if asked.response is not None:
        plot = Plot(asked.response, axis, top + CURVE_MM, -1, CURVE_MM)
        response.draw_curve(canvas, plot)
        response.draw_levels(canvas, plot, asked.level_words(), SIZE)
        top = plot.base + 1.2 * LINE
    _names(canvas, asked, axis, asked.labels.side, top)
    base = top + 1.2 * LINE + asked.deepest_mm
    side = View(axis, base, -1)
    below = base - asked.lowest_mm
    face = View(axis, below + 5.5 * LINE + asked.widest_mm / 2, 1)
    views.draw_side(canvas, side, asked.build)
    views.draw_face(canvas, face, asked.build)
    if asked.compare is not None:
        views.draw_outlines(canvas, side, face, asked.compare)
    if plot is not None:
        half = asked.build.blade.width_mm / 2
        response.draw_sweet_spot(canvas, plot, side, face, back=asked.deepest_mm, half_mm=half)
    _marks(canvas, asked, side, face, [one.place_mm for one in cut if not one.of_handle])
    _lengths(canvas, asked, side, below)
    _names(canvas, asked, axis, asked.labels.face, below + 4.4 * LINE)
    _balance(canvas, asked, side, below)

    foot = face.base + asked.widest_mm / 2 + 2.5 * LINE
    _names(canvas, asked, axis, asked.labels.sections, foot)
    canvas.height = float(ceil(_sections(canvas, asked, axis, in_rows(cut), foot) + MARGIN_MM))
    return canvas


def in_rows(cut: list[Cut]) -> list[list[Cut]]:
    """Share sections out over rows so that each stays clear of its neighbours; they come in their order."""
    rows: list[list[Cut]] = []
    for one in cut:
        row = next((row for row in rows if one.start >= row[-1].end + CLEAR_MM), None)
        if row is None:
            rows.append([one])
        else:
            row.append(one)
    return rows


def cuts_of(asked: Request) -> list[Cut]:
    """Return the sections to draw, toe to handle: at every station, at the swell, where girth is given."""
    blade = asked.build.blade
    places = sorted({*(station.from_toe_mm for station in blade.stations), asked.swell().at_mm})
    bats = [asked.build] if asked.compare is None else [asked.build, asked.compare]
    found = []
    for place in places:
        shapes = [cuts.blade_cut(bat, place) for bat in bats if place <= bat.blade.length_mm]
        rows = (asked.show_mm(place), _depths(asked, place))
        wide, deep = (max(float(shape[:, axis].max()) for shape in shapes) for axis in (0, 1))
        found.append(Cut(place, max(2 * wide, *(words_length(row, SIZE) for row in rows)), deep, rows, False))
    wall = asked.build.grips.count * asked.build.grips.wall_mm
    for place, girth in cuts.handle_cut_places(asked.build):
        width, depth, _ = sections.handle_ellipse(asked.build.handle, blade, np.array([place]))
        rows = (asked.show_mm(girth), asked.labels.girth)
        room = max(float(width[0]) + 2 * wall, *(words_length(row, SIZE) for row in rows))
        found.append(Cut(place, room, float(depth[0]) + wall, rows, True))
    return found


def _depths(asked: Request, place: float) -> str:
    x, blade = np.array([place]), asked.build.blade
    return asked.depth_words(float(outline.spine(blade, x)[0]), float(outline.edge(blade, x)[0]))


def _scale_bar(canvas: Canvas, asked: Request) -> float:
    """Draw the bar that a ruler is laid on, in ten parts, and say what it is for; return its foot."""
    start, top = MARGIN_MM, MARGIN_MM
    foot = top + BAR_HIGH_MM
    corners = [(start, top), (start + BAR_MM, top), (start + BAR_MM, foot), (start, foot)]
    canvas.path(np.array(corners), "mark", closed=True, stroke=0)
    level = foot + 1.2 * LINE
    canvas.text((start, level), asked.labels.bar, size=SIZE, face="number")
    canvas.text((start + BAR_MM + 4, foot), asked.labels.true_size, size=SIZE)
    told = [asked.mass_words(), asked.sweet_words(), asked.swell_words(), asked.labels.units]
    if asked.compare is not None:
        told.append(asked.labels.compared)
    place = start + BAR_MM + 4
    for words in filter(None, told):
        if place + words_length(words, SIZE) > canvas.width - MARGIN_MM:
            place, level = start + BAR_MM + 4, level + LINE
        place = canvas.text((place, level), words, size=SIZE).right + 6
    return level


def _anchor(asked: Request) -> Anchor:
    """Return the anchor of words that begin towards the toe."""
    return "end" if asked.left_handed else "start"


def _names(canvas: Canvas, asked: Request, axis: Axis, words: str, level: float) -> None:
    anchor = _anchor(asked)
    canvas.text((axis.along(0), level), words, size=SIZE * 1.1, anchor=anchor, face="view")


def _marks(canvas: Canvas, asked: Request, side: View, face: View, places: list[float]) -> None:
    """Lead every station through both views, the swell by its own line, and say over the side where it is."""
    x, blade = np.array(places), asked.build.blade
    front, half = outline.bow(blade, x), outline.local_width(blade, x) / 2
    back = front + outline.spine(blade, x) - outline.scoop_depth(blade, x)
    swell = asked.swell().at_mm
    for place, low, high, reach in zip(places, front, back, half, strict=True):
        look = ("swell-line", "9 3 2 3") if place == swell else ("leader", "3 3")
        canvas.line(side.spot(place, float(low)), side.spot(place, float(high)), look[0], dashes=look[1])
        canvas.line(face.spot(place, -float(reach)), face.spot(place, float(reach)), look[0], dashes=look[1])
    below = face.base + asked.widest_mm / 2 + 1.1 * LINE
    canvas.text((face.axis.along(swell), below), asked.labels.swell, size=SIZE, anchor="middle")


def _lengths(canvas: Canvas, asked: Request, side: View, below: float) -> None:
    labels, show, axis = asked.labels, asked.show_mm, side.axis
    blade = asked.build.blade.length_mm
    toe, shoulder, top = (axis.along(x) for x in (0.0, blade, asked.overall_mm))
    level = below + 1.9 * LINE
    for a, b, words in (
        ((toe, level), (shoulder, level), labels.blade.format(length=show(blade))),
        ((shoulder, level), (top, level), labels.handle.format(length=show(asked.overall_mm - blade))),
        ((toe, level + LINE), (top, level + LINE), labels.overall.format(length=show(asked.overall_mm))),
    ):
        marks.dimension(canvas, a, b, words, size=SIZE)
    for x in (toe, shoulder, top):
        canvas.line((x, side.base + 1), (x, level + LINE), "leader")
    width = labels.width.format(width=show(asked.build.blade.width_mm))
    end: Anchor = "start" if asked.left_handed else "end"
    canvas.text((top, level + 2.5 * LINE), width, size=SIZE, anchor=end, face="number")


def _balance(canvas: Canvas, asked: Request, side: View, below: float) -> None:
    """Mark where the bat balances, and how far it is bowed."""
    blade, axis = asked.build.blade, side.axis
    anchor = _anchor(asked)
    level = below + 0.9 * LINE
    free = axis.along(0)
    if asked.bow_words():
        box = canvas.text((free, level), asked.bow_words(), size=SIZE, anchor=anchor)
        free = box.left if asked.left_handed else box.right
    if asked.weighing is None:
        return
    balance = asked.weighing.balance_from_toe_mm
    lift = float(outline.bow(blade, np.array([balance]))[0])
    marks.knife_edge(canvas, side.spot(balance, lift), (0.0, 1.0), size=SIZE)
    start = max(axis.direction * axis.along(balance), axis.direction * free) * axis.direction
    spot = (start + axis.direction * SIZE, level)
    canvas.text(spot, asked.balance_words(), size=SIZE, anchor=anchor)


def _sections(canvas: Canvas, asked: Request, axis: Axis, rows: list[list[Cut]], top: float) -> float:
    """Draw the sections beneath their places; return the lowest level."""
    level = top
    for row in rows:
        level += LINE + max(one.high_mm for one in row)
        for one in row:
            spot = (axis.along(one.place_mm), level)
            if one.of_handle:
                cuts.draw_handle_cut(canvas, spot, 1.0, asked.build, one.place_mm)
            else:
                cuts.draw_blade_cut(canvas, spot, 1.0, asked.build, one.place_mm, asked.compare)
            for step, (words, face) in enumerate(zip(one.words, ("number", "word"), strict=True)):
                at = (spot[0], level + (step + 1.5) * LINE)
                canvas.text(at, words, size=SIZE, anchor="middle", face=face)
        level += 2.7 * LINE
    return level
