"""The rack's keys in words."""

from typing import Any

from django.utils.translation import gettext, gettext_lazy

from workshop.rack.allowed import DENSITY_KG_M3, NoWillow, OtherWood
from workshop.rack.models import Blemish, CleftEntry
from workshop.readings import SIGN, ReadingRefused

VERBS = {
    "take_in": gettext_lazy("taken in"),
    "weigh": gettext_lazy("weighed again"),
    "grade": gettext_lazy("graded again"),
    "amend": gettext_lazy("put right"),
    "blemish": gettext_lazy("blemish noted"),
    "blemish_off": gettext_lazy("blemish struck out"),
    "photograph": gettext_lazy("photographed"),
    "photograph_off": gettext_lazy("photograph removed"),
    "photograph_shown": gettext_lazy("photograph shown to the player"),
    "photograph_hidden": gettext_lazy("photograph no longer shown to the player"),
    "make_ready": gettext_lazy("ready to be cut"),
    "season": gettext_lazy("back to season"),
    "mark_smaller": gettext_lazy("kept for a smaller size"),
    "reject": gettext_lazy("thrown out"),
    "reserve": gettext_lazy("reserved for a bat"),
    "put_back": gettext_lazy("laid back on the rack"),
    "cut": gettext_lazy("committed to its bat"),
    "hold": gettext_lazy("kept aside for a proposal"),
    "release": gettext_lazy("no longer kept aside"),
}
GRADED_WHEN_WORDS = {
    "arrival": gettext_lazy("on arrival"),
    "dressing": gettext_lazy("after dressing"),
    "pressing": gettext_lazy("after pressing"),
    "": gettext_lazy("at another time"),
}
# What an entry of the history is about, in the words of the cleft's own columns.
COLUMNS = {
    "number": gettext_lazy("number"),
    "load": gettext_lazy("load"),
    "price": gettext_lazy("price"),
    "grains": gettext_lazy("grains"),
    "heartwood": gettext_lazy("heartwood"),
    "run_out": gettext_lazy("run-out, 1 in"),
    "length": gettext_lazy("length"),
    "width_1": gettext_lazy("width near end 1"),
    "width_2": gettext_lazy("width in the middle"),
    "width_3": gettext_lazy("width near end 2"),
    "depth_1": gettext_lazy("depth near end 1"),
    "depth_2": gettext_lazy("depth in the middle"),
    "depth_3": gettext_lazy("depth near end 2"),
    "mass": gettext_lazy("mass"),
    "moisture": gettext_lazy("moisture"),
    "moisture_at": gettext_lazy("where the moisture was read"),
    "read_on": gettext_lazy("day of the reading"),
    "note": gettext_lazy("note"),
}
IN_TENTHS = frozenset(
    {"length", "width_1", "width_2", "width_3", "depth_1", "depth_2", "depth_3", "mass", "moisture"}
)
# The same verbs as a hand may say them, on buttons.
TO_DO = {
    "make_ready": gettext_lazy("It is ready to be cut"),
    "season": gettext_lazy("Back to season"),
    "mark_smaller": gettext_lazy("Keep for a smaller size"),
    "reject": gettext_lazy("Throw out"),
}
# What the list can be narrowed to, and how it is put in order.
SHOWN_WORDS = {
    "stock": gettext_lazy("in stock"),
    "free": gettext_lazy("free to be cut"),
    "held": gettext_lazy("held for a proposal"),
    "seasoning": gettext_lazy("seasoning"),
    "ready": gettext_lazy("ready"),
    "smaller": gettext_lazy("for a smaller size"),
    "reserved": gettext_lazy("reserved"),
    "used": gettext_lazy("used"),
    "rejected": gettext_lazy("rejected"),
    "all": gettext_lazy("all that ever lay here"),
}
SORTED_WORDS = {
    "number": gettext_lazy("by number"),
    "newest": gettext_lazy("newest first"),
    "oldest_reading": gettext_lazy("longest not weighed first"),
    "grade": gettext_lazy("finest first"),
}
REFUSALS = {
    "number_taken": gettext_lazy("Another cleft has this number already."),
    "not_now": gettext_lazy("This cleft no longer stands where that can be done."),
    "held": gettext_lazy("This cleft is kept aside for another proposal."),
    "bat_has_one": gettext_lazy("This bat has its cleft already; lay that one back first."),
    "meanwhile": gettext_lazy("Somebody else has just changed this cleft. Look at it again, then decide."),
    "bound": gettext_lazy("This cleft has been cut or thrown out; it is not weighed again."),
    "bound_amend": gettext_lazy("This cleft has been cut or thrown out; nothing of it is changed any more."),
    "needs_words": gettext_lazy("Say why, so that the next one who reads it knows."),
    "proposal_closed": gettext_lazy("That proposal is no longer open."),
    "thrown_out": gettext_lazy("This cleft has been thrown out; it is not graded again."),
    "grade_unknown": gettext_lazy("There are four grades; 1 is the finest."),
    "file_has_faults": gettext_lazy(
        "There are bad rows in this file. Say that the good ones alone are taken in, or mend it first."
    ),
    "file_empty": gettext_lazy("There is no good row in this file."),
    "file_gone": gettext_lazy("This file has been taken in already."),
    "numbers_taken": gettext_lazy(
        "Meanwhile somebody has put a cleft of one of these numbers on the rack, so nothing of this file was "
        "taken in. Send it again to see which."
    ),
    "beyond_end": gettext_lazy("That is farther from end 1 than the cleft is long."),
    "beyond_edge": gettext_lazy("That lies beyond the other edge: the cleft is not so wide there."),
    "many_blemishes": gettext_lazy("Forty blemishes at most are kept for a cleft."),
    "no_bat": gettext_lazy("This cleft is reserved for no bat, so there is no player to show it to."),
    "load_named_twice": gettext_lazy("Another load has this name already."),
    "two_at_most": gettext_lazy("A proposal keeps two clefts aside at most."),
}


