"""Words for a half-made bat: its condition on the scales, what it still gains and loses, cuts and limits."""

from collections.abc import Callable

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from fitting.bat.additions import Addition
from fitting.bat.condition import Condition
from fitting.drawing.cuts_to_make import CutLabels
from orders.words.measures import show_decimals

# Below this a mass is on its number.
ON_THE_NUMBER_G = 0.5
ON_THE_NUMBER_MM = 0.5

_PENDING: dict[str, Callable[[], str]] = {
    "splice_recess": lambda: _("wood where the splice goes in"),
    "square_top": lambda: _("square top, to be shaped"),
    "outline": lambda: _("outline, down to its width"),
    "sanding": lambda: _("sanding"),
    "handle": lambda: _("handle"),
    "glue": lambda: _("glue of the splice"),
    "turning": lambda: _("handle, turned to its girths"),
    "binding": lambda: _("binding"),
    "grip": lambda: _("grip"),
    "face_film": lambda: _("film on the face"),
    "toe_guard": lambda: _("guard at the toe"),
    "edge_tape": lambda: _("tape on the edges"),
    "oil": lambda: _("oil"),
    "thread": lambda: _("one more layer of thread"),
    "drying": lambda: _("moisture, back to 12 %"),
}
_LIMITS: dict[str, Callable[[], str]] = {
    "spine": lambda: _("the trade's least depth of the spine"),
    "edge": lambda: _("the trade's least depth of the edge"),
    "toe": lambda: _("the toe: the trade's least depth there"),
    "gauge": lambda: _("the gauge of the Laws, with the book's margin"),
    "kink": lambda: _("a steeper back would show a kink"),
    "scoop": lambda: _("the scoop would leave too little wood"),
    "swell": lambda: _("the thickest point would wander"),
    "laws": lambda: _("the Laws, with the book's margin"),
}
_AIMS: dict[str, Callable[[], str]] = {
    "mass": lambda: _("mass"),
    "balance": lambda: _("balance"),
    "peak": lambda: _("where it hits hardest"),
}
_WARNINGS: dict[str, Callable[[], str]] = {
    "no_way_back_toe": lambda: _(
        "The toe is cut too. Toe wood is quick to take and cannot be put back: take it last, "
        "and only what the scales then still ask for."
    ),
    "at_the_limit": lambda: _(
        "These cuts go to the limit. Past it there is no way back: the bat would be too thin for the trade "
        "or against the Laws."
    ),
    "below_target": lambda: _(
        "These cuts go below the shaping targets by more than the tolerance, and the final inspection will "
        "say so. Wood that is off stays off."
    ),
}


def pending_words(key: str) -> str:
    """Name one gain or loss between the scales and the finished bat."""
    return _said(_PENDING, key)


def limit_words(key: str) -> str:
    """Name what stops a cut."""
    return _said(_LIMITS, key)


def aim_name(key: str) -> str:
    """Name what a cut is to land on."""
    return _said(_AIMS, key)


def warning_words(key: str) -> str:
    """Say plainly what cannot be undone about a cut, before it is made."""
    return _said(_WARNINGS, key)


def _said(words: dict[str, Callable[[], str]], key: str) -> str:
    return words[key]() if key in words else key.replace("_", " ")


def condition_words(condition: Condition) -> list[str]:
    """Say in which condition a bat lay on the scales, a phrase each."""
    found = [_("handle in") if condition.handle else _("without handle")]
    if condition.handle and condition.cane_g is not None and not condition.bound:
        found.append(_("handle not turned yet, %(mass)s g") % {"mass": show_decimals(condition.cane_g, 0)})
    if condition.handle:
        found.append(_("bound") if condition.bound else _("not bound"))
    if condition.square_top_mm:
        block = {"length": f"{condition.square_top_mm:g}", "depth": f"{condition.square_depth_mm:g}"}
        found.append(_("top %(length)s mm square, %(depth)s mm deep") % block)
    found.append(_("sanded") if condition.sanded else _("not sanded"))
    if condition.grips:
        found.append(
            ngettext("%(count)s grip", "%(count)s grips", condition.grips) % {"count": condition.grips}
        )
    for name in ("toe_guard", "face_film", "edge_tape"):
        if getattr(condition, name):
            found.append(pending_words(name))
    if condition.oil_coats:
        coats = ngettext("%(count)s coat of oil", "%(count)s coats of oil", condition.oil_coats)
        found.append(coats % {"count": condition.oil_coats})
    found.append(
        _("%(percent)s\N{NO-BREAK SPACE}%% moisture") % {"percent": f"{condition.moisture_percent:g}"}
    )
    return found


