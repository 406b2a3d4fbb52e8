"""The store's keys in words."""

from typing import Any

from django.utils.translation import gettext, gettext_lazy

from workshop.stock.models import HandleEntry, Movement, StockBatEntry, Supply, SupplyUnit, Verb

HANDLE_VERBS = {
    "take_in": gettext_lazy("taken in"),
    "weigh": gettext_lazy("weighed again"),
    "choose": gettext_lazy("reserved for a bat"),
    "lay_back": gettext_lazy("laid back into stock"),
    "fit": gettext_lazy("fitted"),
    "reject": gettext_lazy("thrown out"),
}
STOCK_BAT_VERBS = {
    "lay_by": gettext_lazy("laid by"),
    "keep": gettext_lazy("kept for a commission"),
    "let_go": gettext_lazy("kept no longer, on the shelf again"),
    "sell": gettext_lazy("sold"),
    "cut_up": gettext_lazy("cut up"),
}
MOVEMENT_VERBS = {
    Verb.TAKE_IN: gettext_lazy("taken in"),
    Verb.USE: gettext_lazy("used"),
    Verb.COUNT: gettext_lazy("counted anew"),
    Verb.THROW_OUT: gettext_lazy("thrown out"),
    Verb.TAKE_BACK: gettext_lazy("taken back"),
}
SIGNS = {SupplyUnit.METRE: gettext_lazy("m"), SupplyUnit.GRAM: gettext_lazy("g")}
REFUSALS = {
    "not_now": gettext_lazy("It no longer stands where that can be done."),
    "meanwhile": gettext_lazy("Somebody else has just changed this. Look at it again, then decide."),
    "bat_has_one": gettext_lazy("This bat has its handle already; lay that one back first."),
    "no_handle": gettext_lazy("This bat has no handle yet."),
    "number_taken": gettext_lazy("Another handle has this number already."),
    "needs_words": gettext_lazy("Say why, so that the next one who reads it knows."),
    "nothing": gettext_lazy("Nothing given; an amount above 0 is needed."),
    "not_whole": gettext_lazy("Pieces are counted whole, metres and grams to a tenth."),
    "too_much": gettext_lazy("More than any store holds; one of the figures is wrong."),
    "not_enough": gettext_lazy("There is not that much left. Count it anew if the count is wrong."),
    "past": gettext_lazy("Its day is over: it is not used for a bat. Open a fresh one, throw this one out."),
    "taken_back": gettext_lazy("That was taken back already."),
    "unknown_length": gettext_lazy("There is no such length of bat."),
}


def refusal(key: str) -> str:
    """Return why the store did not do what was asked."""
    return str(REFUSALS[key])


def movement_refusal(key: str, given: float, supply: Supply) -> str:
    """Return why a count was not moved: with what was given and what is there where it was too much."""
    if key != "not_enough":
        return refusal(key)
    values = {
        "given": amount_words(given, supply.unit),
        "left": amount_words(supply.in_unit, supply.unit),
    }
    return gettext("%(given)s given; %(left)s left. Count it anew if that is wrong.") % values


def number_words(value: float) -> str:
    """Return a number without a needless nought behind the point, a true minus before it."""
    return f"{value:.1f}".removesuffix(".0").replace("-", "−")


def amount_words(value: float, unit: str) -> str:
    """Return an amount with its unit: ``3 pieces``, ``12.5 m``."""
    if unit == SupplyUnit.PIECE:
        one = abs(value) == 1
        words = gettext("%(number)s piece") if one else gettext("%(number)s pieces")
        return words % {"number": number_words(value)}
    return f"{number_words(value)} {SIGNS[SupplyUnit(unit)]}"


def change_words(movement: Movement, unit: str) -> str:
    """Return what a movement changed, with its sign."""
    plus = "+" if movement.amount > 0 else ""
    return plus + amount_words(movement.in_unit, unit)


def movement_words(movement: Movement) -> str:
    """Return one line of a supply's history, without the amount."""
    words = [str(MOVEMENT_VERBS[Verb(movement.verb)])]
    if movement.bat is not None:
        words.append(gettext("commission %(number)s") % {"number": movement.bat.commission.reference})
    if movement.words:
        words.append(movement.words)
    words.append(movement.by.name)
    return " · ".join(words)


def entry_words(entry: HandleEntry | StockBatEntry) -> str:
    """Return one line of the history of a handle or a stock bat."""
    data: dict[str, Any] = entry.data
    verbs = HANDLE_VERBS if isinstance(entry, HandleEntry) else STOCK_BAT_VERBS
    words = [str(verbs[entry.verb])]
    if "mass" in data:
        words.append(gettext("%(mass)s g") % {"mass": number_words(data["mass"] / 10)})
    if "mass_before" in data:
        words.append(gettext("%(mass)s g before") % {"mass": number_words(data["mass_before"] / 10)})
    if data.get("commission"):
        words.append(gettext("commission %(number)s") % {"number": data["commission"]})
    if data.get("words"):
        words.append(str(data["words"]))
    if entry.by is not None:
        words.append(entry.by.name)
    return " · ".join(words)
