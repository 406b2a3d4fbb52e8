"""The final inspection: the bat as built against the bat as agreed, row by row.

Stations are held against the shaping targets of the bat's own willow, with what the agreed drawing has beside
them; everything else against what was agreed. What is more off than the proposal allows, or outside the Laws,
is for the player to accept (``orders/commissions/consents.py``).
"""

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from fitting.bat.weigh import weigh
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import Weighing
from orders.commissions import stages
from orders.commissions.builds import add_build, sheet_of
from orders.commissions.models import Inspection, Reading
from orders.commissions.refusals import Refused
from orders.commissions.snapshots import law_rows
from orders.commissions.states import Origin
from orders.people.models import User
from workshop.bench.as_built import GIRTHS, Place, as_built, as_the_laws_see_it
from workshop.bench.asks import (
    Aim,
    BatOnPaper,
    aim_of,
    pickup_of_swings,
    places_of,
    reading_at,
)
from workshop.bench.work import Work, readings_of

# The pickup needs a rig that not every bench has, and the sweet spot is the model's; all else is measured.
OPTIONAL = frozenset({"pickup", "sweet_spot"})
STATIONS = ("spine", "edge_left", "edge_right")
# A sweet spot is told to 5 mm, so the next place is still the one that was asked for.
TOLD_TO_MM = 5.0


@dataclass(frozen=True)
class Row:
    """One number agreed and built, in its own unit (pickup in kg m2).

    ``drawn`` is what the agreed drawing has at a station that is shaped to the targets of its own willow. A
    row of the Laws carries what it looked at, its clause, and the dimension of the gauge.
    """

    key: str
    from_toe_mm: float | None
    unit: str
    agreed: float
    low: float
    high: float
    built: float | None
    off: float | None
    in_tolerance: bool
    drawn: float | None = None
    what: str = ""
    clause: str = ""
    coverings: str = ""
    dimension: str | None = None

    @property
    def counts(self) -> bool:
        """Whether it speaks against passing the bat when it is not in tolerance."""
        return self.built is not None or self.key not in OPTIONAL

    def stored(self) -> dict[str, Any]:
        """Return the row as it is kept, without what it does not have."""
        return {name: value for name, value in asdict(self).items() if name in ALWAYS or value}


ALWAYS = frozenset({"key", "from_toe_mm", "unit", "agreed", "low", "high", "built", "off", "in_tolerance"})


@dataclass(frozen=True)
class Inspected:
    """A bat at its inspection: the rows, and its sheet as measured with its weighing, where it is a bat."""

    rows: list[Row]
    build: BuildSheet | None
    weighing: Weighing | None


def rows_of(work: Work) -> list[Row]:
    """Return every row of the inspection, from the last reading of each; of the Laws only what is broken."""
    return inspected(work).rows


def inspected(work: Work) -> Inspected:
    """Measure a bat against what was agreed."""
    built = _built_or_none(work, as_built)
    weighing = None if built is None else weigh(built, book=work.book)
    return Inspected(_rows(work, weighing), built, weighing)


def _rows(work: Work, weighing: Weighing | None) -> list[Row]:
    readings = readings_of(work.bat)
    rows = [_row(work, key, None, readings) for key in ("mass", "balance", "length")]
    rows += [_pickup_row(work, readings), _sweet_spot_row(work, weighing)]
    rows += [_row(work, "width", at, readings) for at in places_of(work.paper, "widths")]
    for key in STATIONS:
        rows += [_row(work, key, at, readings) for at in places_of(work.paper, "stations")]
    rows += [_row(work, key, None, readings) for key in GIRTHS]
    return [*rows, *_law_rows(work)]


def in_tolerance(rows: list[Row]) -> bool:
    """Whether every row that counts was measured and lies within its tolerance."""
    return all(row.in_tolerance for row in rows if row.counts)


@transaction.atomic
def pass_bat(
    work: Work, *, by: User, reason: str = "", not_for_play: bool = False, at: datetime | None = None
) -> Inspection:
    """Pass the finished bat: keep it as built, give it its serial number.

    Args:
        work: the bat.
        by: who passes it.
        reason: why it passes out of tolerance.
        not_for_play: whether a bat outside the Laws carries the mark that says so.
        at: when; now if absent.

    Raises:
        Refused: ``reason_needed`` when a row is out of tolerance and no reason is written, ``consent_needed``
            and ``mark_needed`` as in ``stages.pass_inspection``, ``not_a_bat``.
    """
    if not stages.can_pass_inspection(work.bat, by):
        raise Refused("wrong_stage", what=("pass_inspection", work.bat.stage))
    built = as_built(work)
    rows = rows_of(work)
    outside_laws = any(row.key == "law" for row in rows)
    inspection = stages.pass_inspection(
        work.bat,
        rows=[row.stored() for row in rows],
        in_tolerance=in_tolerance(rows),
        by=by,
        reason=reason,
        not_for_play=not_for_play and outside_laws,
        at=at,
    )
    add_build(work.bat.commission, built, origin=Origin.AS_BUILT, by=by, parent=work.version, at=at)
    return inspection


