"""The drawing's words and measures in the reader's language and units."""

from collections.abc import Callable
from functools import partial
from typing import Literal

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from fitting.drawing import DrawingLabels, draw_bat
from fitting.drawing.request import plain_mm, soft_mm
from fitting.drawing.views import PARTS
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import Weighing
from fitting.units import System
from orders.words.measures import show_mass

Units = Literal["mm", "in"]
SYSTEMS: dict[Units, System] = {"mm": "metric", "in": "imperial"}
MM_PER_INCH = 25.4


def drawing_labels(units: Units = "mm") -> DrawingLabels:
    """Return every word of a drawing in the language in force."""
    return DrawingLabels(
        title=_("The bat as drawn: side, face and sections"),
        description=_(
            "{overall} overall, blade {blade}, handle {handle}, width {width}; thickest {swell} from the toe"
        ),
        side=_("side"),
        face=_("face"),
        sections=_("sections, from the toe"),
        spine=_("spine"),
        edge=_("edge"),
        from_toe=_("from the toe"),
        blade=_("blade {length}"),
        handle=_("handle {length}"),
        overall=_("overall {length}"),
        width=_("width {width}"),
        swell=_("swell"),
        swell_reach=_("swell at {at} (asked: {choice}), within {by} from {lower} to {upper}"),
        swell_place=_("swell at {at}, within {by} from {lower} to {upper}"),
        sweet_spot=_("hits hardest about {at}, from {lower} to {upper} (asked: {choice})"),
        fastest=_("fastest off the bat"),
        share_of_fastest=_("{percent} % of that"),
        spine_and_edge=_("spine {spine}, edge {edge}"),
        weighs=_("weighs {mass}, give or take {spread}"),
        choices={"low": _("low"), "mid": _("mid"), "high": _("high"), "long": _("long")},
        balance=_("balances at {at}"),
        bow=_("bow {depth} at {at}"),
        girth=_("girth under the grip"),
        units=_("measures in inches") if units == "in" else _("measures in millimetres"),
        compared=_("broken line: the other bat"),
        true_size=_("true size: printed at 100 %, the bar is 100 mm long"),
        bar=_("100 mm"),
        at_work={
            "cleft_selection": _("being chosen: the cleft"),
            "pressing": _("being pressed"),
            "shaping": _("being shaped"),
            "handle_fitting": _("being fitted: the handle"),
            "finishing": _("being finished"),
        },
    )


def inches(value_mm: float) -> str:
    """Word a length in inches and sixteenths, without the unit."""
    sixteenths = round(value_mm / MM_PER_INCH * 16)
    whole, part = divmod(sixteenths, 16)
    below = 16
    while part and part % 2 == 0:
        part, below = part // 2, below // 2
    if not part:
        return str(whole)
    return f"{whole}\N{NO-BREAK SPACE}{part}/{below}" if whole else f"{part}/{below}"


def measure_in(units: Units) -> Callable[[float], str]:
    """Return how a drawing words a length."""
    return inches if units == "in" else plain_mm


def soft_inches(value_mm: float) -> str:
    """Word a length that is known roughly, in inches to the quarter."""
    quarter = MM_PER_INCH / 4
    return inches(round(value_mm / quarter) * quarter)


def soft_measure_in(units: Units) -> Callable[[float], str]:
    """Return how a drawing words a length that is known roughly."""
    return soft_inches if units == "in" else soft_mm


def mass_in(units: Units) -> Callable[[float], str]:
    """Return how a drawing words a mass."""
    return partial(show_mass, system=SYSTEMS[units])


def drawing_for(
    build: BuildSheet,
    weighing: Weighing | None = None,
    *,
    part: str | None = None,
    compare: BuildSheet | None = None,
    compare_weighing: Weighing | None = None,
    left_handed: bool = False,
    paper: bool = False,
    bench: bool = False,
    units: Units = "mm",
) -> dict[str, SafeString | None]:
    """Return the drawing in its arrangements, for ``parts/drawing.html``; paper is always in millimetres.

    On the bench (``bench``) the drawing's type is large enough for arm's length. ``part`` may be any stage
    of a bat: one without work on the bat (waiting, done) marks nothing.
    """
    labels, show_mm = drawing_labels(units), measure_in(units)
    part = part if part in PARTS else None
    wide, narrow = (
        draw_bat(
            build,
            weighing,
            layout=layout,
            labels=labels,
            part=part,
            compare=compare,
            compare_weighing=compare_weighing,
            left_handed=left_handed,
            show_mm=show_mm,
            show_soft=soft_measure_in(units),
            show_mass=mass_in(units),
        )
        for layout in ("bench" if bench else "wide", "narrow")
    )
    sheet = None
    if paper:
        sheet = draw_bat(
            build,
            weighing,
            layout="print",
            labels=drawing_labels(),
            part=part,
            left_handed=left_handed,
            show_mass=mass_in("mm"),
        )
    # Every word in it went through html.escape; the rest are numbers.
    return {
        "wide": mark_safe(wide),  # noqa: S308
        "narrow": mark_safe(narrow),  # noqa: S308
        "paper": mark_safe(sheet) if sheet else None,  # noqa: S308
    }
