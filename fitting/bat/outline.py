"""The curves along the blade: width, spine, edge, scallop, bow and scoop at any place from the toe.

Every function takes a blade and places ``x_mm`` from the toe, shape (n,), and gives an array of that shape.
A place outside the blade is taken at its nearer end. The axes are those of DEVELOPERS.md: x from the toe,
y from the plane of an unbowed face to the back, z across.
"""

from dataclasses import dataclass

import numpy as np

from fitting.curve import FloatArray, monotone_cubic
from fitting.sheets.build_sheet import SCOOP_START_MM, Blade


@dataclass(frozen=True)
class Curves:
    """All curves at the same places from the toe, so that no part works them out again; arrays (n,), mm."""

    x: FloatArray
    width: FloatArray
    spine: FloatArray
    edge: FloatArray
    scallop: FloatArray
    bow: FloatArray
    scoop: FloatArray


def curves_at(blade: Blade, x_mm: FloatArray) -> Curves:
    """Every curve of the blade at places from the toe."""
    spines, edges, hollows = station_curves(blade, x_mm)
    return Curves(
        x=x_mm,
        width=local_width(blade, x_mm),
        spine=spines,
        edge=edges,
        scallop=hollows,
        bow=bow(blade, x_mm),
        scoop=scoop_depth(blade, x_mm),
    )


def local_width(blade: Blade, x_mm: FloatArray) -> FloatArray:
    """Width across the blade, mm: rounded toe corners below, a half cosine at the shoulder."""
    x = np.clip(x_mm, 0.0, blade.length_mm)
    radius = blade.toe.corner_radius_mm
    short = np.clip(radius - x, 0.0, None)
    corner = radius - np.sqrt(np.clip(radius**2 - short**2, 0.0, None))
    above = np.clip(x - (blade.length_mm - blade.shoulder.length_mm), 0.0, None) / blade.shoulder.length_mm
    shoulder = (blade.width_mm - blade.shoulder.width_mm) * (1 - np.cos(np.pi * above)) / 2
    return np.asarray(blade.width_mm - 2 * corner - shoulder)


def station_curves(blade: Blade, x_mm: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Spine (mm), edge (mm) and scallop (exponent) by monotone cubic interpolation of the stations."""
    table = np.array([(s.from_toe_mm, s.spine_mm, s.edge_mm, s.scallop) for s in blade.stations])
    curves = monotone_cubic(table[:, 0], table[:, 1:], np.asarray(x_mm, dtype=np.float64))
    return curves[:, 0], curves[:, 1], curves[:, 2]


def spine(blade: Blade, x_mm: FloatArray) -> FloatArray:
    """Depth on the centre line, mm, face plane to back, before the scoop is taken out."""
    return station_curves(blade, x_mm)[0]


def edge(blade: Blade, x_mm: FloatArray) -> FloatArray:
    """Depth at the side, mm, face plane to back, before the scoop; a calliper finds this less the crown."""
    return station_curves(blade, x_mm)[1]


def scallop(blade: Blade, x_mm: FloatArray) -> FloatArray:
    """Exponent of the back: above 1 hollow between spine and edge, 1 straight, below 1 full."""
    return station_curves(blade, x_mm)[2]


def bow(blade: Blade, x_mm: FloatArray) -> FloatArray:
    """How far the section is moved towards the back, mm: 0 at toe and shoulder, ``bow_mm`` at the peak."""
    x = np.clip(x_mm, 0.0, blade.length_mm)
    peak = blade.bow_peak_from_toe_mm
    reach = np.where(x < peak, peak, blade.length_mm - peak)
    return np.asarray(blade.bow_mm * (1 - ((x - peak) / reach) ** 2))


def scoop_depth(blade: Blade, x_mm: FloatArray) -> FloatArray:
    """Depth taken from the back by the scoop, mm, over the full width; 0 where there is none."""
    scoop = blade.toe.scoop
    x = np.asarray(x_mm, dtype=np.float64)
    if scoop is None:
        return np.zeros_like(x)
    along = np.clip((x - SCOOP_START_MM) / scoop.length_mm, 0.0, 1.0)
    return np.asarray(scoop.depth_mm * np.sin(np.pi * along))


def swell_from_toe_mm(blade: Blade) -> float:
    """The thickest point, mm from the toe, scoop taken out; the middle of a stretch of equal depth.

    Between two stations a monotone curve has no peak of its own, so that without a scoop they tell it
    exactly; with one it is found on a grid of 0.5 mm, within that.
    """
    stations = [s.from_toe_mm for s in blade.stations]
    if blade.toe.scoop is None:
        deepest = max(s.spine_mm for s in blade.stations) - 1e-9
        at = [s.from_toe_mm for s in blade.stations if s.spine_mm >= deepest]
        return (at[0] + at[-1]) / 2
    grid = np.linspace(0.0, blade.length_mm, round(blade.length_mm * 2) + 1)
    x = np.unique(np.concatenate([grid, stations]))
    depth = spine(blade, x) - scoop_depth(blade, x)
    thickest = x[depth >= depth.max() - 1e-9]
    return float((thickest[0] + thickest[-1]) / 2)
