"""The drawing for a desk and for paper: the axis runs across the page, the views lie below each other."""

from dataclasses import dataclass

import numpy as np

from fitting.bat import outline
from fitting.drawing import cuts, lines, marks, response, views
from fitting.drawing.canvas import Anchor, Canvas, broken, words_length
from fitting.drawing.request import Request
from fitting.drawing.response import Plot
from fitting.drawing.views import Axis, View


@dataclass(frozen=True)
class Measure:
    """Sizes of one arrangement, in units of the drawing."""

    width: float
    margin: float
    type_size: float
    curve: float


DESK = Measure(width=900, margin=26, type_size=16, curve=118)
# Read at arm's length, on a tablet.
BENCH = Measure(width=680, margin=24, type_size=17.5, curve=104)
PAPER = Measure(width=700, margin=24, type_size=17, curve=56)


def draw_across(asked: Request, measure: Measure, *, ink_only: bool) -> Canvas:
    """Draw the whole sheet: response curve, stations, side, dimensions, face, sections."""
    canvas = Canvas(width=measure.width, ink_only=ink_only)
    scale = (measure.width - 2 * measure.margin) / asked.longest_mm
    left, right = measure.margin, measure.width - measure.margin
    axis = Axis(right if asked.left_handed else left, scale, -1 if asked.left_handed else 1, upright=False)
    size = measure.type_size
    line = size * 1.28

    heading = broken(asked.sweet_words() or asked.swell_words(), right - left, size)
    table_top = size * 1.1 + (len(heading) - 1) * line
    plot = None
    if asked.response is not None:
        plot = Plot(asked.response, axis, table_top + 1.35 * line + measure.curve, -1, measure.curve)
        table_top = plot.base - 0.2 * line
    table_foot = table_top + 3.7 * line
    base = table_foot + 12 + asked.deepest_mm * scale
    side = View(axis, base, -1)
    below = base - asked.lowest_mm * scale
    dims = below + 2.9 * line
    middle = dims + 3.3 * line + asked.widest_mm * scale / 2
    face = View(axis, middle, 1)
    places = asked.places(lambda words: words_length(words, size, "number"), scale)

    _heading(canvas, asked, side, heading, size, line)
    if plot is not None:
        response.draw_curve(canvas, plot)
        response.draw_levels(canvas, plot, asked.level_words(), size * 0.93)
    _stations(canvas, asked, side, places, table_top, size)
    views.draw_side(canvas, side, asked.build)
    views.draw_face(canvas, face, asked.build)
    if plot is None:
        _swell_band(canvas, asked, side, face, table_top + 0.42 * line)
    else:
        half = asked.build.blade.width_mm / 2
        response.draw_sweet_spot(canvas, plot, side, face, back=asked.deepest_mm, half_mm=half)
    _swell(canvas, asked, side, face, size)
    _section_marks(canvas, asked, side, face, places, table_foot)
    if asked.compare is not None:
        views.draw_outlines(canvas, side, face, asked.compare)
    if asked.part is not None:
        views.draw_part(canvas, side, face, asked.build, asked.part)
    _lengths(canvas, asked, side, dims, size, line)
    _width(canvas, asked, face, size)
    _view_names(canvas, asked, side, face, size)
    left_over = [_under_the_bat(canvas, asked, side, below, size, line)]
    if plot is not None:
        left_over.insert(0, asked.swell_words())
    foot = _sections(canvas, asked, face, places, size, line)
    canvas.height = _notes(canvas, asked, measure, foot + 2.3 * line, size, left_over) + size * 0.6
    return canvas


def _swell_band(canvas: Canvas, asked: Request, side: View, face: View, top: float) -> None:
    """Lay the swell's reach through both views, where the sweet spot itself was not computed."""
    swell = asked.swell()
    low, high = side.axis.along(swell.lower_mm), side.axis.along(swell.upper_mm)
    foot = _foot(asked, face)
    canvas.path(
        np.array([(low, top), (high, top), (high, foot), (low, foot)]), "swell", closed=True, opacity=0.16
    )


def _swell(canvas: Canvas, asked: Request, side: View, face: View, size: float) -> None:
    """Mark the thickest point on both views; beside a sweet spot's band it needs its word."""
    swell = asked.swell()
    at, foot = side.axis.along(swell.at_mm), _foot(asked, face)
    back = side.spot(swell.at_mm, asked.deepest_mm)[1] - 8
    half = asked.build.blade.width_mm / 2
    canvas.line((at, back), (at, side.base + 6), "swell-line", stroke=1.4, dashes="9 3 2 3")
    canvas.line((at, face.spot(0, -half)[1] - 8), (at, foot), "swell-line", stroke=1.4, dashes="9 3 2 3")
    if asked.response is not None:
        canvas.text((at, foot + size * 0.85), asked.labels.swell, size=size * 0.9, anchor="middle")


def _foot(asked: Request, face: View) -> float:
    return face.spot(0, asked.build.blade.width_mm / 2)[1] + 8


