"""The bat beside the questions: what the answers so far come to, and what the last ones moved."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from fitting.answers import sheet_from
from fitting.recommend import recommend
from fitting.recommend.present import present_pickup
from fitting.sheets.book import Book
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Reason, Recommendation
from fitting.sheets.snapshot import book_hash
from orders.commissions.book_in_force import book_in_force
from orders.commissions.shown import Figure
from orders.interview.drafts import situation
from orders.interview.models import Fitting
from orders.words.drawing import drawing_for
from orders.words.measures import say_pickup, show_length, show_mass
from orders.words.pickup import PLAIN_PLAYER, pickup_reference
from orders.words.questions import WORDS
from orders.words.reasons import say_fact
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
    unanswered = sum(any(one.fact == UNANSWERED for one in reason.because) for reason in now.reasons)
    return Preview(
        drawing=drawing_for(now.build, now.weighing, left_handed=is_left_handed(fitting.sheet)),
        figures=tuple(figures_of(now, fitting.sheet, book)),
        moved=tuple(moves(before, now, _changed(fitting.sheet_before, fitting.sheet), book))
        if before
        else (),
        has_before=before is not None,
        open_answers=_say_unanswered(unanswered),
    )


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


def figures_of(found: Recommendation, sheet: Mapping[str, Any], book: Book) -> Iterator[Figure]:
    """Yield the big figures: length, mass, pickup, the thickest point; against the bat in use if known."""
    weighing, build = found.weighing, found.build
    present = read_sheet(FittingSheet, sheet).present_bat
    yield Figure(
        show_mass(weighing.mass_g),
        _("mass"),
        _("± %(spread)s · %(imperial)s")
        % {
            "spread": show_mass(weighing.mass_sd_g),
            "imperial": show_mass(weighing.mass_g, "imperial"),
        }
        + (_(" · yours: %(mass)s") % {"mass": show_mass(present.mass_g)} if present.mass_g else ""),
    )
    reference = pickup_reference(build.length_code, book)
    yours = present_pickup(present)
    yield Figure(
        say_pickup(weighing.inertia_kg_m2.pickup, reference),
        _("to pick up"),
        _("yours: %(like)s") % {"like": say_pickup(yours.pickup_kg_m2, reference, yours.sd_kg_m2)}
        if yours
        else _("as a plain bat of that mass does"),
    )
    yield Figure(
        _soft(weighing.swell_from_toe_mm),
        _("thickest, above the toe"),
        _("asked for: %(choice)s") % {"choice": say_value("sweet_spot.choice", build.sweet_spot.choice)},
    )
    yield Figure(
        show_length(weighing.overall_length_mm),
        say_value("length_code", build.length_code),
        _("%(imperial)s overall") % {"imperial": show_length(weighing.overall_length_mm, "imperial")},
    )


def _soft(length_mm: float) -> str:
    """Say a place along the blade to 5 mm: it is no sharper than that."""
    return show_length(5 * round(length_mm / 5))


def moves(
    before: Recommendation, now: Recommendation, changed: frozenset[str], book: Book
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
    yield from _quantities_moved(before, now, book)


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


def _quantities_moved(before: Recommendation, now: Recommendation, book: Book) -> Iterator[Moved]:
    old, new = before.weighing, now.weighing
    old_like = pickup_reference(before.build.length_code, book)
    new_like = pickup_reference(now.build.length_code, book)
    rows: tuple[tuple[str, str, str], ...] = (
        (_("mass"), show_mass(old.mass_g), show_mass(new.mass_g)),
        (
            _("to pick up"),
            say_pickup(old.inertia_kg_m2.pickup, old_like),
            say_pickup(new.inertia_kg_m2.pickup, new_like),
        ),
        (_("overall"), show_length(old.overall_length_mm), show_length(new.overall_length_mm)),
        (_("thickest, above the toe"), _soft(old.swell_from_toe_mm), _soft(new.swell_from_toe_mm)),
        (_("balance, above the toe"), _soft(old.balance_from_toe_mm), _soft(new.balance_from_toe_mm)),
    )
    yield from (Moved(what, was, becomes) for what, was, becomes in rows if was != becomes)


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