def _row(work: Work, key: str, from_toe_mm: float | None, readings: Mapping[Place, Reading]) -> Row:
    place = None if from_toe_mm is None else round(from_toe_mm * 10)
    reading = readings.get((key, place))
    aim = aim_of(work.paper, "inspection", key, from_toe_mm)
    if aim is None or aim.target is None or aim.low is None or aim.high is None:
        raise ValueError(f"{key} has no agreed number")
    built = None if reading is None else reading.in_unit
    return Row(
        key=key,
        from_toe_mm=from_toe_mm,
        unit="g" if key == "mass" else "mm",
        agreed=round(aim.target, 1),
        low=round(aim.low, 1),
        high=round(aim.high, 1),
        built=built,
        off=None if built is None else aim.off(built),
        in_tolerance=built is not None and aim.holds(built),
        drawn=_drawn(work, key, from_toe_mm, aim),
    )


def _drawn(work: Work, key: str, from_toe_mm: float | None, aim: Aim) -> float | None:
    """Return what the agreed drawing has at a station, None where it is what the bat is shaped to."""
    if key not in STATIONS or from_toe_mm is None:
        return None
    station = next((s for s in work.build.blade.stations if abs(s.from_toe_mm - from_toe_mm) < 0.06), None)
    if station is None:
        return None
    agreed = BatOnPaper(work.build, work.weighing, work.book.bench)
    drawn = reading_at(agreed, "spine" if key == "spine" else "edge", station)
    return None if drawn == round(aim.target or 0.0, 1) else drawn


def _pickup_row(work: Work, readings: Mapping[Place, Reading]) -> Row:
    aim = work.build.pickup_kg_m2
    built = _pickup_as_built(work, readings)
    return Row(
        key="pickup",
        from_toe_mm=None,
        unit="kg_m2",
        agreed=round(aim.target, 5),
        low=round(aim.target - aim.tolerance, 5),
        high=round(aim.target + aim.tolerance, 5),
        built=built,
        off=None if built is None else round(built - aim.target, 5),
        in_tolerance=built is not None and abs(built - aim.target) <= aim.tolerance,
    )


def _pickup_as_built(work: Work, readings: Mapping[Place, Reading]) -> float | None:
    """Return the pickup of the timed swings in kg m2, None where mass, balance, length or time is missing."""
    needed = [readings.get((key, None)) for key in ("mass", "balance", "length", "swing_time")]
    values = [reading.in_unit for reading in needed if reading is not None]
    if len(values) < len(needed):
        return None
    mass, balance, length, seconds = values
    return pickup_of_swings(
        mass_g=mass,
        balance_mm=balance,
        length_mm=length,
        seconds=seconds,
        count=work.book.bench.swing_count,
    )


def _sweet_spot_row(work: Work, weighing: Weighing | None) -> Row:
    """Return where the bat as built hits hardest, by the model, against where it was asked for; to 5 mm."""
    asked = _asked_peak(work)
    sweet = None if weighing is None else weighing.sweet_spot
    built = None if sweet is None else _told(sweet.peak_from_toe_mm)
    off = None if built is None else built - asked
    return Row(
        key="sweet_spot",
        from_toe_mm=None,
        unit="mm",
        agreed=asked,
        low=asked - TOLD_TO_MM,
        high=asked + TOLD_TO_MM,
        built=built,
        off=off,
        in_tolerance=off is not None and abs(off) <= TOLD_TO_MM,
    )


def _asked_peak(work: Work) -> float:
    asked = work.build.sweet_spot.peak_from_toe_mm
    if asked is not None:
        return _told(asked)
    sweet = work.weighing.sweet_spot or weigh(work.build, book=work.book).sweet_spot
    return _told(work.weighing.swell_from_toe_mm if sweet is None else sweet.peak_from_toe_mm)


def _told(place_mm: float) -> float:
    return TOLD_TO_MM * round(place_mm / TOLD_TO_MM)


def _built_or_none(work: Work, read: Callable[[Work], BuildSheet]) -> BuildSheet | None:
    """Return the bat as measured; None where nobody has measured a station, or the readings make no bat."""
    if not any(key == "spine" for key, _ in readings_of(work.bat)):
        return None
    try:
        return read(work)
    except Refused:
        return None


def _law_rows(work: Work) -> list[Row]:
    """Return a row for everything in which the bat as it was measured is outside the Laws."""
    built = _built_or_none(work, as_the_laws_see_it)
    if built is None:
        return []
    checked = law_rows(built, sheet_of(work.bat.commission), agreed=work.bat.agreed, book=work.book)
    return [
        Row(
            key="law",
            from_toe_mm=row.station_from_toe_mm,
            unit=row.unit,
            agreed=row.limit,
            low=0.0,
            high=row.limit,
            built=round(row.value, 2),
            off=round(-row.margin, 2),
            in_tolerance=False,
            what=row.what,
            clause=row.clause,
            coverings=row.coverings,
            dimension=row.dimension,
        )
        for row in checked
        if not row.passes
    ]
