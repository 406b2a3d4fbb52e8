"""The clefts of the rack as the arrays that matching takes."""

from collections.abc import Mapping, Sequence
from datetime import date

import numpy as np
from django.utils import timezone

from fitting.sheets.book import Book
from workshop.matching_costs import FREE, SOMEBODY_ELSES, Clefts
from workshop.matching_marks import LOOKS, SIDES, Marks
from workshop.rack.models import FREE_STATES, Blemish, Cleft, CleftHold, CleftState
from workshop.willow_arrays import raw_densities


def ready_clefts() -> list[Cleft]:
    """Return the clefts that can be given to a bat, those kept aside among them."""
    return list(Cleft.objects.filter(state__in=FREE_STATES).select_related("load").order_by("number"))


def kept_aside(today: date) -> dict[int, int]:
    """Return for which commission each cleft is kept aside, both by primary key."""
    return dict(CleftHold.objects.active(today).values_list("cleft_id", "proposal__commission_id"))


def as_arrays(
    clefts: Sequence[Cleft], kept: Mapping[int, int], bats: Mapping[int, int], book: Book, today: date
) -> Clefts:
    """Put clefts into arrays.

    Args:
        clefts: with their loads.
        kept: cleft to the commission that it is kept aside for.
        bats: commission to the row of its bat.
        book: how well sizes and moisture are known.
        today: the day that ages are told on.
    """
    widths = _numbers([cleft.widths_mm for cleft in clefts], columns=3)
    depths = _numbers([cleft.depths_mm for cleft in clefts], columns=3)
    length = _numbers([cleft.length_mm for cleft in clefts])
    density, sd = raw_densities(
        length,
        widths,
        depths,
        _numbers([cleft.mass_g for cleft in clefts]),
        _numbers([cleft.moisture_percent for cleft in clefts]),
        book.bench,
    )
    return Clefts(
        length_mm=length,
        width_mm=widths.min(axis=1),
        depth_mm=depths.min(axis=1),
        density_kg_m3=density,
        density_sd_kg_m3=sd,
        grade=np.array([cleft.grade for cleft in clefts], np.intp),
        price=_numbers([np.nan if cleft.cost is None else cleft.cost for cleft in clefts]),
        age_days=_numbers([(today - _came(cleft)).days for cleft in clefts]),
        run_out=_numbers([np.nan if cleft.run_out is None else cleft.run_out for cleft in clefts]),
        kept_for=np.array([_kept_for(cleft, kept, bats) for cleft in clefts], np.intp),
        for_smaller=np.array([cleft.state == CleftState.SMALLER for cleft in clefts], np.bool_),
        marks=_marks(clefts),
    )


def _numbers(values: Sequence[float] | Sequence[tuple[float, ...]], columns: int = 0) -> "np.ndarray":
    return np.array(values, np.float64).reshape((-1, columns) if columns else -1)


def _came(cleft: Cleft) -> date:
    arrived = cleft.load.arrived_on if cleft.load else None
    return arrived or timezone.localdate(cleft.taken_in_at)


def _kept_for(cleft: Cleft, kept: Mapping[int, int], bats: Mapping[int, int]) -> int:
    commission = kept.get(cleft.pk)
    return FREE if commission is None else bats.get(commission, SOMEBODY_ELSES)


def _marks(clefts: Sequence[Cleft]) -> Marks:
    place = {cleft.pk: row for row, cleft in enumerate(clefts)}
    found = [
        mark
        for mark in Blemish.objects.filter(cleft__state__in=FREE_STATES).values_list(
            "cleft_id", "kind", "side", "from_end", "size", "through"
        )
        if mark[0] in place
    ]
    if not found:
        return Marks.none()
    cleft, kind, side, from_end, size, through = zip(*found, strict=True)
    return Marks.of_clefts(
        np.array([place[key] for key in cleft], np.intp),
        side=np.array([SIDES.index(one) for one in side], np.intp),
        from_end_mm=np.array(from_end) / 10,
        size_mm=np.array(size) / 10,
        through=np.array(through, np.bool_),
        looks=np.array([one in LOOKS and not deep for one, deep in zip(kind, through, strict=True)]),
    )
