"""The returns desk in words: adjustments, what each takes, what cannot be done."""

from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from workshop.returns.adjustments import ADJUSTMENTS, CANNOT_BE_DONE, Effect, Kind

# What is done, and what it takes or risks.
ADJUSTMENT_WORDS: dict[str, tuple[Promise, Promise]] = {
    "knock_in": (
        gettext_lazy("Knock it in for another hour"),
        gettext_lazy("a dead feel in the first weeks is most often that"),
    ),
    "condition": (
        gettext_lazy("Dry or condition the blade"),
        gettext_lazy("slow and cheap; often the true cause of a bat that got heavier"),
    ),
    "second_grip": (
        gettext_lazy("One more grip"),
        gettext_lazy("ten minutes, and it can be undone: try it first"),
    ),
    "one_grip_less": (gettext_lazy("One grip less"), gettext_lazy("ten minutes, and it can be undone")),
    "new_grip": (gettext_lazy("A new grip"), gettext_lazy("ten minutes")),
    "handle_thinner": (
        gettext_lazy("Handle 4 mm thinner round"),
        gettext_lazy("rebound; never cut through a strip of rubber"),
    ),
    "handle_thicker": (
        gettext_lazy("Handle 4 mm thicker round"),
        gettext_lazy("one more layer of thread or a sleeve; can be undone"),
    ),
    "handle_shorter": (gettext_lazy("Handle 12.7 mm shorter"), gettext_lazy("once, and no way back")),
    "re_bind": (gettext_lazy("Bind the handle anew"), gettext_lazy("a day with its glue")),
    "re_glue": (
        gettext_lazy("Glue the splice again"),
        gettext_lazy("only if the cheeks are sound; glue needs its 24 hours"),
    ),
    "spine_off": (gettext_lazy("2 mm off the spine, faded out"), gettext_lazy("the gentlest cut")),
    "back_off": (
        gettext_lazy("2 mm off the whole back"),
        gettext_lazy("an hour, sanding, oil and marks; the sweet spot stays near"),
    ),
    "upper_back_off": (
        gettext_lazy("2 mm off the upper back"),
        gettext_lazy("the handle's end gets lighter, so it feels more toe-heavy"),
    ),
    "lower_back_off": (
        gettext_lazy("2 mm off the lower back"),
        gettext_lazy("look at the toe's depth first"),
    ),
    "hollower": (
        gettext_lazy("A deeper hollow"),
        gettext_lazy("the edges stay; the wood between lasts less"),
    ),
    "scoop": (gettext_lazy("A scoop above the toe"), gettext_lazy("once only")),
    "edges_rounder": (gettext_lazy("Rounder edges"), gettext_lazy("cleans chipped edges too")),
    "toe_rounder": (gettext_lazy("A rounder toe"), gettext_lazy("the grain of the toe is sealed again")),
    "narrower": (gettext_lazy("1 mm narrower"), gettext_lazy("brings a swollen blade back inside the Laws")),
    "re_press": (
        gettext_lazy("Press the face again"),
        gettext_lazy("bare, film and guard off; no way back; reaches neither toe nor splice"),
    ),
    "film": (gettext_lazy("A film on the face"), gettext_lazy("on dry wood only")),
    "guard": (
        gettext_lazy("A guard on the toe"),
        gettext_lazy("of all coverings it is felt most when lifting"),
    ),
    "tape": (gettext_lazy("Tape on the edges"), gettext_lazy("half an hour")),
    "oil": (gettext_lazy("One more coat of oil"), gettext_lazy("dry bats only; three weeks to settle")),
    "mend_toe": (
        gettext_lazy("Mend the toe"),
        gettext_lazy("glue, clamp, dress; a swollen one dries flat for one to two weeks first"),
    ),
    "mend_edge": (gettext_lazy("Mend an edge"), gettext_lazy("thin glue, then tape")),
    "mend_face": (gettext_lazy("Mend the face"), gettext_lazy("cracks under 60 mm; thin glue, then film")),
}

KINDS: dict[Kind, Promise] = {
    "undone": gettext_lazy("Without cutting"),
    "handle": gettext_lazy("The handle"),
    "cut": gettext_lazy("Taking wood off, or pressing: no way back"),
    "covering": gettext_lazy("Coverings"),
    "mend": gettext_lazy("Mending"),
}

NOT_POSSIBLE: dict[str, Promise] = {
    "grips_enough": gettext_lazy("it has three grips"),
    "one_grip": gettext_lazy("it has one grip"),
    "scooped_already": gettext_lazy("it has its scoop"),
    "toe_round_already": gettext_lazy("the toe is as round as it can be"),
    "handle_short_already": gettext_lazy("a handle of this length is not shortened"),
    "on_already": gettext_lazy("it has that"),
    "filmed": gettext_lazy("its face is filmed"),
    "oiled_enough": gettext_lazy("it has had its oil"),
    "no_bat": gettext_lazy("nothing that holds would be left"),
    "edge_too_thin": gettext_lazy("the edges would be too thin"),
    "spine_too_thin": gettext_lazy("the spine would be too thin"),
    "handle_too_thin": gettext_lazy("the handle would be too thin"),
    "handle_too_thick": gettext_lazy("the handle would be too thick"),
}

