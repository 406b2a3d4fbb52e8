"""A cleft drawn upright with the bat's outline laid into it: face and side, blemishes, grain, sizes."""

from dataclasses import dataclass

import numpy as np
from django.utils.translation import gettext

from fitting.bat import outline
from fitting.curve import FloatArray
from fitting.drawing.canvas import Canvas
from fitting.sheets.build_sheet import BuildSheet
from workshop.bench.lies import Lying, Mark, Zones, lie_words, mark_words
from workshop.rack.models import Cleft

SCALE = 0.62
TYPE = 18.0
MARGIN = 34.0
LEAST_MARK = 4.5


@dataclass(frozen=True)
class Laid:
    """What is drawn: a cleft, how it lies, the bat in it."""

    cleft: Cleft
    how: Lying
    build: BuildSheet
    zones: Zones
    rough_depth_mm: float

    def sized(self, three: tuple[float, float, float]) -> tuple[float, float, float]:
        """Three sizes of the cleft from the toe's end on."""
        return three if self.how.lie.toe_end == 1 else (three[2], three[1], three[0])


class _Upright:
    """One view, the toe's end down: millimetres along the cleft and across it become places on the sheet."""

    def __init__(self, left: float, floor: float) -> None:
        self.left = left
        self.floor = floor

    def up(self, along_mm: float) -> float:
        return self.floor - along_mm * SCALE

    def spot(self, across_mm: float, along_mm: float) -> tuple[float, float]:
        return self.left + across_mm * SCALE, self.up(along_mm)

    def spots(self, across: FloatArray, along: FloatArray) -> FloatArray:
        return np.column_stack([self.left + across * SCALE, self.floor - along * SCALE])


def draw_cleft(laid: Laid) -> str:
    """Return face and side of a cleft with its sizes, as SVG; every word in it is escaped."""
    cleft = laid.cleft
    wide, deep = max(cleft.widths_mm) * SCALE, max(cleft.depths_mm) * SCALE
    top = TYPE * 2.6
    floor = top + cleft.length_mm * SCALE
    face, side = _Upright(MARGIN, floor), _Upright(MARGIN + wide + 52, floor)
    canvas = Canvas(width=side.left + deep + 50, height=floor + TYPE * 3.1)
    _face(canvas, face, laid)
    _side(canvas, side, laid)
    _sizes(canvas, face, max(cleft.widths_mm), laid.sized(cleft.widths_mm), cleft.length_mm)
    _sizes(canvas, side, max(cleft.depths_mm), laid.sized(cleft.depths_mm), cleft.length_mm)
    _length(canvas, face, cleft.length_mm)
    _ends(canvas, face, wide, laid)
    for view, room, words in ((face, wide, gettext("face")), (side, deep, gettext("side"))):
        spot = (view.left + room / 2, floor + TYPE * 2.7)
        canvas.text(spot, words, size=TYPE, anchor="middle", face="view")
    return canvas.svg(title=_title(laid), description=_told(laid))


def draw_lie(laid: Laid) -> str:
    """Return the face alone with its ends and edges named, to choose by; every word in it is escaped."""
    cleft = laid.cleft
    wide, top = max(cleft.widths_mm) * SCALE, TYPE * 1.5
    floor = top + cleft.length_mm * SCALE
    face = _Upright(MARGIN + 14, floor)
    canvas = Canvas(width=face.left * 2 + wide, height=floor + TYPE * 1.5)
    _face(canvas, face, laid)
    _ends(canvas, face, wide, laid)
    middle = face.up(cleft.length_mm / 2) + TYPE * 1.4
    left = laid.how.lie.left_edge
    words = gettext("edge %(number)s")
    canvas.text((face.left - 10, middle), words % {"number": left}, size=TYPE, turned=True)
    spot = (face.left + wide + 24, middle)
    canvas.text(spot, words % {"number": 3 - left}, size=TYPE, turned=True)
    return canvas.svg(title=_title(laid), description=_told(laid))


def _title(laid: Laid) -> str:
    words = gettext("Cleft %(number)s with the bat laid in: %(lie)s")
    return words % {"number": laid.cleft.label, "lie": lie_words(laid.how.lie)}


def _told(laid: Laid) -> str:
    marks = [mark_words(mark) for mark in laid.how.marks]
    return "; ".join(marks) if marks else gettext("no blemish noted")


def _face(canvas: Canvas, view: _Upright, laid: Laid) -> None:
    cleft, blade = laid.cleft, laid.build.blade
    middle = max(cleft.widths_mm) / 2
    ends = np.array([0.0, cleft.length_mm / 2, cleft.length_mm])
    half = np.array(laid.sized(cleft.widths_mm)) / 2
    block = np.vstack([view.spots(middle - half, ends), view.spots(middle + half, ends)[::-1]])
    canvas.path(block, "cane", closed=True, stroke=1.4)
    start = laid.how.toe_from_end_mm
    x = np.linspace(0.0, blade.length_mm, 60)
    reach = outline.local_width(blade, x) / 2
    shape = np.vstack([view.spots(middle - reach, x + start), view.spots(middle + reach, x + start)[::-1]])
    canvas.path(shape, "willow", closed=True, stroke=1.2)
    _zone(canvas, view, laid, middle)
    _splice(canvas, view, laid, middle)
    for mark in laid.how.marks:
        _mark(canvas, view, laid, mark)


