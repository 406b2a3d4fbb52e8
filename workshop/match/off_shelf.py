"""Finished bats without an owner that could be the bat of a commission, before a cleft is cut for it."""

from collections.abc import Sequence

from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import Weighing
from workshop.stock.models import BatKind, StockBat


def finished_bats() -> list[StockBat]:
    """Return the finished bats on the shelf, for whoever wants them."""
    return list(StockBat.objects.free().filter(kind=BatKind.FINISHED).order_by("number"))


def could_be(
    bats: Sequence[StockBat], build: BuildSheet, weighing: Weighing, book: Book
) -> tuple[StockBat, ...]:
    """Return those that have the length, the mass and the balance of a bat, each within its tolerance.

    One that was never weighed or balanced is none of them; one without a grade may be of any. The nearest in
    mass comes first.
    """
    aim, balance = build.mass_g, weighing.balance_from_toe_mm
    found = [
        bat
        for bat in bats
        if bat.length_code == build.length_code
        and bat.mass_g is not None
        and bat.balance_mm is not None
        and abs(bat.mass_g - aim.target) <= aim.tolerance
        and abs(bat.balance_mm - balance) <= book.bench.tolerances.balance_mm
        and (bat.grade is None or bat.grade <= build.willow.grade)
    ]
    return tuple(sorted(found, key=lambda bat: (abs((bat.mass_g or 0.0) - aim.target), bat.number)))
