"""What moves the count of a supply: it is the sum of its movements and never below nothing."""

from datetime import UTC, date, datetime

import pytest
from django.db import IntegrityError, transaction
from django.db.models import Sum
from hypothesis import given
from hypothesis import strategies as some
from hypothesis.extra.django import TestCase

from orders.people.models import Role, User
from tests.factories import an_agreed_bat
from tests.workshop.stock.shelves import glue, grips
from workshop.stock import supplies
from workshop.stock.models import Movement, Supply
from workshop.stock.refused import StockRefused

NIGHT = datetime(2027, 3, 1, 23, 30, tzinfo=UTC)


def refused(verb, *args, **kwargs):
    with pytest.raises(StockRefused) as found:
        verb(*args, **kwargs)
    return found.value.key


def total(supply):
    return Movement.objects.filter(supply=supply).aggregate(sum=Sum("amount"))["sum"] or 0


def test_enter_takes_in_what_came(maker):
    supply = grips(maker, came=10)

    movement = supply.movements.get()
    assert (movement.verb, movement.amount, movement.by) == ("take_in", 100, maker)
    assert Supply.objects.get().in_unit == 10


def test_enter_with_nothing_of_it_has_no_movement(maker):
    assert not grips(maker, came=0).movements.exists()


def test_use_takes_away_and_names_the_bat(player, maker):
    bat, supply = an_agreed_bat(player, maker), grips(maker)

    supplies.use(supply, 2, bat=bat, by=maker)

    assert Supply.objects.get().in_unit == 8
    (used,) = supplies.used_for(bat)
    assert (used.supply, used.in_unit, used.round) == (supply, -2, 1)


@pytest.mark.parametrize(
    ("amount", "why"), [(11, "not_enough"), (0, "nothing"), (-1, "nothing"), (1.5, "not_whole")]
)
def test_use_of_what_cannot_be_changes_nothing(amount, why, maker):
    supply = grips(maker)

    assert refused(supplies.use, supply, amount, bat=None, by=maker) == why
    assert (Supply.objects.get().in_unit, supply.movements.count()) == (10, 1)


def test_grams_are_counted_to_a_tenth(maker):
    supply = glue(maker)

    supplies.use(supply, 12.5, bat=None, by=maker)

    assert Supply.objects.get().in_unit == 487.5
    assert refused(supplies.use, supply, 0.25, bat=None, by=maker) == "not_whole"


def test_not_a_number_is_refused(maker):
    assert refused(supplies.use, glue(maker), float("nan"), bat=None, by=maker) == "nothing"
    assert refused(supplies.take_in, grips(maker), float("inf"), by=maker) == "too_much"


def test_glue_past_its_day_is_refused_and_may_be_thrown_out(maker):
    supply = glue(maker, use_by=date(2020, 1, 1))

    assert refused(supplies.use, supply, 5, bat=None, by=maker) == "past"
    supplies.throw_out(supply, 500, by=maker, words="past its day")

    assert Supply.objects.get().left == 0


def test_glue_holds_through_its_last_day_in_the_workshop(maker):
    """23:30 at Greenwich is that day still, as the workshop's zone has it in winter."""
    supply = glue(maker, use_by=date(2027, 3, 1))

    supplies.use(supply, 5, bat=None, by=maker, at=NIGHT)

    assert Supply.objects.get().in_unit == 495


def test_throw_out_without_words_is_refused(maker):
    assert refused(supplies.throw_out, grips(maker), 1, by=maker, words=" ") == "needs_words"


def test_count_anew_writes_the_difference(maker):
    supply = grips(maker, came=10)

    movement = supplies.count_anew(supply, 7, by=maker)

    assert (movement.amount, Supply.objects.get().in_unit) == (-30, 7)


def test_count_of_nothing_left_is_a_count(maker):
    supply = grips(maker, came=10)

    supplies.count_anew(supply, 0, by=maker)

    assert Supply.objects.get().left == 0


def test_count_against_a_page_that_is_stale_is_refused(maker):
    supply = grips(maker, came=10)
    stale = Supply.objects.get()
    supplies.use(supply, 1, bat=None, by=maker)

    assert refused(supplies.count_anew, stale, 10, by=maker) == "meanwhile"
    assert Supply.objects.get().in_unit == 9


def test_take_back_is_a_movement_the_other_way(player, maker):
    bat, supply = an_agreed_bat(player, maker), grips(maker)
    wrong = supplies.use(supply, 3, bat=bat, by=maker)

    back = supplies.take_back(wrong, by=maker)

    assert (back.verb, back.amount, back.takes_back) == ("take_back", 30, wrong)
    assert Supply.objects.get().in_unit == 10
    assert supplies.used_for(bat) == []


def test_take_back_twice_or_of_a_taking_back_is_refused(maker):
    supply = grips(maker)
    back = supplies.take_back(wrong := supplies.use(supply, 3, bat=None, by=maker), by=maker)

    assert refused(supplies.take_back, wrong, by=maker) == "taken_back"
    assert refused(supplies.take_back, back, by=maker) == "taken_back"


def test_take_back_of_what_has_been_used_meanwhile_is_refused(maker):
    supply = grips(maker, came=10)
    supplies.use(supply, 4, bat=None, by=maker)

    assert refused(supplies.take_back, supply.movements.get(verb="take_in"), by=maker) == "not_enough"
    assert Supply.objects.get().in_unit == 6


def test_change_of_what_another_changed_is_refused(maker):
    supply = grips(maker)
    stale = Supply.objects.get()
    supplies.change(supply, minimum=50)

    assert refused(supplies.change, stale, minimum=90) == "meanwhile"
    assert Supply.objects.get().minimum == 50


def test_in_stock_is_of_its_kind_and_there_what_is_past_last(maker):
    past = glue(maker, use_by=date(2020, 1, 1))
    later, sooner = glue(maker, use_by=date(2098, 1, 1)), glue(maker, use_by=date(2097, 1, 1))
    glue(maker, came=0)
    grips(maker)

    assert supplies.in_stock("glue") == [sooner, later, past]


def test_database_itself_refuses_less_than_nothing(maker):
    grips(maker, came=1)

    with pytest.raises(IntegrityError), transaction.atomic():
        Supply.objects.update(left=-1)


STEPS = some.lists(
    some.tuples(
        some.sampled_from(("take_in", "use", "throw_out", "count", "take_back")),
        some.integers(min_value=-5, max_value=60),
    ),
    max_size=12,
)


class AnyCourse(TestCase):
    @given(came=some.integers(min_value=0, max_value=30), steps=STEPS)
    def test_no_course_of_movements_makes_a_count_negative_or_other_than_their_sum(self, came, steps):
        by = User.objects.create(email="m@workshop.example", name="M", role=Role.MAKER)
        supply = grips(by, came=came)
        for verb, amount in steps:
            try:
                with transaction.atomic():
                    self.carry_out(supply, verb, amount, by)
            except StockRefused:
                pass
            supply.refresh_from_db()
            assert supply.left >= 0
            assert supply.left == total(supply)

    def carry_out(self, supply, verb, amount, by):
        if verb == "take_back":
            rows = list(supply.movements.all())
            if rows:
                supplies.take_back(rows[amount % len(rows)], by=by)
        elif verb == "use":
            supplies.use(supply, amount, bat=None, by=by)
        elif verb == "count":
            supplies.count_anew(supply, abs(amount), by=by)
        else:
            getattr(supplies, verb)(supply, amount, by=by, words="so")
