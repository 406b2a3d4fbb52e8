"""The blade's stations from thin to full: three shapes inside all limits, and everything between them."""

from dataclasses import dataclass
from math import inf
from typing import Literal

import numpy as np

from fitting.curve import FloatArray, monotone_cubic
from fitting.laws import EDITIONS
from fitting.recommend.blade import BladeChoices, toe_depth_mm
from fitting.sheets.book import Book, Edition, LengthRow, TradeLimits
from fitting.sheets.book_rules import DepthChange, ProfileNumbers, RangeOfDepths, SweetSpotShape
from fitting.sheets.build_sheet import Station

_WINDOW_MM = 25.0
# Stations are rounded to 0.1 mm and shapes are mixed: this much is kept in hand.
_ROUNDING_MM = 0.2
_SHARES_OF_STEEPNESS = (1.0, 0.9, 0.8, 0.7, 0.6)
_SWELL = 4
# So much lower than the swell is every other place at least, so that it stays the thickest.
_BELOW_SWELL_MM = 0.5
# What a tilt of 1 mm towards the handle takes or gives at each station, spine and (times a share) edge.
_TILT = (-1.0, -1.0, -0.5, 0.0, 0.0, 1.1, 0.7, 0.2)
_TILT_OF_EDGE = 0.6
_SHARES_OF_TILT = (1.0, 0.75, 0.5, 0.25)
_NO_CHANGE = DepthChange(swell_mm=0, tip_mm=0, shoulder_mm=0, edge_mm=0)


@dataclass(frozen=True)
class Shapes:
    """Spine, edge and hollow at each station: thinnest, resting, fullest; rows of one (3, n) array each."""

    from_toe_mm: tuple[float, ...]
    spine_mm: FloatArray
    edge_mm: FloatArray
    scallop: FloatArray
    limits: TradeLimits
    toe_is_wished: bool

    def stations(self, fullness: float, tilt_mm: float = 0.0) -> tuple[Station, ...]:
        """Stations at a fullness from -1 (thinnest) over 0 (resting) to 1 (fullest), to 0.1 mm.

        A tilt takes so much from the toe and lays it above the swell, or the other way round below 0: the
        pickup moves, the mass hardly does. It is kept as far as the trade's limits let it.
        """
        spine, edge, scallop = (
            self._between(of, fullness) for of in (self.spine_mm, self.edge_mm, self.scallop)
        )
        spine, edge = self._tilted(spine, edge, tilt_mm)
        return tuple(
            Station(
                from_toe_mm=place,
                spine_mm=round(float(max(s, e)), 1),
                edge_mm=round(float(e), 1),
                scallop=round(float(h), 2),
            )
            for place, s, e, h in zip(self.from_toe_mm, spine, edge, scallop, strict=True)
        )

    def _tilted(self, spine: FloatArray, edge: FloatArray, tilt_mm: float) -> tuple[FloatArray, FloatArray]:
        """Spine and edge with as much of a tilt as shows no kink."""
        limits, places = self.limits, list(self.from_toe_mm)
        move = np.array(_TILT)
        if self.toe_is_wished:
            move[0] = 0.0
        for share in _SHARES_OF_TILT:
            if tilt_mm == 0:
                break
            tilted = spine + share * tilt_mm * move
            thin = edge + share * tilt_mm * move * _TILT_OF_EDGE
            tilted[0] = _within(tilted[0], limits.toe_centre_least_mm, limits.toe_most_mm)
            tilted[-2] = _within(tilted[-2], limits.spine_splice_least_mm, limits.spine_splice_most_mm)
            tilted[-1] = _within(tilted[-1], limits.spine_shoulder_least_mm, limits.spine_shoulder_most_mm)
            thin[0] = max(thin[0], limits.toe_corner_least_mm)
            thin[1:] = np.maximum(thin[1:], np.minimum(edge[1:], limits.edge_least_mm))
            thin[-1] = _within(thin[-1], limits.edge_shoulder_least_mm, limits.edge_shoulder_most_mm)
            tilted[_SWELL + 1 :] = np.minimum(tilted[_SWELL + 1 :], tilted[_SWELL] - _BELOW_SWELL_MM)
            if _curve_keeps(tilted, places, limits) and _curve_keeps(thin, places, limits):
                return tilted, np.minimum(thin, tilted)
        return spine, edge

    @staticmethod
    def _between(three: FloatArray, fullness: float) -> FloatArray:
        resting = three[1]
        end = three[2] if fullness >= 0 else three[0]
        return np.asarray(resting + (end - resting) * abs(fullness))


