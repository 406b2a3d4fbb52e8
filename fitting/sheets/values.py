"""The closed lists of values that both sheets share, in the trade's words."""

from typing import Literal

LengthCode = Literal[
    "size_1",
    "size_2",
    "size_3",
    "size_4",
    "size_5",
    "size_6",
    "harrow",
    "small_adult",
    "super_short",
    "short_handle",
    "long_handle",
    "long_blade",
    "long_handle_long_blade",
    "long_handle_short_blade",
]
Profile = Literal["tapered_spine", "spine_to_toe", "scalloped", "full"]
SweetSpot = Literal["low", "mid", "high", "long"]
Thickness = Literal["thin", "medium", "thick"]
Bow = Literal["none", "slight", "full"]
Face = Literal["flat", "rounded"]
Toe = Literal["light", "strong"]
HandleSection = Literal["round", "oval", "round_to_oval"]
Feel = Literal["traditional", "balanced", "stiff"]
Grain = Literal["few", "many"]
Construction = Literal["plain_cane", "stiffened_cane", "lightened_cane"]
Level = Literal["junior", "club", "first_class", "international"]
GivesWay = Literal["mass", "edges", "pickup", "looks", "life", "date"]

JUNIOR_CODES: tuple[LengthCode, ...] = (
    "size_1",
    "size_2",
    "size_3",
    "size_4",
    "size_5",
    "size_6",
    "harrow",
)
