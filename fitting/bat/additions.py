"""What can still be put on a bat that came out too light, and what each does: wood cannot be added."""

from math import pi

from fitting.bat.weigh import heft
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet, Covering
from fitting.sheets.record import Record

GRIPS_MOST = 3
OIL_MOST = 6
THREAD_LAYER_MM = 4.0
"""Girth that one more layer of thread adds, mm: common practice, no source."""


class Addition(Record):
    """One thing that makes a bat heavier: mass (g), balance (mm up the bat) and share of the pickup more."""

    key: str
    mass_g: float
    balance_mm: float
    pickup_share: float


def additions_to(build: BuildSheet, density_kg_m3: float, book: Book) -> tuple[Addition, ...]:
    """Return what can be put on a bat as it is, the lightest first.

    Args:
        build: the finished bat.
        density_kg_m3: of its willow.
        book: whose dressings and limits count.
    """
    before = heft(build, book=book, density_kg_m3=density_kg_m3)
    found = []
    for key, (dressed, materials) in _dressed(build, book).items():
        after = heft(dressed, book=materials, density_kg_m3=density_kg_m3)
        found.append(
            Addition(
                key=key,
                mass_g=after.mass_g - before.mass_g,
                balance_mm=after.balance_from_toe_mm - before.balance_from_toe_mm,
                pickup_share=after.inertia_kg_m2.pickup / before.inertia_kg_m2.pickup - 1,
            )
        )
    return tuple(sorted(found, key=lambda one: one.mass_g))


def _dressed(build: BuildSheet, book: Book) -> dict[str, tuple[BuildSheet, Book]]:
    """The bat with one thing more, by what it is, and the book that it is weighed by."""
    found: dict[str, tuple[BuildSheet, Book]] = {}
    grips, finish, protection = build.grips, build.finish, build.protection
    if grips.count < GRIPS_MOST and grips.mass_g > 0:
        more = grips.model_copy(update={"count": grips.count + 1})
        found["grip"] = build.model_copy(update={"grips": more}), book
    for name in ("face_film", "toe_guard", "edge_tape"):
        usual = getattr(book.materials, name)
        if getattr(protection, name) is None:
            covering = Covering(thickness_mm=usual.thickness_mm, mass_g=usual.mass_g)
            covered = protection.model_copy(update={name: covering})
            found[name] = build.model_copy(update={"protection": covered}), book
    if finish.oil_coats < OIL_MOST and protection.face_film is None:
        oiled = finish.model_copy(update={"oil_coats": finish.oil_coats + 1})
        found["oil"] = build.model_copy(update={"finish": oiled}), book
    if (wound := _wound(build, book)) is not None:
        found["thread"] = wound
    return found


def _wound(build: BuildSheet, book: Book) -> tuple[BuildSheet, Book] | None:
    """The bat with one more layer of thread; None where its handle would be too thick."""
    handle, materials = build.handle, book.materials
    girth = {name: around + THREAD_LAYER_MM for name, around in handle.girth_mm.model_dump().items()}
    if max(girth.values()) > book.trade_limits(build.length_code).girth_most_mm:
        return None
    thicker = handle.model_copy(update={"girth_mm": handle.girth_mm.model_copy(update=girth)})
    # The cane stays as it is: what is more round the handle is thread.
    wall = materials.binding_mm + THREAD_LAYER_MM / (2 * pi)
    more_thread = materials.model_copy(update={"binding_mm": wall})
    return build.model_copy(update={"handle": thicker}), book.model_copy(update={"materials": more_thread})
