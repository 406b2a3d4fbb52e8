"""Wood written off: what it cost, by cause and by load."""

from datetime import timedelta

import pytest

from orders.commissions.states import Stage
from tests.factories import MOMENT, a_bat_in
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.models import Spell
from workshop.rack.models import Load
from workshop.stock import scrap
from workshop.stock.models import Scrap
from workshop.stock.refused import StockRefused


def written_off(maker, **changes):
    values = {
        "cause": "overcut",
        "cleft": None,
        "bat": None,
        "stage": Stage.SHAPING,
        "words": "a toe of 11 mm",
        "minutes": 30,
    }
    return scrap.write_off(**{**values, **changes}, by=maker)


def test_write_off_counts_wood_and_work(maker):
    """Half an hour at the book's 30.00."""
    row = written_off(maker, cleft=a_cleft(41, maker, price=6200))

    assert (row.wood_cost, row.work_cost) == (6200, 1500)


def test_write_off_takes_the_price_of_the_load_where_the_cleft_has_none(maker):
    load = Load.objects.create(name="winter", price_a_piece=4100)

    assert written_off(maker, cleft=a_cleft(41, maker, load=load)).wood_cost == 4100


def test_wood_without_a_price_has_no_cost_rather_than_none_at_all(maker):
    assert written_off(maker, cleft=a_cleft(41, maker)).wood_cost is None


def test_write_off_without_words_is_refused(maker):
    with pytest.raises(StockRefused) as refused:
        written_off(maker, words=" ")

    assert refused.value.key == "needs_words"
    assert not Scrap.objects.exists()


def test_minutes_are_the_spells_since_the_bat_was_last_written_off(player, maker):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    def spell(begins, minutes):
        began = MOMENT + timedelta(minutes=begins)
        ended = None if minutes is None else began + timedelta(minutes=minutes)
        Spell.objects.create(bat=bat, round=1, stage=Stage.SHAPING, by=maker, began_at=began, ended_at=ended)

    spell(0, 40)
    spell(60, 20)
    first = written_off(maker, bat=bat, minutes=None, at=MOMENT + timedelta(minutes=90))
    spell(100, None)
    second = written_off(maker, bat=bat, minutes=None, at=MOMENT + timedelta(minutes=115))

    assert (first.minutes, second.minutes) == (60, 15)


def test_sums_by_cause_and_by_load(maker):
    winter = Load.objects.create(name="winter", price_a_piece=4000)
    written_off(maker, cleft=a_cleft(41, maker, load=winter), cause="split_in_press")
    written_off(maker, cleft=a_cleft(42, maker, load=winter))
    written_off(maker, cleft=a_cleft(43, maker), minutes=10)
    rows = list(Scrap.objects.select_related("cleft__load"))

    causes = [(one.words, one.pieces, one.minutes, one.cost) for one in scrap.by_cause(rows)]
    loads = [(one.words, one.pieces, one.cost) for one in scrap.by_load(rows, unnamed="no load")]

    assert causes == [("split in the press", 1, 30, 5500), ("overcut", 2, 40, 6000)]
    assert loads == [("winter", 2, 11000), ("no load", 1, 500)]
    assert scrap.sum_of("together", rows).without_price == 1
