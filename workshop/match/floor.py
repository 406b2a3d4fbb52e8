"""The floor as it is today, matched: bats that want a cleft, ready clefts, and the answer."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from fitting.sheets.book import Book
from orders.commissions.book_in_force import book_in_force
from workshop.match import tables
from workshop.match.models import PairRefused
from workshop.match.off_shelf import could_be, finished_bats
from workshop.match.rack_arrays import as_arrays, kept_aside, ready_clefts
from workshop.match.wanting import Wanting, builds_without_table, wanting
from workshop.matching import Match, match
from workshop.matching_costs import Wanted, wanted_of
from workshop.matching_short import Short, short_of
from workshop.rack.models import Cleft
from workshop.stock.models import StockBat


@dataclass(frozen=True)
class Floor:
    """What was matched. Rows of the answer are places in ``bats`` and ``clefts``.

    Attributes:
        bats: those whose willow is known, with what each wants in ``wanted``.
        waiting: those whose willow is still to be worked out.
        clefts: ready ones.
        answer: who gets which.
        book: the one in force.
        shelf: for each bat, finished ones without an owner that could be it.
    """

    bats: tuple[Wanting, ...]
    wanted: tuple[Wanted, ...]
    waiting: tuple[Wanting, ...]
    clefts: tuple[Cleft, ...]
    answer: Match
    book: Book
    shelf: tuple[tuple[StockBat, ...], ...]

    def short(self) -> list[Short]:
        """What willow is lacking, for the bats that got none."""
        return short_of((one.bat, self.wanted[one.bat]) for one in self.answer.unmatched)


def matched(*, today: date, proposed: bool = False, seconds: float | None = 0.0) -> Floor:
    """Match the floor.

    Args:
        today: the workshop's day.
        proposed: whether open proposals would like a cleft too.
        seconds: how long to work on tables that are not kept yet; None works all of them out.
    """
    book = book_in_force()
    those = wanting(book, proposed=proposed)
    known = tables.kept(one.key for one in those)
    missing = builds_without_table(those, known)
    if missing and seconds != 0.0:
        known |= tables.kept(list(tables.work_out(missing, book, seconds=seconds)))
    return match_known(those, known, book, today)


def match_known(
    those: Sequence[Wanting], known: dict[str, tables.BuildWillow], book: Book, today: date
) -> Floor:
    """Match the bats whose willow is known with the ready clefts."""
    bats = tuple(one for one in those if one.key in known)
    clefts = tuple(ready_clefts())
    kept = kept_aside(today)
    rows = {one.commission.pk: row for row, one in reversed(list(enumerate(bats)))}
    refused = _refused(bats, clefts)
    wanted = tuple(
        replace(
            wanted_of(
                one.build,
                known[one.key].table,
                known[one.key].weighing,
                book=book,
                days_left=one.days_left(today),
            ),
            refused=np.array(refused.get(row, ()), np.intp),
            has_kept=one.commission.pk in kept.values(),
            proposed=one.bat is None,
        )
        for row, one in enumerate(bats)
    )
    answer = match(wanted, as_arrays(clefts, kept, rows, book, today), book.matching)
    waiting = tuple(one for one in those if one.key not in known)
    stock = finished_bats() if bats else []
    shelf = tuple(could_be(stock, one.build, known[one.key].weighing, book) for one in bats)
    return Floor(bats, wanted, waiting, clefts, answer, book, shelf)


def _refused(bats: Sequence[Wanting], clefts: Sequence[Cleft]) -> dict[int, list[int]]:
    """Rows of the clefts that were refused for each row of the bats."""
    row_of = {(one.bat.pk, one.bat.round): row for row, one in enumerate(bats) if one.bat is not None}
    place = {cleft.pk: at for at, cleft in enumerate(clefts)}
    found: dict[int, list[int]] = {}
    standing = PairRefused.objects.filter(withdrawn_at__isnull=True)
    for bat, trip, cleft in standing.values_list("bat_id", "round", "cleft_id"):
        row = row_of.get((bat, trip))
        if row is not None and cleft in place:
            found.setdefault(row, []).append(place[cleft])
    return found
