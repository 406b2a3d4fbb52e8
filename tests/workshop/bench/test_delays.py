"""How long it takes to come as far again: the workshop's own bats, or the book."""

from datetime import timedelta

import pytest

from fitting.sheets.default_book import DEFAULT_BOOK
from orders.commissions import stages
from orders.commissions.bench_entries import Required
from orders.commissions.states import BENCH_STAGES, Stage
from orders.people.models import Player, User
from tests.factories import MOMENT, an_agreed_bat
from workshop.bench.delays import days_again, stages_again, usual_days

pytestmark = pytest.mark.django_db


def a_bat_that_took(days: float, player: Player, maker: User) -> None:
    """A bat that was so long in each stage."""
    bat = an_agreed_bat(player, maker)
    at = MOMENT
    stages.begin(bat, by=maker, at=at)
    while bat.stage != Stage.INSPECTION:
        at += timedelta(days=days)
        stages.pass_on(bat, by=maker, required=Required(), at=at)


def test_stages_again_are_all_up_to_where_it_failed():
    assert stages_again(Stage.PRESSING) == [Stage.CLEFT_SELECTION, Stage.PRESSING]
    assert stages_again(Stage.INSPECTION) == list(BENCH_STAGES)


def test_without_bats_of_its_own_the_book_and_a_day_of_work_are_taken():
    """Cleft selection rests not at all, pressing by the book's hours."""
    rest = DEFAULT_BOOK.bench.work("pressing").wait_hours / 24

    assert usual_days() == {}
    found = days_again(Stage.PRESSING, DEFAULT_BOOK)
    assert 2 + rest <= found < 3 + rest


def test_with_bats_of_its_own_their_median_is_taken(player: Player, maker: User):
    for days in (2, 3, 10):
        a_bat_that_took(days, player, maker)

    assert usual_days() == {str(stage): 3.0 for stage in BENCH_STAGES}
    assert days_again(Stage.SHAPING, DEFAULT_BOOK) == 9
