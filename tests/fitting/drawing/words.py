"""Plain words for drawings in tests."""

from fitting.drawing import DrawingLabels
from fitting.drawing.views import PARTS

PLAIN = DrawingLabels(
    title="The bat <drawn>",
    description="{overall} overall, blade {blade}, handle {handle}, width {width}, thickest at {swell}",
    side="side",
    face="face",
    sections="sections, from the toe",
    spine="spine",
    edge="edge",
    from_toe="from the toe",
    blade="blade {length}",
    handle="handle {length}",
    overall="overall {length}",
    width="width {width}",
    swell="swell",
    swell_reach="swell at {at} (asked: {choice}), within {by} from {lower} to {upper}",
    swell_place="swell at {at}, within {by} from {lower} to {upper}",
    sweet_spot="hits hardest about {at}, from {lower} to {upper} (asked: {choice})",
    fastest="fastest off the bat",
    share_of_fastest="{percent} % of that",
    spine_and_edge="spine {spine}, edge {edge}",
    weighs="weighs {mass}, give or take {spread}",
    choices={"low": "low", "mid": "mid", "high": "high", "long": "long"},
    balance="balances at {at}",
    bow="bow {depth} at {at}",
    girth="girth under the grip",
    units="measures in millimetres",
    compared="broken line: the other bat",
    true_size="true size: printed at 100 %, the bar is 100 mm long",
    bar="100 mm",
    at_work={part: f"working: {part}" for part in PARTS},
)


def sixteenths(value_mm: float) -> str:
    """The longest way to word a length: whole inches and sixteenths."""
    whole, part = divmod(round(value_mm / 25.4 * 16), 16)
    return f"{whole}\N{NO-BREAK SPACE}{part}/16"
