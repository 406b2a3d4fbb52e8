"""The care of a bat in words: one sentence or two for each key of ``orders/care/plan.py``."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from orders.care.plan import Advice

SUBJECTS: dict[str, Promise] = {
    "caution": gettext_lazy("Put it down at once"),
    "mind": gettext_lazy("When you work on it"),
    "face": gettext_lazy("The face"),
    "knocking_in": gettext_lazy("Knocking it in"),
    "first_innings": gettext_lazy("The first innings"),
    "toe": gettext_lazy("The toe"),
    "edges": gettext_lazy("The edges"),
    "handle": gettext_lazy("Handle and grip"),
    "store": gettext_lazy("Where it lives"),
    "moisture": gettext_lazy("If it gets heavier or lighter"),
    "wear": gettext_lazy("What is normal"),
}

ADVICE: dict[tuple[str, str], Promise] = {
    ("face", "natural"): gettext_lazy(
        "Its face is bare wood with %(coats)s coats of raw linseed oil from the workshop. Once or twice a "
        "season: a thin coat on face, edges and back with a soft cloth, never on the splice, never on the "
        "markings. Leave it flat for a day to dry. Too much oil makes the wood heavy and soft."
    ),
    ("face", "filmed"): gettext_lazy(
        "Its face is covered with a clear film. Do not oil the face: oil creeps under the film and lifts it. "
        "Oil only the bare back, thinly, once a season. Change the film when it is cut or comes away, not "
        "before."
    ),
    ("knocking_in", "plan"): gettext_lazy(
        "Before a hard new ball: %(hours)s of knocking-in, in about %(sittings)s sittings of "
        "%(sitting_minutes)s minutes. Use a bat mallet; begin gently, the middle first, then outwards. Give "
        "%(edge_minutes)s minutes of it to edges and toe, with glancing taps that round them; never strike "
        "an edge or the bottom of the toe square on."
    ),
    ("knocking_in", "done_here"): gettext_lazy(
        "The workshop has already knocked it in for %(done_minutes)s minutes; that is taken off. It shortens "
        "your part but does not replace it."
    ),
    ("knocking_in", "seam_test"): gettext_lazy(
        "Then play old, soft balls in the nets for an hour or two. When a good ball no longer leaves a dent "
        "or a seam mark, it is ready; if it does, go back to the mallet. The minutes are a guide, the marks "
        "decide."
    ),
    ("first_innings", "opens_up"): gettext_lazy(
        "A new bat feels dull. It opens over its first two to five innings, as the fibres settle. Judge it "
        "after these."
    ),
    ("toe", "guarded"): gettext_lazy(
        "The toe has a guard, which keeps damp out from below. Look at it once a month: if it comes loose, "
        "damp stays behind it. Do not play on with a loose one."
    ),
    ("toe", "unguarded"): gettext_lazy(
        "The toe is bare: on a damp ground it drinks and swells. Stand the bat on its handle, never on its "
        "toe; after a wet day wipe it and let it dry slowly, lying flat."
    ),
    ("toe", "damp_ground"): gettext_lazy(
        "You play where it is often damp. Wipe the toe after each innings; if it has swollen, leave the bat "
        "flat in a dry room for one to two weeks, and do not hit with it."
    ),
    ("edges", "taped"): gettext_lazy("The edges are taped. Renew the tape when it is cut through."),
    ("edges", "bare"): gettext_lazy(
        "The edges are bare wood. Small bruises are normal; put tape round them before a bruise becomes a "
        "crack."
    ),
    ("handle", "grips"): gettext_lazy(
        "Wipe the grip with a damp cloth, no solvent. A worn grip is changed before it tears. Handle and "
        "splice are not oiled."
    ),
    ("handle", "grips_two"): gettext_lazy(
        "It carries %(count)s grips. Taking one off thins the handle and moves the balance towards the toe."
    ),
    ("store", "even_damp"): gettext_lazy(
        "Keep it indoors, where the air is neither very dry nor damp: not beside a heater, not in a car in "
        "the sun, not in a cellar or a wet bag. In winter lay it flat. A blade that dries out turns brittle; "
        "a damp one swells at the toe."
    ),
    ("moisture", "grams_a_percent"): gettext_lazy(
        "Willow takes up and gives off water. This blade changes by %(grams)s g for each per cent of "
        "moisture; between a heated room and a damp store that can be %(grams_wide)s g. Weigh it before you "
        "think it has changed in any other way."
    ),
    ("wear", "normal"): gettext_lazy(
        "Fine lines along the grain of the face, small bruises on the edges, a scuffed toe: play on. A crack "
        "that catches a fingernail on edge or toe: stop, have it taped or glued, then play."
    ),
    ("caution", "loose_handle"): gettext_lazy("A handle that rattles or turns: do not hit with it."),
    ("caution", "splinter"): gettext_lazy(
        "A lifting splinter: it goes into a hand. Do not pull it off; have it glued."
    ),
    ("caution", "through_crack"): gettext_lazy(
        "A crack right through the blade, or a broken handle: it can fly apart."
    ),
    ("mind", "eye_care"): gettext_lazy(
        "Knocking-in throws chips and is loud: cover your eyes and ears, and mind the neighbours."
    ),
    ("mind", "oily_rags"): gettext_lazy(
        "Rags wet with linseed oil heat up by themselves and can catch fire: spread them flat outdoors until "
        "they are hard, or put them in a closed metal can with water. Never in a heap or a bin."
    ),
    ("mind", "pain"): gettext_lazy(
        "Pain in wrist, elbow or shoulder: stop, and see a doctor or physiotherapist. No bat treats it."
    ),
    ("mind", "child_with_adult"): gettext_lazy(
        "A child knocks in and oils only with an adult, eyes covered. An adult looks the bat over before "
        "each innings; small loose parts of wood or rubber are kept from little children."
    ),
}
RULES_FIRST = gettext_lazy(
    "Your local rules, and what the makers of oil, glue and mallet print on them, come before these words."
)
# What keeps people from harm stands before everything else.
CAUTIONS = frozenset({"caution", "mind"})


@dataclass(frozen=True)
class Section:
    """One subject of the care of a bat, with its sentences."""

    subject: str
    title: str
    sentences: tuple[str, ...]


def care_words(plan: Iterable[Advice]) -> list[Section]:
    """Say a care plan, a section for each subject, in the plan's order."""
    sections: dict[str, list[str]] = {}
    for advice in plan:
        sections.setdefault(advice.subject, []).append(_sentence(advice))
    return [
        Section(subject, str(SUBJECTS[subject]), tuple(sentences)) for subject, sentences in sections.items()
    ]


