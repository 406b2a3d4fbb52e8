"""The recommendation in words: facts, prices, cautions, conflicts, ways out, and how sure we are."""

from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from fitting.recommend.pickup import PRESENT_SD
from fitting.sheets.recommendation import Because, Conflict, Reason
from orders.words.answers import ANSWERS
from orders.words.facts import FACT_WORDS
from orders.words.fields import VALUES
from orders.words.measures import show_length, show_mass
from orders.words.values import say_field, say_value

Text = str | Promise

TRADE_OFF_WORDS: dict[str, Text] = {
    "length.more_to_lift": _("There is more of it to lift than of a short handle."),
    "length.pair_heavy": _("Handle and blade both long are heavy to lift."),
    "length.toe_heavy": _("Its toe can feel heavy."),
    "length.less_reach": _("It reaches a little less far than a short handle."),
    "length.outgrown": _("It will be outgrown; that is better than a bat too big to swing."),
    "sweet_spot.off_middle": _("It gives less at the other end of the blade."),
    "sweet_spot.size_costs_mass": _("A bigger middle costs mass, a lighter bat costs some of the middle."),
    "profile.little_low_down": _("There is little wood low down for a ball at the toe."),
    "profile.wood_low_down": _("The wood low down is felt when lifting."),
    "profile.smaller_middle": _("Away from its middle it gives less than a full blade."),
    "profile.heavier": _("A full blade weighs more, or has to be made of lighter willow."),
    "edges.thick": _("Big edges, little mass and a long life: two of the three can be had."),
    "edges.thin": _("Thin edges chip and crack sooner."),
    "bow.none": _("A lofted stroke gets less help."),
    "bow.against": _("A bow costs a second pressing and makes the middle a touch smaller."),
    "face.harder": _("It can feel harder in the hands."),
    "toe.breaks_sooner": _("A slim toe breaks sooner."),
    "toe.weight_low": _("A strong toe is felt when lifting."),
    "toe.scoop_once": _("A scoop can be cut only once: wood does not go back on."),
    "handle.firmer_feel": _("It is firmer in the hands, which not everybody likes."),
    "handle.different_feel": _("It does not feel quite like plain cane."),
    "protect.guard_weight": _("Its few grams sit at the toe, where they are felt most."),
    "protect.film_weight": _("A film adds about fifteen grams, and the face cannot breathe through it."),
    "protect.tape_width": _("The blade is made half a millimetre narrower for it."),
    "grade.price": _("The finest looks cost the most and hit no harder."),
    "grade.looks": _("The willow may carry marks, stain or few straight grains."),
    "grade.marks": _("The willow may carry a small mark away from the middle."),
    "willow.light": _("Lighter willow dents and wears out sooner."),
    "willow.dense": _("Denser willow feels harder and gives a smaller shape for its mass."),
    "solve.full_or_thin": _("A fuller blade weighs more; the mass decides how full it may be."),
}

CAUTION_WORDS: dict[str, Text] = {
    "child.guardian": _("A bat for somebody under 18 is chosen with the guardian, who also agrees to it."),
    "child.lighter": _(
        "For a young player lighter is safer than heavier. Please do not choose a bat to grow into."
    ),
    "child.measure_again": _(
        "Please measure the height again if the last time is more than eight weeks ago."
    ),
    "child.knock_in_with_adult": _(
        "A child knocks a bat in only with an adult beside, and with the eyes protected."
    ),
    "joints.professional": _(
        "With pain in wrist, elbow, shoulder or back see a physiotherapist or a doctor: "
        "a bat can be kinder, it treats nothing."
    ),
    "ball.machine": _("Balls of bowling machines wear out a bat fast; keep an old bat for them."),
    "damp.limits": _("Guard and film keep part of the damp out, not all: dry the bat flat after a wet day."),
    "laws.older_edition": _(
        "Your first match falls before the newest edition of the Laws came into force: "
        "the bat is held to the edition of that day."
    ),
    "willow.rare": _(
        "This bat needs willow that is seldom on the rack: it may take longer, as you said it may."
    ),
    "laws.local_body": _(
        "Ask your own league or national body what it allows at your level: local rules come first."
    ),
    "care.knock_in": _(
        "Before it meets a new ball this bat needs about six hours of knocking-in in short sittings, "
        "then old soft balls. It is noisy and chips can fly: protect your eyes."
    ),
    "care.oil_rags": _(
        "Rags wet with linseed oil can catch fire by themselves: lay them flat outdoors, "
        "or keep them in a closed metal can with water."
    ),
}

