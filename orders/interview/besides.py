"""Other whole bats beside the recommended one, for a player to choose between."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from fitting.drawing import bat_small
from fitting.recommend import whole_bats
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import WholeBat
from fitting.sheets.snapshot import book_hash, canonical_json
from fitting.sheets.weighing import Weighing
from fitting.units import System
from orders.commissions.book_in_force import book_in_force
from orders.words.measures import say_pickup, show_length, show_mass
from orders.words.pickup import pickup_reference
from orders.words.sweet_spot import say_peak, say_reach
from orders.words.values import say_field, say_value


@dataclass(frozen=True)
class ToldBat:
    """One whole bat: its name, its small drawing, its figures."""

    key: str
    name: str
    small: SafeString
    rows: tuple[tuple[str, str], ...]


_BOOKS: dict[str, Book] = {}


def told_bats(sheet: Mapping[str, Any], system: System) -> tuple[ToldBat, ...]:
    """Work out the whole bats for a sheet as JSON, the lightest first; none while there is no bat.

    None for a child, and where another would be the same bat. Takes three recommendations, so that it is
    asked for by itself and kept for a while.
    """
    book = book_in_force()
    stamp = book_hash(book)
    _BOOKS.setdefault(stamp, book)
    found = _found(canonical_json(dict(sheet)), stamp)
    if len(found) < 2:
        return ()
    # from the lightest to the fullest, so that the eye can go along them
    return tuple(_told(bat, book, system) for bat in sorted(found, key=lambda bat: bat.weighing.mass_g))


@lru_cache(maxsize=64)
def _found(sheet_json: str, stamp: str) -> tuple[WholeBat, ...]:
    try:
        sheet = read_sheet(FittingSheet, sheet_json)
    except SheetRefused:
        return ()
    return whole_bats(sheet, _BOOKS[stamp])


def _told(bat: WholeBat, book: Book, system: System) -> ToldBat:
    names = {
        "recommended": _("As recommended"),
        "quicker": _("A quicker one"),
        "fuller": _("A fuller one"),
    }
    # Drawn by the program from numbers alone.
    small = mark_safe(bat_small(bat.build))  # noqa: S308
    return ToldBat(bat.key, names[bat.key], small, tuple(_rows(bat.build, bat.weighing, book, system)))


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
