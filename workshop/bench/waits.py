"""How long a bat must lie before it may pass on: glue, oil, the rest after a stage's work."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils import timezone

from fitting.sheets.book_bench import BenchBook, StageWork
from orders.commissions.states import Stage
from workshop.bench.models import Coat
from workshop.bench.press_depths import passes_of, rest_ends
from workshop.bench.work import Work

# The wait that is no step's: the stage's own rest.
REST = "rest"
# A coat of anything dries as long as the step of its name says.
OIL = "oil"


@dataclass(frozen=True)
class Wait:
    """What the bat waits for: the step (``rest`` for the stage's own), since when, until when."""

    key: str
    since: datetime
    until: datetime

    @property
    def word(self) -> str:
        """The wait as one word of what is missing: ``wait:glue_and_clamp@2026-05-04T10:14:00+00:00``."""
        return f"wait:{self.key}@{self.until.isoformat()}"


def waits_of(work: Work, *, now: datetime | None = None) -> list[Wait]:
    """Return what the bat still waits for in its stage, the longest last."""
    if work.stage_work is None:
        return []
    bat = work.bat
    rows = bat.steps.standing().filter(round=bat.round, stage=bat.stage)
    done = dict(rows.order_by("pk").values_list("step", "at"))
    found = [*_of_steps(work.stage_work, done), *_of_press(work), *_of_coats(work, work.book.bench)]
    moment = now or timezone.now()
    return sorted((wait for wait in found if wait.until > moment), key=lambda wait: wait.until)


def _of_steps(stage_work: StageWork, done: dict[str, datetime]) -> Iterable[Wait]:
    for step in stage_work.steps:
        if step.key in done and step.wait_hours:
            since = done[step.key]
            yield Wait(step.key, since, since + timedelta(hours=step.wait_hours))
    worked = [done[step.key] for step in stage_work.steps if step.key in done and not step.at_rest]
    # Pressed wood rests from its last pass, which is no step.
    if worked and stage_work.wait_hours and stage_work.stage != "pressing":
        yield Wait(REST, max(worked), max(worked) + timedelta(hours=stage_work.wait_hours))


def _of_press(work: Work) -> Iterable[Wait]:
    if work.stage_work is None or work.bat.stage != Stage.PRESSING:
        return
    passes = passes_of(work.bat)
    until = rest_ends(passes, work.stage_work.wait_hours)
    if until is not None:
        yield Wait(REST, passes[-1].at, until)


def _of_coats(work: Work, bench: BenchBook) -> Iterable[Wait]:
    last = last_coat(work)
    if last is not None:
        yield Wait(OIL, last.at, dry_at(last, bench))


def last_coat(work: Work) -> Coat | None:
    """Return the last coat that was laid on in this round and stands."""
    bat = work.bat
    return Coat.objects.standing().filter(bat=bat, round=bat.round, kind=OIL).order_by("-at", "-pk").first()


def dry_at(coat: Coat, bench: BenchBook) -> datetime:
    """Return when the next coat may follow, by the hours that the book gives to the step of its name."""
    step = bench.step(coat.kind)
    return coat.at + timedelta(hours=step.wait_hours if step else 0)
