"""Depths in the press: before it, after each pass and rested; what was lost, and how long the wood rests.

A depth is known by its line along the blade and its place from the toe in 0.1 mm. Only what was read on the
wood that the bat now has counts: a bat whose cleft failed begins anew.
"""

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from statistics import mean

from orders.commissions.models import Bat
from orders.commissions.states import Stage
from workshop.bench.models import PressPass
from workshop.rack.clefts import cleft_of
from workshop.rack.models import CleftEntry

LINES = ("left", "centre", "right")
BEFORE = {"left": "depth_before_left", "centre": "depth_before", "right": "depth_before_right"}
AFTER = {"left": "depth_after_left", "centre": "depth_after", "right": "depth_after_right"}
Depths = dict[tuple[str, int], float]


def wood_since(bat: Bat) -> datetime | None:
    """Return when the bat got the cleft that it now has; None where it has none."""
    cleft = cleft_of(bat)
    if cleft is None:
        return None
    rows = CleftEntry.objects.filter(cleft=cleft, verb="reserve").order_by("pk")
    return rows.values_list("at", flat=True).last()


def passes_of(bat: Bat) -> list[PressPass]:
    """Return the passes of this trip over the bench that stand, on the wood that the bat now has."""
    rows = PressPass.objects.standing().filter(bat=bat, round=bat.round).select_related("by")
    since = wood_since(bat)
    if since is not None:
        rows = rows.filter(at__gte=since)
    return list(rows.order_by("number", "pk"))


def depths_read(
    bat: Bat, keys: Mapping[str, str], *, from_moment: datetime | None = None, round_number: int | None = None
) -> Depths:
    """Return the last standing readings of some keys at the press grid, mm, by line and place.

    Args:
        bat: whose wood.
        keys: ``BEFORE`` or ``AFTER``.
        from_moment: only what was read from then on.
        round_number: only of this trip over the bench.
    """
    lines = {key: line for line, key in keys.items()}
    rows = bat.readings.standing().filter(stage=Stage.PRESSING, key__in=lines, from_toe__isnull=False)
    if round_number is not None:
        rows = rows.filter(round=round_number)
    moments = [moment for moment in (wood_since(bat), from_moment) if moment is not None]
    if moments:
        rows = rows.filter(at__gte=max(moments))
    return {(lines[row.key], row.from_toe or 0): row.in_unit for row in rows.order_by("pk")}


def depths_after_pass(one: PressPass, places: Iterable[int]) -> Depths:
    """Return the depths that were read after a pass, mm; its lists follow the places from the toe."""
    listed = sorted(places)
    return {
        (line, place): float(depth)
        for line in LINES
        for place, depth in zip(listed, one.depths.get(line, ()), strict=False)
        if depth is not None
    }


def losses(before: Depths, now: Depths) -> Depths:
    """Return how much depth was lost at each point that was read both times, mm."""
    return {point: round(before[point] - depth, 2) for point, depth in now.items() if point in before}


def mean_loss(before: Depths, now: Depths) -> float | None:
    """Return the mean loss of depth over the grid, mm; None where no point was read twice."""
    lost = losses(before, now)
    return mean(lost.values()) if lost else None


def press_loss_of(bat: Bat) -> float | None:
    """Return the mean loss of depth that the press has left for good, mm; None while it is not read.

    Depths count as rested when they were read after the last pass; that the rest was long enough is seen to
    before the bat passes on.
    """
    passes = passes_of(bat)
    last = passes[-1].at if passes else None
    return mean_loss(depths_read(bat, BEFORE), depths_read(bat, AFTER, from_moment=last))


def rest_ends(passes: list[PressPass], hours: float) -> datetime | None:
    """Return when the rest after the last pass is over; None before the first pass."""
    return passes[-1].at + timedelta(hours=hours) if passes else None
