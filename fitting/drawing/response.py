"""The response curve on the axis of the views, the sweet spot as band through them and zone on the face."""

from dataclasses import dataclass
from functools import cached_property
from math import floor

import numpy as np
from scipy.interpolate import CubicSpline

from fitting.drawing.canvas import Anchor, Canvas, Points, Spot, words_length
from fitting.drawing.views import Axis, View
from fitting.sheets.weighing import SweetSpot, Weighing

STEP_MM = 4.0
# The foot of the curve lies on a whole tenth of the peak's speed, so that it can be said in words.
FLOOR_STEP = 0.1
DOT = 3.2
# The zone on the face fades outwards: the same shape at these shares of its reach, laid over each other.
FADING = (1.0, 0.8, 0.58, 0.34)


@dataclass(frozen=True)
class Response:
    """The curve of one bat, and of another where two are compared, as shares of the first one's peak."""

    weighing: Weighing
    sweet_spot: SweetSpot
    compared: Weighing | None = None

    @cached_property
    def shares(self) -> Points:
        """The bat's own curve: places from the toe and shares of its peak, (n, 2)."""
        return self._shares_of(self.weighing)

    @cached_property
    def other_shares(self) -> Points | None:
        """The other bat's curve in shares of this one's peak; None where nothing is compared."""
        return self._shares_of(self.compared) if self.compared and self.compared.response else None

    @property
    def reach_share(self) -> float:
        """Share of the peak's speed that is left where the sweet spot ends."""
        curve, sweet = curve_of(self.weighing), self.sweet_spot
        return float(min(curve(sweet.from_mm), curve(sweet.to_mm)) / curve(sweet.peak_from_toe_mm))

    @property
    def floor(self) -> float:
        """The whole tenth below the slowest place drawn; never below standing still."""
        slowest = min(float(curve[:, 1].min()) for curve in self._all())
        return max(0.0, floor(slowest / FLOOR_STEP + 1e-9) * FLOOR_STEP)

    @property
    def ceiling(self) -> float:
        """The fastest place drawn: 1, or more where the other bat hits harder."""
        return max(float(curve[:, 1].max()) for curve in self._all())

    @property
    def ends_mm(self) -> float:
        """Where the last of the curves ends, from the toe."""
        return max(float(curve[-1, 0]) for curve in self._all())

    def _all(self) -> list[Points]:
        return [self.shares] if self.other_shares is None else [self.shares, self.other_shares]

    def _shares_of(self, weighing: Weighing) -> Points:
        curve = curve_of(weighing)
        low, high = float(curve.x[0]), float(curve.x[-1])
        places = [np.linspace(low, high, round((high - low) / STEP_MM) + 1)]
        if weighing is self.weighing:
            sweet = self.sweet_spot
            places.append(np.array([sweet.from_mm, sweet.peak_from_toe_mm, sweet.to_mm]))
        x = np.unique(np.concatenate(places))
        peak = float(curve_of(self.weighing)(self.sweet_spot.peak_from_toe_mm))
        return np.column_stack([x, np.clip(curve(x) / peak, 0.0, None)])


def response_of(weighing: Weighing | None, compared: Weighing | None) -> Response | None:
    """Return the curve to draw; None where the weighing is missing or was kept from before there was one."""
    if weighing is None or not weighing.response or weighing.sweet_spot is None:
        return None
    return Response(weighing, weighing.sweet_spot, compared)


def curve_of(weighing: Weighing) -> CubicSpline:
    """Return the speed off the bat in m/s over places from the toe in mm, smooth through the points."""
    return CubicSpline(
        [point.from_toe_mm for point in weighing.response],
        [point.exit_speed_m_s for point in weighing.response],
    )


@dataclass(frozen=True)
class Plot:
    """Where the curve stands: its foot on the page, which way speed grows and how far to the fastest."""

    response: Response
    axis: Axis
    base: float
    side: int
    height: float

    def level(self, share: float) -> float:
        """Return the place across the axis of a share of the peak's speed."""
        foot, top = self.response.floor, self.response.ceiling
        return self.base + self.side * self.height * (share - foot) / (top - foot)

    def spot(self, x_mm: float, share: float) -> Spot:
        """Return the place on the page of a share of the peak's speed at a place from the toe."""
        along, across = self.axis.along(x_mm), self.level(share)
        return (across, along) if self.axis.upright else (along, across)

    def spots(self, shares: Points) -> Points:
        """Return a curve, (n, 2) of places and shares, as places on the page."""
        return np.array([self.spot(float(x), float(share)) for x, share in shares])

    def levels(self) -> tuple[tuple[float, float], ...]:
        """Return the shares that have a line, and from where along the bat: peak, end of the reach, foot."""
        curve, sweet = self.response, self.response.sweet_spot
        first = float(curve.shares[0, 0])
        return (1.0, sweet.peak_from_toe_mm), (curve.reach_share, sweet.from_mm), (curve.floor, first)


