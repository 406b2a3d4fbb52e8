"""The forty commissions of the demo: where each stands, who it is for, how long ago it moved last."""

from dataclasses import dataclass
from typing import Literal

# Where a commission's story stops. Stage names: the bat lies there, its work half done.
End = Literal[
    "sent",
    "lapsed",
    "withdrawn",
    "change_asked",
    "proposed",
    "accepted",
    "cleft_selection",
    "pressing",
    "shaping",
    "handle_fitting",
    "finishing",
    "inspection",
    "ready",
    "delivered",
    "back",
    "mending",
    "delivered_again",
    "refunded",
    "cancelled_sent",
    "cancelled_accepted",
    "cancelled_making",
]


# A grown player of their own, the player who is told how to sign in, or one of the guardians' children.
Who = Literal["grown", "the_player", "robin", "wren", "teal"]


@dataclass(frozen=True)
class Planned:
    """One commission: how its story ends, days since its last move, and what is particular about it."""

    end: End
    days_ago: int
    who: Who = "grown"
    edited: bool = False
    held: bool = True
    late: bool = False
    gone_back: bool = False
    off: bool = False
    failed: bool = False
    consent: bool = False
    cleft: bool = True
    light: bool = False


PLANNED: tuple[Planned, ...] = (
    Planned("sent", 0),
    Planned("sent", 1),
    Planned("sent", 2, who="teal"),
    Planned("lapsed", 3),
    Planned("withdrawn", 2),
    Planned("change_asked", 1),
    Planned("change_asked", 5),
    Planned("proposed", 1, who="the_player", edited=True),
    Planned("proposed", 3, who="robin"),
    Planned("proposed", 6, held=False),
    Planned("proposed", 11),
    Planned("accepted", 1),
    Planned("accepted", 3, held=False, light=True),
    Planned("accepted", 6),
    Planned("cleft_selection", 0, held=False, cleft=False),
    Planned("cleft_selection", 1),
    Planned("pressing", 0),
    Planned("pressing", 2),
    Planned("pressing", 1, failed=True),
    Planned("shaping", 0, who="teal"),
    Planned("shaping", 1, edited=True),
    Planned("shaping", 9, late=True),
    Planned("handle_fitting", 0),
    Planned("handle_fitting", 2, gone_back=True),
    Planned("finishing", 0),
    Planned("finishing", 3),
    Planned("inspection", 1, who="the_player", consent=True),
    Planned("inspection", 0, late=True),
    Planned("ready", 0),
    Planned("ready", 2, off=True),
    Planned("delivered", 4),
    Planned("delivered", 12, who="wren"),
    Planned("delivered", 26),
    Planned("delivered_again", 8, who="the_player"),
    Planned("back", 1),
    Planned("mending", 0),
    Planned("refunded", 15),
    Planned("cancelled_sent", 20),
    Planned("cancelled_accepted", 9),
    Planned("cancelled_making", 31),
)

# How many days a story takes from the sent fitting to its end; ``telling.py`` holds itself to it.
LASTS: dict[End, int] = {
    "sent": 0,
    "lapsed": 17,
    "withdrawn": 5,
    "change_asked": 4,
    "proposed": 2,
    "accepted": 5,
    "cleft_selection": 6,
    "pressing": 8,
    "shaping": 10,
    "handle_fitting": 12,
    "finishing": 15,
    "inspection": 21,
    "ready": 22,
    "delivered": 24,
    "back": 38,
    "mending": 43,
    "delivered_again": 47,
    "refunded": 42,
    "cancelled_sent": 3,
    "cancelled_accepted": 8,
    "cancelled_making": 13,
}
