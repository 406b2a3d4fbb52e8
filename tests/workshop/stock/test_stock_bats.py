"""Bats without an owner: how they come onto the shelf and leave it."""

from itertools import product

import pytest
from django.db import IntegrityError, transaction

from orders.commissions import lifecycle
from tests.builds import a_build
from tests.factories import a_commission, an_agreed_bat
from tests.workshop.willow_on_rack import a_cleft
from workshop.stock import stock_bats
from workshop.stock.models import StockBat, StockBatState
from workshop.stock.refused import StockRefused
from workshop.stock.stock_bats import TRANSITIONS, lay_by


def refused(verb, *args, **kwargs):
    with pytest.raises(StockRefused) as found:
        verb(*args, **kwargs)
    return found.value.key


def a_stock_bat(maker, **changes):
    values = {
        "kind": "finished",
        "length_code": "short_handle",
        "cleft": None,
        "bat": None,
        "words": "Nobody took it.",
        "cost": 9000,
    }
    return lay_by(**{**values, **changes}, by=maker)


def test_lay_by_keeps_where_it_came_from(player, maker):
    cleft, bat = a_cleft(41, maker, grade=2), an_agreed_bat(player, maker)

    made = a_stock_bat(maker, cleft=cleft, bat=bat, build=a_build(), mass=11500, kind="part_made")

    stored = StockBat.objects.get()
    assert (stored.number, stored.cleft, stored.bat, stored.grade) == (1, cleft, bat, 2)
    assert (stored.mass_g, stored.cost, stored.state) == (1150, 9000, StockBatState.ON_SHELF)
    assert stored.build == a_build().model_dump(mode="json")
    assert made.entries.get().data == {"words": "Nobody took it.", "bat": bat.code}


def test_lay_by_gives_the_next_number(maker):
    assert [a_stock_bat(maker).label for _ in range(3)] == ["S001", "S002", "S003"]


@pytest.mark.parametrize(
    ("changes", "why"), [({"length_code": "size_9"}, "unknown_length"), ({"words": " "}, "needs_words")]
)
def test_lay_by_of_what_cannot_be_is_refused(changes, why, maker):
    assert refused(a_stock_bat, maker, **changes) == why
    assert not StockBat.objects.exists()


def test_lay_by_of_an_unknown_kind_is_refused_by_the_database(maker):
    with pytest.raises(IntegrityError), transaction.atomic():
        a_stock_bat(maker, kind="toothpick")


def test_kept_for_one_commission_it_is_not_kept_for_another(player, maker):
    made = a_stock_bat(maker)
    stale = StockBat.objects.get()
    first, second = a_commission(player), a_commission(player)
    stock_bats.keep_for(made, first, by=maker)

    assert refused(stock_bats.keep_for, stale, second, by=maker) == "meanwhile"
    assert refused(stock_bats.keep_for, made, second, by=maker) == "not_now"
    assert StockBat.objects.get().commission == first


def test_let_go_puts_it_on_the_shelf_again(player, maker):
    made = a_stock_bat(maker)
    stock_bats.keep_for(made, a_commission(player), by=maker)

    stock_bats.let_go(made, by=maker)

    stored = StockBat.objects.get()
    assert (stored.state, stored.commission) == (StockBatState.ON_SHELF, None)


def test_kept_for_a_cancelled_commission_it_is_on_the_shelf_again(player, maker):
    made, commission, other = a_stock_bat(maker), a_commission(player), a_commission(player)
    stock_bats.keep_for(made, commission, by=maker)
    stock_bats.keep_for(a_stock_bat(maker), other, by=maker)
    lifecycle.cancel(commission, by=maker, why="moves away")

    assert stock_bats.let_go_due() == 1
    assert stock_bats.let_go_due() == 0

    assert [one.state for one in StockBat.objects.all()] == [StockBatState.ON_SHELF, StockBatState.KEPT]
    assert made.entries.get(verb="let_go").by is None


def test_sold_to_the_commission_it_was_kept_for(player, maker):
    made, commission = a_stock_bat(maker, price=20000), a_commission(player)
    stock_bats.keep_for(made, commission, by=maker)

    stock_bats.sell(made, price=None, by=maker)

    stored = StockBat.objects.get()
    assert (stored.state, stored.commission, stored.price) == (StockBatState.SOLD, commission, 20000)


def test_sold_for_what_was_paid(maker):
    made = a_stock_bat(maker, price=20000)

    stock_bats.sell(made, price=18000, by=maker, words="a club")

    assert StockBat.objects.get().price == 18000
    assert made.entries.get(verb="sell").data["words"] == "a club"


def test_cut_up_without_words_is_refused(maker):
    assert refused(stock_bats.cut_up, a_stock_bat(maker), by=maker, words="") == "needs_words"


UNDECLARED = [
    (state, verb) for state, verb in product(StockBatState, TRANSITIONS) if state not in TRANSITIONS[verb][0]
]


@pytest.mark.parametrize(("state", "verb"), UNDECLARED)
def test_every_undeclared_pair_of_state_and_verb_changes_nothing(state, verb, player, maker):
    made, commission = a_stock_bat(maker), a_commission(player)
    StockBat.objects.update(state=state, commission=commission if state == StockBatState.KEPT else None)
    made.refresh_from_db()
    calls = {
        "keep": lambda: stock_bats.keep_for(made, commission, by=maker),
        "let_go": lambda: stock_bats.let_go(made, by=maker),
        "sell": lambda: stock_bats.sell(made, price=1, by=maker),
        "cut_up": lambda: stock_bats.cut_up(made, by=maker, words="a test blank"),
    }

    assert refused(calls[verb]) == "not_now"
    assert StockBat.objects.get().state == state
    assert made.entries.count() == 1
