"""The side and the face of a bat, laid along one axis: across the page or up a phone's."""

from dataclasses import dataclass

import numpy as np

from fitting.bat import outline, sections
from fitting.drawing import lines
from fitting.drawing.canvas import Canvas, Points, Spot
from fitting.sheets.build_sheet import BuildSheet

BINDING_APART_MM = 3.2
GRIP_APART_MM = 11.0
# Presses stay off the toe's last stretch and off the splice: common practice, no source.
PRESS_BEGINS_MM = 20.0
PARTS = ("cleft_selection", "pressing", "shaping", "handle_fitting", "finishing")


@dataclass(frozen=True)
class Axis:
    """Where x = 0 lies on the page, how many units a millimetre takes and which way the handle points."""

    origin: float
    scale: float
    direction: int
    upright: bool

    def along(self, x_mm: float) -> float:
        """Return the place on the page of ``x_mm`` from the toe."""
        return self.origin + self.direction * self.scale * x_mm


@dataclass(frozen=True)
class View:
    """One view on the axis: ``base`` is its zero line, ``side`` which way its depth or width grows."""

    axis: Axis
    base: float
    side: int

    def spot(self, x_mm: float, across_mm: float) -> Spot:
        """Return the place on the page of one point of the bat."""
        along, across = self.axis.along(x_mm), self.base + self.side * self.axis.scale * across_mm
        return (across, along) if self.axis.upright else (along, across)

    def spots(self, points: Points) -> Points:
        """Return points (n, 2) of x and depth or width as places on the page."""
        along = self.axis.origin + self.axis.direction * self.axis.scale * points[:, 0]
        across = self.base + self.side * self.axis.scale * points[:, 1]
        return np.column_stack([across, along] if self.axis.upright else [along, across])


def ring(x: Points, low: Points, high: Points) -> Points:
    """Return the closed strip between two lines over the same places."""
    return np.concatenate([np.column_stack([x, low]), np.column_stack([x, high])[::-1]])


def draw_side(canvas: Canvas, view: View, build: BuildSheet) -> None:
    """Draw the bat from its side: back, edge, hollow face, handle with its binding and grip."""
    x, face, edge, back = lines.side_lines(build)
    draw_handle(canvas, view, build, "side")
    canvas.path(view.spots(ring(x, face, back)), "willow", closed=True, stroke=1.3)
    canvas.path(view.spots(ring(x, face, edge)), "face-side", closed=True)
    canvas.path(view.spots(np.column_stack([x, edge])), "ink", stroke=0.7)
    canvas.path(view.spots(ring(x, face, back)), "ink", closed=True, stroke=1.3)
    if build.blade.bow_mm > 0:
        string = [view.spot(0, 0), view.spot(build.blade.length_mm, 0)]
        canvas.line(string[0], string[1], "leader", stroke=0.7, dashes="5 3")


def draw_side_plain(canvas: Canvas, view: View, build: BuildSheet) -> None:
    """Draw the side by its outline alone, small."""
    x, face, edge, back = lines.side_lines(build)
    grip = lines.handle_strip(build, seen="side", grip=build.grips.count > 0)
    canvas.path(view.spots(lines.handle_strip(build, seen="side", grip=False)), "cane", closed=True)
    canvas.path(view.spots(grip), "cane", closed=True)
    canvas.path(view.spots(ring(x, face, back)), "willow", closed=True)
    canvas.path(view.spots(np.column_stack([x, edge])), "ink", stroke=0.5)


def draw_part_on_side(canvas: Canvas, view: View, build: BuildSheet, part: str) -> None:
    """Mark what is worked on at a stage, on the side alone."""
    for shape in part_shapes(build, part)["side"]:
        canvas.path(view.spots(shape), "at-work-wash", closed=True, opacity=0.35)
        canvas.path(view.spots(shape), "at-work", closed=True, stroke=1.6)


def draw_face(canvas: Canvas, view: View, build: BuildSheet) -> None:
    """Draw the bat from the front: toe, shoulders, grain, splice, guard and handle."""
    blade = build.blade
    draw_handle(canvas, view, build, "face")
    canvas.path(view.spots(lines.face_outline(build)), "willow", closed=True, stroke=1.3)
    canvas.strokes(_grain(view, build), "grain", stroke=0.6, opacity=0.45)
    canvas.path(view.spots(lines.splice_lines(build)), "ink", stroke=0.9)
    if build.protection.toe_guard is not None:
        half = float(outline.local_width(blade, np.array([lines.GUARD_MM]))[0]) / 2
        canvas.line(view.spot(lines.GUARD_MM, -half), view.spot(lines.GUARD_MM, half), "ink")