CANNOT_WORDS: dict[str, Promise] = {
    "add_wood": gettext_lazy("add wood"),
    "lengthen": gettext_lazy("lengthen blade or handle"),
    "thicken_edge": gettext_lazy("thicken an edge"),
    "lower_sweet_spot": gettext_lazy("lower the sweet spot without losing wood above it"),
    "take_out_bow": gettext_lazy("take a bow out"),
    "add_bow": gettext_lazy("add more than 2 to 4 mm of bow; it comes back"),
    "raise_density": gettext_lazy("make the willow denser"),
    "move_knot": gettext_lazy("move a knot"),
}

BEYOND_REPAIR = gettext_lazy(
    "Beyond repair: a crack right through, or from the toe past the swell; a blade broken across; a face "
    "that comes off over a third; more than 10 to 12 mm of the toe lost; rot, worm, oil-soaked wood; cheeks "
    "split below the splice; a broken handle with cracked cheeks."
)
DESK_CAUTIONS: tuple[Promise, ...] = (
    gettext_lazy(
        "Photographs of face, edges, toe and splice, and a reading of the moisture, before anything is "
        "touched."
    ),
    gettext_lazy(
        "Heat or steam on an old joint, solvents and oil: never beside each other, and never beside dust."
    ),
    gettext_lazy(
        "A repair's cover is at most 1 mm thick and goes at most 20 mm beyond the damage (Laws of Cricket, "
        "B.4.2)."
    ),
    gettext_lazy("The player's rights for a faulty bat stand above any custom of the trade."),
)


@dataclass(frozen=True)
class Offered:
    """One adjustment as it is offered on the desk; what changes nothing on the sheet has no numbers."""

    key: str
    words: str
    takes: str
    mass: str
    balance: str
    pickup: str
    not_possible: str
    chosen: bool


@dataclass(frozen=True)
class OfferedKind:
    """The adjustments of one kind that this bat allows."""

    title: str
    adjustments: list[Offered]


def offered(effects: dict[str, Effect], chosen: set[str]) -> tuple[list[OfferedKind], list[Offered]]:
    """Say every adjustment with what it would change, kind by kind; those that are not possible apart."""
    rows = {one.key: _offered(effects[one.key], chosen) for one in ADJUSTMENTS}
    kinds = [
        OfferedKind(
            str(title),
            [rows[one.key] for one in ADJUSTMENTS if one.kind == kind and not rows[one.key].not_possible],
        )
        for kind, title in KINDS.items()
    ]
    return [kind for kind in kinds if kind.adjustments], [row for row in rows.values() if row.not_possible]


def _offered(effect: Effect, chosen: set[str]) -> Offered:
    words, takes = ADJUSTMENT_WORDS[effect.key]
    mass, balance, pickup = changes_words(effect) if effect.changes_weight else ("", "", "")
    return Offered(
        key=effect.key,
        words=str(words),
        takes=str(takes),
        mass=mass,
        balance=balance,
        pickup=pickup,
        not_possible=str(NOT_POSSIBLE[effect.not_possible]) if effect.not_possible else "",
        chosen=effect.key in chosen,
    )


def changes_words(effect: Effect) -> tuple[str, str, str]:
    """Say what would change of mass, balance and pickup."""
    return (
        _signed(effect.mass_g, 0, "g"),
        _signed(effect.balance_mm, 1, "mm"),
        _signed(effect.pickup_percent, 1, "%"),
    )


def _signed(change: float, decimals: int, unit: str) -> str:
    if abs(change) < 0.5 * 10**-decimals:
        return f"0 {unit}"
    return f"{change:+.{decimals}f} {unit}".replace("-", "−")


def cannot_words() -> list[str]:
    """Say what cannot be done to a finished bat."""
    return [str(CANNOT_WORDS[key]) for key in CANNOT_BE_DONE]


def to_do_words(keys: list[str], words: str) -> str:
    """Say to the bench what is to be done: each adjustment on a line, then the maker's own words."""
    lines = [str(ADJUSTMENT_WORDS[key][0]) for key in keys]
    return "\n".join([*lines, *([words.strip()] if words.strip() else [])])


def not_possible_words(why: str) -> str:
    """Say why adjustments cannot be made together."""
    return _("These adjustments cannot be made together: %(why)s.") % {"why": NOT_POSSIBLE[why]}
