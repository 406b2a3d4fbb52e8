"""Facts that reasons point to, by key: what kind of knowledge each is, and its source.

``practice`` is common practice of the trade with no published source; ``memory`` is common knowledge of the
trade written down from memory, a default that the maker can change; ``research`` is published; ``model`` is
arithmetic of this program; ``answer`` only says what the player said or left out. The sentences stand in
orders/words/facts.py.
"""

from typing import Literal

from fitting.sheets.record import Record

Kind = Literal["practice", "memory", "research", "model", "answer"]

COMMON_PRACTICE = "common practice, no source"
FROM_MEMORY = "from memory of the trade"
THE_MODEL = "the program's own arithmetic"
THE_PLAYER = "the player's own answer"
KONG_LOWE = (
    "Kong Y.-K., Lowe B. D. (2005) Optimal cylindrical handle diameter for grip force tasks. "
    "International Journal of Industrial Ergonomics 35(6):495-507"
)
MCC_LAWS = "MCC, Laws of Cricket, 2017 Code, 3rd edition (2022) and 4th edition (2026), Law 5.7"


class Fact(Record):
    """What a reason stands on."""

    key: str
    kind: Kind
    source: str


_PRACTICE = """
length.short_handle length.super_short length.long_handle length.long_blade length.both_long
length.long_handle_short_blade
sweet_spot.high sweet_spot.mid sweet_spot.low sweet_spot.long sweet_spot.size_costs_mass
profile.tapered_spine profile.spine_to_toe profile.scalloped profile.full profile.before_edges
bow.for bow.against face.flat face.rounded
willow.density willow.match pressing.each
handle.section handle.thick handle.thin handle.plain_cane handle.lightened_cane handle.stiffened_cane
toe.thick toe.thin toe.scoop
protect.toe_guard protect.face_film protect.edge_tape
returns.make_right
"""

_MEMORY = """
length.between length.between_sizes length.small_adult length.junior_table length.table
sweet_spot.marks sweet_spot.present position.numbers
mass.adult mass.lighter mass.heavier mass.joints mass.light_player mass.not_liked mass.other_size
bow.resting bow.peak face.resting edge.radius shoulder.default toe.standard toe.whole toe.corner
width.default width.under_tape wishes.numbers
handle.table handle.splice handle.oval handle.line handle.strips handle.soft_first grips.one
protect.natural_face willow.grade willow.grain willow.moisture edge.outside
prior.present_bat
child.simple child.thin_handle child.lighter child.mass_ceiling limits.mass
care.oil care.oil_under_film care.knock_in care.store
"""

_MODEL = """
solve.mass solve.fullness solve.scallop solve.nearest
pickup.from_shape pickup.present_estimate pickup.present_swings pickup.swings_refused pickup.felt
sweet_spot.peak_found handle.weighed_later
"""

_ANSWER = "default.unanswered wish.followed"

FACTS: dict[str, Fact] = {
    **{key: Fact(key=key, kind="practice", source=COMMON_PRACTICE) for key in _PRACTICE.split()},
    **{key: Fact(key=key, kind="memory", source=FROM_MEMORY) for key in _MEMORY.split()},
    **{key: Fact(key=key, kind="model", source=THE_MODEL) for key in _MODEL.split()},
    **{key: Fact(key=key, kind="answer", source=THE_PLAYER) for key in _ANSWER.split()},
    "handle.hand": Fact(key="handle.hand", kind="research", source=KONG_LOWE),
    "laws.sizes": Fact(key="laws.sizes", kind="research", source=MCC_LAWS),
}


def fact(key: str) -> Fact:
    """Return a fact by its key.

    Raises KeyError for a key that no fact has.
    """
    return FACTS[key]
