"""Passing a bat on: the one door from a stage to the next."""

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from orders.commissions import stages
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.models import User
from workshop.bench.handle import glue_in
from workshop.bench.spells import end_spells
from workshop.bench.stage_parts import missing_of
from workshop.bench.targets import solve_for_willow
from workshop.bench.waits import waits_of
from workshop.bench.work import Work, still_missing
from workshop.rack import clefts


def still_asked(work: Work, *, now: datetime | None = None) -> tuple[str, ...]:
    """Return as words of what is missing all that holds the bat in its stage: work undone, and waits."""
    if work.stage_work is None:
        return ()
    moment = now or timezone.now()
    waits = (wait.word for wait in waits_of(work, now=moment))
    return (*still_missing(work).words(), *missing_of(work, moment), *waits)


@transaction.atomic
def pass_on(work: Work, *, by: User, at: datetime | None = None) -> Stage:
    """Send the bat on; leaving cleft selection commits the wood to it.

    What the press took of the wood is known when the bat leaves it: the targets are solved with that.

    Raises:
        Refused: ``not_done``, naming everything that the stage still asks for and waits for.
    """
    now = at or timezone.now()
    bat, leaving = work.bat, work.bat.stage
    asked = still_asked(work, now=now) if stages.may("pass_on", bat, by) else ()
    if asked:
        raise Refused("not_done", what=asked)
    glue_in(work, by=by, at=now)
    to = stages.pass_on(bat, by=by, required=work.required, at=now)
    end_spells(bat, at=now)
    if leaving == Stage.CLEFT_SELECTION:
        cleft = clefts.cleft_of_round(bat)
        if cleft is not None and clefts.can("cut", cleft):
            clefts.cut(cleft, by=by, at=now)
    if leaving in (Stage.CLEFT_SELECTION, Stage.PRESSING):
        solve_for_willow(work, by=by, at=now)
    return to


@transaction.atomic
def go_back(work: Work, *, to: Stage, by: User, reason: str, at: datetime | None = None) -> None:
    """Send the bat back to an earlier stage of its round, with the reason; nobody has it in hand then."""
    stages.go_back(work.bat, to=to, by=by, reason=reason, at=at)
    end_spells(work.bat, at=at)
