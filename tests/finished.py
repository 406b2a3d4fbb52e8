"""Finished bats for tests, every reading taken; and forms as a browser sends them."""

import re
from datetime import datetime
from typing import Any

from django.test import Client

from orders.care import delivery, returns
from orders.care.models import Return
from orders.commissions import stages
from orders.commissions.bench_entries import Required
from orders.commissions.models import Bat
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import MOMENT, an_agreed_bat
from tests.workshop.bench.at_bench import on_the_numbers
from workshop.bench.inspection import pass_bat
from workshop.bench.work import keep_entries, read_entries, work_on

ONCE = re.compile(r'name="once" value="([0-9a-z]{26})"')
WORDS = "Too heavy at the toe."


def through_the_stages(bat: Bat, maker: User, *, at: datetime = MOMENT, **changes: float) -> None:
    """Read everything on its number, but for what is given, and pass the bat on to its inspection."""
    stages.begin(bat, by=maker, at=at)
    while bat.stage != Stage.INSPECTION:
        work = work_on(bat)
        keep_entries(work, read_entries(work, on_the_numbers(bat, **changes)), by=maker, at=at)
        stages.pass_on(bat, by=maker, required=Required(readings=work.required.readings), at=at)


def a_ready_bat(
    player: Player, maker: User, *, at: datetime = MOMENT, reason: str = "", **changes: float
) -> Bat:
    """A bat that has passed its inspection and waits to be delivered."""
    bat = an_agreed_bat(player, maker, at=at)
    through_the_stages(bat, maker, at=at, **changes)
    pass_bat(work_on(bat), by=maker, reason=reason, at=at)
    return bat


def a_bat_with_its_player(player: Player, maker: User, **changes: Any) -> Bat:
    """A bat that was made, inspected and delivered."""
    bat = a_ready_bat(player, maker, **changes)
    delivery.deliver(bat.commission, by=maker, how=delivery.How.SENT, at=MOMENT)
    return bat


def a_return(player: Player, maker: User, **answers: Any) -> Return:
    """A bat that came back and is not decided on."""
    bat = a_bat_with_its_player(player, maker)
    return returns.send_back(bat.commission, by=player.holder, words=WORDS, answers=answers, at=MOMENT)


def post(client: Client, address: str, **fields: Any) -> Any:
    """Open the page of a form and send it, with its own one-time key."""
    found = ONCE.search(client.get(address).content.decode())
    assert found is not None
    return client.post(address, {"once": found[1], **fields})
