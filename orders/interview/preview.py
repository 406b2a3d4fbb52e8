"""The bat beside the questions: what the answers so far come to, and what the last ones moved."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from fitting.answers import sheet_from
from fitting.laws import edition_on, law_check
from fitting.recommend import recommend
from fitting.recommend.present import present_pickup
from fitting.sheets.book import Book
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Reason, Recommendation
from fitting.sheets.snapshot import book_hash
from fitting.sheets.weighing import Weighing
from fitting.units import System
from orders.commissions.book_in_force import book_in_force
from orders.commissions.shown import Figure, where_it_hits
from orders.interview.drafts import situation
from orders.interview.models import Fitting
from orders.words.drawing import drawing_for
from orders.words.forecast import OTHER, say_pickup_spread, say_spread, together
from orders.words.lawful import Lawful, lawful_words
from orders.words.measures import say_pickup, show_length, show_mass
from orders.words.pickup import PLAIN_PLAYER, pickup_reference
from orders.words.questions import WORDS
from orders.words.reasons import say_fact
from orders.words.sweet_spot import DRAWN_IN, has_moved, say_peak, soft_place
from orders.words.units import system_of
from orders.words.values import say_field, say_value

UNANSWERED = "default.unanswered"
# More than this of what moved is more than anybody reads beside a form.
MOST_MOVES = 4


@dataclass(frozen=True)
class Moved:
    """What an answer changed: the thing, from, to, and why."""

    what: str
    before: str
    after: str
    why: str = ""


@dataclass(frozen=True)
class Preview:
    """Everything that stands beside the questions; ``missing`` when there is nothing to draw yet."""

    missing: tuple[str, ...] = ()
    drawing: Mapping[str, Any] | None = None
    figures: tuple[Figure, ...] = ()
    lawful: Lawful | None = None
    moved: tuple[Moved, ...] = ()
    has_before: bool = False
    open_answers: str = ""


_BOOKS: dict[str, Book] = {}


def recommended(sheet: Mapping[str, Any], book: Book) -> Recommendation | None:
    """Return the recommendation for a sheet as JSON, computed once a process; None if unfinished."""
    stamp = book_hash(book)
    _BOOKS.setdefault(stamp, book)
    return _recommended(json.dumps(sheet, sort_keys=True), stamp)


@lru_cache(maxsize=256)
def _recommended(sheet_json: str, stamp: str) -> Recommendation | None:
    try:
        sheet = read_sheet(FittingSheet, sheet_json)
    except SheetRefused:
        return None
    return recommend(sheet, _BOOKS[stamp])


def example_drawing() -> Mapping[str, Any]:
    """Draw what age and height alone come to, for somebody who has not begun."""
    found = recommended({"sheet": 1, "player": PLAIN_PLAYER}, book_in_force())
    return drawing_for(found.build, found.weighing) if found else {}


def preview_of(fitting: Fitting) -> Preview:
    """Return what stands beside the questions of this fitting now."""
    draft = sheet_from(fitting.answers, situation(fitting))
    book = book_in_force()
    now = None if draft.missing else recommended(fitting.sheet, book)
    if now is None:
        return Preview(missing=tuple(str(WORDS[key].ask) for key in draft.missing))
    before = recommended(fitting.sheet_before, book) if fitting.sheet_before else None
    sheet, system = read_sheet(FittingSheet, fitting.sheet), system_of(fitting.answers)
    unanswered = sum(any(one.fact == UNANSWERED for one in reason.because) for reason in now.reasons)
    return Preview(
        drawing=drawing_for(
            now.build,
            now.weighing,
            left_handed=is_left_handed(fitting.sheet),
            units=DRAWN_IN[system],
        ),
        figures=tuple(figures_of(now, sheet, book, system)),
        lawful=lawfulness(now, sheet, book, system),
        moved=tuple(moves(before, now, _changed(fitting.sheet_before, fitting.sheet), book, system))
        if before
        else (),
        has_before=before is not None,
        open_answers=_say_unanswered(unanswered),
    )


def lawfulness(found: Recommendation, sheet: FittingSheet, book: Book, system: System) -> Lawful:
    """Check a recommendation against the Laws in force at the first play and say what comes of it."""
    edition = edition_on(sheet.play_from, book.laws_edition)
    rows = law_check(found.build, level=sheet.level, edition=edition, book=book)
    return lawful_words(rows, sheet.level, system)


def is_left_handed(sheet: Mapping[str, Any]) -> bool:
    """Whether drawings look the left-hander's way."""
    return bool(sheet.get("player", {}).get("batting_hand") == "left")


def _say_unanswered(count: int) -> str:
    if not count:
        return ""
    return ngettext(
        "%(count)s choice still rests on habit, not on an answer of yours.",
        "%(count)s choices still rest on habit, not on answers of yours.",
        count,
    ) % {"count": count}


