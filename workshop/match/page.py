"""What the page of matching shows: each bat with its cleft, why, what else; those with none; what to buy."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.core.paginator import Paginator

from workshop.match import words
from workshop.match.floor import Floor
from workshop.match.line import Line, Scale, line_of
from workshop.match.wanting import Wanting
from workshop.matching import Assigned, Other, Pair, Unmatched
from workshop.rack.models import Cleft
from workshop.stock.models import StockBat

# Each has forms of its own: more on a page would be slow to read and to load.
A_PAGE = 40


@dataclass(frozen=True)
class Choice:
    """Another cleft that the maker may take."""

    cleft: Cleft
    words: str


@dataclass(frozen=True)
class Row:
    """One bat of the page; ``cleft`` is None where it gets none."""

    bat: Wanting
    due: str
    late: bool
    line: Line | None
    cleft: Cleft | None
    figures: tuple[tuple[str, str], ...]
    against: tuple[str, ...]
    could: int
    second: str
    none: str
    fails: tuple[str, ...]
    choices: tuple[Choice, ...]
    refused: tuple[Cleft, ...]
    shelf: tuple[StockBat, ...]


def context(floor: Floor, today: date, *, proposed: bool, page: str | None = None) -> dict[str, Any]:
    """Return what the template draws; of the bats with a cleft the given page."""
    answer = floor.answer
    pairs = [one.pair for one in answer.assigned]
    pairs += [other.pair for one in answer.assigned for other in one.others]
    pairs += [other.pair for one in answer.unmatched for other in one.others]
    scale = Scale.over(floor.wanted, pairs)
    shown = Paginator(answer.assigned, A_PAGE).get_page(page)
    rows = [_assigned(floor, one, scale, today) for one in shown]
    none = [_unmatched(floor, one, scale, today) for one in answer.unmatched]
    return {
        "rows": rows,
        "page": shown,
        "none": none,
        "waiting": floor.waiting,
        "known": len(floor.bats),
        "all": len(floor.bats) + len(floor.waiting),
        "clefts": len(floor.clefts),
        "shorts": [
            {**words.say_short(short), "bats": [floor.bats[row] for row in short.bats]}
            for short in floor.short()
        ],
        "proposed": proposed,
    }


def _assigned(floor: Floor, one: Assigned, scale: Scale, today: date) -> Row:
    pair, wanted = one.pair, floor.wanted[one.pair.bat]
    return _row(
        floor,
        pair.bat,
        today,
        line=line_of(wanted, scale, pair, [other.pair for other in one.others]),
        cleft=floor.clefts[pair.cleft],
        figures=_figures(floor, pair),
        against=tuple(words.say_parts(pair)),
        could=one.could,
        second=words.say_second(floor, one),
        others=one.others,
    )


def _unmatched(floor: Floor, one: Unmatched, scale: Scale, today: date) -> Row:
    wanted = floor.wanted[one.bat]
    return _row(
        floor,
        one.bat,
        today,
        line=line_of(wanted, scale, None, [other.pair for other in one.others]),
        none=words.say_none(floor, one),
        fails=tuple(words.say_fails(one.fails)) if wanted.table is not None else (),
        could=one.could,
        others=one.others,
    )


def _row(floor: Floor, at: int, today: date, *, others: tuple[Other, ...], **columns: Any) -> Row:
    bat = floor.bats[at]
    empty: dict[str, Any] = {
        "cleft": None,
        "figures": (),
        "against": (),
        "second": "",
        "none": "",
        "fails": (),
    }
    return Row(
        bat=bat,
        due=words.say_due(bat.due, today),
        late=bat.due is not None and bat.due < today,
        choices=tuple(
            Choice(floor.clefts[other.pair.cleft], words.say_choice(floor, other)) for other in others
        ),
        shelf=floor.shelf[at],
        refused=tuple(floor.clefts[row] for row in floor.wanted[at].refused),
        **{**empty, **columns},
    )


def _figures(floor: Floor, pair: Pair) -> tuple[tuple[str, str], ...]:
    """What the bat would be, each as name and value."""
    wanted = floor.wanted[pair.bat]
    found = [
        ("density", f"{pair.density_kg_m3:.0f} ± {pair.density_sd_kg_m3:.0f} kg/m³"),
        ("mass", words.say_mass(pair, wanted)),
        ("peak", words.say_peak(pair, wanted)),
    ]
    if pair.marked:
        found.append(("way", words.say_way(pair.way)))
    return tuple((str(words.FIGURES[key]), value) for key, value in found)