def _heading(canvas: Canvas, asked: Request, side: View, rows: list[str], size: float, line: float) -> None:
    """Write where the sweet spot or the swell lies, over it as far as the sheet's edge lets."""
    room = canvas.width - 8 - max(words_length(row, size) for row in rows)
    sweet = asked.response.sweet_spot if asked.response else None
    over = side.axis.along(sweet.peak_from_toe_mm if sweet else asked.swell().at_mm)
    from_edge = canvas.width - over if asked.left_handed else over
    start = max(8.0, min(from_edge - size * 1.5, room))
    anchor: Anchor = "end" if asked.left_handed else "start"
    for number, row in enumerate(rows):
        spot = (canvas.width - start if asked.left_handed else start, size * 1.1 + number * line)
        colour = "text" if asked.response is None else "sweet-word"
        canvas.text(spot, row, size=size, anchor=anchor, colour=colour)


def _stations(
    canvas: Canvas, asked: Request, side: View, places: list[float], top: float, size: float
) -> None:
    """Write distance, spine and edge over each section, and which row is which beside them."""
    blade = asked.build.blade
    rows = [top + 1.28 * size * (n + 1.35) for n in range(3)]
    x = np.array(places)
    depths = zip(places, outline.spine(blade, x), outline.edge(blade, x), strict=True)
    for place, spine, edge in depths:
        at = side.axis.along(place)
        canvas.text(
            (at, rows[0]), asked.show_mm(place), size=size, anchor="middle", face="number", colour="quiet"
        )
        canvas.text((at, rows[1]), asked.show_mm(float(spine)), size=size, anchor="middle", face="number")
        canvas.text((at, rows[2]), asked.show_mm(float(edge)), size=size, anchor="middle", face="number")
    anchor: Anchor = "end" if asked.left_handed else "start"
    start = side.axis.along(places[-1]) + side.axis.direction * size * 3.2
    words = (asked.labels.from_toe, asked.labels.spine, asked.labels.edge)
    for row, word in zip(rows, words, strict=True):
        canvas.text((start, row), word, size=size, anchor=anchor, colour="quiet")


def _section_marks(
    canvas: Canvas, asked: Request, side: View, face: View, places: list[float], top: float
) -> None:
    """Draw where the bat is cut: thin broken lines from the numbers through both views."""
    swell = asked.swell().at_mm
    x = np.array(places)
    front = outline.bow(asked.build.blade, x)
    half = outline.local_width(asked.build.blade, x) / 2
    for place, low, reach in zip(places, front, half, strict=True):
        if place == swell:
            continue
        canvas.line((side.axis.along(place), top), side.spot(place, float(low)), "leader", dashes="3 3")
        canvas.line(face.spot(place, -float(reach)), face.spot(place, float(reach)), "leader", dashes="3 3")


def _lengths(canvas: Canvas, asked: Request, side: View, level: float, size: float, line: float) -> None:
    labels, show = asked.labels, asked.show_mm
    blade, handle = asked.build.blade.length_mm, asked.build.handle.length_mm
    toe, shoulder, top = (side.axis.along(x) for x in (0.0, blade, blade + handle))
    words = labels.blade.format(length=show(blade))
    marks.dimension(canvas, (toe, level), (shoulder, level), words, size=size)
    words = labels.handle.format(length=show(handle))
    marks.dimension(canvas, (shoulder, level), (top, level), words, size=size)
    words = labels.overall.format(length=show(asked.overall_mm))
    marks.dimension(canvas, (toe, level + 1.5 * line), (top, level + 1.5 * line), words, size=size)
    for x, foot in ((toe, level + 1.5 * line), (shoulder, level), (top, level + 1.5 * line)):
        canvas.line((x, side.base + 6), (x, foot), "leader", stroke=0.6)


def _width(canvas: Canvas, asked: Request, face: View, size: float) -> None:
    """Dimension the greatest width beside the shoulder, where only the handle is in the way."""
    blade = asked.build.blade
    half = blade.width_mm / 2
    at = blade.length_mm + 22 / face.axis.scale
    start = blade.length_mm - blade.shoulder.length_mm
    for z in (-half, half):
        canvas.line(face.spot(start, z), face.spot(at + 8, z), "leader", stroke=0.6)
    (x, top), (_, foot) = face.spot(at, -half), face.spot(at, half)
    grip = float(lines.handle_strip(asked.build, seen="face", grip=True)[:, 1].max()) + 3
    canvas.line((x, top), (x, face.spot(at, -grip)[1]), "dimension")
    canvas.line((x, face.spot(at, grip)[1]), (x, foot), "dimension")
    marks.arrowhead(canvas, (x, top), (0.0, -1.0))
    marks.arrowhead(canvas, (x, foot), (0.0, 1.0))
    words = asked.labels.width.format(width=asked.show_mm(blade.width_mm))
    anchor: Anchor = "end" if asked.left_handed else "start"
    canvas.text(
        (x + face.axis.direction * 9, foot - size * 0.2), words, size=size, anchor=anchor, face="number"
    )