@dataclass(frozen=True)
class _Frame:
    """What every curve of the blade needs to know."""

    row: LengthRow
    choices: BladeChoices
    book: Book
    places: list[float]

    @property
    def limits(self) -> TradeLimits:
        return self.book.trade_limits(self.row.code)

    @property
    def profile(self) -> ProfileNumbers:
        return self.book.rules.profiles[self.choices.profile_value]

    @property
    def aim(self) -> SweetSpotShape:
        """What the sweet spot's choice asks for beside the swell."""
        return self.book.rules.sweet_spots[self.choices.sweet_spot_value]

    @property
    def depths(self) -> RangeOfDepths:
        return self.book.rules.range_of_depths

    def scale(self, what: Literal["spine_mm", "edge_mm"]) -> float:
        """This size's depth over the adult's: the ranges are told for an adult blade."""
        adult = self.book.length("short_handle")
        return float(getattr(self.row, what) / getattr(adult, what))

    def change(self, step: int) -> DepthChange:
        """Change of depths at one end of the range, or none in the middle."""
        return {-1: self.depths.less, 0: _NO_CHANGE, 1: self.depths.more}[step]


def shapes_of(
    row: LengthRow,
    choices: BladeChoices,
    book: Book,
    *,
    swell_mm: float,
    splice_tip_mm: float,
    crown_mm: float,
    edition: Edition,
    deepest_mm: float = inf,
) -> Shapes:
    """Thinnest, resting and fullest shape, inside the Laws with the book's margin and the trade's limits.

    Whether a section goes through the gauge hangs on its whole outline, which is not known here: where it
    does not, ``deepest_mm`` holds the spine lower.
    """
    frame = _Frame(row, choices, book, _places(swell_mm, splice_tip_mm, row.blade_mm))
    limits, laws = frame.limits, EDITIONS[edition]
    depth_cap = min(
        limits.spine_swell_most_mm,
        laws.size("blade_depth").mm - book.law_margin_mm,
        book.gauge_depth_on_flat_face_mm + crown_mm,
        deepest_mm,
    )
    edge_cap = min(limits.edge_most_mm, laws.size("edge").mm - book.law_margin_mm + crown_mm)
    toe, corner = _toe(frame)
    spines, edges, hollows = [], [], []
    for step in (-1, 0, 1):
        spine = _spines(frame, toe, depth_cap, step)
        edge = _edges(frame, corner, edge_cap, step)
        spines.append(spine)
        edges.append(np.minimum(edge, spine))
        hollows.append(_hollows(frame, step))
    return Shapes(
        tuple(frame.places),
        np.array(spines),
        np.array(edges),
        np.array(hollows),
        limits,
        choices.toe.option != "standard",
    )


def _places(swell: float, tip: float, length: float) -> list[float]:
    upper = swell + 0.5 * (tip - swell)
    inner = [swell / 4, swell / 2, 3 * swell / 4, swell, upper, tip]
    return [0.0, *(round(place, 1) for place in inner), length]


def _toe(frame: _Frame) -> tuple[float, float]:
    """Depth of the toe at the centre and at its corners, mm."""
    limits, option = frame.limits, frame.choices.toe.option
    depth = toe_depth_mm(option, frame.row, frame.book)
    corner_least = limits.toe_strong_corner_least_mm if option == "strong" else limits.toe_corner_least_mm
    return depth, max(depth - frame.book.wish_numbers.toe_corner_less_mm, corner_least)


def _spines(frame: _Frame, toe: float, cap: float, step: int) -> FloatArray:
    limits, resting, change = frame.limits, frame.depths.resting, frame.change(step)
    scale = frame.scale("spine_mm")
    swell = _within(frame.row.spine_mm + change.swell_mm * scale, limits.spine_swell_least_mm, cap)
    tip = _within(
        (resting.tip_mm + change.tip_mm) * scale, limits.spine_splice_least_mm, limits.spine_splice_most_mm
    )
    shoulder = _within(
        (resting.shoulder_mm + change.shoulder_mm) * scale,
        limits.spine_shoulder_least_mm,
        limits.spine_shoulder_most_mm,
    )
    below = toe + (swell - toe) * np.array([0.0, *frame.profile.spine_shares, 1.0])
    upper = tip + (swell - tip) * frame.profile.upper_share
    plain = np.array([*below, upper, tip, shoulder])
    aimed = plain + np.array(frame.aim.spine_mm) * scale
    # The spine falls away from the swell to both sides, whatever the choice asks for.
    aimed[_SWELL] = _within(aimed[_SWELL], limits.spine_swell_least_mm, cap)
    aimed[:_SWELL] = np.minimum(aimed[:_SWELL], aimed[_SWELL] - _BELOW_SWELL_MM)
    aimed[_SWELL + 1 :] = np.minimum(aimed[_SWELL + 1 :], aimed[_SWELL] - _BELOW_SWELL_MM)
    aimed[0] = _toe_within(frame, plain[0], aimed[0], toe_least_mm=limits.toe_centre_least_mm)
    aimed[-2] = _within(aimed[-2], limits.spine_splice_least_mm, limits.spine_splice_most_mm)
    aimed[-1] = _within(aimed[-1], limits.spine_shoulder_least_mm, limits.spine_shoulder_most_mm)
    return _not_too_steep(aimed, frame.places, limits)


def _toe_within(frame: _Frame, plain: float, aimed: float, *, toe_least_mm: float) -> float:
    """The toe's depth with the sweet spot's share in it; a wished depth stays as it is."""
    if frame.choices.toe.option != "standard":
        return plain
    return _within(aimed, toe_least_mm, frame.limits.toe_most_mm)


