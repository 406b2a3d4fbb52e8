"""The room in which one blade may be re-shaped: from its thinnest to its fullest, and its taper at the toe.

Everything between keeps the blade's family: its stations, its swell and the way it falls to both sides. The
ends are the trade's limits of the book and the Laws with the book's margin; a blade that was drawn beyond one
of them by its maker is not asked to come back, only to go no further.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from fitting.bat.outline import edge, scoop_depth, station_curves, swell_from_toe_mm
from fitting.curve import FloatArray
from fitting.laws import LawRow, law_check
from fitting.sheets.book import Book, TradeLimits
from fitting.sheets.build_sheet import LEAST_WOOD_MM, SCOOP_START_MM, BuildSheet, Station

TAPER_REACH_MM = 150.0
HOLLOW_MOST = 0.5
HOLLOW_LEAST, HOLLOW_GREATEST = 0.9, 2.6
HOLLOW_PART = 0.4
"""Share of the way to either end that the hollow of the back takes alone; depth takes the rest."""
DECIMALS = 2
_WINDOW_MM, _STEP_MM = 25.0, 5.0
_SWELL_SHIFT_MM = 3.0
_HALVINGS = 9
_TINY = 1e-6
# Mass and taper disturb each other a little: a taper is held this far inside the limit of a kink.
_IN_HAND_MM = 0.1

Side = Literal[-1, 1]
Limit = Literal["spine", "edge", "gauge", "kink", "scoop", "swell", "laws"]
_OF_THE_LAWS: dict[str, Limit] = {
    "blade_depth": "spine",
    "edge": "edge",
    "gauge": "gauge",
}


@dataclass(frozen=True)
class Depths:
    """Spine and edge at every station, mm."""

    spine: FloatArray
    edge: FloatArray


@dataclass(frozen=True)
class BladeRoom:
    """A blade with its thinnest and its fullest neighbour."""

    build: BuildSheet
    book: Book
    x: FloatArray
    swell_mm: float
    drawn: Depths
    scallop: FloatArray
    thinnest: Depths
    fullest: Depths
    tapers: tuple[float, float]
    kinks: tuple[float, float]
    margins: dict[tuple[str, str], float]

    @classmethod
    def of(cls, build: BuildSheet, book: Book) -> "BladeRoom":
        """Lay out the room of one blade."""
        stations = build.blade.stations
        x = np.array([s.from_toe_mm for s in stations])
        drawn = Depths(
            spine=np.array([s.spine_mm for s in stations]), edge=np.array([s.edge_mm for s in stations])
        )
        scallop = np.array([s.scallop for s in stations])
        # What the sheet breaks already is looked at as rounded: else the rounding alone would break more.
        rounded = _with(build, x, drawn.spine, drawn.edge, scallop)
        swell = swell_from_toe_mm(build.blade)
        margins = {_row_of(row): row.margin for row in _rows(rounded, book)}
        limits = book.trade_limits(build.length_code)
        return cls(
            build=build,
            book=book,
            x=x,
            swell_mm=swell,
            drawn=drawn,
            scallop=scallop,
            thinnest=_thinnest(build, x, swell, drawn, limits),
            fullest=_fullest(build, x, swell, drawn, book, margins),
            tapers=_tapers(drawn, limits, _strong_toe_mm(build, book)),
            kinks=_steepest(rounded, limits.slope_low_reach_mm),
            margins=margins,
        )

    def build_at(self, fullness: float, taper_mm: float) -> BuildSheet:
        """The sheet at a fullness from -1 (thinnest) to 1 (fullest), the toe deeper by a taper."""
        way = abs(fullness)
        hollow = min(way / HOLLOW_PART, 1.0)
        deep = max(way - HOLLOW_PART, 0.0) / (1 - HOLLOW_PART)
        end = self.fullest if fullness >= 0 else self.thinnest
        scallop = self._hollowed(-HOLLOW_MOST * hollow if fullness >= 0 else HOLLOW_MOST * hollow)
        toe = taper_mm * np.clip(1 - self.x / TAPER_REACH_MM, 0.0, None) ** 2
        spines = self.drawn.spine + deep * (end.spine - self.drawn.spine) + toe
        edges = (
            self.drawn.edge + deep * (end.edge - self.drawn.edge) + toe * self.drawn.edge / self.drawn.spine
        )
        return _with(self.build, self.x, spines, edges, scallop)

    def deepened(self, build: BuildSheet, by: float) -> BuildSheet:
        """A blade whose every depth is multiplied, limits or not: to tell how much wood is missing."""
        stations = build.blade.stations
        return _with(
            self.build,
            self.x,
            np.array([s.spine_mm for s in stations]) * by,
            np.array([s.edge_mm for s in stations]) * by,
            np.array([s.scallop for s in stations]),
        )

    def taper_within(self, taper_mm: float, fullness: float) -> float:
        """The nearest taper that the toe and its scoop allow, and that shows no kink at a fullness."""
        taper = float(np.clip(taper_mm, *self.tapers))
        if not self._spoils_back(fullness, taper):
            return taper
        free = 0.0
        for _ in range(_HALVINGS):
            middle = (free + taper) / 2
            if self._spoils_back(fullness, middle):
                taper = middle
            else:
                free = middle
        return free

    def _spoils_back(self, fullness: float, taper_mm: float) -> bool:
        build = self.build_at(fullness, taper_mm)
        return self._kinked(build, _IN_HAND_MM) or _scooped_through(build)

    def end(self, side: Side, taper_mm: float, beyond: float | None = None) -> float:
        """How far a blade may go to one side before a limit stops it: -1 to 1.

        ``beyond`` is a fullness on that side that is known to break a limit.
        """
        if beyond is None and self.breach(self.build_at(side, taper_mm)) is None:
            return float(side)
        allowed, beyond = 0.0, float(side) if beyond is None else beyond
        for _ in range(_HALVINGS):
            middle = (allowed + beyond) / 2
            if self.breach(self.build_at(middle, taper_mm)) is None:
                allowed = middle
            else:
                beyond = middle
        return allowed

    def breach(self, build: BuildSheet) -> Limit | None:
        """Tell which limit a blade breaks that the blade as drawn does not break as far; None inside all."""
        for row in _rows(build, self.book):
            if not row.book_margin_kept and row.margin < self.margins[_row_of(row)] - _TINY:
                return _OF_THE_LAWS.get(row.what, "laws")
        if self._kinked(build, 0.0):
            return "kink"
        if _scooped_through(build):
            return "scoop"
        shift = swell_from_toe_mm(build.blade) - self.swell_mm
        return "swell" if abs(shift) > _SWELL_SHIFT_MM else None

    def limit_at(self, build: BuildSheet, side: Side) -> Limit:
        """Tell what holds a blade at the end of its room: a limit it would break next, else its depth."""
        beyond = self.deepened(build, 1.01 if side > 0 else 0.99)
        return self.breach(beyond) or "spine"

    def _kinked(self, build: BuildSheet, in_hand_mm: float) -> bool:
        """Tell whether the back is steeper than the trade allows, something kept in hand, and than drawn."""
        limits = self.book.trade_limits(self.build.length_code)
        allowed = (limits.slope_low_mm, limits.slope_mm)
        found = _steepest(build, limits.slope_low_reach_mm)
        return any(
            new > max(old, most - in_hand_mm) + _TINY
            for new, old, most in zip(found, self.kinks, allowed, strict=True)
        )

    def _hollowed(self, change: float) -> FloatArray:
        low, high = np.minimum(self.scallop, HOLLOW_LEAST), np.maximum(self.scallop, HOLLOW_GREATEST)
        return np.clip(self.scallop + change, low, high)


def _with(
    build: BuildSheet, x: FloatArray, spines: FloatArray, edges: FloatArray, scallop: FloatArray
) -> BuildSheet:
    """The sheet with other depths and hollows, rounded."""
    # Not validated: what is tried may lie beyond the sheet's own bounds, what is kept never does.
    stations = tuple(
        Station.model_construct(
            from_toe_mm=float(x),
            spine_mm=round(float(s), DECIMALS),
            edge_mm=round(float(min(e, s)), DECIMALS),
            scallop=round(float(n), 3),
        )
        for x, s, e, n in zip(x, spines, edges, scallop, strict=True)
    )
    blade = build.blade.model_copy(update={"stations": stations})
    return build.model_copy(update={"blade": blade})


def deepest_mm(build: BuildSheet) -> float:
    """Depth of the deepest station, mm."""
    return max(station.spine_mm for station in build.blade.stations)


def _scooped_through(build: BuildSheet) -> bool:
    """Tell whether the scoop leaves less edge above the face than a sheet may have."""
    blade = build.blade
    if (scoop := blade.toe.scoop) is None:
        return False
    x = SCOOP_START_MM + scoop.length_mm * np.linspace(0.0, 1.0, 41)
    left = edge(blade, x) - scoop_depth(blade, x) - blade.face_crown_mm
    return float(left.min()) < LEAST_WOOD_MM


def _row_of(row: LawRow) -> tuple[str, str]:
    return row.what, row.coverings


def _rows(build: BuildSheet, book: Book) -> tuple[LawRow, ...]:
    return law_check(build, level=None, book=book)


def _thinnest(build: BuildSheet, x: FloatArray, swell: float, drawn: Depths, limits: TradeLimits) -> Depths:
    spine_least = _through(
        build,
        x,
        swell,
        drawn.spine,
        (limits.spine_swell_least_mm, limits.spine_splice_least_mm, limits.spine_shoulder_least_mm),
    )
    edge_least = _through(
        build,
        x,
        swell,
        drawn.edge,
        (limits.edge_least_mm, limits.edge_shoulder_least_mm, limits.edge_shoulder_least_mm),
    )
    # The edge's least depth counts in the middle third: at its stations and the next ones outside.
    third = build.blade.length_mm / 3
    first = max(int(np.searchsorted(x, third + _TINY)) - 1, 0)
    last = min(int(np.searchsorted(x, 2 * third - _TINY)), len(x) - 1)
    edge_least[first : last + 1] = np.maximum(edge_least[first : last + 1], limits.edge_least_mm)
    return Depths(spine=np.minimum(drawn.spine, spine_least), edge=np.minimum(drawn.edge, edge_least))


def _fullest(
    build: BuildSheet,
    x: FloatArray,
    swell: float,
    drawn: Depths,
    book: Book,
    margins: dict[tuple[str, str], float],
) -> Depths:
    limits = book.trade_limits(build.length_code)
    room = {
        what: margin - book.law_margin_mm
        for (what, coverings), margin in margins.items()
        if coverings == "off"
    }
    deepest, thickest = float(drawn.spine.max()), float(drawn.edge.max())
    on_crown = book.gauge_depth_on_flat_face_mm + build.blade.face_crown_mm
    spine_most = _through(
        build,
        x,
        swell,
        drawn.spine,
        (
            min(limits.spine_swell_most_mm, on_crown, deepest + room["blade_depth"]),
            limits.spine_splice_most_mm,
            limits.spine_shoulder_most_mm,
        ),
    )
    edge_cap = min(limits.edge_most_mm, thickest + room["edge"])
    edge_most = _through(build, x, swell, drawn.edge, (edge_cap, edge_cap, limits.edge_shoulder_most_mm))
    return Depths(spine=np.maximum(drawn.spine, spine_most), edge=np.maximum(drawn.edge, edge_most))


def _through(
    build: BuildSheet, x: FloatArray, swell: float, drawn: FloatArray, ends: tuple[float, float, float]
) -> FloatArray:
    """Depths that reach given ones at swell, tip of the splice and shoulder and keep the drawn way between.

    The toe keeps its depth: the taper has it.
    """
    blade = build.blade
    places = np.array([0.0, swell, blade.length_mm - build.handle.splice_length_mm, blade.length_mm])
    at = np.interp(places, x, drawn)
    change = np.array([0.0, *ends]) - at
    change[0] = 0.0
    out = drawn.copy()
    for low, high in ((0, 1), (1, 2), (2, 3)):
        inside = (x >= places[low]) & (x <= places[high])
        rise = at[high] - at[low]
        # By the depth's own rise where it has one, else along the blade.
        share = (
            np.clip((drawn[inside] - at[low]) / rise, 0.0, 1.0)
            if abs(rise) > 1.0
            else (x[inside] - places[low]) / max(places[high] - places[low], _TINY)
        )
        out[inside] = drawn[inside] + change[low] + share * (change[high] - change[low])
    return out


def _strong_toe_mm(build: BuildSheet, book: Book) -> float:
    """From what depth on a toe of this length is one that was wished strong, mm."""
    scale = book.length(build.length_code).spine_mm / book.length("short_handle").spine_mm
    return book.wish_numbers.toe_strong_mm * scale - 0.5


def _tapers(drawn: Depths, limits: TradeLimits, strong_mm: float) -> tuple[float, float]:
    """How much shallower and deeper the toe may become, mm; a strong toe stays a strong one."""
    toe, corner = float(drawn.spine[0]), float(drawn.edge[0])
    strong = toe >= strong_mm
    # Not below what tells a strong toe: re-shaped again it must still be one.
    strong_least = max(limits.toe_strong_centre_least_mm, strong_mm)
    least = strong_least if strong else limits.toe_centre_least_mm
    corner_least = limits.toe_strong_corner_least_mm if strong else limits.toe_corner_least_mm
    by_corner = (corner_least - corner) * toe / corner
    low = max(least - toe, by_corner)
    return min(low, 0.0), max(limits.toe_most_mm - toe, 0.0)


def _steepest(build: BuildSheet, reach_mm: float) -> tuple[float, float]:
    """Greatest change of depth in 25 mm of length, mm: in the lowest reach of the blade, and above it."""
    blade = build.blade
    low = np.arange(0.0, blade.length_mm - _WINDOW_MM, _STEP_MM)
    ends = np.concatenate([low, low + _WINDOW_MM])
    change = np.zeros(len(low))
    for curve in station_curves(blade, ends)[:2]:
        change = np.maximum(change, np.abs(curve[len(low) :] - curve[: len(low)]))
    lowest = low < reach_mm
    return float(change[lowest].max()), float(change[~lowest].max())
