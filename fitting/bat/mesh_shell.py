"""Half bodies of triangles, and the grid of the blade that they are taken from.

Every body of the mesh is its own mirror image about z = 0, so only the half at z >= 0 is laid out; it stays
open on that plane until ``whole`` joins it to its image. Triangles turn anticlockwise seen from outside.
"""

from bisect import bisect
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

import numpy as np
from numpy.typing import NDArray

from fitting.bat.outline import curves_at
from fitting.bat.sections import corner_radii, splice_width
from fitting.curve import FloatArray
from fitting.sheets.build_sheet import SCOOP_START_MM, BuildSheet, Scoop, Shoulder

IntArray = NDArray[np.int64]

JOINT_GAP_MM = 0.002
"""How far the wedge stays clear of its recess, so that a reader that joins equal points keeps both bodies."""

# At fineness 1: longest step along the blade, and the steps in each feature whatever its length.
STEP_MM = 4.0
STEPS_IN = {"stations": 4, "shoulder": 20, "scoop": 20, "toe": 20}
INNER, PLAIN, ROUND = 14, 20, 14

BEND_MM = 6.0
"""Columns crowd into this much of the side at least, where a full back falls steeply."""
CLOSEST_MM = 0.02
POINT_MM = 0.01
"""A half width below this is a point."""
WALL_MM = 0.001
"""An edge less high than this is sharp."""


@dataclass(frozen=True)
class Half:
    """Half a body at z >= 0: vertices (n, 3) in mm and triangles (m, 3); open where z = 0."""

    vertices: FloatArray
    faces: IntArray


@dataclass(frozen=True)
class Grid:
    """Face and back over rows x (n,) and columns z (n, m), mm; the first column lies at z = 0."""

    x: FloatArray
    z: FloatArray
    face: FloatArray
    back: FloatArray


def blade_grid(build: BuildSheet, fineness: float) -> tuple[Grid, NDArray[np.bool_]]:
    """Return the grid of the blade and which of its cells are willow: the recess is not."""
    x = rows_along(build, fineness)
    inner = _steps(INNER, fineness)
    grid = _surfaces(build, x, _columns(build, x, fineness))
    wood = np.ones((len(x) - 1, grid.z.shape[1] - 1), dtype=bool)
    wood[x[:-1] >= splice_tip_mm(build), :inner] = False
    return grid, wood


def wedge_grid(build: BuildSheet, fineness: float) -> Grid:
    """Return the grid of the splice, from its tip to the shoulder, a gap clear of its recess."""
    x = rows_along(build, fineness)
    x = x[x >= splice_tip_mm(build)]
    flank = splice_width(build, x) / 2 - JOINT_GAP_MM
    x[0] += JOINT_GAP_MM
    return _surfaces(build, x, flank[:, None] * np.linspace(0.0, 1.0, _steps(INNER, fineness) + 1))


def splice_tip_mm(build: BuildSheet) -> float:
    """Where the splice begins, mm from the toe."""
    return build.blade.length_mm - build.handle.splice_length_mm


def rows_along(build: BuildSheet, fineness: float) -> FloatArray:
    """Places of the rows, mm from the toe: every kink of a curve, and steps as fine as what lies there."""
    blade = build.blade
    top, radius, scoop = blade.length_mm, blade.toe.corner_radius_mm, blade.toe.scoop
    stations = [s.from_toe_mm for s in blade.stations]
    features = [
        (0.0, top, STEP_MM),
        (top - blade.shoulder.length_mm, top, _part_of("shoulder", blade.shoulder)),
    ]
    features += [(a, b, (b - a) / STEPS_IN["stations"]) for a, b in pairwise(stations)]
    if scoop is not None:
        features.append((SCOOP_START_MM, SCOOP_START_MM + scoop.length_mm, _part_of("scoop", scoop)))
    kinks = [end for low, high, _ in features for end in (low, high)]
    kinks = _apart([0.0, splice_tip_mm(build), top], [*kinks, radius, blade.bow_peak_from_toe_mm])
    places: list[float] = []
    for low, high in pairwise(kinks):
        middle = (low + high) / 2
        step = max(CLOSEST_MM, min(step for start, end, step in features if start <= middle <= end))
        places += np.linspace(low, high, ceil(fineness * (high - low) / step) + 1)[1:-1].tolist()
    turn = np.linspace(0.0, np.pi / 2, _steps(STEPS_IN["toe"], fineness))[1:-1]
    places += (radius * (1 - np.cos(turn))).tolist()
    return np.array(_apart(kinks, sorted(places)))