@dataclass(frozen=True)
class Figure:
    """One big number of the care of a bat."""

    number: str
    what: str


def care_figures(plan: Iterable[Advice]) -> list[Figure]:
    """Say the numbers of a care plan that are looked up again: minutes, sittings, grams a per cent."""
    numbers = {name: value for advice in plan for name, value in advice.numbers.items()}
    sittings = _("%(sittings).0f of %(minutes).0f minutes") % {
        "sittings": numbers["sittings"],
        "minutes": numbers["sitting_minutes"],
    }
    return [
        Figure(hours_words(numbers["minutes"]), _("of knocking-in left to you")),
        Figure(sittings, _("sittings")),
        Figure(_("%(grams).0f g") % {"grams": numbers["grams"]}, _("for each per cent of moisture")),
    ]


def _sentence(advice: Advice) -> str:
    numbers = {name: f"{value:.0f}" for name, value in advice.numbers.items()}
    if "minutes" in advice.numbers:
        numbers["hours"] = hours_words(advice.numbers["minutes"])
    return str(ADVICE[advice.subject, advice.key]) % numbers


def hours_words(minutes: float) -> str:
    """Say a time to the quarter of an hour: ``5¼ hours``, and below an hour in minutes."""
    quarters = round(minutes / 15)
    if quarters < 4:
        return _("%(minutes)s minutes") % {"minutes": f"{minutes:.0f}"}
    whole, part = divmod(quarters, 4)
    words = ngettext("%(hours)s hour", "%(hours)s hours", 1 if quarters == 4 else 2)
    return words % {"hours": f"{whole}{('', '¼', '½', '¾')[part]}"}
