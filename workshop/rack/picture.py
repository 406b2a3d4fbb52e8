"""The rack as a picture: density across, grade down, each cleft a point, the wanted bands behind."""

from collections.abc import Iterable
from dataclasses import dataclass

from workshop.rack.models import Cleft
from workshop.willow import Density

LEAST_KG_M3, MOST_KG_M3 = 300.0, 560.0
TICKS = (320, 360, 400, 440, 480, 520)


@dataclass(frozen=True)
class Frame:
    """Sizes of one arrangement of the picture, in its own units."""

    name: str
    width: float
    left: float
    right: float
    row: float
    top: float
    text: float
    point: float

    @property
    def height(self) -> float:
        """The whole height."""
        return self.top + 4 * self.row + 2.6 * self.text

    @property
    def floor(self) -> float:
        """Where the axis of density lies."""
        return self.top + 4 * self.row

    @property
    def head(self) -> float:
        """Where the words above the rows stand."""
        return self.top - 6

    @property
    def foot(self) -> float:
        """Where the numbers of the axis stand."""
        return round(self.floor + 6 + 1.2 * self.text, 1)

    def across(self, density: float) -> float:
        """Return where a density lies; what is beyond either end lies on it."""
        inside = min(max(density, LEAST_KG_M3), MOST_KG_M3)
        span = self.width - self.left - self.right
        return round(self.left + span * (inside - LEAST_KG_M3) / (MOST_KG_M3 - LEAST_KG_M3), 1)

    def row_middle(self, grade: int) -> float:
        """Return the middle of a grade's row."""
        return self.top + (grade - 0.5) * self.row


WIDE = Frame("wide", width=1000, left=64, right=40, row=84, top=34, text=15, point=7)
NARROW = Frame("narrow", width=360, left=36, right=20, row=84, top=44, text=12, point=6)


@dataclass(frozen=True)
class Point:
    """One cleft of the picture."""

    cleft: Cleft
    density: Density
    x: float
    y: float
    reach_from: float
    reach_to: float
    bar_from: float
    bar_to: float


@dataclass(frozen=True)
class Wanted:
    """The willow that one bat still wants."""

    label: str
    address: str
    density_min: float
    density_max: float
    grade: int


def draw_rack(
    clefts: Iterable[tuple[Cleft, Density]], wanted: Iterable[Wanted], frame: Frame
) -> dict[str, object]:
    """Return what the template draws: points, bands, ticks and rows, all in the frame's own units."""
    return {
        "frame": frame,
        "points": [_point(cleft, density, frame) for cleft, density in clefts],
        "bands": [_band(one, at, frame) for at, one in enumerate(wanted)],
        "ticks": [
            {
                "density": tick,
                "x": frame.across(tick),
                "foot": frame.floor + 6,
                "text_y": frame.foot,
            }
            for tick in TICKS
            if frame is WIDE or tick % 80 == 0
        ],
        "rows": [
            {"grade": grade, "y": frame.row_middle(grade), "line": frame.top + grade * frame.row}
            for grade in (1, 2, 3, 4)
        ],
    }


def _point(cleft: Cleft, density: Density, frame: Frame) -> Point:
    # The number spreads the points of a row: the same cleft always lies at the same height.
    spread = (cleft.number * 0.618034) % 1 - 0.5
    y = round(frame.row_middle(cleft.grade) + spread * (frame.row - 4 * frame.point), 1)
    return Point(
        cleft=cleft,
        density=density,
        x=frame.across(density.pressed),
        y=y,
        reach_from=frame.across(density.pressed - density.pressed_sd),
        reach_to=frame.across(density.pressed + density.pressed_sd),
        bar_from=y - 1.7 * frame.point,
        bar_to=y + 1.7 * frame.point,
    )


def _band(one: Wanted, at: int, frame: Frame) -> dict[str, object]:
    left, right = frame.across(one.density_min), frame.across(one.density_max)
    return {
        "wanted": one,
        "x": left,
        "y": frame.top,
        "width": round(right - left, 1),
        "height": one.grade * frame.row,
        "label_x": round((left + right) / 2, 1),
        "label_y": round(frame.top - 6 - (at % 2) * (frame.text + 2), 1),
    }
