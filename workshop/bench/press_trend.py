"""How one piece of wood goes through the press, drawn over what earlier pieces did: a curve by pass."""

from dataclasses import dataclass
from math import ceil, floor

import numpy as np

from fitting.drawing.canvas import Canvas, Spot, short
from workshop.bench.press_history import Band

NICE = (0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0)


@dataclass(frozen=True)
class Trend:
    """What is drawn: this piece by pass, earlier pieces, and words.

    Attributes:
        title: what the picture is called.
        told: the same in a sentence, for who does not see it.
        points: value by pass; the rest counts as the pass after the last.
        bands: of earlier pieces at the same places.
        names: what stands under each place of the axis.
        limit: a value that is not to be passed, with its words.
        from_zero: whether the axis begins at 0.
    """

    title: str
    told: str
    points: dict[int, float]
    bands: list[Band]
    names: list[str]
    limit: tuple[float, str] | None = None
    from_zero: bool = True


@dataclass(frozen=True)
class Sheet:
    """Sizes of the picture, in its own units."""

    width: float
    height: float
    type_size: float
    left: float

    @property
    def top(self) -> float:
        """The upper end of the axis."""
        return self.type_size * 1.9

    @property
    def floor(self) -> float:
        """The axis along the foot."""
        return self.height - self.type_size * 1.8


WIDE = Sheet(width=640, height=300, type_size=18, left=52)
NARROW = Sheet(width=340, height=260, type_size=17, left=44)


@dataclass(frozen=True)
class _Axes:
    sheet: Sheet
    places: int
    low: float
    high: float

    def at(self, place: float) -> float:
        room = self.sheet.width - self.sheet.left - 28
        return self.sheet.left + 24 + (room - 24) * (place - 1) / max(1, self.places - 1)

    def up(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return self.sheet.floor - share * (self.sheet.floor - self.sheet.top)


def draw_trend(trend: Trend, sheet: Sheet) -> str:
    """Return the picture as SVG; every word in it is escaped."""
    canvas = Canvas(width=sheet.width, height=sheet.height)
    low, high, step = _reach(trend)
    axes = _Axes(sheet, len(trend.names), low, high)
    _frame(canvas, axes, trend, step)
    _earlier(canvas, axes, trend.bands)
    if trend.limit is not None:
        _limit(canvas, axes, *trend.limit)
    _this_piece(canvas, axes, trend)
    return canvas.svg(title=trend.title, description=trend.told)


def _reach(trend: Trend) -> tuple[float, float, float]:
    values = [*trend.points.values(), *(end for band in trend.bands for end in (band.low, band.high))]
    if trend.limit is not None:
        values.append(trend.limit[0])
    low, high = (min(0.0, *values), max(values)) if trend.from_zero else (min(values), max(values))
    room = max(high - low, 1.0)
    step = next(one for one in NICE if room / one <= 5)
    # Air above the highest point, so that its number does not leave the sheet.
    return floor(low / step) * step, ceil((high + 0.12 * room) / step) * step, step


def _frame(canvas: Canvas, axes: _Axes, trend: Trend, step: float) -> None:
    sheet, size = axes.sheet, axes.sheet.type_size
    canvas.line((sheet.left, sheet.floor), (sheet.width - 8, sheet.floor), "ink", stroke=1.2)
    canvas.line((sheet.left, sheet.floor), (sheet.left, sheet.top - 6), "ink", stroke=1.2)
    for number in range(round((axes.high - axes.low) / step) + 1):
        value = axes.low + number * step
        y = axes.up(value)
        canvas.line((sheet.left - 6, y), (sheet.left, y), "ink", stroke=1.2)
        spot = (sheet.left - 10, y + size * 0.35)
        canvas.text(spot, short(value), size=size * 0.9, anchor="end", face="number", colour="quiet")
    for place, name in enumerate(trend.names, start=1):
        spot = (axes.at(place), sheet.floor + size * 1.25)
        canvas.text(spot, name, size=size * 0.95, anchor="middle", colour="quiet")
    canvas.text((4, size), "mm", size=size * 0.9, colour="quiet")


def _earlier(canvas: Canvas, axes: _Axes, bands: list[Band]) -> None:
    if not bands:
        return
    if len(bands) == 1:
        only = bands[0]
        x = axes.at(only.number)
        canvas.line((x, axes.up(only.low)), (x, axes.up(only.high)), "swell-line", stroke=7)
        return
    upper = [(axes.at(band.number), axes.up(band.high)) for band in bands]
    lower = [(axes.at(band.number), axes.up(band.low)) for band in reversed(bands)]
    canvas.path(np.array([*upper, *lower]), "swell", closed=True, opacity=0.24)
    middle = [(axes.at(band.number), axes.up(band.middle)) for band in bands]
    canvas.path(np.array(middle), "swell-line", stroke=2, dashes="8 5")


def _limit(canvas: Canvas, axes: _Axes, value: float, words: str) -> None:
    sheet, y = axes.sheet, axes.up(value)
    canvas.line((sheet.left, y), (sheet.width - 8, y), "at-work", stroke=1.6, dashes="10 5")
    spot = (sheet.left + 8, y - 6)
    canvas.text(spot, words, size=sheet.type_size * 0.95, colour="at-work-word")


def _this_piece(canvas: Canvas, axes: _Axes, trend: Trend) -> None:
    """The numbers stand on the side away from where earlier pieces lay, as far as there is room."""
    size, middles = axes.sheet.type_size, {band.number: band.middle for band in trend.bands}
    placed = sorted(trend.points.items())
    spots: list[Spot] = [(axes.at(place), axes.up(value)) for place, value in placed]
    if len(spots) > 1:
        canvas.path(np.array(spots), "ink", stroke=2.4)
    turn = np.linspace(0.0, 2 * np.pi, 17)[:-1]
    for (x, y), (place, value) in zip(spots, placed, strict=True):
        round_spot = np.column_stack([x + 5.5 * np.cos(turn), y + 5.5 * np.sin(turn)])
        canvas.path(round_spot, "mark", closed=True)
        below = value < middles.get(place, value) and y + size * 1.5 < axes.sheet.floor
        spot = (x, y + size * 1.35 if below else y - size * 0.65)
        canvas.text(spot, short(value), size=size, anchor="middle", face="number")
