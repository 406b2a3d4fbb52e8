"""Many clefts at once: a file kept until it is confirmed, then all of its good rows or none."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime, timedelta
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone

from orders.people.models import User
from workshop.rack.clefts import CleftRefused, taken_in
from workshop.rack.imports import ParsedFile, taken_meanwhile
from workshop.rack.models import Blemish, Cleft, CleftEntry, CleftFile, Load

# A file that nobody confirmed is forgotten.
KEPT = timedelta(days=1)
BATCH = 500
NO_COLUMNS = frozenset({"row", "load", "grower", "blemishes", "read_on"})


def keep_file(name: str, parsed: ParsedFile, *, by: User) -> CleftFile:
    """Keep a file as it was read; what the same person had not confirmed before goes."""
    CleftFile.objects.filter(by=by).delete()
    return CleftFile.objects.create(name=name[:120], parsed=parsed.as_json(), by=by)


def forget_files(now: datetime | None = None) -> int:
    """Delete files that were not confirmed within a day; a periodic job. Returns how many."""
    return CleftFile.objects.filter(at__lt=(now or timezone.now()) - KEPT).delete()[0]


@transaction.atomic
def confirm(kept: CleftFile, *, good_only: bool, by: User, at: datetime | None = None) -> list[Cleft]:
    """Put the clefts of a file on the rack, exactly as they were shown: all good rows, or nothing.

    Raises CleftRefused: "file_has_faults" (and ``good_only`` was not said), "file_empty",
    "numbers_taken" (somebody took one in meanwhile), "file_gone" (confirmed or given up already).
    """
    parsed = ParsedFile.from_json(kept.parsed)
    if parsed.faults and not good_only:
        raise CleftRefused("file_has_faults")
    if not parsed.good:
        raise CleftRefused("file_empty")
    if CleftFile.objects.filter(pk=kept.pk).delete()[0] == 0:
        raise CleftRefused("file_gone")
    if taken_meanwhile(parsed):
        raise CleftRefused("numbers_taken")
    try:
        with transaction.atomic():
            return take_in_many(parsed.good, parsed.new_loads, by=by, at=at or timezone.now())
    except IntegrityError as error:
        raise CleftRefused("numbers_taken") from error


def take_in_many(
    rows: Iterable[Mapping[str, Any]], new_loads: Mapping[str, str], *, by: User, at: datetime
) -> list[Cleft]:
    """Store clefts with their loads, blemishes and first entries, in few statements."""
    day = timezone.localdate(at)
    Load.objects.bulk_create(
        [Load(name=name, grower=grower, arrived_on=day) for name, grower in new_loads.items()],
        ignore_conflicts=True,
    )
    loads = {load.name: load for load in Load.objects.all()}
    rows = list(rows)
    clefts = Cleft.objects.bulk_create(
        [
            Cleft(
                **{name: value for name, value in row.items() if name not in NO_COLUMNS},
                read_on=date.fromisoformat(row["read_on"]),
                load=loads.get(row["load"]),
                taken_in_at=at,
            )
            for row in rows
        ],
        batch_size=BATCH,
    )
    CleftEntry.objects.bulk_create(
        [
            CleftEntry(cleft=cleft, verb="take_in", to_state=cleft.state, by=by, data=taken_in(cleft), at=at)
            for cleft in clefts
        ],
        batch_size=BATCH,
    )
    Blemish.objects.bulk_create(
        [
            Blemish(cleft=cleft, by=by, at=at, **blemish)
            for cleft, row in zip(clefts, rows, strict=True)
            for blemish in row["blemishes"]
        ],
        batch_size=BATCH,
    )
    return clefts