def held_mass(mass_g: float, target_g: float, tolerance_g: float) -> str:
    """Say a mass against what was agreed: ``4 g over, inside 14``."""
    return _held(mass_g - target_g, tolerance_g, 0, ON_THE_NUMBER_G, "g")


def held_place(place_mm: float, target_mm: float, tolerance_mm: float) -> str:
    """Say a balance against what was agreed: ``3 mm nearer the toe, inside 6``."""
    off = place_mm - target_mm
    tolerance = show_decimals(tolerance_mm, 0)
    if abs(off) < ON_THE_NUMBER_MM:
        return _("on the number")
    numbers = {"off": show_decimals(abs(off), 0), "tolerance": tolerance}
    where = _("%(off)s mm nearer the hands") if off > 0 else _("%(off)s mm nearer the toe")
    inside = _("inside %(tolerance)s") if abs(off) <= tolerance_mm + 0.05 else _("outside %(tolerance)s")
    return f"{where % numbers}, {inside % numbers}"


def held_pickup(share: float, tolerance_share: float) -> str:
    """Say a pickup against what was agreed, as a share of it: ``1.2 % heavier to lift, inside 2.5 %``."""
    percent, tolerance = 100 * share, 100 * tolerance_share
    if abs(percent) < 0.1:
        return _("as agreed")
    numbers = {"off": show_decimals(abs(percent), 1), "tolerance": show_decimals(tolerance, 1)}
    where = _("%(off)s %% heavier to lift") if share > 0 else _("%(off)s %% lighter to lift")
    inside = (
        _("inside %(tolerance)s %%") if abs(percent) <= tolerance + 0.05 else _("outside %(tolerance)s %%")
    )
    return f"{where % numbers}, {inside % numbers}"


def _held(off: float, tolerance: float, decimals: int, nothing: float, unit: str) -> str:
    if abs(off) < nothing:
        return _("on the number")
    numbers = {
        "off": show_decimals(abs(off), decimals),
        "unit": unit,
        "tolerance": show_decimals(tolerance, decimals),
    }
    where = _("%(off)s %(unit)s over") if off > 0 else _("%(off)s %(unit)s under")
    inside = _("inside %(tolerance)s") if abs(off) <= tolerance + 0.05 else _("outside %(tolerance)s")
    return f"{where % numbers}, {inside % numbers}"


def addition_words(addition: Addition) -> str:
    """Say what can be put on a bat that is too light, and what it does: ``grip: 50 g, balances 15 mm …``."""
    phrases = [_("%(mass)s g") % {"mass": show_decimals(addition.mass_g, 0)}]
    if abs(addition.balance_mm) >= ON_THE_NUMBER_MM:
        by = {"by": show_decimals(abs(addition.balance_mm), 0)}
        up = addition.balance_mm > 0
        phrases.append((_("balance %(by)s mm up") if up else _("balance %(by)s mm down")) % by)
    share = 100 * addition.pickup_share
    if abs(share) >= 0.1:
        lifted = _("%(by)s %% heavier to lift") if share > 0 else _("%(by)s %% lighter to lift")
        phrases.append(lifted % {"by": show_decimals(abs(share), 1)})
    name = _("another grip") if addition.key == "grip" else pending_words(addition.key)
    return f"{name}: {', '.join(phrases)}"


def cut_labels() -> CutLabels:
    """Return every word of the drawing of cuts."""
    return CutLabels(
        title=_("Where to take how much off, on the blade's side"),
        description=_("to come off: {cuts}"),
        one_cut=_("spine {spine} and edges {edge} mm at {at} mm from the toe"),
        spine=_("off the spine, mm"),
        edge=_("off both edges, mm"),
        from_toe=_("mm from the toe"),
        cut=_("to come off, drawn {times} times as deep as it is"),
        target=_("where the targets lie"),
        limit=_("as far as the limits let"),
        nothing=_("nothing is to come off"),
    )
