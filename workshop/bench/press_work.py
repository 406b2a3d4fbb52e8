"""One bat's wood in the press: its passes kept one by one, its depths, its rest."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Any

from django.db import transaction
from django.utils import timezone

from orders.commissions.bench_entries import keep_still
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.models import User
from workshop.bench.asks import BatOnPaper, places_of
from workshop.bench.models import PressPass
from workshop.bench.press_alarms import Alarm, Pressed, alarms_of
from workshop.bench.press_depths import (
    AFTER,
    BEFORE,
    Depths,
    depths_after_pass,
    depths_read,
    passes_of,
    rest_ends,
)
from workshop.bench.press_form import Before
from workshop.bench.rows import keep_row, take_back_row
from workshop.bench.work import Work

# A bow above this is pressed into the blade where the shop works that way; below it the wood rests so.
RESTING_BOW_MM = 6.0


class PassMeanwhile(Refused):
    """Somebody else kept a pass since the form was shown."""

    def __init__(self) -> None:
        super().__init__("pass_meanwhile")


@dataclass(frozen=True)
class InPress:
    """One bat's wood in the press."""

    work: Work

    @cached_property
    def passes(self) -> list[PressPass]:
        """The passes that stand."""
        return passes_of(self.work.bat)

    @cached_property
    def places(self) -> tuple[int, ...]:
        """The places of the press grid, 0.1 mm from the toe."""
        paper: BatOnPaper = self.work.paper
        return tuple(round(place * 10) for place in places_of(paper, "grid") if place is not None)

    @cached_property
    def before(self) -> Depths:
        """Depths before the press."""
        return depths_read(self.work.bat, BEFORE, round_number=self.work.bat.round)

    @cached_property
    def after(self) -> Depths:
        """Depths that were read after the last pass, as the next day's."""
        last = self.passes[-1].at if self.passes else None
        return depths_read(self.work.bat, AFTER, from_moment=last, round_number=self.work.bat.round)

    @cached_property
    def straight_after(self) -> Depths:
        """Depths as the last passes left them; a line that was not read again stands as it was read last."""
        found: Depths = {}
        for one in self.passes:
            found.update(depths_after_pass(one, self.places))
        return found

    @property
    def rest_hours(self) -> float:
        """The rest that the book wants after the last pass."""
        return self.work.book.bench.work(Stage.PRESSING).wait_hours

    @property
    def rest_ends(self) -> datetime | None:
        """When the rest is over; None before the first pass."""
        return rest_ends(self.passes, self.rest_hours)

    def is_resting(self, now: datetime) -> bool:
        """Whether the rest after the last pass is not over yet."""
        return self.rest_ends is not None and now < self.rest_ends

    def rested(self) -> Depths:
        """Depths that were read when the rest was over."""
        return depths_read(self.work.bat, AFTER, from_moment=self.rest_ends, round_number=self.work.bat.round)

    def alarms(self) -> list[Alarm]:
        """What is wrong with the wood as it was read last."""
        now = self.after or self.straight_after or {}
        keys = {key: line for line, key in AFTER.items()}
        least = {
            (keys[ask.key], ask.place): ask.aim.low
            for ask in self.work.asks
            if ask.key in keys and ask.place is not None and ask.aim and ask.aim.low is not None
        }
        pressed = Pressed(self.before, now, rested=bool(self.after), least=least)
        return alarms_of(pressed, self.work.book.bench)

    def form_before(self) -> Before:
        """What the next pass is read against."""
        return Before(
            number=next_number(self.passes),
            bowed=self.work.build.blade.bow_mm > RESTING_BOW_MM,
            places=self.places,
            depths={**self.before, **self.straight_after},
            width_mm=self.work.build.blade.width_mm,
            drop=last_drop(),
        )


def next_number(passes: Iterable[PressPass]) -> int:
    """Return the number of the pass to come."""
    return max((one.number for one in passes), default=0) + 1


def last_drop() -> Mapping[str, Any]:
    """Return how the ball fell the last time anywhere at this bench; nothing where it never did."""
    row = PressPass.objects.standing().exclude(drop={}).order_by("pk").last()
    return row.drop if row else {}


@transaction.atomic
def keep_pass(
    work: Work, *, number: int, values: Mapping[str, Any], by: User, at: datetime | None = None
) -> PressPass:
    """Keep one pass of the press.

    Args:
        work: a bat in pressing.
        number: which pass it was when its form was shown.
        values: ``tool``, ``gauge``, ``width``, ``depths``, ``rebounds``, ``drop``, ``words`` of the row.
        by: who pressed.
        at: when; now if absent.

    Raises:
        Refused: ``wrong_stage``; PassMeanwhile when somebody else kept a pass since.
    """
    _in_press(work)
    keep_still(work.bat, by, at=at or timezone.now())
    if number != next_number(passes_of(work.bat)):
        raise PassMeanwhile
    return keep_row(PressPass, work.bat, by=by, at=at, number=number, **values)


def take_back_pass(work: Work, one: PressPass, *, by: User, at: datetime | None = None) -> None:
    """Take a pass back; it stays in the history with who took it back."""
    _in_press(work)
    one.bat = work.bat
    take_back_row(one, by=by, at=at)


def _in_press(work: Work) -> None:
    if work.bat.stage != Stage.PRESSING:
        raise Refused("wrong_stage", what=("press", work.bat.stage))
