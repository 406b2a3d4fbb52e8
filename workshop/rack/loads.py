"""Loads of clefts: taken in, put right, and what became of the wood of each."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from math import sqrt
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import Count

from fitting.sheets.book import Book
from workshop.rack.candidates import density_of
from workshop.rack.clefts import GRADES, CleftRefused
from workshop.rack.models import Cleft, CleftEntry, CleftState, Load

COLUMNS = ("name", "grower", "felled_on", "arrived_on", "kiln_sheet", "count", "price_a_piece", "note")
# Decided wood: what has been cut for its bat, kept for a smaller one, or thrown out.
DECIDED = (CleftState.USED, CleftState.SMALLER, CleftState.REJECTED)


@dataclass(frozen=True)
class Mean:
    """A mean with the standard deviation of the pieces."""

    value: float
    sd: float
    count: int


@dataclass(frozen=True)
class LoadReport:
    """What became of a load: pieces by state and by grade (now, and as they came), yield, means.

    ``made`` of ``decided`` pieces went into the bat that they were chosen for; the others are kept for a
    smaller one or were thrown out. Mass in g as last read, density in kg/m3 at 12 %.
    """

    load: Load
    on_record: int
    by_state: Mapping[str, int]
    grades_now: Mapping[int, int]
    grades_on_arrival: Mapping[int, int]
    made: int
    decided: int
    mass: Mean | None
    density: Mean | None
    missing: int = field(default=0)

    @property
    def yield_percent(self) -> float | None:
        """Made of decided pieces, percent; None while nothing is decided."""
        return 100 * self.made / self.decided if self.decided else None


def save_load(load: Load, columns: Mapping[str, Any]) -> Load:
    """Store a load, new or put right.

    Raises CleftRefused: "load_named_twice", "meanwhile" (somebody else put it right).
    """
    try:
        with transaction.atomic():
            if load._state.adding:
                return Load.objects.create(**columns)
            same = Load.objects.filter(pk=load.pk, version=load.version)
            if same.update(version=load.version + 1, **columns) != 1:
                raise CleftRefused("meanwhile")
    except IntegrityError as error:
        raise CleftRefused("load_named_twice") from error
    return Load.objects.get(pk=load.pk)


def with_counts() -> list[dict[str, Any]]:
    """Return every load with how many of its clefts are on record, in stock, made into bats and decided."""
    counted: dict[int, dict[str, int]] = {}
    for row in (
        Cleft.objects.exclude(load=None).values("load", "state").annotate(number=Count("pk")).order_by()
    ):
        counted.setdefault(row["load"], {})[row["state"]] = row["number"]
    return [_line(load, counted.get(load.pk, {})) for load in Load.objects.all()]


def report_on(load: Load, book: Book) -> LoadReport:
    """Return what became of a load."""
    clefts = list(load.clefts.all())
    by_state = _count(cleft.state for cleft in clefts)
    made, decided = by_state.get(CleftState.USED, 0), sum(by_state.get(state, 0) for state in DECIDED)
    return LoadReport(
        load=load,
        on_record=len(clefts),
        by_state=by_state,
        grades_now=_count(cleft.grade for cleft in clefts),
        grades_on_arrival=_arrival_grades(clefts),
        made=made,
        decided=decided,
        mass=_mean([cleft.mass_g for cleft in clefts]),
        density=_mean([density_of(cleft, book).at_12 for cleft in clefts]),
        missing=max(0, (load.count or 0) - len(clefts)),
    )


def _line(load: Load, by_state: Mapping[str, int]) -> dict[str, Any]:
    decided = sum(by_state.get(state, 0) for state in DECIDED)
    gone = by_state.get(CleftState.USED, 0) + by_state.get(CleftState.REJECTED, 0)
    made = by_state.get(CleftState.USED, 0)
    return {
        "load": load,
        "on_record": sum(by_state.values()),
        "in_stock": sum(by_state.values()) - gone,
        "made": made,
        "decided": decided,
        "yield_percent": 100 * made / decided if decided else None,
    }


def _arrival_grades(clefts: Iterable[Cleft]) -> dict[int, int]:
    grades = {cleft.pk: cleft.grade for cleft in clefts}
    # The first re-grading tells the grade before it, whatever came in was written down with.
    first: dict[int, int] = {}
    entries = CleftEntry.objects.filter(cleft__in=grades, verb="grade").order_by("at", "pk")
    for entry in entries:
        first.setdefault(entry.cleft_id, entry.data["grade_before"])
    return _count({**grades, **first}.values())


def _count(values: Iterable[Any]) -> dict[Any, int]:
    found: dict[Any, int] = {}
    for value in values:
        found[value] = found.get(value, 0) + 1
    return {grade: found[grade] for grade in sorted(found)} if set(found) <= set(GRADES) else found


def _mean(values: list[float]) -> Mean | None:
    if not values:
        return None
    middle = sum(values) / len(values)
    spread = (
        sqrt(sum((value - middle) ** 2 for value in values) / (len(values) - 1)) if len(values) > 1 else 0.0
    )
    return Mean(middle, spread, len(values))
