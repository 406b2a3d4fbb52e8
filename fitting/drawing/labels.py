"""The words of a drawing; they come from the edge, in the reader's language."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class DrawingLabels:
    """Every word on a drawing; names in braces are filled with measures already worded."""

    title: str
    description: str  # {overall} {blade} {handle} {width} {swell}
    side: str
    face: str
    sections: str
    spine: str
    edge: str
    from_toe: str
    blade: str  # {length}
    handle: str  # {length}
    overall: str  # {length}
    width: str  # {width}
    swell: str
    swell_reach: str  # {at} {choice} {by} {lower} {upper}
    swell_place: str  # {at} {by} {lower} {upper}; where the sweet spot itself is known
    sweet_spot: str  # {at} {choice} {lower} {upper}; soft measures
    fastest: str
    share_of_fastest: str  # {percent}
    spine_and_edge: str  # {spine} {edge}
    weighs: str  # {mass} {spread}
    choices: Mapping[str, str]
    balance: str  # {at}
    bow: str  # {depth} {at}
    girth: str
    units: str
    compared: str
    true_size: str
    bar: str  # beside a bar of 100 mm
    # By stage; the stages that a drawing can show work on are those named in `views.PARTS`.
    at_work: Mapping[str, str]
