"""The handle as half a body: the splice's wedge, the cane above it, and the plane where they meet.

At the shoulder the wedge ends in a section with four corners and the cane begins as an ellipse; in general
neither holds the other. Both are looked at from one point inside: on a ray from it each outline is met once,
so that the ring between the two, whichever lies farther out, is a strip of four-sided cells between rays.
Where the outlines cross they share a vertex.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import ceil

import numpy as np

from fitting.bat.mesh_shell import (
    Grid,
    Half,
    IntArray,
    face_and_back_numbers,
    halved,
    real,
    shell,
    wedge_grid,
)
from fitting.bat.sections import handle_ellipse
from fitting.curve import FloatArray
from fitting.sheets.book_materials import Materials
from fitting.sheets.build_sheet import BuildSheet

TURN = 90
"""Cells round half the cane at fineness 1."""
LENGTHS = 6
"""Steps along each half of the cane at fineness 1: its sections change in all but straight lines."""
COMMON_MM = 1.0
"""Wedge and cane must share this much of the centre line, or they stay two shells."""
TOUCH_MM = 0.02
CROSS_MM = 0.01


@dataclass(frozen=True)
class Ellipse:
    """An ellipse of half width ``wide`` and half depth ``deep`` about (z 0, y ``axis``), mm."""

    wide: float
    deep: float
    axis: float

    def turn(self, point: FloatArray) -> float:
        """Angle of a point (z, y), from the face's side over the edge to the back's, 0 to pi."""
        return float(np.arctan2(point[0] / self.wide, (self.axis - point[1]) / self.deep))

    def at(self, turn: float) -> FloatArray:
        """Point (z, y) at an angle."""
        return np.array([self.wide * np.sin(turn), self.axis - self.deep * np.cos(turn)])

    def ahead(self, start: FloatArray, way: FloatArray) -> list[float]:
        """How many times ``way`` from ``start`` the line meets the ellipse, in rising order."""
        scale = np.array([self.wide, self.deep])
        a, b = (start - [0.0, self.axis]) / scale, way / scale
        square, half, rest = float(b @ b), float(a @ b), float(a @ a) - 1
        under = half**2 - square * rest
        if under <= 0:
            return []
        return [(-half - np.sqrt(under)) / square, (-half + np.sqrt(under)) / square]


def handle_half(build: BuildSheet, materials: Materials, fineness: float) -> Half:
    """Half the handle without binding: one shell, or two that meet the shoulder where they cannot join.

    They cannot join where the cane's bottom lies behind the back of the splice's flank, or within a
    millimetre of it: no bat that a hand could hold.
    """
    grid = wedge_grid(build, fineness)
    wood = np.ones((len(grid.x) - 1, grid.z.shape[1] - 1), dtype=bool)
    wide, deep, axis = _cane(build, materials, np.array([build.blade.length_mm]))
    ellipse = Ellipse(float(wide[0]), float(deep[0]), axis)
    low = max(float(grid.face[-1, 0]), axis - ellipse.deep)
    high = min(float(grid.back[-1, -1]), axis + ellipse.deep)
    if high - low < COMMON_MM:
        turns = np.linspace(0.0, np.pi, ceil(TURN * fineness) + 1)
        return _beside(shell(grid, wood), _cane_half(build, materials, turns, fineness, bottom=True))
    wedge = shell(grid, wood, open_top=True)
    joint = _Joint(ellipse, np.array([0.0, (low + high) / 2]), np.pi / ceil(TURN * fineness))
    return joint.joined(build, materials, wedge, _end_of(grid), fineness)


@dataclass(frozen=True)
class _Joint:
    """What the plane at the shoulder is cut by: the cane's ellipse, the point within, the longest turn."""

    ellipse: Ellipse
    within: FloatArray
    longest: float

    def joined(
        self, build: BuildSheet, materials: Materials, wedge: Half, end: IntArray, fineness: float
    ) -> Half:
        """Put the cane on a wedge whose last section is open and has these vertices, from face to back."""
        outline = wedge.vertices[end][:, [2, 1]]
        rays: list[FloatArray] = []
        numbers: list[int] = []
        new: list[FloatArray] = []
        faces = wedge.faces
        for k, (start, stop) in enumerate(pairwise(outline)):
            between = self._between(start, stop)
            fresh = [len(wedge.vertices) + len(new) + i for i in range(len(between))]
            faces = _split_edge(faces, int(end[k]), int(end[k + 1]), fresh)
            rays += [start, *between]
            numbers += [int(end[k]), *fresh]
            new += between
        rays.append(outline[-1])
        numbers.append(int(end[-1]))

        on_cane = [self._on_cane(ray) for ray in rays]
        turns = np.array([0.0, *(self.ellipse.turn(point) for point in on_cane[1:-1]), np.pi])
        cane = _cane_half(build, materials, turns, fineness, bottom=False)
        offset = len(wedge.vertices) + len(new)
        first = np.arange(len(turns)) + offset
        apart = np.linalg.norm(np.array(on_cane) - np.array(rays), axis=1)
        outer = np.array(numbers)
        number = np.arange(offset + len(cane.vertices))
        number[first] = inner = np.where(apart < TOUCH_MM, outer, first)
        strip = np.column_stack([inner[:-1], inner[1:], outer[1:], outer[:-1]])
        top = np.full(len(new), build.blade.length_mm)
        added = np.column_stack([top, np.array(new).reshape(-1, 2)[:, ::-1]])
        return Half(
            np.concatenate([wedge.vertices, added, cane.vertices]),
            np.concatenate([faces, real(number[cane.faces + offset]), halved(strip)]),
        )

    def _between(self, start: FloatArray, stop: FloatArray) -> list[FloatArray]:
        """Points to set on an edge of the wedge: where it crosses the ellipse, and one for every turn."""
        way = stop - start
        least = CROSS_MM / float(np.linalg.norm(way))
        crossings = [s for s in self.ellipse.ahead(start, way) if least < s < 1 - least]
        if len(crossings) == 2 and crossings[1] - crossings[0] < least:
            crossings = []
        points: list[FloatArray] = []
        ends = [start, *(start + s * way for s in crossings), stop]
        for low, high in pairwise(ends):
            begin, last = (self.ellipse.turn(self._on_cane(point)) for point in (low, high))
            turns = np.linspace(begin, last, max(1, ceil((last - begin) / self.longest)) + 1)[1:-1]
            points += [self._on_edge(low, high, self.ellipse.at(float(turn))) for turn in turns]
            points += [high] if high is not stop else []
        return points

    def _on_cane(self, point: FloatArray) -> FloatArray:
        """Where the ray from within through a point meets the ellipse."""
        way = point - self.within
        return np.asarray(self.within + self.ellipse.ahead(self.within, way)[-1] * way)

    def _on_edge(self, start: FloatArray, stop: FloatArray, point: FloatArray) -> FloatArray:
        """Where the ray from within through a point meets an edge."""
        a, b, p = start - self.within, stop - self.within, point - self.within
        before, after = abs(a[0] * p[1] - a[1] * p[0]), abs(p[0] * b[1] - p[1] * b[0])
        return np.asarray(start + before / (before + after) * (stop - start))


