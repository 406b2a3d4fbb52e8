"""The bats that a pickup is told by, taken from the model itself.

Adult bats are told by the short handle that the book recommends to somebody of 1,740 mm who says nothing
else, a junior's by the same for that junior's size: a child knows no short handle.
"""

from functools import lru_cache

from fitting.bat.weigh import heft
from fitting.recommend import recommend
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.snapshot import book_hash
from fitting.sheets.values import JUNIOR_CODES, LengthCode
from fitting.sheets.weighing import Weighing
from orders.words.measures import PickupReference, like_mass_g, say_pickup

# Somebody of the height a short handle is made for, and the willow that the reference is weighed in.
PLAIN_PLAYER = {"age_years": 30, "height_mm": 1740}
PLAIN_CHILD = {"age_years": 12, "height_mm": 1500}
LIGHT_KG_M3, HEAVY_KG_M3 = 380.0, 480.0


# A book cannot be a key by itself: it is known by its stamp, and a process meets few of them.
_BOOKS: dict[str, Book] = {}


def pickup_reference(length_code: LengthCode, book: Book = DEFAULT_BOOK) -> PickupReference:
    """Return the plain bat of a length, weighed in light and in heavy willow."""
    stamp = book_hash(book)
    _BOOKS.setdefault(stamp, book)
    return _weighed_twice(length_code if length_code in JUNIOR_CODES else "short_handle", stamp)


@lru_cache(maxsize=64)
def _weighed_twice(length_code: LengthCode, stamp: str) -> PickupReference:
    book = _BOOKS[stamp]
    bat = _plain_bat(length_code, book)
    light = heft(bat, book=book, density_kg_m3=LIGHT_KG_M3)
    heavy = heft(bat, book=book, density_kg_m3=HEAVY_KG_M3)
    return PickupReference(
        light_g=light.mass_g,
        light_kg_m2=light.inertia_kg_m2.pickup,
        heavy_g=heavy.mass_g,
        heavy_kg_m2=heavy.inertia_kg_m2.pickup,
    )


def _plain_bat(length_code: LengthCode, book: Book) -> BuildSheet:
    player = PLAIN_CHILD if length_code in JUNIOR_CODES else PLAIN_PLAYER
    sheet = {"sheet": 1, "player": player, "wishes": {"length_code": length_code}}
    return recommend(read_sheet(FittingSheet, sheet), book).build


def picks_up_like(build: BuildSheet, weighing: Weighing, book: Book = DEFAULT_BOOK) -> str:
    """Say how a bat lifts: "like a 2 lb 8"."""
    return say_pickup(weighing.inertia_kg_m2.pickup, pickup_reference(build.length_code, book))


def picks_up_like_mass_g(build: BuildSheet, pickup_kg_m2: float, book: Book = DEFAULT_BOOK) -> float:
    """Return the mass of the plain bat that lifts like this, in g."""
    return like_mass_g(pickup_kg_m2, pickup_reference(build.length_code, book))
