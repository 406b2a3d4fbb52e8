"""Filling an empty database with the demo workshop, the same for the same day."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from random import Random

from django.db import transaction
from django.utils import timezone

from orders.commissions.lifecycle import open_commission
from orders.commissions.models import Commission
from orders.interview.models import Fitting
from orders.people.models import Player, User, Workshop
from workshop.demo.acts import Days, Story, dated
from workshop.demo.fittings import begun_fitting, child_sheet, grown_sheet
from workshop.demo.people import (
    FIRST_DAY,
    GUARDIAN_EMAIL,
    SECOND_GUARDIAN_EMAIL,
    WORKSHOP_EMAIL,
    Staff,
    children_of,
    grown_player,
    open_demo,
)
from workshop.demo.plan import LASTS, PLANNED, Planned, Who
from workshop.demo.stock import stock_the_shelves
from workshop.demo.telling import tell
from workshop.demo.wood import stock_the_rack
from workshop.rack.holds import release_due
from workshop.rack.models import Cleft

SEED = 20270401
OPENED_DAYS_AGO = 240


class NotEmpty(Exception):
    """There is something in this database that is not the demo's."""


@dataclass(frozen=True)
class Filled:
    """What stands in the demo's database."""

    was_there: bool
    commissions: int
    clefts: int
    fittings: int


def fill(today: date) -> Filled:
    """Fill an empty database; on the demo's own change nothing.

    Args:
        today: the day that all dates are counted back from.

    Raises:
        NotEmpty: there is another workshop, or people, or a fitting.
    """
    workshop = Workshop.objects.the_one()
    if workshop is not None and workshop.email == WORKSHOP_EMAIL:
        return _counted(was_there=True)
    if workshop is not None or User.objects.exists() or Fitting.objects.exists():
        raise NotEmpty
    with transaction.atomic(), timezone.override(FIRST_DAY.zone):
        _tell(today)
    return _counted(was_there=False)


def _counted(*, was_there: bool) -> Filled:
    return Filled(
        was_there,
        commissions=Commission.objects.count(),
        clefts=Cleft.objects.count(),
        fittings=Fitting.objects.count(),
    )


def _tell(today: date) -> None:
    # As it stands in the morning: nothing has happened yet on the day itself.
    evening = timezone.make_aware(datetime.combine(today - timedelta(days=1), time(17)))
    opened = evening - timedelta(days=OPENED_DAYS_AGO)
    staff = open_demo(opened)
    stock_the_rack(_chance(1), by=staff.maker, at=evening)
    stock_the_shelves(_chance(3), by=staff.maker, at=evening)
    people = _people(today, opened)
    stories = [_opened(first, people, staff, evening) for first in _first_moments(evening)]
    for planned, story in stories:
        tell(planned, story)
        if story.days.last > evening:
            raise ValueError(f"the story of {planned} ends after its day: {story.days.last}")
    _begin_drafts(people, staff, evening)
    release_due(evening)


def _chance(number: int) -> Random:
    return Random(SEED + number)  # noqa: S311 - the same every time is what is wanted


@dataclass(frozen=True)
class FirstMoment:
    """When the fitting of one planned commission is sent, with the clock and the chance of its story."""

    at: datetime
    number: int
    planned: Planned
    days: Days
    chance: Random


def _first_moments(evening: datetime) -> list[FirstMoment]:
    """Return the beginnings in the order in which the fittings are sent, so that numbers rise with them."""
    found = []
    for number, planned in enumerate(PLANNED):
        chance = _chance(100 + number)
        # On the morning of the day from which the story ends so many days before this evening.
        begins = evening - timedelta(days=planned.days_ago + LASTS[planned.end], hours=10)
        days = Days(begins, chance)
        found.append(FirstMoment(days.after(0), number, planned, days, chance))
    return sorted(found, key=lambda one: (one.at, one.number))


def _people(today: date, opened: datetime) -> dict[Who, Player]:
    """Enter those who come more than once."""
    robin, wren = children_of(GUARDIAN_EMAIL, today=today, at=opened + timedelta(days=30))
    (teal,) = children_of(SECOND_GUARDIAN_EMAIL, today=today, at=opened + timedelta(days=60))
    the_player = grown_player(0, at=opened + timedelta(days=90))
    return {"robin": robin, "wren": wren, "teal": teal, "the_player": the_player}


def _opened(
    first: FirstMoment, people: dict[Who, Player], staff: Staff, evening: datetime
) -> tuple[Planned, Story]:
    """Begin, fill in and send one fitting: the commission is open."""
    at, planned, chance = first.at, first.planned, first.chance
    player = people.get(planned.who) or grown_player(first.number + 1, at=at - timedelta(hours=1))
    age = player.age_on(timezone.localdate(at))
    sheet = child_sheet(chance, age) if age is not None else grown_sheet(chance, age=_age(planned.who))
    begun = at - timedelta(minutes=35)
    fitting = begun_fitting(player, sheet, at=begun, imperial=chance.random() < 0.4)
    with dated(at):
        commission = open_commission(fitting=fitting, by=player.holder, at=at)
    return planned, Story(commission, staff, chance, first.days, evening)


def _age(who: Who) -> int | None:
    """Return the age of a grown player who comes more than once, so that it stays the same."""
    return 34 if who == "the_player" else None


def _begin_drafts(people: dict[Who, Player], staff: Staff, evening: datetime) -> None:
    """Begin five fittings that are not sent: two of accounts, one at the counter, two of browsers."""
    chance = _chance(2)
    hours = [evening - timedelta(hours=hours) for hours in (3, 26, 50, 75, 100)]
    wren = people["wren"]
    age = wren.age_on(evening.date()) or 0
    begun_fitting(people["the_player"], grown_sheet(chance, age=_age("the_player")), at=hours[0], upto=5)
    begun_fitting(wren, child_sheet(chance, age), at=hours[1], upto=2)
    begun_fitting(None, grown_sheet(chance), at=hours[2], by=staff.maker, imperial=True)
    begun_fitting(None, grown_sheet(chance), at=hours[3], upto=4, waiting_for="somebody@willow-lane.example")
    begun_fitting(None, grown_sheet(chance), at=hours[4], upto=3)