def _zone(canvas: Canvas, view: _Upright, laid: Laid, middle: float) -> None:
    start, half = laid.how.toe_from_end_mm, laid.build.blade.width_mm / 2
    low, high = start + laid.zones.reach_from_mm, start + laid.zones.reach_to_mm
    corners = [(-half, low), (half, low), (half, high), (-half, high)]
    box = np.array([view.spot(middle + across, along) for across, along in corners])
    canvas.path(box, "sweet", closed=True, opacity=0.16)


def _splice(canvas: Canvas, view: _Upright, laid: Laid, middle: float) -> None:
    start, half = laid.how.toe_from_end_mm, laid.build.handle.splice_width_mm / 2
    tip, top = start + laid.zones.splice_from_mm, start + laid.zones.blade_mm
    wedge = [view.spot(middle - half, top), view.spot(middle, tip), view.spot(middle + half, top)]
    canvas.path(np.array(wedge), "cane", closed=True, stroke=1.2, opacity=0.9)


def _side(canvas: Canvas, view: _Upright, laid: Laid) -> None:
    """The face is on the left; the grain leans as it runs out."""
    cleft, blade = laid.cleft, laid.build.blade
    ends = np.array([0.0, cleft.length_mm / 2, cleft.length_mm])
    depth = np.array(laid.sized(cleft.depths_mm))
    block = np.vstack([view.spots(np.zeros(3), ends), view.spots(depth, ends)[::-1]])
    canvas.path(block, "cane", closed=True, stroke=1.4)
    start, off = laid.how.toe_from_end_mm, laid.rough_depth_mm / 2
    x = np.linspace(0.0, blade.length_mm, 60)
    back = off + outline.spine(blade, x)
    shape = np.vstack([view.spots(np.full_like(x, off), x + start), view.spots(back, x + start)[::-1]])
    canvas.path(shape, "willow", closed=True, stroke=1.2)
    _grain(canvas, view, cleft, float(np.min(depth)))


def _grain(canvas: Canvas, view: _Upright, cleft: Cleft, depth: float) -> None:
    lean = depth if cleft.run_out is None else cleft.length_mm / cleft.run_out
    drift = 0.0 if cleft.run_out is None else lean
    for share in (0.2, 0.4, 0.6, 0.8):
        foot = depth * share - drift / 2
        along = np.linspace(0.0, cleft.length_mm, 80)
        across = foot + drift * along / cleft.length_mm
        inside = (across > 0) & (across < depth)
        if inside.sum() > 1:
            line = view.spots(across[inside], along[inside])
            canvas.path(line, "grain", stroke=1.2, opacity=0.75)


def _mark(canvas: Canvas, view: _Upright, laid: Laid, mark: Mark) -> None:
    """A ring filled where it shows on the face, open where it lies behind; red where it spoils the bat."""
    cleft = laid.cleft
    width = cleft.widths_mm[1]
    middle = max(cleft.widths_mm) / 2
    across = {"left": -width / 2, "right": width / 2}.get(mark.place, (mark.across - 0.5) * width)
    x, y = view.spot(middle + across, mark.from_toe_mm + laid.how.toe_from_end_mm)
    size = max(LEAST_MARK, mark.blemish.size_mm / 2 * SCALE)
    turn = np.linspace(0.0, 2 * np.pi, 21)[:-1]
    ring = np.column_stack([x + size * np.cos(turn), y + size * np.sin(turn)])
    if mark.place == "back" and not mark.blemish.through:
        canvas.path(ring, "at-work" if mark.spoils else "ink", closed=True, stroke=1.8, dashes="4 3")
    else:
        canvas.path(ring, "sweet-dot" if mark.spoils else "mark", closed=True)
    # Its number stands inside the wood, so that it does not lie on a size.
    left = mark.place == "right" or (mark.place in ("face", "back") and mark.across > 0.6)
    spot = (x - size - 3, y + TYPE * 0.35) if left else (x + size + 3, y + TYPE * 0.35)
    colour = "at-work-word" if mark.spoils else "text"
    canvas.text(spot, str(mark.number), size=TYPE, anchor="end" if left else "start", colour=colour)


def _sizes(
    canvas: Canvas, view: _Upright, room_mm: float, three: tuple[float, float, float], length_mm: float
) -> None:
    """Three sizes beside a view, each at its place."""
    for size, along in zip(three, (20.0, length_mm / 2, length_mm - 20.0), strict=True):
        spot = (view.left + room_mm * SCALE + 6, view.up(along) + TYPE * 0.35)
        canvas.text(spot, f"{size:.0f}", size=TYPE, face="number")


def _length(canvas: Canvas, view: _Upright, length_mm: float) -> None:
    x, low, high = view.left - 12, view.floor, view.up(length_mm)
    canvas.line((x, low), (x, high), "dimension", stroke=1.0)
    for y, away in ((low, -1), (high, 1)):
        head = np.array([(x, y), (x - 3.5, y + away * 9), (x + 3.5, y + away * 9)])
        canvas.path(head, "arrow", closed=True)
    spot = (x - 5, view.up(length_mm / 2) + TYPE * 0.9)
    canvas.text(spot, f"{length_mm:.0f}", size=TYPE, face="number", turned=True)


def _ends(canvas: Canvas, view: _Upright, room: float, laid: Laid) -> None:
    """Which end of the cleft is where; the toe's is told so."""
    toe = laid.how.lie.toe_end
    words, number = gettext("end %(number)s"), {"number": 3 - toe}
    middle = view.left + room / 2
    spot = (middle, view.up(laid.cleft.length_mm) - 8)
    canvas.text(spot, words % number, size=TYPE, anchor="middle")
    foot = gettext("end %(number)s, toe") % {"number": toe}
    canvas.text((middle, view.floor + TYPE * 1.15), foot, size=TYPE, anchor="middle")