def draw_handle(canvas: Canvas, view: View, build: BuildSheet, seen: lines.Seen) -> None:
    """Draw the handle: bound cane, and over it the grip from 25 mm above the blade."""
    bare = lines.handle_strip(build, seen=seen, grip=False)
    canvas.path(view.spots(bare), "cane", closed=True, stroke=1.3)
    bound_to = lines.GRIP_BEGINS_MM if build.grips.count else build.handle.length_mm
    windings = _windings(view, bare, BINDING_APART_MM, slant_mm=0.8, reach_mm=bound_to)
    canvas.strokes(windings, "ink", stroke=0.35, opacity=0.8)
    if build.grips.count:
        grip = lines.handle_strip(build, seen=seen, grip=True)
        canvas.path(view.spots(grip), "cane", closed=True, stroke=1.3)
        reach = build.handle.length_mm - lines.GRIP_BEGINS_MM
        windings = _windings(view, grip, GRIP_APART_MM, slant_mm=7.0, reach_mm=reach)
        canvas.strokes(windings, "ink", stroke=0.6, opacity=0.6)


def _windings(
    view: View, strip: Points, apart_mm: float, *, slant_mm: float, reach_mm: float
) -> list[tuple[Spot, Spot]]:
    count = len(strip) // 2
    upper, lower = strip[:count], strip[count:][::-1]
    first = float(upper[0, 0])
    starts = np.arange(first + apart_mm / 2, first + reach_mm - slant_mm, apart_mm)
    highs = np.interp(starts + slant_mm, upper[:, 0], upper[:, 1])
    lows = np.interp(starts, lower[:, 0], lower[:, 1])
    return [
        (view.spot(float(x), float(low)), view.spot(float(x) + slant_mm, float(high)))
        for x, low, high in zip(starts, lows, highs, strict=True)
    ]


def _grain(view: View, build: BuildSheet) -> list[tuple[Spot, Spot]]:
    blade = build.blade
    x = lines.along_blade(build)
    half = outline.local_width(blade, x) / 2
    splice = sections.splice_width(build, x) / 2
    pairs = []
    reach = int(blade.width_mm / 2 // lines.GRAIN_APART_MM)
    for z in np.arange(-reach, reach + 1) * lines.GRAIN_APART_MM:
        wood = x[(half > abs(z) + 2) & (splice < abs(z) + 1.5)]
        # The middle lines end at the splice: they do not begin again above it.
        if len(wood):
            pairs.append((view.spot(float(wood[0]) + 2, float(z)), view.spot(float(wood[-1]) - 2, float(z))))
    return pairs


def draw_outlines(canvas: Canvas, side: View, face: View, other: BuildSheet) -> None:
    """Draw another bat over this one in a broken line."""
    x, front, _, back = lines.side_lines(other)
    shapes = [
        (side, ring(x, front, back)),
        (side, lines.handle_strip(other, seen="side", grip=False)),
        (face, lines.face_outline(other)),
        (face, lines.handle_strip(other, seen="face", grip=False)),
    ]
    for view, shape in shapes:
        canvas.path(view.spots(shape), "other", closed=True, stroke=1.1, dashes="6 3")


def draw_part(canvas: Canvas, side: View, face: View, build: BuildSheet, part: str) -> None:
    """Mark what is worked on at a stage, on both views."""
    shapes = part_shapes(build, part)
    for view, found in ((side, shapes["side"]), (face, shapes["face"])):
        for shape in found:
            canvas.path(view.spots(shape), "at-work-wash", closed=True, opacity=0.22)
            canvas.path(view.spots(shape), "at-work", closed=True, stroke=2.2)


def part_shapes(build: BuildSheet, part: str) -> dict[lines.Seen, list[Points]]:
    """Return the strips that a stage works on, in each view: the wood, its face, the back, the handle, all.

    Raises:
        ValueError: ``part`` is none of `PARTS`.
    """
    if part not in PARTS:
        raise ValueError(f"part {part!r}: one of {', '.join(PARTS)}")
    x, front, edge, back = lines.side_lines(build)
    blade = build.blade
    blade_side, blade_face = ring(x, front, back), lines.face_outline(build)
    handle_side = lines.handle_strip(build, seen="side", grip=False)
    handle_face = lines.handle_strip(build, seen="face", grip=False)
    if part == "cleft_selection":
        return {"side": [blade_side], "face": [blade_face]}
    if part == "pressing":
        wood = (x >= PRESS_BEGINS_MM) & (x <= blade.length_mm - build.handle.splice_length_mm)
        half = outline.local_width(blade, x) / 2
        return {
            "side": [ring(x[wood], front[wood], edge[wood])],
            "face": [ring(x[wood], -half[wood], half[wood])],
        }
    if part == "shaping":
        return {"side": [ring(x, edge, back)], "face": [blade_face]}
    if part == "handle_fitting":
        return {"side": [handle_side], "face": [handle_face, lines.splice_lines(build)]}
    return {"side": [blade_side, handle_side], "face": [blade_face, handle_face]}
