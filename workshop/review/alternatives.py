"""What each other choice would change, for the maker: a player chooses between whole bats."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from fitting.recommend import with_effects
from fitting.sheets.book import Book
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Reason, Recommendation
from fitting.sheets.snapshot import book_hash
from orders.commissions.access import commission_for
from orders.commissions.book_in_force import book_in_force
from orders.commissions.builds import sheet_of
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.words.effects import say_effect
from orders.words.values import say_field, say_value


@dataclass(frozen=True)
class ToldOther:
    """One other value of a choice and what it would change; empty where nobody would notice."""

    value: str
    changes: tuple[str, ...]


@dataclass(frozen=True)
class ToldChange:
    """One choice as it was made, and the others that would do."""

    name: str
    value: str
    others: tuple[ToldOther, ...]


@require_safe
@open_to(MAKER)
def alternatives(request: SignedInRequest, code: str) -> HttpResponse:
    """Show what every other choice would change, worked out anew with the book in force."""
    commission = commission_for(request.user, code)
    found = told_changes(sheet_of(commission))
    return render(request, "review/alternatives.html", {"commission": commission, "choices": found})


def told_changes(sheet: FittingSheet) -> tuple[ToldChange, ...]:
    """Work out every alternative's effect; some two dozen weighings, kept for a while."""
    book = book_in_force()
    stamp = book_hash(book)
    _BOOKS.setdefault(stamp, book)
    return tuple(_choices(_found(sheet.model_dump_json(), stamp)))


_BOOKS: dict[str, Book] = {}


@lru_cache(maxsize=32)
def _found(sheet_json: str, stamp: str) -> Recommendation:
    return with_effects(read_sheet(FittingSheet, sheet_json), _BOOKS[stamp])


def _choices(found: Recommendation) -> Iterator[ToldChange]:
    for reason in found.reasons:
        others = tuple(_others(reason, found))
        if others:
            yield ToldChange(say_field(reason.field), say_value(reason.field, reason.value), others)


def _others(reason: Reason, found: Recommendation) -> Iterator[ToldOther]:
    pickup = found.weighing.inertia_kg_m2.pickup
    for other in reason.alternatives:
        changes = say_effect(other.effect, pickup_kg_m2=pickup)
        yield ToldOther(say_value(reason.field, other.value), changes)
