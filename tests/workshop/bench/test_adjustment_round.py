"""A finished bat over the bench again: due is only what can be read on it and the inspection looks at."""

from django.test import Client
from django.urls import reverse

from orders.care import returns
from orders.commissions import stages
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.finished import a_return
from workshop.bench.work import READ_AGAIN, work_on


def test_adjusted_bat_owes_no_step_of_its_making_and_no_weight_of_its_parts(
    player: Player, maker: User, bench_client: Client
):
    found = a_return(player, maker)
    needed = [Stage.HANDLE_FITTING, Stage.FINISHING]
    returns.adjust(found, by=maker, stages_needed=needed, words="Thinner.", to_do="")
    bat = found.bat
    stages.begin(bat, by=maker)

    required = work_on(bat).required

    assert required.steps == frozenset()
    assert {key for key, _place in required.readings} == {
        key for key in READ_AGAIN if key.startswith(("spine", "edge", "girth"))
    }
    page = bench_client.get(reverse("bench:bat", args=[bat.code])).content.decode()
    assert page.count("needed before it passes on") == 0
