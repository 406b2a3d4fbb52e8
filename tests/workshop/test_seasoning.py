"""The course of a cleft to rest: found again from weighings, and honest about what they do not tell."""

from math import exp

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitting.sheets.book_room import DEFAULT_ROOM
from workshop.seasoning import (
    FARTHEST_DAYS,
    Drying,
    OnScales,
    Wanted,
    equilibrium_moisture,
    fit_drying,
    ready_day,
    whole_days,
)

WANTED = Wanted(8, 13, 0.3)
METER = 1.0
REST = equilibrium_moisture(DEFAULT_ROOM.room_temperature_c, DEFAULT_ROOM.room_humidity_percent)


def course(
    count: int,
    *,
    dry: float = 2150,
    rest: float = REST,
    over: float = 150,
    days: float = 18,
    every: float = 7,
) -> list[OnScales]:
    """Weighings without any error of a cleft that follows the law exactly."""
    found = []
    for at in range(count):
        mass = dry * (1 + rest / 100) + over * exp(-every * at / days)
        found.append(OnScales(every * at, mass, (mass / dry - 1) * 100))
    return found


def test_fit_finds_a_known_course_again():
    found = fit_drying(course(8), DEFAULT_ROOM, meter_sd_percent=METER)

    assert found.days == pytest.approx(18, rel=0.03)
    assert found.rest_percent == pytest.approx(REST, abs=0.1)
    assert found.dry_g == pytest.approx(2150, rel=0.002)
    for one in course(8):
        assert found.mass_g(one.day) == pytest.approx(one.mass_g, abs=0.5)


def test_fit_one_weighing_is_the_rooms_own_course():
    found = fit_drying(course(1), DEFAULT_ROOM, meter_sd_percent=METER)

    assert found.days == pytest.approx(DEFAULT_ROOM.drying_days)
    assert found.rest_percent == pytest.approx(REST)
    assert found.mass_g(0) == pytest.approx(course(1)[0].mass_g)


def test_fit_without_any_moisture_is_refused():
    with pytest.raises(ValueError, match="moisture"):
        fit_drying([OnScales(0, 2400, None)], DEFAULT_ROOM, meter_sd_percent=METER)


def test_fit_needs_the_meter_only_once():
    first, *rest = course(6)
    bare = [first, *(OnScales(one.day, one.mass_g, None) for one in rest)]

    found = fit_drying(bare, DEFAULT_ROOM, meter_sd_percent=METER)

    assert found.days == pytest.approx(18, rel=0.03)


def test_ready_day_is_when_the_pace_has_fallen_to_the_books():
    drying = fit_drying(course(8), DEFAULT_ROOM, meter_sd_percent=METER)

    ready = ready_day(drying, WANTED)

    assert ready.day is not None
    # The pace is told of the mass at rest; the mass of that day is within a percent of it.
    assert drying.change_percent_a_week(ready.day) == pytest.approx(0.3, rel=0.02)
    assert 8 <= drying.moisture_percent(ready.day) <= 13


def test_ready_day_waits_for_the_moisture_where_that_comes_later():
    """A slow cleft changes little in a week long before it is dry enough."""
    slow = Drying(dry_g=2150, rest_percent=12, above_g=60, days=300, covariance=np.zeros((4, 4)))

    ready = ready_day(slow, WANTED)

    assert ready.day is not None
    assert slow.change_percent_a_week(0) < 0.3
    assert slow.moisture_percent(ready.day) == pytest.approx(13, abs=0.01)


@pytest.mark.parametrize(("rest", "why"), [(16.0, "too_damp"), (6.0, "too_dry")])
def test_ready_day_never_comes_in_a_room_of_other_moisture(rest, why):
    drying = Drying(2150, rest, 100, 18, np.eye(4))

    ready = ready_day(drying, WANTED)

    assert (ready.day, ready.why_never) == (None, why)


def test_ready_day_of_a_cleft_at_rest_is_past():
    drying = fit_drying(course(3, over=0.5), DEFAULT_ROOM, meter_sd_percent=METER)

    ready = ready_day(drying, WANTED)

    assert ready.day is not None
    assert ready.day < 0


def test_spread_of_the_day_falls_with_each_weighing():
    spreads = [
        ready_day(fit_drying(course(count), DEFAULT_ROOM, meter_sd_percent=METER), WANTED).sd_days
        for count in (1, 2, 3, 5, 8)
    ]

    assert spreads == sorted(spreads, reverse=True)
    assert spreads[0] > 10
    assert spreads[-1] < 2


def test_spread_of_the_day_against_a_simulated_one():
    """200 clefts drawn from what is known beforehand, weighed thrice with the errors that are told.

    A tenth of a day's worth of chance remains; the days fall within one spread about as often as a normal
    error would, 68 %, granted 12 points either way.
    """
    chance = np.random.default_rng(20261125)
    within = 0
    for _ in range(200):
        rest = chance.normal(REST, DEFAULT_ROOM.equilibrium_sd_percent)
        days = DEFAULT_ROOM.drying_days * DEFAULT_ROOM.drying_spread ** chance.normal()
        true = course(3, rest=rest, over=200, days=days)
        read = [
            OnScales(
                one.day,
                one.mass_g + chance.normal(0, DEFAULT_ROOM.mass_read_sd_g),
                (one.moisture_percent or 0) + chance.normal(0, METER),
            )
            for one in true
        ]
        known = Drying(2150, rest, 200, days, np.zeros((4, 4)))
        told = ready_day(fit_drying(read, DEFAULT_ROOM, meter_sd_percent=METER), Wanted(0, 100, 0.3))
        really = ready_day(known, Wanted(0, 100, 0.3))
        assert told.day is not None
        assert really.day is not None
        within += abs(told.day - really.day) <= told.sd_days
    assert within / 200 == pytest.approx(0.68, abs=0.12)


@given(
    dry=st.floats(900, 3500),
    over=st.floats(-200, 500),
    days=st.floats(5, 120),
    rest=st.floats(8.5, 12.5),
    count=st.integers(1, 10),
)
def test_course_and_day_are_always_numbers(dry, over, days, rest, count):
    drying = fit_drying(
        course(count, dry=dry, over=over, days=days, rest=rest), DEFAULT_ROOM, meter_sd_percent=1
    )

    ready = ready_day(drying, WANTED)

    assert np.isfinite([drying.dry_g, drying.rest_percent, drying.above_g, drying.days]).all()
    if ready.day is not None:
        assert -FARTHEST_DAYS <= ready.day <= FARTHEST_DAYS
        assert ready.sd_days >= 0


@given(temperature=st.floats(0, 40), damp=st.floats(6, 94), more=st.floats(0.1, 1))
def test_equilibrium_rises_with_damp_and_lies_between_dry_and_wet(temperature, damp, more):
    low, high = equilibrium_moisture(temperature, damp), equilibrium_moisture(temperature, damp + more)

    assert 0 < low < high < 30


def test_whole_days_rounds_up_but_not_past_a_whole_one():
    assert [whole_days(day) for day in (0, 0.01, 1.0, 6.2)] == [0, 1, 1, 7]
