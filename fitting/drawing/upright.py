"""The drawing for a phone: the bat stands on its toe, the views beside each other, the sections below."""

from dataclasses import dataclass

import numpy as np

from fitting.bat import outline
from fitting.drawing import cuts, lines, marks, response, views
from fitting.drawing.canvas import NUMBER_WIDTH, Anchor, Canvas, Spot, broken
from fitting.drawing.request import Request
from fitting.drawing.response import Plot
from fitting.drawing.views import Axis, View

WIDTH = 340.0
BAT_LONG = 580.0
SIZE = 13.5
LINE = 17.5
# Columns of the sheet, left to right; a left-hander's sheet is mirrored.
STATIONS, SIDE_ROOM, PLACES, FACE_ROOM = 2.0, 68.0, 4.0, 72.0
# What the columns leave for the depth of the side and the width of the face together.
VIEWS_ROOM = 140.0
# The response curve takes the room of the stations' numbers, which then stand at the sections.
CURVE_FOOT, CURVE_HIGH, WORDS_FROM_TOP = 60.0, 54.0, 58.0


@dataclass(frozen=True)
class Columns:
    """Which way the columns run."""

    mirrored: bool

    def at(self, x: float) -> float:
        """Return a place across the sheet, counted from the side where the numbers stand."""
        return WIDTH - x if self.mirrored else x

    def anchor(self, anchor: Anchor) -> Anchor:
        """Return the anchor that keeps a label on its side of the place."""
        if not self.mirrored or anchor == "middle":
            return anchor
        return "end" if anchor == "start" else "start"


def draw_upright(asked: Request) -> Canvas:
    """Draw side and face upright with lengths beside them, notes and sections beneath."""
    canvas = Canvas(width=WIDTH)
    columns = Columns(asked.left_handed)
    scale = min(BAT_LONG / asked.longest_mm, VIEWS_ROOM / (asked.deepest_mm + asked.widest_mm))
    toe = 34.0 + asked.longest_mm * scale
    axis = Axis(toe, scale, -1, upright=True)
    outward = -1 if not asked.left_handed else 1
    base = STATIONS + SIDE_ROOM + asked.deepest_mm * scale
    middle = base + PLACES + FACE_ROOM + asked.widest_mm * scale / 2
    side = View(axis, columns.at(base), outward)
    face = View(axis, columns.at(middle), -outward)
    places = lines.section_places(asked.build)

    plot = None
    if asked.response is not None:
        plot = Plot(asked.response, axis, columns.at(CURVE_FOOT), outward, CURVE_HIGH)
        _curve(canvas, asked, columns, plot)
    views.draw_side(canvas, side, asked.build)
    views.draw_face(canvas, face, asked.build)
    if plot is None:
        _swell_band(canvas, asked, side, face)
        _depths(canvas, asked, columns, side, places)
    else:
        _sweet_spot(canvas, asked, plot, side, face)
    _swell(canvas, asked, side, face)
    _stations(canvas, asked, side, face, places)
    if asked.compare is not None:
        views.draw_outlines(canvas, side, face, asked.compare)
    if asked.part is not None:
        views.draw_part(canvas, side, face, asked.build, asked.part)
    _view_names(canvas, asked, columns, side, face)
    _lengths(canvas, asked, columns, axis, middle + asked.widest_mm * scale / 2)
    _width(canvas, asked, face)
    told = _balance(canvas, asked, columns, side)
    foot = _notes(canvas, asked, toe + 3.1 * LINE, "" if told else asked.balance_words())
    canvas.height = _sections(canvas, asked, places, foot + 1.6 * LINE) + 8
    return canvas


def _curve(canvas: Canvas, asked: Request, columns: Columns, plot: Plot) -> None:
    """Draw the response curve beside the blade; its lines run up to their words beside the handle."""
    response.draw_curve(canvas, plot)
    curve, small = plot.response, SIZE - 1
    level = WORDS_FROM_TOP
    for (share, begin), words in zip(plot.levels(), asked.level_words(), strict=True):
        across = plot.level(share)
        # The foot's words end at its line, the others begin at theirs.
        anchor = columns.anchor("end" if share == curve.floor else "start")
        for row in broken(words, CURVE_FOOT, small):
            canvas.text((across, level), row, size=small, anchor=anchor, colour="quiet")
            level += LINE - 2
        dashes = "" if share == curve.floor else "2 3"
        canvas.line((across, plot.axis.along(begin)), (across, level - 10), "leader", dashes=dashes)
        level += 4


