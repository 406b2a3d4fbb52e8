"""A build sheet as one SVG, arranged for a desk, a phone or paper; and the small one for lists."""

from collections.abc import Callable
from html import escape
from typing import Literal

from fitting.drawing import views
from fitting.drawing.across import BENCH, DESK, PAPER, draw_across
from fitting.drawing.canvas import Canvas
from fitting.drawing.full_size import draw_full_size
from fitting.drawing.labels import DrawingLabels
from fitting.drawing.request import Request, plain_g, plain_mm, soft_mm
from fitting.drawing.upright import draw_upright
from fitting.drawing.views import Axis, View
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import Weighing

Layout = Literal["wide", "bench", "narrow", "print", "full_size"]

PAPER_WIDTH_MM = 182.0
SMALL_WIDTH, SMALL_HEIGHT = 300.0, 42.0


def canvas_for(asked: Request, layout: Layout) -> Canvas:
    """Draw what is asked for in one arrangement."""
    if layout == "narrow":
        return draw_upright(asked)
    if layout == "full_size":
        return draw_full_size(asked)
    if layout == "print":
        return draw_across(asked, PAPER, ink_only=True)
    return draw_across(asked, BENCH if layout == "bench" else DESK, ink_only=False)


def draw_bat(
    build: BuildSheet,
    weighing: Weighing | None = None,
    *,
    layout: Layout,
    labels: DrawingLabels,
    part: str | None = None,
    compare: BuildSheet | None = None,
    left_handed: bool = False,
    compare_weighing: Weighing | None = None,
    show_mm: Callable[[float], str] = plain_mm,
    show_soft: Callable[[float], str] = soft_mm,
    show_mass: Callable[[float], str] = plain_g,
) -> str:
    """Draw a bat from its build sheet as SVG: response, side with stations, face, sections, all on one axis.

    ``weighing`` adds the balance and, where it has one, the response curve with the sweet spot. ``part`` is
    the stage being worked on (``shaping``), which is then marked; ``compare`` lays another bat over this one
    in a broken line, ``compare_weighing`` its curve; a left-hander's drawing is mirrored. ``full_size`` is
    side, face and the sections at the stations in true size, one unit a millimetre, in ink; it marks no part.

    ``show_mm`` words a length given in mm, without its unit, ``show_soft`` one that is known roughly;
    ``show_mass`` words a mass given in g, with its unit. The same arguments give the same text.
    """
    asked = Request(
        build=build,
        weighing=weighing,
        labels=labels,
        show_mm=show_mm,
        part=part,
        compare=compare,
        left_handed=left_handed,
        compare_weighing=compare_weighing,
        show_soft=show_soft,
        show_mass=show_mass,
    )
    canvas = canvas_for(asked, layout)
    width_mm = {"print": PAPER_WIDTH_MM, "full_size": canvas.width}.get(layout)
    return canvas.svg(title=labels.title, description=asked.description(), width_mm=width_mm)


def bat_small(build: BuildSheet, *, part: str | None = None, title: str = "") -> str:
    """Draw the bat's side alone, for a line of a list; without a title it is mere ornament."""
    overall = build.blade.length_mm + build.handle.length_mm
    scale = (SMALL_WIDTH - 8) / max(overall, 860.0)
    axis = Axis(4, scale, 1, upright=False)
    side = View(axis, SMALL_HEIGHT - 9, -1)
    canvas = Canvas(width=SMALL_WIDTH, height=SMALL_HEIGHT)
    views.draw_side_plain(canvas, side, build)
    if part is not None:
        views.draw_part_on_side(canvas, side, build, part)
    heard = f' role="img" aria-label="{escape(title)}"' if title else ' aria-hidden="true" focusable="false"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="bat bat-small"{heard}'
        f' viewBox="0 0 {SMALL_WIDTH:g} {SMALL_HEIGHT:g}">{canvas.drawn()}</svg>'
    )
