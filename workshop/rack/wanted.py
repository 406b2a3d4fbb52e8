"""The willow that agreed bats still want, over the rack, and what of it is lacking."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.urls import reverse

from fitting.sheets.book import Book
from workshop.match.floor import Floor, matched
from workshop.match.wanting import Wanting
from workshop.match.words import say_short
from workshop.matching_costs import Wanted as Want
from workshop.matching_costs import usable_kg_m3
from workshop.rack.picture import Wanted
from workshop.willow import usual_pressing


@dataclass(frozen=True)
class Demand:
    """What bats can use, for the picture; what is lacking, in words; how many are not worked out yet."""

    wanted: tuple[Wanted, ...]
    shorts: tuple[dict[str, Any], ...]
    waiting: int


def demand_for_willow(today: date) -> Demand:
    """Return what the agreed bats without a cleft ask of the rack today.

    A bat whose willow is not worked out yet is told by the band of its sheet.
    """
    floor = matched(today=today)
    lacking = {one.bat for one in floor.answer.unmatched}
    known = [
        _wanted(one, floor.wanted[row], floor.book, short=row in lacking)
        for row, one in enumerate(floor.bats)
    ]
    return Demand(
        wanted=(*(one for one in known if one is not None), *(_by_sheet(one) for one in floor.waiting)),
        shorts=tuple(_short(floor)),
        waiting=len(floor.waiting),
    )


def _short(floor: Floor) -> list[dict[str, Any]]:
    return [
        {
            **say_short(short),
            "bats": [
                {"label": floor.bats[row].label, "address": _address(floor.bats[row])} for row in short.bats
            ],
        }
        for short in floor.short()
    ]


def _wanted(one: Wanting, want: Want, book: Book, *, short: bool) -> Wanted | None:
    """Tell a bat's densities as the rack's own are told: as for an adult blade of the usual depth."""
    usable = usable_kg_m3(want)
    if usable is None:
        return None
    as_told = usual_pressing(book.bench).gain() / want.gain
    return Wanted(one.label, _address(one), usable[0] * as_told, usable[1] * as_told, want.grade, short)


def _by_sheet(one: Wanting) -> Wanted:
    willow = one.build.willow
    return Wanted(one.label, _address(one), willow.density_kg_m3.min, willow.density_kg_m3.max, willow.grade)


def _address(one: Wanting) -> str:
    return reverse("bench:bat", args=[one.code])