def _sweet_spot(canvas: Canvas, asked: Request, plot: Plot, side: View, face: View) -> None:
    """Lay the sweet spot's band through everything, lead the peak through both views, draw its zone."""
    sweet, half = plot.response.sweet_spot, asked.build.blade.width_mm / 2
    response.draw_band(canvas, plot, face.spot(0, half)[0], stop=2)
    response.draw_zone(canvas, face, sweet)
    peak, past = sweet.peak_from_toe_mm, -6 / side.axis.scale
    canvas.line(plot.spot(peak, plot.response.floor), side.spot(peak, past), "sweet-line", stroke=1.4)
    canvas.line(face.spot(peak, -half + past), face.spot(peak, half), "sweet-line", stroke=1.4)


def _swell_band(canvas: Canvas, asked: Request, side: View, face: View) -> None:
    """Lay the swell's reach through both views, where the sweet spot itself was not computed."""
    swell = asked.swell()
    half = asked.build.blade.width_mm / 2
    (left, low), (right, high) = (
        side.spot(swell.lower_mm, asked.deepest_mm + 2),
        face.spot(swell.upper_mm, half),
    )
    canvas.path(
        np.array([(left, low), (right, low), (right, high), (left, high)]), "swell", closed=True, opacity=0.16
    )


def _swell(canvas: Canvas, asked: Request, side: View, face: View) -> None:
    """Mark the thickest point on both views."""
    at, half = asked.swell().at_mm, asked.build.blade.width_mm / 2
    side_line = side.spot(at, asked.deepest_mm + 2), side.spot(at, -6 / side.axis.scale)
    face_line = face.spot(at, -half), face.spot(at, half)
    for start, end in (side_line, face_line):
        canvas.line(start, end, "swell-line", stroke=1.4, dashes="9 3 2 3")


def _depths(canvas: Canvas, asked: Request, columns: Columns, side: View, places: list[float]) -> None:
    """Write spine over edge beside each cut, where no curve stands there."""
    blade = asked.build.blade
    x = np.array(places)
    back = outline.spine(blade, x) + outline.bow(blade, x) - outline.scoop_depth(blade, x)
    number = columns.at(STATIONS + SIDE_ROOM - 10)
    rows = zip(places, outline.spine(blade, x), outline.edge(blade, x), back, strict=True)
    for place, spine, edge, top in rows:
        at = side.axis.along(place)
        for level, depth in ((at - 4, float(spine)), (at + SIZE, float(edge))):
            canvas.text(
                (number, level), asked.show_mm(depth), size=SIZE, anchor=columns.anchor("end"), face="number"
            )
        if place != asked.swell().at_mm:
            start = (columns.at(STATIONS + SIDE_ROOM - 6), at)
            canvas.line(start, side.spot(place, float(top)), "leader", dashes="3 3")
    head = side.axis.along(blade.length_mm) - LINE
    words_at = columns.at(STATIONS)
    anchor = columns.anchor("start")
    canvas.text((words_at, head - 4), asked.labels.spine, size=SIZE - 1, anchor=anchor, colour="quiet")
    canvas.text((words_at, head + SIZE), asked.labels.edge, size=SIZE - 1, anchor=anchor, colour="quiet")