def _view_names(canvas: Canvas, asked: Request, side: View, face: View, size: float) -> None:
    end = side.axis.along(asked.overall_mm)
    anchor: Anchor = "start" if asked.left_handed else "end"
    grip = float(lines.handle_strip(asked.build, seen="side", grip=True)[:, 1].max())
    canvas.text((end, side.spot(0, grip)[1] - 12), asked.labels.side, size=size, anchor=anchor, face="view")
    grip = float(lines.handle_strip(asked.build, seen="face", grip=True)[:, 1].max())
    canvas.text((end, face.spot(0, -grip)[1] - 12), asked.labels.face, size=size, anchor=anchor, face="view")


def _under_the_bat(canvas: Canvas, asked: Request, side: View, below: float, size: float, line: float) -> str:
    """Mark the balance and the bow beneath the face, clear of each other; return what found no room."""
    rows = [below + 1.15 * line, below + 2.1 * line]
    if asked.weighing is not None:
        balance = asked.weighing.balance_from_toe_mm
        lift = float(outline.bow(asked.build.blade, np.array([balance]))[0])
        tip = side.spot(balance, lift)
        marks.knife_edge(canvas, tip, (0.0, 1.0), size=size)
        words = asked.balance_words()
        # Towards the handle, unless the words would run over the shoulder's line.
        away = side.axis.direction
        reach = tip[0] + away * (size + words_length(words, size))
        if away * (side.axis.along(asked.build.blade.length_mm) - reach) < 0:
            away = -away
        anchor: Anchor = "start" if away > 0 else "end"
        canvas.text((tip[0] + away * size * 0.9, rows[0]), words, size=size, anchor=anchor)
    words = asked.bow_words()
    if words:
        at = side.axis.along(asked.build.blade.bow_peak_from_toe_mm)
        shifts = (0, -20, 20, -50, 50, -90, 90, -130, 130)
        spots = [(at + shift, row) for row in rows for shift in shifts]
        if not canvas.text_where_free(spots, words, size=size, anchor="middle"):
            return words
    return ""


def _sections(
    canvas: Canvas, asked: Request, face: View, places: list[float], size: float, line: float
) -> float:
    """Draw the sections beneath their places; return the level of the last caption."""
    build, scale = asked.build, face.axis.scale
    deepest = max(float(cuts.blade_cut(build, place)[:, 1].max()) for place in places)
    if asked.compare is not None:
        deepest = max(deepest, *(float(cuts.blade_cut(asked.compare, place)[:, 1].max()) for place in places))
    widths = [float(lines.handle_strip(build, seen="face", grip=True)[:, 1].max()), asked.widest_mm / 2]
    level = face.base + max(widths) * scale + 1.6 * line + deepest * scale
    for place in places:
        at = face.axis.along(place)
        cuts.draw_blade_cut(canvas, (at, level), scale, build, place, asked.compare)
        canvas.text(
            (at, level + 1.15 * line), asked.show_mm(place), size=size, anchor="middle", face="number"
        )
    foot = level + 2.15 * line
    for place, girth in cuts.handle_cut_places(build):
        at = face.axis.along(place)
        cuts.draw_handle_cut(canvas, (at, level), scale, build, place)
        small = size * 0.9
        room = words_length(asked.show_mm(girth), small, "number") / 2 + 2
        middle = min(max(at, room), canvas.width - room)
        canvas.text((middle, foot), asked.show_mm(girth), size=small, anchor="middle", face="number")
    end = face.axis.along(asked.overall_mm) + face.axis.direction * 18
    anchor: Anchor = "start" if asked.left_handed else "end"
    spot = (end, level + 1.15 * line)
    canvas.text(spot, asked.labels.girth, size=size, anchor=anchor, colour="quiet")
    canvas.text((end, level - 44 * scale), asked.labels.sections, size=size, anchor=anchor, face="view")
    return level + 1.15 * line


def _notes(
    canvas: Canvas, asked: Request, measure: Measure, level: float, size: float, left_over: list[str]
) -> float:
    """Write unit, leftovers, the broken line's meaning and the work in hand at the foot; return its level."""
    small = size * 0.93
    notes = [("", "", asked.labels.units, "quiet")]
    notes += [("", "", words, "text") for words in left_over if words]
    if asked.compare is not None:
        notes.append(("other", "6 3", asked.labels.compared, "text"))
    if asked.part is not None:
        notes.append(("at-work", "", asked.labels.at_work[asked.part], "at-work-word"))
    start = measure.margin
    end = canvas.width - measure.margin
    for kind, dashes, words, colour in notes:
        sample = 42.0 if kind else 0.0
        if start > measure.margin and start + sample + words_length(words, small) > end:
            start, level = measure.margin, level + 1.4 * small
        if kind:
            canvas.line((start, level - 5), (start + 34, level - 5), kind, stroke=1.6, dashes=dashes)
        box = canvas.text((start + sample, level), words, size=small, colour=colour)
        start = box.right + 26
    return level