def _end_of(grid: Grid) -> IntArray:
    """Vertices round the last section of a grid's shell, along the face and back along the back."""
    below, above = face_and_back_numbers(*grid.z.shape)
    return np.concatenate([below[-1], above[-1, ::-1]])


def _split_edge(faces: IntArray, start: int, stop: int, fresh: list[int]) -> IntArray:
    """Set new vertices on an edge that one triangle has, in its order or against it."""
    if not fresh:
        return faces
    chain = [start, *fresh, stop]
    for turn in range(3):
        row = np.roll(faces, -turn, axis=1)
        owner = np.flatnonzero((row[:, 0] == start) & (row[:, 1] == stop))
        if len(owner):
            tip = int(row[owner[0], 2])
            fan = np.array([(a, b, tip) for a, b in pairwise(chain)])
            return np.concatenate([np.delete(faces, owner[0], axis=0), fan])
    raise ValueError("an edge of the open end")


def _cane(build: BuildSheet, materials: Materials, x: FloatArray) -> tuple[FloatArray, FloatArray, float]:
    """Half width and half depth of the cane under its binding, and the height of its axis, mm."""
    width, depth, axis = handle_ellipse(build.handle, build.blade, x)
    return width / 2 - materials.binding_mm, depth / 2 - materials.binding_mm, axis


def _cane_half(
    build: BuildSheet, materials: Materials, turns: FloatArray, fineness: float, *, bottom: bool
) -> Half:
    """Half the cane with vertices at the turns given; the first ones are those of its bottom."""
    low, length = build.blade.length_mm, build.handle.length_mm
    x = low + length * np.linspace(0.0, 1.0, 2 * ceil(LENGTHS * fineness) + 1)
    wide, deep, axis = _cane(build, materials, x)
    across = np.sin(turns)
    across[[0, -1]] = 0.0
    y, z = axis - deep[:, None] * np.cos(turns), wide[:, None] * across
    rows = np.broadcast_to(x[:, None], y.shape)
    number = np.arange(y.size).reshape(y.shape)
    sides = np.stack([number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:]], axis=-1)
    middle = np.full(len(turns) - 1, y.size)
    caps = [np.column_stack([middle, number[-1, 1:], number[-1, :-1]])]
    if bottom:
        caps.append(np.column_stack([middle + 1, number[0, :-1], number[0, 1:]]))
    middles = [[x[-1], axis, 0.0], [x[0], axis, 0.0]]
    vertices = np.concatenate([np.stack([rows, y, z], axis=-1).reshape(-1, 3), middles])
    return Half(vertices, np.concatenate([halved(sides.reshape(-1, 4)), *caps]))


def _beside(one: Half, other: Half) -> Half:
    return Half(
        np.concatenate([one.vertices, other.vertices]),
        np.concatenate([one.faces, other.faces + len(one.vertices)]),
    )
