"""Types of bat A to D, and at which level each may be played.

Source: MCC, Laws of Cricket, 2017 Code, Appendix B.7 (3rd and 4th edition); ICC men's ODI and T20I playing
conditions, July 2025, 5.8.2 (type A only). What a national governing body allows at its levels stands in no
book of laws: such a type is marked as the body's to decide.
"""

from typing import Literal

from fitting.sheets.record import Record
from fitting.sheets.values import Level

BatType = Literal["A", "B", "C", "D"]


class TypeRules(Record):
    """What one type may have."""

    letter: BatType
    other_material_percent: float
    inserts: bool
    cloth: bool
    laminated_blade: bool
    coloured_blade: bool


class PlayedType(Record):
    """A type at a level: of right, or only where the national governing body has decided so."""

    letter: BatType
    decided_by_body: bool


class LevelRules(Record):
    """What divides the editions: the face of a laminated blade, and where type D is played."""

    most_pieces_of_laminated_blade: int
    laminated_face_of_one_piece: bool
    type_d_levels: tuple[Level, ...]


# B.2.3: not cane, wood or twine, of the handle's volume: one tenth for A and B, one fifth for C and D.
TYPES = (
    TypeRules(
        letter="A",
        other_material_percent=10,
        inserts=False,
        cloth=False,
        laminated_blade=False,
        coloured_blade=False,
    ),
    TypeRules(
        letter="B",
        other_material_percent=10,
        inserts=True,
        cloth=False,
        laminated_blade=False,
        coloured_blade=False,
    ),
    TypeRules(
        letter="C",
        other_material_percent=20,
        inserts=True,
        cloth=True,
        laminated_blade=False,
        coloured_blade=False,
    ),
    TypeRules(
        letter="D",
        other_material_percent=20,
        inserts=True,
        cloth=True,
        laminated_blade=True,
        coloured_blade=True,
    ),
)


def fitting_types(share_percent: float, types: tuple[TypeRules, ...]) -> tuple[BatType, ...]:
    """Return the types that a blade of one uncoloured piece fits by what else is in its handle, percent."""
    return tuple(one.letter for one in types if share_percent <= one.other_material_percent + 1e-9)


def played_types(level: Level | None, rules: LevelRules) -> tuple[PlayedType, ...]:
    """Return the types that may be played at a level; where no level is told, as at a club.

    Type A is played everywhere. International matches take no other; elsewhere the national governing body
    decides on B and C, and on D where the edition allows it at all.
    """
    played = [PlayedType(letter="A", decided_by_body=False)]
    if level == "international":
        return tuple(played)
    played += [PlayedType(letter=letter, decided_by_body=True) for letter in ("B", "C")]
    if (level or "club") in rules.type_d_levels:
        played.append(PlayedType(letter="D", decided_by_body=True))
    return tuple(played)