def refusal(key: str) -> str:
    """Return why a cleft did not do what was asked."""
    return str(REFUSALS[key])


def refused_reading(error: ReadingRefused) -> str:
    """Return what was given, what is allowed and what was perhaps meant, in one or two sentences."""
    unit = SIGN[error.allowed.unit]
    values = {
        "given": error.given,
        "least": _number(error.allowed.least),
        "most": f"{_number(error.allowed.most)} {unit}".strip(),
    }
    if error.kind == "not_whole":
        return gettext("“%(given)s” given; a whole number from %(least)s to %(most)s is allowed.") % values
    if error.kind == "not_a_reading":
        return gettext("“%(given)s” given; a number from %(least)s to %(most)s is allowed.") % values
    words = gettext("%(given)s given; %(least)s to %(most)s is allowed.") % values
    if error.meant is None:
        return words
    meant = gettext("Did you mean %(meant)s?") % {"meant": f"{_number(error.meant)} {unit}".strip()}
    return f"{words} {meant}"


def no_willow_words(wrong: NoWillow) -> str:
    """Return that mass and sizes make no willow together: which they are, what they make, what is allowed."""
    least, most = DENSITY_KG_M3
    return gettext(
        "%(mass)s in %(length)s × %(width)s × %(depth)s mm would be %(density)d kg/m³ at 12 %% moisture; "
        "%(least)d to %(most)d is allowed. The mass or one of the sizes is wrong."
    ) % {
        "mass": f"{_number(wrong.mass_g)} g",
        "length": _number(wrong.length_mm),
        "width": _number(wrong.width_mm),
        "depth": _number(wrong.depth_mm),
        "density": round(wrong.density),
        "least": least,
        "most": most,
    }


def other_wood_words(wrong: OtherWood) -> str:
    """Return that a weighing is not of this piece: what was given and what it should be about."""
    return gettext(
        "%(mass)s g given; at %(moisture)s %% moisture this cleft should weigh about %(expected)s g. The "
        "mass or the moisture is wrong, or another cleft lay on the scales."
    ) % {
        "mass": _number(wrong.mass_g),
        "moisture": _number(wrong.moisture_percent),
        "expected": f"{wrong.expected_g:.0f}",
    }


def entry_words(entry: CleftEntry) -> str:
    """Return one line of a cleft's history."""
    data: dict[str, Any] = entry.data
    words = [str(VERBS[entry.verb])]
    if "mass" in data:
        reading = {"mass": f"{data['mass'] / 10:.0f}", "moisture": f"{data['moisture'] / 10:.1f}"}
        words.append(gettext("%(mass)s g at %(moisture)s %% moisture") % reading)
    if "grade" in data:
        words.append(gettext("grade %(grade)s") % {"grade": data["grade"]})
    if data.get("when"):
        words.append(str(GRADED_WHEN_WORDS[data["when"]]))
    if "side" in data:
        words.append(_blemish_words(data))
    words += [_changed_words(name, *values) for name, values in data.get("changed", {}).items()]
    if data.get("commission"):
        words.append(gettext("commission %(number)s") % {"number": data["commission"]})
    if data.get("words"):
        words.append(str(data["words"]))
    if entry.by is not None:
        words.append(entry.by.name)
    return " · ".join(words)


def _blemish_words(data: dict[str, Any]) -> str:
    return gettext("%(kind)s on %(side)s, %(along)s mm from end 1, %(across)s mm across, %(size)s mm") % {
        "kind": Blemish.Kind(data["kind"]).label,
        "side": Blemish.Side(data["side"]).label,
        "along": _number(data["from_end"] / 10),
        "across": _number(data["across"] / 10),
        "size": _number(data["size"] / 10),
    }


def _changed_words(name: str, before: Any, after: Any) -> str:
    return gettext("%(what)s %(before)s → %(after)s") % {
        "what": COLUMNS[name],
        "before": _column_words(name, before),
        "after": _column_words(name, after),
    }


def _column_words(name: str, value: Any) -> str:
    if value is None or value == "":
        return "–"
    return _number(value / 10) if name in IN_TENTHS else str(value)


def _number(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
