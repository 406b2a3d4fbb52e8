"""A bat brought along the bench for tests, by the forms that stand on its pages."""

import re
from datetime import timedelta
from typing import Any

from django.db.models import F, Model, QuerySet
from django.test import Client
from django.urls import reverse

from orders.commissions.models import Bat, JournalEntry, Reading, StepDone
from orders.commissions.states import Stage
from orders.people.models import User
from workshop.bench.lies import Lie
from workshop.bench.models import Coat, Orientation, PressPass
from workshop.bench.page import plain
from workshop.bench.press_work import keep_pass
from workshop.bench.selection import orient
from workshop.bench.work import seen_mark, work_on
from workshop.rack.clefts import cleft_of_round
from workshop.rack.models import CleftEntry

ONCE = re.compile(rb'name="once" value="([0-9a-z]{26})"')


def sent(client: Client, bat: Bat, address: str, **fields: Any) -> Any:
    """Send one form of a bat's pages as the browser would, with a fresh key and the mark of what was seen."""
    bat.refresh_from_db()
    page = client.get(reverse("rack:take-in"))
    found = ONCE.search(page.content)
    assert found is not None
    form = {"once": found[1].decode(), "seen": seen_mark(bat), **fields}
    answer = client.post(reverse(f"bench:{address}", args=[bat.code]), form)
    bat.refresh_from_db()
    return answer


def on_the_numbers(bat: Bat, **changes: float) -> dict[str, Any]:
    """Return every reading of the bat's stage, each on its number, but for those that are given."""
    typed = {}
    for ask in work_on(bat).asks:
        value = changes.get(ask.name.replace("-", "_"), changes.get(ask.key))
        if value is None:
            aim = ask.aim
            middle = (ask.allowed.least + ask.allowed.most) / 2
            if aim is not None and aim.target is not None:
                value = aim.target
            elif aim is not None and aim.low is not None:
                value = aim.low
            elif aim is not None and aim.high is not None:
                value = max(ask.allowed.least, aim.high)
            else:
                value = float(round(middle))
        typed[ask.name] = plain(value)
    return typed


def days_go_by(bat: Bat, days: float = 3) -> None:
    """Let some days go by: what happened to a bat was so much earlier, and glue, oil, wood have rested."""
    kinds: list[type[Model]] = [JournalEntry, StepDone, Reading, PressPass, Coat, Orientation]
    rows = [QuerySet(kind).filter(bat=bat) for kind in kinds]
    rows.append(QuerySet(CleftEntry).filter(cleft__bat=bat))
    for found in rows:
        found.update(at=F("at") - timedelta(days=days))


def press_once(bat: Bat, by: User) -> None:
    """Take the bat's wood through the press once."""
    values = {"tool": "flat_roller", "gauge": 900, "rebounds": [], "depths": {}, "words": ""}
    keep_pass(work_on(bat), number=1, values=values, by=by)


def do_the_stage(client: Client, bat: Bat, **changes: float) -> None:
    """Tick every needed step of the stage, let its time go by and keep every reading."""
    work = work_on(bat)
    for step in sorted(work.required.steps):
        assert sent(client, bat, "step", step=step).status_code == 302
    if bat.stage == Stage.CLEFT_SELECTION and cleft_of_round(bat) is not None:
        orient(work, Lie(toe_end=1, face_side="a"), outside_edge=1, by=bat.steps.standing()[0].by)
    if bat.stage == Stage.PRESSING:
        press_once(bat, bat.steps.standing()[0].by)
    days_go_by(bat)
    answer = sent(client, bat, "reading", **on_the_numbers(bat, **changes))
    assert answer.status_code == 302, answer.content.decode()
