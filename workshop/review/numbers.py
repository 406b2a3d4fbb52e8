"""What the model computes of a bat as a quiet table: alone, or beside another with the difference."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import SweetSpot, Weighing
from orders.words.measures import show_mass_shortly
from orders.words.pickup import picks_up_like_mass_g
from orders.words.sweet_spot import soft_number, soft_place
from workshop.review.comparing import Row, signed

Text = str | Promise
Bat = tuple[BuildSheet, Weighing]
Number = Callable[[Weighing], float | None]
MM, G_M2 = gettext_lazy("mm"), gettext_lazy("g m²")


@dataclass(frozen=True)
class Quantity:
    """One figure of a weighing; ``of`` gives None where an older model did not compute it."""

    what: Text
    unit: Text
    decimals: int
    of: Number
    spread: Number = lambda _weighing: None
    say: Callable[[float], str] | None = None

    def said(self, weighing: Weighing) -> str:
        """Say the figure, with its spread where one is known."""
        value, spread = self.of(weighing), self.spread(weighing)
        if value is None:
            return _("older model")
        if self.say is not None:
            return self.say(value)
        number = f"{value:.{self.decimals}f}"
        if spread is not None:
            number = f"{number} ± {spread:.{self.decimals}f}"
        return f"{number} {self.unit}"

    def row(self, first: Weighing, second: Weighing) -> Row:
        """Return both figures and the difference; none is told where one of them was not computed."""
        old, new = self.of(first), self.of(second)
        change = "" if old is None or new is None else signed(new - old, str(self.unit), self.decimals)
        return Row(str(self.what), self.said(first), self.said(second), change)


@dataclass(frozen=True)
class Group:
    """The figures of one subject."""

    title: Text
    rows: tuple[Row, ...]


def _mode(number: int) -> Number:
    return lambda one: one.modes[number].frequency_hz if len(one.modes) > number else None


def _first_node(one: Weighing) -> float | None:
    return one.modes[0].nodes_from_toe_mm[0] if one.modes else None


def _of_sweet_spot(of: Callable[[SweetSpot], float]) -> Number:
    return lambda one: of(one.sweet_spot) if one.sweet_spot else None


def _thousandfold(value: float | None) -> float | None:
    return None if value is None else 1000 * value


WEIGHT = (
    Quantity(gettext_lazy("mass"), gettext_lazy("g"), 0, lambda one: one.mass_g, lambda one: one.mass_sd_g),
    Quantity(
        gettext_lazy("pickup, the number"),
        G_M2,
        1,
        lambda one: 1000 * one.inertia_kg_m2.pickup,
        lambda one: _thousandfold(one.pickup_sd_kg_m2),
    ),
    Quantity(
        gettext_lazy("balance, from the toe"),
        MM,
        0,
        lambda one: one.balance_from_toe_mm,
        lambda one: one.balance_sd_mm,
    ),
    Quantity(gettext_lazy("overall length"), MM, 0, lambda one: one.overall_length_mm),
)
# A place is told as softly as it is known; the difference between two bats of one model is known better.
PEAK = Quantity(
    gettext_lazy("hits hardest, from the toe"),
    MM,
    0,
    _of_sweet_spot(lambda sweet: sweet.peak_from_toe_mm),
    say=lambda place: _("about %(place)s") % {"place": soft_place(place)},
)
PLACES = (
    Quantity(
        gettext_lazy("half width at that place"), MM, 0, _of_sweet_spot(lambda sweet: sweet.half_width_mm)
    ),
    Quantity(gettext_lazy("swell, from the toe"), MM, 0, lambda one: one.swell_from_toe_mm),
    Quantity(
        gettext_lazy("centre of percussion, from the toe"),
        MM,
        0,
        lambda one: one.centre_of_percussion_from_toe_mm,
    ),
)
BENDING = (
    Quantity(gettext_lazy("first bending mode"), gettext_lazy("Hz"), 0, _mode(0)),
    Quantity(gettext_lazy("second bending mode"), gettext_lazy("Hz"), 0, _mode(1)),
    Quantity(gettext_lazy("third bending mode"), gettext_lazy("Hz"), 0, _mode(2)),
    Quantity(gettext_lazy("first mode's node on the blade, from the toe"), MM, 0, _first_node),
)
LOWER_HAND = (
    Quantity(
        gettext_lazy("static moment"),
        gettext_lazy("g m"),
        0,
        lambda one: _thousandfold(one.lower_hand.static_moment_kg_m) if one.lower_hand else None,
    ),
    Quantity(
        gettext_lazy("moment of inertia"),
        G_M2,
        1,
        lambda one: _thousandfold(one.lower_hand.inertia_kg_m2) if one.lower_hand else None,
    ),
)


def numbers_of(bat: Bat) -> tuple[Group, ...]:
    """Return the figures of one bat."""
    return compared_numbers(bat, bat)


def compared_numbers(first: Bat, second: Bat) -> tuple[Group, ...]:
    """Return the figures of two bats with their differences, whether they differ or not."""
    old, new = first[1], second[1]

    def rows(quantities: tuple[Quantity, ...]) -> Iterator[Row]:
        return (one.row(old, new) for one in quantities)

    mass, *others = rows(WEIGHT)
    return (
        Group(_("Weight and swing"), (mass, _pickup_row(first, second), *others)),
        Group(_("Where it hits"), (PEAK.row(old, new), _reach_row(old, new), *rows(PLACES))),
        Group(_("How it bends, held by nothing"), tuple(rows(BENDING))),
        Group(_("About the lower hand"), tuple(rows(LOWER_HAND))),
    )


def _pickup_row(first: Bat, second: Bat) -> Row:
    # Both told by the same plain bat, or the words could not be compared.
    like = [picks_up_like_mass_g(first[0], one[1].inertia_kg_m2.pickup) for one in (first, second)]
    words = [_("like a %(mass)s") % {"mass": show_mass_shortly(mass)} for mass in like]
    return Row(_("to pick up"), words[0], words[1], signed(like[1] - like[0], _("g"), 0))


def _reach_row(first: Weighing, second: Weighing) -> Row:
    """Return from where to where each hits nearly as hard; the difference is that of the lengths."""
    old, new = first.sweet_spot, second.sweet_spot
    change = "" if old is None or new is None else signed(_length(new) - _length(old), _("mm"), 0)
    return Row(_("nearly as hard"), _reach(old), _reach(new), change)


def _length(sweet: SweetSpot) -> float:
    return sweet.to_mm - sweet.from_mm


def _reach(sweet: SweetSpot | None) -> str:
    if sweet is None:
        return _("older model")
    return _("%(low)s to %(high)s") % {
        "low": soft_number(sweet.from_mm),
        "high": soft_place(sweet.to_mm),
    }