def shell(grid: Grid, wood: NDArray[np.bool_], *, open_top: bool = False) -> Half:
    """Close a grid's cells of wood into half a body: face, back, and walls wherever the wood ends.

    Args:
        grid: of any size.
        wood: which cells count, one row and one column fewer than the grid.
        open_top: leave out the wall at the last row, for what is joined on there.
    """
    rows, columns = grid.z.shape
    thin = grid.z[:, -1] < POINT_MM
    z = np.where(thin[:, None], 0.0, grid.z)
    face = np.where(thin[:, None], grid.face[:, -1:], grid.face)
    back = np.where(thin[:, None], grid.back[:, -1:], grid.back)
    sharp = ~thin & (back[:, -1] - face[:, -1] < WALL_MM)

    below, above = face_and_back_numbers(rows, columns)
    below[thin], above[thin] = below[thin, :1], above[thin, :1]
    above[sharp, -1] = below[sharp, -1]
    along = np.broadcast_to(grid.x[:, None], z.shape)
    vertices = np.concatenate([np.stack([along, y, z], axis=-1).reshape(-1, 3) for y in (face, back)])

    i, j = np.nonzero(wood)
    quads = [
        np.column_stack([side[i, j], side[i + 1, j], side[i + 1, j + 1], side[i, j + 1]])[:, ::turn]
        for side, turn in ((below, 1), (above, -1))
    ]
    framed = np.pad(wood, 1).astype(np.int64)
    ends = np.diff(framed, axis=0)[:, 1:-1]
    if open_top:
        ends[-1] = 0
    # The frame's first column is the plane of the mirror: no wall there.
    sides = np.diff(framed, axis=1)[1:-1, 1:]
    i, j = np.nonzero(ends)
    wall = np.column_stack([below[i, j], below[i, j + 1], above[i, j + 1], above[i, j]])
    quads.append(np.where(ends[i, j, None] > 0, wall, wall[:, ::-1]))
    i, j = np.nonzero(sides)
    wall = np.column_stack([below[i, j + 1], below[i + 1, j + 1], above[i + 1, j + 1], above[i, j + 1]])
    quads.append(np.where(sides[i, j, None] < 0, wall, wall[:, ::-1]))
    return Half(vertices, halved(np.concatenate(quads)))


def face_and_back_numbers(rows: int, columns: int) -> tuple[IntArray, IntArray]:
    """Numbers of the vertices of a shell's face and of its back, each (rows, columns)."""
    number = np.arange(rows * columns).reshape(rows, columns)
    return number, number + rows * columns


def halved(quads: IntArray) -> IntArray:
    """Two triangles for each four-sided cell; a cell that is collapsed on one side gives one or none."""
    return real(np.concatenate([quads[:, [0, 1, 2]], quads[:, [0, 2, 3]]]))


def real(faces: IntArray) -> IntArray:
    """Only the triangles of three different vertices."""
    a, b, c = faces.T
    return np.asarray(faces[(a != b) & (b != c) & (c != a)])


def whole(half: Half) -> tuple[FloatArray, IntArray]:
    """Join half a body to its mirror image: vertices in single precision, as the file keeps them."""
    used, faces = np.unique(half.faces, return_inverse=True)
    vertices, faces = half.vertices[used], faces.reshape(-1, 3)
    on_plane = vertices[:, 2] == 0.0
    image = np.where(on_plane, np.arange(len(used)), len(used) - 1 + np.cumsum(~on_plane))
    points = np.concatenate([vertices, vertices[~on_plane] * [1.0, 1.0, -1.0]])
    return points.astype(np.float32).astype(np.float64), np.concatenate([faces, image[faces][:, ::-1]])


def _part_of(name: str, feature: Shoulder | Scoop) -> float:
    return feature.length_mm / STEPS_IN[name]


def _apart(kept: list[float], more: list[float]) -> list[float]:
    """Add places in the order given, but none that lies close to one already there."""
    places = sorted(kept)
    for place in more:
        if places[0] < place < places[-1]:
            after = bisect(places, place)
            if min(place - places[after - 1], places[after] - place) >= CLOSEST_MM:
                places.insert(after, place)
    return places


def _steps(at_one: int, fineness: float) -> int:
    return max(2, ceil(at_one * fineness))


def _columns(build: BuildSheet, x: FloatArray, fineness: float) -> FloatArray:
    """Places z of the columns in every row: to the splice's flank, on to the bend, then round the corner.

    Below the splice its flank means nothing; the column spreads there, so that none are crowded.
    """
    tip = splice_tip_mm(build)
    half = curves_at(build.blade, x).width / 2
    flank = splice_width(build, x) / 2
    below = x < tip
    flank[below] = np.minimum(
        half[below] / 2, splice_width(build, np.array([tip])) / 2 + (tip - x[below]) / 4
    )
    cheek = half - flank
    bend = np.minimum(np.maximum(np.maximum(*corner_radii(build, x)), BEND_MM), 0.95 * cheek)
    inner, plain = (np.linspace(0.0, 1.0, _steps(n, fineness) + 1)[:-1] for n in (INNER, PLAIN))
    turn = np.linspace(0.0, np.pi / 2, _steps(ROUND, fineness) + 1)
    parts = [
        flank[:, None] * inner,
        flank[:, None] + (cheek - bend)[:, None] * plain,
        half[:, None] - bend[:, None] * (1 - np.sin(turn)),
    ]
    return np.hstack(parts)


def _surfaces(build: BuildSheet, x: FloatArray, z: FloatArray) -> Grid:
    """Heights y of face and back, mm, bow and rounded corners in."""
    at = curves_at(build.blade, x)
    half = at.width[:, None] / 2
    t = np.clip(z / np.maximum(half, POINT_MM / 2), 0.0, 1.0)
    round_face, round_back = (_drop(half - z, radius[:, None]) for radius in corner_radii(build, x))
    back = at.edge[:, None] + (at.spine - at.edge)[:, None] * (1 - t) ** at.scallop[:, None]
    lifted = at.bow[:, None]
    face = build.blade.face_crown_mm * t**2 + round_face + lifted
    return Grid(x, z, face, back - at.scoop[:, None] - round_back + lifted)


def _drop(from_side: FloatArray, radius: FloatArray) -> FloatArray:
    """What a rounded corner takes off the height at a distance from the side, mm."""
    inward = np.clip(radius - from_side, 0.0, radius)
    return np.asarray(radius - np.sqrt(np.clip(radius**2 - inward**2, 0.0, None)))
