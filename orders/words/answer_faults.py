"""What is wrong with an answer, in words: what was given, and what is allowed."""

from django.utils.translation import gettext as _

from fitting.answers import AnswerFault
from fitting.questions import Part
from fitting.units import Typed
from orders.words.measures import show_body, show_length, show_mass

# Stands between the numbers of a list that was written out.
BETWEEN = "; "
BODY_QUESTIONS = frozenset({"height", "wrist_height", "inside_leg", "hand_length"})


def say_answer_fault(fault: AnswerFault) -> str:
    """Say one fault: the field is named by its place, what was given and what is allowed by the words."""
    given = fault.given.strip() or _("nothing")
    simple = {
        "required": _("Please answer this one: without it there is nothing to draw."),
        "not_a_choice": _("%(given)s is not one of the choices.") % {"given": given},
        "twice": _("Each can stand only once in the order."),
        "nothing_played": _("All three are 0. Count at least one match, or leave all boxes empty."),
        "ends_crossed": _("The least is above the most. Swap the two, or leave one empty."),
        "also_needed": _("This number is needed with the others."),
        "needs_mass_and_length": _(
            "The balance follows from the reading together with mass and length: answer those two above."
        ),
        "inches_past_eleven": _("%(given)s was given: a foot has 12 inches, so inches go from 0 to 11.")
        % {"given": given},
        "ounces_past_fifteen": _("%(given)s was given: a pound has 16 ounces, so ounces go from 0 to 15.")
        % {"given": given},
        "too_long": _("That is too long. Type just the number and its unit."),
        "not_a_date": _("%(given)s was given, which is no date. Write it as 2027-04-30.") % {"given": given},
    }
    if fault.kind in simple:
        return simple[fault.kind]
    return _with_what_is_allowed(fault, given)


def _with_what_is_allowed(fault: AnswerFault, given: str) -> str:
    allowed = say_allowed(fault)
    if fault.kind == "ambiguous":
        return _ambiguous(fault, given)
    if fault.kind in BESIDE_ANOTHER:
        return _beside_another(fault, given, allowed)
    words = {
        "out_of_range": _("%(given)s was given; %(allowed)s is allowed."),
        "date_out_of_range": _("%(given)s was given; a date from %(allowed)s is allowed."),
        "negative": _("%(given)s was given, which is below nothing; %(allowed)s is allowed."),
        "not_whole": _("%(given)s was given; a whole number, %(allowed)s, is allowed."),
        "wrong_unit": _("%(given)s was given, in a unit of another kind; %(allowed)s is allowed."),
        "not_a_length": _("%(given)s was given, which is no length; %(allowed)s is allowed, like %(like)s."),
        "not_a_mass": _("%(given)s was given, which is no mass; %(allowed)s is allowed, like %(like)s."),
        "not_a_number": _("%(given)s was given, which is no number; %(allowed)s is allowed."),
    }
    like = {"not_a_length": _("175 cm or 5 ft 9"), "not_a_mass": _("1160 g or 2 lb 9")}.get(fault.kind, "")
    if fault.kind == "not_a_length" and fault.question not in BODY_QUESTIONS:
        like = _("85 cm or 33 1/2 in")
    return words[fault.kind] % {"given": given, "allowed": allowed, "like": like}


# Faults of an answer that could be true, but not beside another one.
BESIDE_ANOTHER = frozenset(
    {"too_tall_for_age", "against_height", "beyond_blade", "balance_unlikely", "swing_unlikely"}
)


def _beside_another(fault: AnswerFault, given: str, allowed: str) -> str:
    found = _say_reading(fault, fault.readings[0]) if fault.readings else given
    most = _most_allowed(fault)
    words = {
        "too_tall_for_age": _(
            "%(given)s was given, which no child of that age is; up to %(most)s is allowed. "
            "Look at the age and the height again."
        ),
        "against_height": _(
            "%(given)s was given; at that height it is %(allowed)s. "
            "Look at how it is measured, and at the height."
        ),
        "beyond_blade": _(
            "%(given)s was given; the blade ends at %(most)s above the toe. Look at the marks again."
        ),
        "balance_unlikely": _(
            "With that the bat would balance %(found)s from the toe; at its length %(allowed)s is allowed. "
            "Look at the reading, the mass and the length again."
        ),
        "swing_unlikely": _(
            "%(given)s seconds were given; for so many swings %(allowed)s is allowed. "
            "Over and back is one swing: count again."
        ),
    }
    return words[fault.kind] % {"given": given, "allowed": allowed, "most": most, "found": found}


def _most_allowed(fault: AnswerFault) -> str:
    if fault.allowed is None:
        return ""
    ends = _ends(fault.question, fault.allowed)
    return _("%(most)s (%(most_too)s)") % {"most": ends["most"], "most_too": ends["most_too"]}


def _ambiguous(fault: AnswerFault, given: str) -> str:
    readings = say_readings(fault)
    if fault.written_out and BETWEEN in fault.written_out[0]:
        return _("Without a unit these could be several things. Which is meant?")
    if not readings:
        return _("%(given)s could be read in several ways. Write the unit.") % {"given": given}
    last = readings[-1]
    if len(readings) == 1:
        return _("%(given)s could be read in several ways. Did you mean %(last)s?") % {
            "given": given,
            "last": last,
        }
    return _("%(given)s could be %(some)s or %(last)s. Which is it?") % {
        "given": given,
        "some": ", ".join(readings[:-1]),
        "last": last,
    }


def say_readings(fault: AnswerFault) -> list[str]:
    """Say what a doubtful text may mean, each so that it can be typed and is then read as itself."""
    if fault.kind != "ambiguous":
        return []
    if fault.written_out:
        return list(fault.written_out)
    return [_say_reading(fault, reading) for reading in fault.readings]


def _say_reading(fault: AnswerFault, reading: Typed) -> str:
    if fault.allowed is not None and fault.allowed.measure == "mass":
        return show_mass(reading.value, reading.system)
    show = show_body if fault.question in BODY_QUESTIONS else show_length
    return show(reading.value, reading.system)


def say_allowed(fault: AnswerFault) -> str:
    """Say what is allowed in both systems: ``90 cm to 230 cm (2 ft 11½ in to 7 ft 6½ in)``."""
    part = fault.allowed
    if part is None:
        return ""
    if part.measure in {"number", "whole", "date"}:
        return _("%(least)s to %(most)s") % {
            "least": f"{part.limits.least:g}",
            "most": f"{part.limits.most:g}",
        }
    return _("%(least)s to %(most)s (%(least_too)s to %(most_too)s)") % _ends(fault.question, part)


def _ends(question: str, part: Part) -> dict[str, str]:
    least, most = part.limits.least, part.limits.most
    if part.measure == "mass":
        return {
            "least": show_mass(least),
            "most": show_mass(most),
            "least_too": show_mass(least, "imperial"),
            "most_too": show_mass(most, "imperial"),
        }
    show = show_body if question in BODY_QUESTIONS else show_length
    return {
        "least": show(least),
        "most": show(most),
        "least_too": show(least, "imperial"),
        "most_too": show(most, "imperial"),
    }