def figures_of(
    found: Recommendation, sheet: FittingSheet, book: Book, system: System = "metric"
) -> Iterator[Figure]:
    """Yield the big figures in the player's units: mass, pickup, where it hits hardest, length.

    Mass and pickup stand against the bat in use where that is known.
    """
    weighing, build, present = found.weighing, found.build, sheet.present_bat
    yield Figure(
        show_mass(weighing.mass_g, system),
        _("mass"),
        together(
            say_spread(weighing.mass_sd_g, system),
            show_mass(weighing.mass_g, OTHER[system]),
            _("yours: %(mass)s") % {"mass": show_mass(present.mass_g, system)} if present.mass_g else "",
        ),
    )
    reference = pickup_reference(build.length_code, book)
    yours = present_pickup(present)
    yield Figure(
        say_pickup(weighing.inertia_kg_m2.pickup, reference),
        _("to pick up"),
        together(
            say_pickup_spread(weighing, reference),
            _("yours: %(like)s") % {"like": say_pickup(yours.pickup_kg_m2, reference, yours.sd_kg_m2)}
            if yours
            else _("told by a plain bat of that mass"),
        ),
    )
    yield where_it_hits(weighing, system)
    yield Figure(
        show_length(weighing.overall_length_mm, system),
        say_value("length_code", build.length_code),
        _("%(other)s overall") % {"other": show_length(weighing.overall_length_mm, OTHER[system])},
    )


def moves(
    before: Recommendation,
    now: Recommendation,
    changed: frozenset[str],
    book: Book,
    system: System = "metric",
) -> Iterator[Moved]:
    """Yield what differs between two recommendations: choices with their reasons first, then quantities."""
    earlier = {reason.field: reason for reason in before.reasons}
    found = [
        _choice_moved(earlier[reason.field], reason, changed)
        for reason in now.reasons
        if reason.field in earlier
        and earlier[reason.field].value != reason.value
        and not isinstance(reason.value, float)
    ]
    found.sort(key=lambda move: not move.why)
    yield from found[:MOST_MOVES]
    yield from _quantities_moved(before, now, book, system)


def _choice_moved(earlier: Reason, reason: Reason, changed: frozenset[str]) -> Moved:
    """Tell one choice that changed; its reason is the one that the answer just given stands behind."""
    because = [one for one in reason.because if one.answer and _stands_in(one.answer, changed)]
    facts = because or [one for one in reason.because if one.answer]
    return Moved(
        say_field(reason.field),
        say_value(reason.field, earlier.value),
        say_value(reason.field, reason.value),
        say_fact(facts[0].fact) if facts else "",
    )


def _stands_in(answer: str, changed: frozenset[str]) -> bool:
    return any(field == answer or field.startswith(f"{answer}.") for field in changed)


def _quantities_moved(
    before: Recommendation, now: Recommendation, book: Book, system: System
) -> Iterator[Moved]:
    old, new = before.weighing, now.weighing
    old_like = pickup_reference(before.build.length_code, book)
    new_like = pickup_reference(now.build.length_code, book)
    rows: tuple[tuple[str, str, str], ...] = (
        (_("mass"), show_mass(old.mass_g, system), show_mass(new.mass_g, system)),
        (
            _("to pick up"),
            say_pickup(old.inertia_kg_m2.pickup, old_like),
            say_pickup(new.inertia_kg_m2.pickup, new_like),
        ),
        *_hardest_moved(old, new, system),
        (
            _("overall"),
            show_length(old.overall_length_mm, system),
            show_length(new.overall_length_mm, system),
        ),
        (
            _("thickest, above the toe"),
            soft_place(old.swell_from_toe_mm, system),
            soft_place(new.swell_from_toe_mm, system),
        ),
        (
            _("balance, above the toe"),
            soft_place(old.balance_from_toe_mm, system),
            soft_place(new.balance_from_toe_mm, system),
        ),
    )
    yield from (Moved(what, was, becomes) for what, was, becomes in rows if was != becomes)


def _hardest_moved(old: Weighing, new: Weighing, system: System) -> Iterator[tuple[str, str, str]]:
    if old.sweet_spot and new.sweet_spot and has_moved(old.sweet_spot, new.sweet_spot):
        yield (
            _("hits hardest, above the toe"),
            say_peak(old.sweet_spot, system),
            say_peak(new.sweet_spot, system),
        )


def _changed(before: Mapping[str, Any], now: Mapping[str, Any]) -> frozenset[str]:
    """Return the dotted fields in which two sheets differ."""
    old, new = dict(_leaves(before)), dict(_leaves(now))
    return frozenset(key for key in old.keys() | new.keys() if old.get(key) != new.get(key))


def _leaves(value: Mapping[str, Any], at: str = "") -> Iterator[tuple[str, Any]]:
    for key, inner in value.items():
        if isinstance(inner, Mapping):
            yield from _leaves(inner, f"{at}{key}.")
        else:
            yield at + key, inner
