"""What stands on the page of finishing: coats of oil, marks inside the Laws, serial number, swings."""

from dataclasses import dataclass
from datetime import datetime
from math import floor
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext

from fitting.laws.editions import EDITIONS
from orders.commissions.bench_entries import readings_now
from orders.commissions.refusals import Refused
from orders.commissions.stages import serial_for
from orders.people.models import User
from workshop.bench.asks import pickup_of_swings
from workshop.bench.models import Coat
from workshop.bench.page import time_words
from workshop.bench.rows import keep_row, take_back_row
from workshop.bench.waits import OIL, dry_at, last_coat
from workshop.bench.work import Work


@dataclass(frozen=True)
class CoatRow:
    """One coat that was laid on."""

    pk: int
    number: int
    by: str
    at: datetime


@dataclass(frozen=True)
class Mark:
    """What one clause allows of the maker's marks."""

    clause: str
    words: str


def context(work: Work) -> dict[str, Any]:
    """Return what the stage's own part of the page shows."""
    last = last_coat(work)
    bench = work.book.bench
    step = bench.step(OIL)
    dry = dry_at(last, bench) if last else None
    return {
        "coats": coats_of(work),
        "coats_agreed": work.build.finish.oil_coats,
        "coat_hours": f"{step.wait_hours:g}" if step else "0",
        "next_coat_from": time_words(dry) if dry and dry > timezone.now() else "",
        "oils": bool(step and step in (work.stage_work.steps if work.stage_work else ())),
        "marks": marks_allowed(work),
        "laws_edition": work.book.laws_edition,
        "serial": work.bat.serial or serial_for(work.bat, timezone.now()),
        "swings": _swings(work),
    }


def coats_of(work: Work) -> list[CoatRow]:
    """Return the coats of oil that were laid on in this round and stand."""
    bat = work.bat
    rows = Coat.objects.standing().filter(bat=bat, round=bat.round, kind=OIL).select_related("by")
    return [CoatRow(row.pk, row.number, row.by.name, row.at) for row in rows.order_by("at", "pk")]


@transaction.atomic
def lay_coat(work: Work, *, by: User, at: datetime | None = None) -> Coat:
    """Note a coat of oil.

    Raises:
        Refused: ``coat_wet`` while the one before has not had the hours that the book gives it.
    """
    now = at or timezone.now()
    last = last_coat(work)
    if last is not None and dry_at(last, work.book.bench) > now:
        raise Refused("coat_wet", what=(dry_at(last, work.book.bench).isoformat(),))
    number = len(coats_of(work)) + 1
    return keep_row(Coat, work.bat, by=by, at=now, kind=OIL, number=number)


@transaction.atomic
def take_back_coat(work: Work, pk: int, *, by: User, at: datetime | None = None) -> None:
    """Take the note of a coat back.

    Raises:
        Refused: ``no_coat`` when this bat has no such coat.
    """
    row = Coat.objects.standing().filter(pk=pk, bat=work.bat, round=work.bat.round).first()
    if row is None:
        raise Refused("no_coat")
    row.bat = work.bat
    take_back_row(row, by=by, at=at)


def marks_allowed(work: Work) -> list[Mark]:
    """Return where the maker's marks may stand and how large, by the edition of the Laws in the book."""
    edition = EDITIONS[work.book.laws_edition]
    zone = edition.size("marking_zone_of_face")
    thickness = edition.size("marking_thickness")
    back = edition.share("marking_share_of_back")
    return [
        Mark(
            back.clause, gettext("On the back: at most %(share)s %% of it.") % {"share": f"{back.percent:g}"}
        ),
        Mark(
            zone.clause,
            gettext("On the face: only in the uppermost %(zone)s mm, from the end of the grip down.")
            # Never rounded up: the limit is the limit.
            % {"zone": f"{floor(zone.mm)}"},
        ),
        Mark(
            thickness.clause,
            gettext("Thickness: at most %(thickness)s mm.") % {"thickness": f"{thickness.mm:.1f}"},
        ),
    ]


def _swings(work: Work) -> dict[str, Any]:
    """Say the pickup that the timed swings tell; nothing before mass, balance, length and time are there."""
    read = readings_now(work.bat, stage=work.bat.stage)
    keys = ("mass", "balance", "length", "swing_time")
    values = [read[key, None].in_unit for key in keys if (key, None) in read]
    aim = work.build.pickup_kg_m2
    told: dict[str, Any] = {"target": f"{aim.target:.4f}", "tolerance": f"{aim.tolerance:.4f}"}
    if len(values) < len(keys):
        return told
    mass_g, balance_mm, length_mm, seconds = values
    found = pickup_of_swings(
        mass_g=mass_g,
        balance_mm=balance_mm,
        length_mm=length_mm,
        seconds=seconds,
        count=work.book.bench.swing_count,
    )
    if found is None:
        return told
    return {**told, "found": f"{found:.4f}", "inside": abs(found - aim.target) <= aim.tolerance + 5e-5}
