"""A bat brought along the bench for tests, by the forms that stand on its pages."""

import re
from typing import Any

from django.test import Client
from django.urls import reverse

from orders.commissions.models import Bat
from workshop.bench.page import plain
from workshop.bench.work import seen_mark, work_on

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


def do_the_stage(client: Client, bat: Bat, **changes: float) -> None:
    """Tick every needed step of the stage and keep every reading."""
    work = work_on(bat)
    for step in sorted(work.required.steps):
        assert sent(client, bat, "step", step=step).status_code == 302
    answer = sent(client, bat, "reading", **on_the_numbers(bat, **changes))
    assert answer.status_code == 302, answer.content.decode()
