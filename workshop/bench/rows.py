"""Rows that the bench adds beside steps and readings: kept while the bat holds still, or taken back."""

from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone

from orders.commissions.bench_entries import keep_still
from orders.commissions.models import Bat
from orders.commissions.refusals import Refused
from orders.people.models import User
from workshop.bench.models import BenchRow


@transaction.atomic
def keep_row[Row: BenchRow](
    kind: type[Row], bat: Bat, /, *, by: User, at: datetime | None = None, **values: Any
) -> Row:
    """Add a row to the bat's stage.

    Raises:
        Refused: ``not_yours``, ``wrong_stage``; MovedOn when the bat has left the stage meanwhile.
    """
    now = at or timezone.now()
    keep_still(bat, by, at=now)
    manager: Any = kind._default_manager
    row: Row = manager.create(bat=bat, round=bat.round, stage=bat.stage, by=by, at=now, **values)
    return row


@transaction.atomic
def take_back_row[Row: BenchRow](row: Row, *, by: User, at: datetime | None = None) -> Row:
    """Take a row back by a new one; only while the bat is still in that stage.

    Raises:
        Refused: ``taken_back`` when it already is, ``wrong_stage`` when the bat has gone on.
    """
    if (row.bat.round, row.bat.stage) != (row.round, row.stage):
        raise Refused("wrong_stage", what=("take_back", row.bat.stage))
    if row.takes_back is not None:
        raise Refused("taken_back")
    now = at or timezone.now()
    keep_still(row.bat, by, at=now)
    copied = {
        column.attname: getattr(row, column.attname)
        for column in row._meta.concrete_fields
        if column.name not in {"id", "by", "at", "takes_back"}
    }
    manager: Any = type(row)._default_manager
    try:
        with transaction.atomic():
            undone: Row = manager.create(**copied, by=by, at=now, takes_back=row)
    except IntegrityError:
        raise Refused("taken_back") from None
    return undone
