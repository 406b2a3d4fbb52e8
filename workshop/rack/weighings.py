"""The weighings of clefts, what course they tell, and which clefts want the scales again."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.utils import timezone

from fitting.sheets.book import Book
from workshop.rack.models import Cleft, CleftEntry, CleftQuerySet, CleftState
from workshop.seasoning import Drying, OnScales, Ready, Wanted, fit_drying, ready_day, whole_days

# As many of the last weighings as are drawn and counted.
MOST_WEIGHINGS = 24
VERBS = ("take_in", "weigh", "season", "amend")


@dataclass(frozen=True)
class Weighed:
    """One weighing of a cleft: mass in g, moisture in percent, and the day."""

    on: date
    mass_g: float
    moisture_percent: float


@dataclass(frozen=True)
class Outlook:
    """Where a cleft stands on its way to rest, as told by its weighings since it last went to season."""

    weighed: tuple[Weighed, ...]
    drying: Drying
    ready: Ready
    ready_on: date | None
    # How the mass changed between the last two weighings, percent of the mass a week; None with one weighing.
    change_percent_a_week: float | None
    is_ready: bool

    @property
    def first(self) -> date:
        """The day from which the course counts."""
        return self.weighed[0].on

    @property
    def last(self) -> Weighed:
        """The last weighing."""
        return self.weighed[-1]

    @property
    def sd_days(self) -> int:
        """Spread of the day, whole days, at least one."""
        return max(1, round(self.ready.sd_days)) if self.ready_on else 0


def weighings_of(clefts: Iterable[Cleft]) -> dict[int, list[Weighed]]:
    """Return the weighings of each cleft since it last went to season, oldest first, one a day."""
    found: dict[int, list[Weighed]] = {cleft.pk: [] for cleft in clefts}
    entries = CleftEntry.objects.filter(cleft__in=list(found), verb__in=VERBS).order_by("at", "pk")
    for entry in entries:
        rows = found[entry.cleft_id]
        if entry.verb == "season":
            # It begins anew from the mass that it has then.
            found[entry.cleft_id] = rows[-1:]
        elif entry.verb == "amend":
            _put_right(rows, entry.data.get("changed", {}))
        elif "mass" in entry.data:
            rows.append(_weighed(entry))
    return {cleft: _one_a_day(rows) for cleft, rows in found.items()}


def outlook_of(weighed: list[Weighed], book: Book, today: date) -> Outlook | None:
    """Return the course that weighings tell; None where there is none of them."""
    if not weighed:
        return None
    first = weighed[0].on
    course = [OnScales((one.on - first).days, one.mass_g, one.moisture_percent) for one in weighed]
    wanted = wanted_of(book)
    drying = fit_drying(course, book.room, meter_sd_percent=book.bench.moisture_sd_percent)
    ready = ready_day(drying, wanted)
    ready_on = None
    if ready.day is not None and not ready.is_vague:
        ready_on = first + timedelta(days=max(0, whole_days(ready.day)))
    change = _change(weighed)
    last = weighed[-1]
    inside = wanted.least_percent <= last.moisture_percent <= wanted.most_percent
    at_rest = change is not None and abs(change) < wanted.settled_percent_a_week
    return Outlook(
        weighed=tuple(weighed),
        drying=drying,
        ready=ready,
        ready_on=ready_on,
        change_percent_a_week=change,
        is_ready=inside and at_rest and ready_on is not None and ready_on <= today,
    )


def outlooks(clefts: Iterable[Cleft], book: Book, today: date) -> dict[int, Outlook]:
    """Return the outlook of each cleft that has been weighed."""
    told = {cleft: outlook_of(weighed, book, today) for cleft, weighed in weighings_of(clefts).items()}
    return {cleft: outlook for cleft, outlook in told.items() if outlook is not None}


def wanted_of(book: Book) -> Wanted:
    """Return when wood is ready by the book."""
    return Wanted(
        least_percent=book.bench.moisture_least_percent,
        most_percent=book.bench.moisture_most_percent,
        settled_percent_a_week=book.room.settled_percent_a_week,
    )


def to_weigh_again(book: Book, today: date) -> CleftQuerySet:
    """Return the clefts that season and were last weighed too long ago, the longest first."""
    due = today - timedelta(days=book.room.weigh_again_days)
    return Cleft.objects.filter(state=CleftState.SEASONING, read_on__lte=due).order_by("read_on", "number")


def _weighed(entry: CleftEntry) -> Weighed:
    data: dict[str, Any] = entry.data
    on = date.fromisoformat(data["read_on"]) if data.get("read_on") else timezone.localdate(entry.at)
    return Weighed(on, data["mass"] / 10, data["moisture"] / 10)


def _put_right(rows: list[Weighed], changed: dict[str, list[Any]]) -> None:
    """Change the last weighing where what it said has been put right."""
    if not rows or not {"mass", "moisture", "read_on"} & set(changed):
        return
    last = rows[-1]
    rows[-1] = Weighed(
        date.fromisoformat(changed["read_on"][1]) if "read_on" in changed else last.on,
        changed["mass"][1] / 10 if "mass" in changed else last.mass_g,
        changed["moisture"][1] / 10 if "moisture" in changed else last.moisture_percent,
    )


def _one_a_day(rows: list[Weighed]) -> list[Weighed]:
    """Return the rows by day; of two on one day the later counts."""
    by_day = {one.on: one for one in rows}
    return [by_day[day] for day in sorted(by_day)][-MOST_WEIGHINGS:]


def _change(weighed: list[Weighed]) -> float | None:
    if len(weighed) < 2:
        return None
    before, last = weighed[-2], weighed[-1]
    return (last.mass_g / before.mass_g - 1) * 100 * 7 / (last.on - before.on).days
