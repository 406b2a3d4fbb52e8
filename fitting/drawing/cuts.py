"""Cross-sections, seen from the toe, face down."""

import numpy as np

from fitting.bat import outline, sections
from fitting.drawing.canvas import Canvas, Points, Spot
from fitting.drawing.lines import GRAIN_APART_MM
from fitting.sheets.build_sheet import BuildSheet


def blade_cut(build: BuildSheet, x_mm: float) -> Points:
    """Return the blade's section with its face on zero, points (n, 2) of z and y."""
    points = sections.section_outline(build, x_mm)
    lift = float(outline.bow(build.blade, np.array([x_mm]))[0])
    flat: Points = points - np.array([0.0, lift])
    return flat


def draw_blade_cut(
    canvas: Canvas, centre: Spot, scale: float, build: BuildSheet, x_mm: float, compare: BuildSheet | None
) -> None:
    """Draw a section of the blade with its face's middle at ``centre``; the splice shows as cane."""
    points = blade_cut(build, x_mm)
    canvas.path(_placed(points, centre, scale), "willow", closed=True, stroke=1.3)
    canvas.strokes(_rings(points, centre, scale), "grain", stroke=0.6, opacity=0.45)
    splice = float(sections.splice_width(build, np.array([x_mm]))[0])
    if splice > 0:
        canvas.path(_placed(_between(points, splice / 2), centre, scale), "cane", closed=True, stroke=0.8)
    if compare is not None and x_mm <= compare.blade.length_mm:
        canvas.path(
            _placed(blade_cut(compare, x_mm), centre, scale), "other", closed=True, stroke=1.1, dashes="6 3"
        )


def draw_handle_cut(canvas: Canvas, centre: Spot, scale: float, build: BuildSheet, x_mm: float) -> None:
    """Draw the bound handle's section standing on ``centre``, its grip about it."""
    width, depth, _ = sections.handle_ellipse(build.handle, build.blade, np.array([x_mm]))
    turn = np.linspace(0, 2 * np.pi, 49)[:-1]
    half_wide, half_deep = float(width[0]) / 2, float(depth[0]) / 2
    grip = build.grips.count * build.grips.wall_mm
    for wall in [grip, 0.0] if grip > 0 else [0.0]:
        across, up = (half_wide + wall) * np.cos(turn), (half_deep + wall) * np.sin(turn)
        canvas.path(_placed(np.column_stack([across, half_deep + up]), centre, scale), "cane", closed=True)


def handle_cut_places(build: BuildSheet) -> list[tuple[float, float]]:
    """Return the three places where the handle's girth is given, with the girth, bottom to top."""
    start, length, girth = build.blade.length_mm, build.handle.length_mm, build.handle.girth_mm
    return [(start, girth.bottom), (start + length / 2, girth.middle), (start + length, girth.top)]


def _placed(points: Points, centre: Spot, scale: float) -> Points:
    return np.column_stack([centre[0] + scale * points[:, 0], centre[1] - scale * points[:, 1]])


def _rings(points: Points, centre: Spot, scale: float) -> list[tuple[Spot, Spot]]:
    """Return the growth rings through a section: they run from the face's grain to the back."""
    count = len(points) // 2
    face, back = points[:count], points[count:][::-1]
    reach = int(face[-1, 0] // GRAIN_APART_MM)
    z = np.arange(-reach, reach + 1) * GRAIN_APART_MM
    z = z[np.abs(z) < face[-1, 0] - 2]
    ends = zip(z, np.interp(z, face[:, 0], face[:, 1]), np.interp(z, back[:, 0], back[:, 1]), strict=True)
    x, y = centre
    return [
        ((x + scale * float(at), y - scale * float(low)), (x + scale * float(at), y - scale * float(high)))
        for at, low, high in ends
    ]


def _between(points: Points, half_mm: float) -> Points:
    """Return the part of a section within ``half_mm`` of its middle."""
    count = len(points) // 2
    face, back = points[:count], points[count:][::-1]
    z = np.linspace(-half_mm, half_mm, 13)
    low = np.interp(z, face[:, 0], face[:, 1])
    high = np.interp(z, back[:, 0], back[:, 1])
    return np.concatenate([np.column_stack([z, low]), np.column_stack([z, high])[::-1]])
