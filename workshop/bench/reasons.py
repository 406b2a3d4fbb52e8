"""A joint that is past its limit: the bat goes on only with a reason in words."""

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from orders.commissions.bench_entries import readings_now
from orders.commissions.refusals import Refused
from orders.people.models import User
from workshop.bench.models import Reason
from workshop.bench.rows import keep_row
from workshop.bench.work import Work


@dataclass(frozen=True)
class Over:
    """One reading past its limit, mm, and the reason that stands for it, if one does."""

    key: str
    value_mm: float
    limit_mm: float
    reason: Reason | None


def limits_of(work: Work) -> dict[str, float]:
    """Return the readings that have a limit which only a reason lifts, mm."""
    bench = work.book.bench
    return {"splice_gap": bench.splice_gap_most_mm, "handle_offset": bench.handle_offset_most_mm}


def over_limits(work: Work) -> list[Over]:
    """Return what was read past its limit in the bat's stage."""
    read = readings_now(work.bat, stage=work.bat.stage)
    found = []
    for key, limit in limits_of(work).items():
        row = read.get((key, None))
        # To the tenth that the instrument shows.
        if row is not None and row.value > round(limit * 10):
            found.append(Over(key, row.in_unit, limit, _reason(work, key, row.value)))
    return found


def missing_words(work: Work, now: datetime) -> tuple[str, ...]:
    """Return the reasons that are still asked for; the same at any moment (``now``)."""
    return tuple(f"reason:{one.key}" for one in over_limits(work) if one.reason is None)


@transaction.atomic
def give_reason(work: Work, *, about: str, words: str, by: User, at: datetime | None = None) -> Reason:
    """Keep why the bat goes on with what was read.

    Raises:
        Refused: ``reason_needed`` without words, ``not_over`` when the reading is inside its limit.
    """
    over = next((one for one in over_limits(work) if one.key == about), None)
    if over is None:
        raise Refused("not_over")
    if not words.strip():
        raise Refused("reason_needed", what=(about,))
    value = round(over.value_mm * 10)
    return keep_row(Reason, work.bat, by=by, at=at, about=about, value=value, words=words.strip())


def _reason(work: Work, key: str, value: int) -> Reason | None:
    rows = Reason.objects.standing().filter(
        bat=work.bat, round=work.bat.round, stage=work.bat.stage, about=key
    )
    return rows.filter(value__gte=value).select_related("by").order_by("pk").last()
