"""What else would do: other whole bats, and what each other choice would change."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from fitting.drawing import bat_small
from fitting.recommend import with_effects
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Reason, Recommendation
from fitting.sheets.snapshot import book_hash, canonical_json
from fitting.sheets.weighing import Weighing
from fitting.units import System
from orders.commissions.book_in_force import book_in_force
from orders.words.effects import say_effect
from orders.words.measures import say_pickup, show_length, show_mass
from orders.words.pickup import pickup_reference
from orders.words.sweet_spot import say_ounces, say_peak, say_reach
from orders.words.values import say_field, say_value


@dataclass(frozen=True)
class ToldBat:
    """One whole bat: its name, its small drawing, its figures."""

    key: str
    name: str
    small: SafeString
    rows: tuple[tuple[str, str], ...]


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


@dataclass(frozen=True)
class Besides:
    """All of the page."""

    bats: tuple[ToldBat, ...]
    choices: tuple[ToldChange, ...]


_BOOKS: dict[str, Book] = {}


def besides_of(sheet: Mapping[str, Any], system: System) -> Besides | None:
    """Work out what else would do for a sheet as JSON; None while there is no bat.

    Takes some two dozen weighings, so that it is asked for by itself and kept for a while.
    """
    book = book_in_force()
    stamp = book_hash(book)
    _BOOKS.setdefault(stamp, book)
    found = _found(canonical_json(dict(sheet)), stamp)
    if found is None:
        return None
    return Besides(bats=tuple(_bats(found, book, system)), choices=tuple(_choices(found, system)))


@lru_cache(maxsize=64)
def _found(sheet_json: str, stamp: str) -> Recommendation | None:
    try:
        sheet = read_sheet(FittingSheet, sheet_json)
    except SheetRefused:
        return None
    return with_effects(sheet, _BOOKS[stamp])


def _bats(found: Recommendation, book: Book, system: System) -> Iterator[ToldBat]:
    if not found.others:
        return
    names = {"quicker": _("A quicker one"), "fuller": _("A fuller one")}
    whole = [("recommended", _("As recommended"), found.build, found.weighing)]
    whole += [(bat.key, names[bat.key], bat.build, bat.weighing) for bat in found.others]
    # from the lightest to the fullest, so that the eye can go along them
    whole.sort(key=lambda bat: bat[3].mass_g)
    for key, name, build, weighing in whole:
        # Drawn by the program from numbers alone.
        small = mark_safe(bat_small(build))  # noqa: S308
        yield ToldBat(key, name, small, tuple(_rows(build, weighing, book, system)))


def _rows(build: BuildSheet, weighing: Weighing, book: Book, system: System) -> Iterator[tuple[str, str]]:
    yield _("mass"), show_mass(weighing.mass_g, system)
    reference = pickup_reference(build.length_code, book)
    yield _("to pick up"), say_pickup(weighing.inertia_kg_m2.pickup, reference)
    yield say_field("profile"), say_value("profile", build.profile)
    if weighing.sweet_spot is not None:
        yield _("hits hardest, above the toe"), say_peak(weighing.sweet_spot, system)
        yield _("reach"), say_reach(weighing.sweet_spot, system)
    edge = max(station.edge_mm for station in build.blade.stations)
    yield say_field("blade.stations.edge_mm"), show_length(edge - build.blade.face_crown_mm, system)


def _choices(found: Recommendation, system: System) -> Iterator[ToldChange]:
    for reason in found.reasons:
        others = tuple(_others(reason, found, system))
        if others:
            yield ToldChange(say_field(reason.field), say_value(reason.field, reason.value), others)


def _others(reason: Reason, found: Recommendation, system: System) -> Iterator[ToldOther]:
    for other in reason.alternatives:
        changes = say_effect(
            other.effect,
            pickup_kg_m2=found.weighing.inertia_kg_m2.pickup,
            mass=partial(_mass, system),
            length=partial(_length, system),
        )
        yield ToldOther(say_value(reason.field, other.value), changes)


def _mass(system: System, grams: float) -> str:
    """Say a difference of mass: in ounces alone, for it never comes to a pound."""
    return show_mass(grams) if system == "metric" else say_ounces(grams)


def _length(system: System, mm: float) -> str:
    return show_length(mm, system)
