"""The lines of one bat in millimetres, taken from its build sheet: what every view is drawn from."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from fitting.bat import outline, sections
from fitting.drawing.canvas import Points
from fitting.sheets.build_sheet import BuildSheet

Seen = Literal["side", "face"]

GRIP_BEGINS_MM = 25.0
GUARD_MM = 6.0
GRAIN_APART_MM = 9.5
# The swell is flat on top: it is shown as the reach within this much of its thickest.
SWELL_REACH_MM = 1.0
SECTION_GAP_MM = 16.0
SLACK_MM = 6.0
MOST_ABOVE = 2
LOWEST_CUT_MM = 30.0


@dataclass(frozen=True)
class Swell:
    """The thickest point and how far the blade stays within a millimetre of it, from the toe."""

    at_mm: float
    lower_mm: float
    upper_mm: float


def along_blade(build: BuildSheet) -> Points:
    """Return places along the blade, close together where its outline turns."""
    blade = build.blade
    turn = blade.toe.corner_radius_mm * (1 - np.cos(np.linspace(0, np.pi / 2, 14)))
    shoulder = np.linspace(blade.length_mm - blade.shoulder.length_mm, blade.length_mm, 17)
    even = np.linspace(0, blade.length_mm, 94)
    stations = np.array([station.from_toe_mm for station in blade.stations])
    places: Points = np.unique(np.concatenate([turn, shoulder, even, stations]).clip(0, blade.length_mm))
    return places


def side_lines(build: BuildSheet) -> tuple[Points, Points, Points, Points]:
    """Return x and, over it, the face, the edge's back and the spine, as seen from the side."""
    blade = build.blade
    x = along_blade(build)
    face = outline.bow(blade, x)
    scoop = outline.scoop_depth(blade, x)
    return x, face, face + outline.edge(blade, x) - scoop, face + outline.spine(blade, x) - scoop


def face_outline(build: BuildSheet) -> Points:
    """Return the blade as seen from the front, (n, 2) of x and z, closed at the toe."""
    x = along_blade(build)
    half = outline.local_width(build.blade, x) / 2
    return np.concatenate([np.column_stack([x, half]), np.column_stack([x, -half])[::-1]])


def handle_strip(build: BuildSheet, *, seen: Seen, grip: bool) -> Points:
    """Return the handle as a closed strip (n, 2) of x and offset, from the ``side`` or the ``face``."""
    handle, blade = build.handle, build.blade
    start = GRIP_BEGINS_MM if grip else 0.0
    outside = build.grips.count * build.grips.wall_mm if grip else 0.0
    x = np.linspace(blade.length_mm + start, blade.length_mm + handle.length_mm, 19)
    width, depth, axis = sections.handle_ellipse(handle, blade, x)
    middle = axis if seen == "side" else 0.0
    half = (depth if seen == "side" else width) / 2 + outside
    return np.concatenate([np.column_stack([x, middle + half]), np.column_stack([x, middle - half])[::-1]])


def splice_lines(build: BuildSheet) -> Points:
    """Return the glue line of the splice as seen from the front, (n, 2) of x and z."""
    handle, length = build.handle, build.blade.length_mm
    tip = length - handle.splice_length_mm
    half, end = handle.splice_width_mm / 2, sections.SPLICE_TIP_MM / 2
    return np.array([[length, half], [tip, end], [tip, -end], [length, -half]])


def swell(build: BuildSheet) -> Swell:
    """Return where the blade is thickest along its middle, and within a millimetre of that."""
    blade = build.blade
    top = outline.swell_from_toe_mm(blade)
    x = np.arange(0.0, blade.length_mm + 0.5, 1.0)
    depth = outline.spine(blade, x) - outline.scoop_depth(blade, x)
    thin = x[depth < depth.max() - SWELL_REACH_MM]
    lower = max((float(place) + 1 for place in thin if place < top), default=0.0)
    upper = min((float(place) - 1 for place in thin if place > top), default=blade.length_mm)
    return Swell(at_mm=top, lower_mm=min(lower, top), upper_mm=max(upper, top))


def section_places(build: BuildSheet, more_apart_mm: float = 0.0) -> list[float]:
    """Return where the blade is cut for the drawing: the swell and places about it, from the toe.

    A station of the sheet is taken where one lies near, else a round number. Places lie far enough from each
    other for sections on the axis, at the axis' own scale, to stay clear; ``more_apart_mm`` widens that.
    """
    blade = build.blade
    apart = blade.width_mm + SECTION_GAP_MM + more_apart_mm
    centre = swell(build).at_mm
    low = max(blade.toe.corner_radius_mm + 1, LOWEST_CUT_MM)
    high = blade.length_mm - 0.68 * apart
    above = max(0, min(MOST_ABOVE, int((high - centre + SLACK_MM) // apart)))
    wanted = [float(place) for place in np.linspace(centre, high, above + 1)[1:]] if above else []
    if centre - low >= apart - SLACK_MM:
        wanted.append(max(low, centre - 1.15 * apart))
    chosen = [centre]
    for number, place in enumerate(wanted):
        others = chosen + wanted[number + 1 :]
        near = min((s.from_toe_mm for s in blade.stations), key=lambda at: abs(at - place))
        fits = abs(near - place) <= apart / 4 and low <= near <= high + SLACK_MM / 2
        fits = fits and all(abs(near - other) >= apart - SLACK_MM for other in others)
        chosen.append(near if fits else float(round(place / 5) * 5))
    return sorted(chosen)