# kept, given up and change are words or measures by the field they belong to.
CONFLICT_WORDS: dict[str, Text] = {
    "wish_against_rule": _(
        "%(field)s: you wish %(kept)s, your other answers lead to %(given_up)s. We followed the wish."
    ),
    "mass.wish": _(
        "You wish %(kept)s; your bat and your answers lead to %(given_up)s. We followed the wish."
    ),
    "mass.trade_limit": _(
        "You wish %(given_up)s; in this length nobody makes less or more than %(kept)s, so that it is."
    ),
    "mass.child_ceiling": _(
        "%(given_up)s is too much for a young player in this size. It stays at %(kept)s, whatever is wished: "
        "lighter is safer."
    ),
    "mass.unreached_light": _(
        "No shape within the limits comes down to %(given_up)s with what else was chosen; "
        "%(kept)s is the lightest."
    ),
    "mass.unreached_heavy": _(
        "No shape inside the Laws comes up to %(given_up)s with what else was chosen; "
        "%(kept)s is the heaviest."
    ),
    "willow.choose_two": _(
        "Big edges, little mass and a long life do not go together: the willow would have to be "
        "%(kept)s kg/m³ instead of about %(given_up)s, and such willow wears out sooner."
    ),
    "girth.limit": _(
        "Your hand or your wish asks for %(given_up)s round the handle; it is made %(kept)s, "
        "as far as it is safe to go."
    ),
    "edges.gave_way": _(
        "Thick edges do not go with this mass. You said that edges give way first: they are made %(kept)s, "
        "and the mass is met."
    ),
    "mass.gave_way": _(
        "The bat would not lift as you ask at %(given_up)s. You said that mass gives way before pickup: "
        "it is made %(kept)s."
    ),
    "sweet_spot.long_light": _(
        "A long middle wants wood on both sides of it, and a light bat has little to spare. "
        "We kept it %(kept)s: it forgives more, and the very middle hits a little less hard."
    ),
    "length.pair": _(
        "Handle and blade are both long, as your reach asks: the pair is heavier to lift than "
        "%(given_up)s alone."
    ),
    "bow.largest": _(
        "A full bow goes through the press once more, and makers say that its middle comes out slightly "
        "smaller. You asked for the longest middle as well; both are made."
    ),
    "handle.stiff_easy": _(
        "A stiff handle and a bat that is easy on the joints pull apart. We followed your wish for the "
        "handle; %(given_up)s or a second grip is kinder."
    ),
    "pickup.present": _(
        "By its measures the bat you use picks up at %(given_up)s kg m²; at this mass and length "
        "the new one comes to %(kept)s."
    ),
}

WAY_OUT_WORDS: dict[str, Text] = {
    "mass_g": _("agree to another mass"),
    "length_code": _("take another length"),
    "profile.full": _("take a full profile"),
    "toe.scoop": _("have the toe scooped"),
    "grips.count": _("add a second grip"),
    "grips.thinner": _("take a thinner grip"),
}

SURE_FROM = 0.7
FAIRLY_SURE_FROM = 0.45


@dataclass(frozen=True)
class WordedReason:
    """One reason as sentences, ready for a page or a report."""

    field: str
    name: str
    value: str
    because: tuple[str, ...]
    answers: tuple[str, ...]
    trade_off: str
    alternatives: tuple[str, ...]
    sure: str


def say_answer(field: str) -> str:
    """Name an answer: "your height"."""
    return str(ANSWERS[field])


def say_fact(key: str) -> str:
    """Say why, by the key of a fact."""
    return str(FACT_WORDS[key])


def say_trade_off(key: str) -> str:
    """Say what a choice costs."""
    return str(TRADE_OFF_WORDS[key])


def say_caution(key: str) -> str:
    """Say one caution."""
    return str(CAUTION_WORDS[key])


def say_confidence(confidence: float) -> str:
    """Say how sure: sure, fairly sure, talk about it."""
    if confidence >= SURE_FROM:
        return gettext("sure")
    return gettext("fairly sure") if confidence >= FAIRLY_SURE_FROM else gettext("talk about it")


def say_conflict(conflict: Conflict) -> str:
    """Say what pulls apart and what was done about it."""
    return str(CONFLICT_WORDS[conflict.key]) % {
        "field": say_field(conflict.fields[0]),
        "kept": _say_side(conflict, conflict.kept),
        "given_up": _say_side(conflict, conflict.given_up),
    }


def say_ways_out(conflict: Conflict) -> tuple[str, ...]:
    """Say the ways out of a conflict."""
    return tuple(
        gettext("leave %(wish)s") % {"wish": say_answer(way)} if way in ANSWERS else str(WAY_OUT_WORDS[way])
        for way in conflict.ways_out
    )


def word_reason(reason: Reason) -> WordedReason:
    """Put one reason into sentences; a fact that several answers met is said once."""
    facts = dict.fromkeys(say_fact(one.fact) for one in reason.because)
    return WordedReason(
        field=reason.field,
        name=say_field(reason.field),
        value=say_value(reason.field, reason.value),
        because=tuple(facts),
        answers=tuple(dict.fromkeys(_answers(reason.because))),
        trade_off=say_trade_off(reason.trade_off) if reason.trade_off else "",
        alternatives=tuple(say_value(reason.field, other.value) for other in reason.alternatives),
        sure=say_confidence(reason.confidence),
    )


def _answers(because: tuple[Because, ...]) -> list[str]:
    return [say_answer(one.answer) for one in because if one.answer]


def _say_side(conflict: Conflict, side: str) -> str:
    """Say a side of a conflict: a number with the unit of what is at stake, or a word of the trade."""
    if conflict.key.startswith("mass."):
        return show_mass(float(side))
    if conflict.key == "girth.limit":
        return show_length(float(side))
    if conflict.key == "pickup.present" and side == conflict.given_up and PRESENT_SD in conflict.cost:
        return gettext("%(pickup)s ± %(spread).4f") % {"pickup": side, "spread": conflict.cost[PRESENT_SD]}
    return str(VALUES.get(side, side))