def draw_band(canvas: Canvas, plot: Plot, beyond: float, *, stop: float) -> None:
    """Lay the sweet spot as a band from the top of the curve to ``beyond`` the face (units of the page)."""
    sweet = plot.response.sweet_spot
    top = plot.level(plot.response.ceiling) + plot.side * stop
    low, high = (plot.axis.along(x) for x in (sweet.from_mm, sweet.to_mm))
    corners = np.array([(low, top), (high, top), (high, beyond), (low, beyond)])
    shape = corners[:, ::-1] if plot.axis.upright else corners
    canvas.path(shape, "sweet", closed=True, opacity=0.11)


def draw_zone(canvas: Canvas, face: View, sweet: SweetSpot) -> None:
    """Draw on the face how far the sweet spot reaches along and across, fading outwards."""
    for share in FADING:
        canvas.path(face.spots(zone(sweet, share)), "sweet", closed=True, opacity=0.2)


def zone(sweet: SweetSpot, share: float = 1.0) -> Points:
    """Return two half ellipses joined at the peak, (n, 2) of x and z, at a share of their reach."""
    turn = np.linspace(0, 2 * np.pi, 73)[:-1]
    up = np.cos(turn)
    peak = sweet.peak_from_toe_mm
    along = np.where(up < 0, peak - sweet.from_mm, sweet.to_mm - peak) * up
    across = sweet.half_width_mm * np.sin(turn)
    return np.column_stack([peak + share * along, share * across])


def draw_curve(canvas: Canvas, plot: Plot) -> None:
    """Draw the curve over its foot, the other bat's in a broken line, and the peak."""
    response = plot.response
    curve = response.shares
    ends = np.array([(curve[-1, 0], response.floor), (curve[0, 0], response.floor)])
    canvas.path(plot.spots(np.concatenate([curve, ends])), "speed", closed=True, opacity=0.5)
    if response.other_shares is not None:
        canvas.path(plot.spots(response.other_shares), "other", stroke=1.1, dashes="6 3")
    canvas.path(plot.spots(curve), "ink", stroke=1.5)
    peak = response.sweet_spot.peak_from_toe_mm
    canvas.line(plot.spot(peak, 1.0), plot.spot(peak, response.floor), "sweet-line", stroke=1.4)
    turn = np.linspace(0, 2 * np.pi, 17)[:-1]
    x, y = plot.spot(peak, 1.0)
    dot = np.array([x, y]) + DOT * canvas.pen * np.column_stack([np.cos(turn), np.sin(turn)])
    canvas.path(dot, "sweet-dot", closed=True, stroke=0)


def draw_levels(canvas: Canvas, plot: Plot, words: tuple[str, str, str], size: float) -> None:
    """Draw the curve's three lines across the page and say, towards the handle, what each stands for."""
    axis = plot.axis
    start = axis.along(plot.response.ends_mm) + axis.direction * size
    reach = start + axis.direction * max(words_length(row, size) for row in words)
    anchor: Anchor = "start" if axis.direction > 0 else "end"
    rows = zip(plot.levels(), words, (True, False, True), ("2 3", "2 3", ""), strict=True)
    for (share, begin), row, above, dashes in rows:
        level = plot.level(share)
        canvas.line((axis.along(begin), level), (reach, level), "leader", dashes=dashes)
        spot = (start, level - size * 0.3 if above else level + size)
        canvas.text(spot, row, size=size, anchor=anchor, colour="quiet")


def draw_sweet_spot(
    canvas: Canvas, plot: Plot, side: View, face: View, *, back: float, half_mm: float
) -> None:
    """Lay the band through everything, lead the peak through side and face, draw the zone.

    Across the page: ``back`` is how far above the face's plane the peak's line begins at the side,
    ``half_mm`` half the width of the face; the lines stand out by 8 strokes of the pen.
    """
    sweet, out = plot.response.sweet_spot, 8 * canvas.pen
    top, foot = face.spot(0, -half_mm)[1] - out, face.spot(0, half_mm)[1] + out
    draw_band(canvas, plot, foot, stop=out)
    draw_zone(canvas, face, sweet)
    at = plot.axis.along(sweet.peak_from_toe_mm)
    over = side.spot(0, back)[1] - out
    canvas.line((at, over), (at, side.base + out), "sweet-line", stroke=1.4)
    canvas.line((at, top), (at, foot), "sweet-line", stroke=1.4)