def _stations(canvas: Canvas, asked: Request, side: View, face: View, places: list[float]) -> None:
    """Write each cut's distance from the toe between the views and lead it through both."""
    blade = asked.build.blade
    x = np.array(places)
    back = outline.spine(blade, x) + outline.bow(blade, x) - outline.scoop_depth(blade, x)
    half = outline.local_width(blade, x) / 2
    between = (side.base + face.spot(0, -blade.width_mm / 2)[0]) / 2
    swell = asked.swell().at_mm
    for place, top, reach in zip(places, back, half, strict=True):
        at = side.axis.along(place)
        words = asked.show_mm(place)
        canvas.text(
            (between, at + SIZE * 0.35), words, size=SIZE, anchor="middle", face="number", colour="quiet"
        )
        if place == swell:
            canvas.text(
                (between, at + SIZE * 0.35 + LINE), asked.labels.swell, size=SIZE - 1, anchor="middle"
            )
            continue
        canvas.line(side.spot(place, float(top)), side.spot(place, 0), "leader", dashes="3 3")
        canvas.line(face.spot(place, -float(reach)), face.spot(place, float(reach)), "leader", dashes="3 3")
    head = side.axis.along(blade.length_mm) - LINE
    for step, words in enumerate(broken(asked.labels.from_toe, FACE_ROOM, SIZE - 1)):
        canvas.text((between, head - 4 + step * LINE), words, size=SIZE - 1, anchor="middle", colour="quiet")


def _view_names(canvas: Canvas, asked: Request, columns: Columns, side: View, face: View) -> None:
    axis_mm = float(lines.handle_strip(asked.build, seen="side", grip=False)[:, 1].mean())
    for words, spot in (
        (asked.labels.side, side.spot(asked.overall_mm, axis_mm)),
        (asked.labels.face, face.spot(asked.overall_mm, 0)),
    ):
        canvas.text((spot[0], 18), words, size=SIZE + 1, anchor="middle", face="view")


def _lengths(canvas: Canvas, asked: Request, columns: Columns, axis: Axis, edge: float) -> None:
    labels, show = asked.labels, asked.show_mm
    blade, overall = asked.build.blade.length_mm, asked.overall_mm
    near, far = columns.at(edge + 20), columns.at(WIDTH - 14)
    toe, shoulder, top = (axis.along(x) for x in (0.0, blade, overall))
    words = labels.blade.format(length=show(blade))
    marks.dimension(canvas, (near, toe), (near, shoulder), words, size=SIZE)
    words = labels.handle.format(length=show(overall - blade))
    marks.dimension(canvas, (near, shoulder), (near, top), words, size=SIZE)
    words = labels.overall.format(length=show(overall))
    marks.dimension(canvas, (far, toe), (far, top), words, size=SIZE)
    for level in (toe, top):
        canvas.line((columns.at(edge + 6), level), (far, level), "leader", stroke=0.6)
    canvas.line((columns.at(edge + 6), shoulder), (near, shoulder), "leader", stroke=0.6)


def _width(canvas: Canvas, asked: Request, face: View) -> None:
    """Dimension the width beneath the toe, its words on the side where the sheet has room."""
    half = asked.build.blade.width_mm / 2
    level = face.axis.along(0) + 16
    ends = sorted((face.spot(0, -half)[0], face.spot(0, half)[0]))
    for x in ends:
        canvas.line((x, level - 11), (x, level + 5), "leader", stroke=0.6)
    canvas.line((ends[0], level), (ends[1], level), "dimension")
    marks.arrowhead(canvas, (ends[0], level), (-1.0, 0.0))
    marks.arrowhead(canvas, (ends[1], level), (1.0, 0.0))
    words = asked.labels.width.format(width=asked.show_mm(asked.build.blade.width_mm))
    room = NUMBER_WIDTH * SIZE * len(words) / 2 + 4
    middle = min(max((ends[0] + ends[1]) / 2, room), WIDTH - room)
    canvas.text((middle, level + LINE), words, size=SIZE, anchor="middle", face="number")


def _balance(canvas: Canvas, asked: Request, columns: Columns, side: View) -> bool:
    """Mark the balance; return whether there was room to say it there."""
    if asked.weighing is None:
        return True
    balance = asked.weighing.balance_from_toe_mm
    lift = float(outline.bow(asked.build.blade, np.array([balance]))[0])
    tip = side.spot(balance, lift)
    away = 1.0 if tip[0] < WIDTH / 2 and not columns.mirrored else -1.0
    marks.knife_edge(canvas, tip, (away, 0.0), size=12)
    words = broken(asked.balance_words(), FACE_ROOM - 10, SIZE - 1)
    start = tip[0] + away * 15
    anchor: Anchor = "start" if away > 0 else "end"
    shifts = (0, -8, 8, -16, 16, -24, 24, -34, 34, -44, 44)
    shift = next((s for s in shifts if _all_free(canvas, words, (start, tip[1] + s), anchor)), None)
    if shift is None:
        return False
    for step, line in enumerate(words):
        spot = (start, tip[1] + shift + SIZE * 0.3 + (step - (len(words) - 1) / 2) * (LINE - 2))
        canvas.text(spot, line, size=SIZE - 1, anchor=anchor)
    return True


