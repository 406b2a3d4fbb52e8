"""How long stages take in this workshop, for the new days of a bat whose wood has failed."""

from collections.abc import Iterable
from itertools import pairwise
from math import ceil
from statistics import median

from fitting.sheets.book import Book
from orders.commissions.models import JournalEntry
from orders.commissions.states import BENCH_STAGES, Stage

# Medians of fewer bats than this say too little; then the book's rest and a day's work are taken.
FEWEST = 3
MOVES_LOOKED_AT = 600
DAYS_AT_WORK = 1.0


def stages_again(failed_in: str) -> list[Stage]:
    """Return the stages that are done once more when the wood fails in one of them."""
    if failed_in == Stage.INSPECTION:
        return list(BENCH_STAGES)
    return list(BENCH_STAGES[: BENCH_STAGES.index(Stage(failed_in)) + 1])


def days_again(failed_in: str, book: Book) -> int:
    """Return how many days the stages that are done again are likely to take, whole days rounded up.

    Each stage counts with the median of this workshop's own bats, from coming into it to leaving it onward;
    with the book's rest and one day of work where too few bats have been through.
    """
    usual = usual_days()
    found = (
        usual.get(stage, DAYS_AT_WORK + book.bench.work(stage).wait_hours / 24)
        for stage in stages_again(failed_in)
    )
    return max(1, ceil(round(sum(found), 3)))


def usual_days() -> dict[str, float]:
    """Return the median of days between coming into a stage and passing on, of stages with enough bats."""
    moves = JournalEntry.objects.filter(bat__isnull=False, verb__in=("begin", "pass_on", "go_back"))
    newest = list(moves.order_by("-pk")[:MOVES_LOOKED_AT])
    by_bat: dict[int, list[JournalEntry]] = {}
    for move in reversed(newest):
        by_bat.setdefault(move.bat_id or 0, []).append(move)
    spent: dict[str, list[float]] = {}
    for entries in by_bat.values():
        for stage, days in _stays(entries):
            spent.setdefault(stage, []).append(days)
    return {stage: median(days) for stage, days in spent.items() if len(days) >= FEWEST}


def _stays(entries: list[JournalEntry]) -> Iterable[tuple[str, float]]:
    for came, left in pairwise(entries):
        if left.verb == "pass_on" and came.to_state == left.from_state:
            yield left.from_state, (left.at - came.at).total_seconds() / 86400
