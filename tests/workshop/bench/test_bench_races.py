"""Two people at one bat at the same moment: a pass is kept once, and the cleft lies in one way."""

import pytest

from orders.commissions.models import Bat
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import a_bat_in
from tests.orders.commissions.test_races import at_once
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.lies import LIES
from workshop.bench.models import Orientation, PressPass
from workshop.bench.press_work import keep_pass
from workshop.bench.selection import orient
from workshop.bench.work import work_on
from workshop.rack.clefts import reserve

pytestmark = pytest.mark.django_db(transaction=True)


def test_same_pass_kept_by_four_at_once_is_kept_once(player: Player, maker: User):
    bat = a_bat_in(Stage.PRESSING, player, maker)
    copies = [Bat.objects.select_related("commission", "agreed").get(pk=bat.pk) for _ in range(4)]
    works = [work_on(copy) for copy in copies]

    results = at_once(
        *(
            lambda work=work: keep_pass(work, number=1, values={"tool": "platen"}, by=maker).number
            for work in works
        )
    )

    assert results.count(1) == 1
    assert results.count("pass_meanwhile") == 3
    assert PressPass.objects.count() == 1


def test_cleft_laid_four_ways_at_once_lies_in_one(player: Player, maker: User):
    bat = a_bat_in(Stage.CLEFT_SELECTION, player, maker)
    reserve(a_cleft(7, maker), bat, by=maker)
    works = [work_on(Bat.objects.select_related("commission", "agreed").get(pk=bat.pk)) for _ in LIES]

    results = at_once(
        *(
            lambda work=work, lie=lie: orient(work, lie, outside_edge=1, by=maker, seen=0).outside_edge
            for work, lie in zip(works, LIES, strict=True)
        )
    )

    assert results.count(1) == 1
    assert results.count("lie_meanwhile") == 3
    assert Orientation.objects.count() == 1