def _all_free(canvas: Canvas, words: list[str], at: Spot, anchor: Anchor) -> bool:
    levels = [at[1] + SIZE * 0.3 + (step - (len(words) - 1) / 2) * (LINE - 2) for step in range(len(words))]
    return all(
        canvas.is_free((at[0], level), line, SIZE - 1, anchor)
        for level, line in zip(levels, words, strict=True)
    )


def _notes(canvas: Canvas, asked: Request, level: float, balance: str) -> float:
    """Write the sentences beneath the bat; return the last line's level."""
    notes = [(words, "sweet-word") for words in broken(asked.sweet_words(), WIDTH - 8, SIZE)]
    for sentence in (asked.swell_words(), balance, asked.bow_words()):
        notes += [(words, "text") for words in broken(sentence, WIDTH - 8, SIZE)]
    notes.append((asked.labels.units, "quiet"))
    for words, colour in notes:
        canvas.text((4, level), words, size=SIZE, colour=colour)
        level += LINE
    if asked.compare is not None:
        canvas.line((4, level - 5), (38, level - 5), "other", stroke=1.1, dashes="6 3")
        canvas.text((46, level), asked.labels.compared, size=SIZE)
        level += LINE
    if asked.part is not None:
        canvas.line((4, level - 5), (30, level - 5), "at-work", stroke=2.2)
        canvas.text((38, level), asked.labels.at_work[asked.part], size=SIZE, colour="at-work-word")
        level += LINE
    return level - LINE


def _sections(canvas: Canvas, asked: Request, places: list[float], top: float) -> float:
    """Draw the sections two a row, and the handle's three; return the lowest level."""
    labels, show, build = asked.labels, asked.show_mm, asked.build
    scale = 142.0 / asked.widest_mm
    canvas.text((4, top), labels.sections, size=SIZE + 1, face="view")
    level = top
    for first in range(0, len(places), 2):
        pair = places[first : first + 2]
        bats = [build] if asked.compare is None else [build, asked.compare]
        deepest = max(float(cuts.blade_cut(bat, place)[:, 1].max()) for place in pair for bat in bats)
        level += deepest * scale + LINE
        for column, place in enumerate(pair):
            centre = (WIDTH * (0.25 + 0.5 * column), level)
            cuts.draw_blade_cut(canvas, centre, scale, build, place, asked.compare)
            canvas.text((centre[0], level + LINE), show(place), size=SIZE, anchor="middle", face="number")
            for step, words in enumerate(_depth_rows(asked, place)):
                below = (centre[0], level + (step + 2) * LINE)
                canvas.text(below, words, size=SIZE, anchor="middle")
        level += (1.6 + max(len(_depth_rows(asked, place)) for place in pair)) * LINE
    deepest = max(float(depth) for depth in _handle_depths(asked))
    level += deepest * scale + 2
    for column, (place, girth) in enumerate(cuts.handle_cut_places(build)):
        centre = (WIDTH * (1 + 2 * column) / 6, level)
        cuts.draw_handle_cut(canvas, centre, scale, build, place)
        canvas.text((centre[0], level + LINE), show(girth), size=SIZE, anchor="middle", face="number")
    level += 2 * LINE
    canvas.text((WIDTH / 2, level), labels.girth, size=SIZE - 1, anchor="middle", colour="quiet")
    return level


def _depth_rows(asked: Request, place: float) -> list[str]:
    """Return both depths of a section as the lines beneath it, where they do not stand beside the bat."""
    if asked.response is None:
        return []
    x, blade = np.array([place]), asked.build.blade
    words = asked.depth_words(float(outline.spine(blade, x)[0]), float(outline.edge(blade, x)[0]))
    return broken(words, WIDTH / 2 - 10, SIZE)


def _handle_depths(asked: Request) -> list[float]:
    return [girth / np.pi * asked.build.handle.oval_ratio for _, girth in cuts.handle_cut_places(asked.build)]