def _edges(frame: _Frame, corner: float, cap: float, step: int) -> FloatArray:
    limits, resting, wished = frame.limits, frame.depths.resting, frame.choices.edges_value
    numbers, scale = frame.book.wish_numbers, frame.scale("edge_mm")
    offset = {"thin": numbers.edge_thin_mm, "medium": 0.0, "thick": numbers.edge_thick_mm}[wished]
    span = frame.change(step).edge_mm
    # a wish for thick or thin edges narrows the range, so that the solve cannot take the wish away
    if (wished == "thick" and step < 0) or (wished == "thin" and step > 0):
        span *= frame.depths.wished_edge_share
    swell = _within(frame.row.edge_mm + (offset + span) * scale, limits.edge_least_mm, cap)
    tip = _within((resting.edge_tip_mm + span / 2) * scale, limits.edge_shoulder_least_mm, cap)
    shoulder = _within(
        (resting.edge_shoulder_mm + span / 4) * scale,
        limits.edge_shoulder_least_mm,
        limits.edge_shoulder_most_mm,
    )
    below = corner + (swell - corner) * np.array([0.0, *frame.profile.edge_shares, 1.0])
    upper = tip + (swell - tip) * frame.profile.upper_share
    plain = np.array([*below, upper, tip, shoulder])
    aimed = np.minimum(plain + np.array(frame.aim.edge_mm) * scale, cap)
    aimed[0] = _toe_within(frame, plain[0], aimed[0], toe_least_mm=limits.toe_corner_least_mm)
    aimed[1:] = np.maximum(aimed[1:], limits.edge_shoulder_least_mm)
    aimed[-1] = _within(aimed[-1], limits.edge_shoulder_least_mm, limits.edge_shoulder_most_mm)
    edges = _not_too_steep(aimed, frame.places, limits)
    return _edges_of_middle_third(edges, frame)


def _edges_of_middle_third(edges: FloatArray, frame: _Frame) -> FloatArray:
    """Keep the edge's least depth in the middle third: at its stations and the next ones outside."""
    third, places = frame.row.blade_mm / 3, np.array(frame.places)
    first = max(int(np.searchsorted(places, third, side="right")) - 1, 0)
    last = min(int(np.searchsorted(places, 2 * third)), len(places) - 1)
    kept = edges.copy()
    kept[first : last + 1] = np.maximum(kept[first : last + 1], frame.limits.edge_least_mm)
    return kept


def _hollows(frame: _Frame, step: int) -> FloatArray:
    profile, span = frame.profile, -step * frame.depths.scallop
    places = [profile.scallop_toe, profile.scallop_toe, *(profile.scallop_swell,) * 4]
    hollows = np.array([*places, profile.scallop_shoulder, profile.scallop_shoulder])
    return np.asarray(np.clip(hollows + np.array(frame.aim.scallop) + span, 0.9, 3.0))


def _not_too_steep(depths: FloatArray, places: list[float], limits: TradeLimits) -> FloatArray:
    """Flatten a rise that is steeper than the trade allows, the toe's own depth kept.

    The curve between two stations is steeper than their chord, so the chords are held under a share of the
    limit, less of it until the curve itself keeps the limit.
    """
    for share in _SHARES_OF_STEEPNESS:
        kept = _chords_within(depths, places, limits, share)
        if _curve_keeps(kept, places, limits):
            break
    return kept


def _chords_within(depths: FloatArray, places: list[float], limits: TradeLimits, share: float) -> FloatArray:
    """From the swell down raise what lies too low, then from the toe up lower what still rises too fast."""
    kept = depths.copy()
    swell = len(kept) - 4
    for i in range(swell - 1, 0, -1):
        kept[i] = max(kept[i], kept[i + 1] - share * _rise(places[i], places[i + 1], limits))
    for i in range(1, swell + 1):
        kept[i] = min(kept[i], kept[i - 1] + share * _rise(places[i - 1], places[i], limits))
    return kept


def _curve_keeps(depths: FloatArray, places: list[float], limits: TradeLimits) -> bool:
    """Tell whether no 25 mm of the curve change by more than the trade allows, rounding included."""
    low = np.arange(0.0, places[-1] - _WINDOW_MM, 2.5)
    curve = monotone_cubic(np.array(places), depths[:, None], np.concatenate([low, low + _WINDOW_MM]))[:, 0]
    change = np.abs(curve[len(low) :] - curve[: len(low)])
    allowed = np.where(low < limits.slope_low_reach_mm, limits.slope_low_mm, limits.slope_mm)
    return bool(np.all(change <= allowed - _ROUNDING_MM))


def _rise(low: float, high: float, limits: TradeLimits) -> float:
    """Most change of depth between two places, mm."""
    reach = limits.slope_low_reach_mm
    steep = max(min(high, reach) - low, 0.0) * limits.slope_low_mm
    gentle = max(high - max(low, reach), 0.0) * limits.slope_mm
    return (steep + gentle) / _WINDOW_MM


def _within(value: float, least: float, most: float) -> float:
    return min(max(value, least), most)
