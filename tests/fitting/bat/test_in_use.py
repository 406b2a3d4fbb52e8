"""The bat in use: the stored regression still holds, and every estimate tells its spread."""

from dataclasses import replace
from math import hypot, pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitting.bat.in_use import (
    BALANCE_MIDDLE,
    BALANCE_SHARES,
    FITTED_WITH_MODEL,
    HOME,
    INERTIA_SHARE,
    INERTIA_SHARE_RISE,
    INERTIA_SHARES,
    REAL_BATS_SD_SHARE,
    REGRESSION_SD_SHARE,
    STANDARD_GRAVITY_M_S2,
    Measured,
    MeasuringSpreads,
    TimedSwings,
    estimate,
    usual_about_balance_kg_m2,
)
from fitting.bat.version import MODEL_VERSION
from tests.fitting.bat.fit_in_use import fit, sample

AS_MEASURED = Measured(1100, 355, 851)
EXACTLY = MeasuringSpreads(0, 0, 0, 0, 0)


@pytest.fixture(scope="module")
def bats():
    """Other bats than those that the constants were fitted on."""
    return sample(600, seed=1934)


def known(bat, spreads=HOME):
    """The estimate of a bat that has one."""
    found = estimate(bat, spreads)
    assert found is not None
    return found


def seconds(about_balance, bat, pivot_mm, swings, amplitude=0.0):
    """Time of so many swings of a bat of this inertia."""
    mass = bat.mass_g / 1000
    arm = (bat.overall_length_mm - pivot_mm - bat.balance_from_toe_mm) / 1000
    period = 2 * pi * sqrt((about_balance + mass * arm**2) / (mass * STANDARD_GRAVITY_M_S2 * arm))
    a = amplitude * pi / 180
    return swings * period * (1 + a**2 / 16 + 11 * a**4 / 3072)


def swung(about_balance=0.052, pivot_mm=152.4, swings=30, amplitude=8.0):
    """The bat with swings timed to the last digit."""
    time = seconds(about_balance, AS_MEASURED, pivot_mm, swings, amplitude)
    return replace(AS_MEASURED, swings=TimedSwings(pivot_mm, swings, time))


def test_constants_are_those_of_the_model_in_force():
    assert FITTED_WITH_MODEL == MODEL_VERSION, "run python -m tests.fitting.bat.fit_in_use"


def test_stored_line_is_that_of_other_bats_within_three_standard_errors(bats):
    """Standard errors of a fitted line: any textbook of statistics."""
    found = fit(bats)
    scatter = REGRESSION_SD_SHARE * INERTIA_SHARE
    share = bats.balance_share
    error_of_rise = scatter / (share.std() * sqrt(len(share)))
    error_of_share = hypot(scatter / sqrt(len(share)), error_of_rise * (share.mean() - BALANCE_MIDDLE))
    assert found.coefficients[0] == pytest.approx(INERTIA_SHARE, abs=3 * error_of_share)
    assert found.coefficients[1] == pytest.approx(INERTIA_SHARE_RISE, abs=3 * error_of_rise)


def test_stored_spread_is_that_of_other_bats(bats):
    guessed = [
        usual_about_balance_kg_m2(Measured(1000 * m, 1000 * b * length, 1000 * length))
        for m, b, length in zip(bats.mass_kg, bats.balance_share, bats.overall_m, strict=True)
    ]
    off = bats.about_balance_kg_m2 / np.array(guessed) - 1
    # standard error of a standard deviation: 1 / sqrt(2 n), 2.9 %
    assert np.sqrt(np.mean(off**2)) == pytest.approx(REGRESSION_SD_SHARE, rel=0.09)
    assert abs(np.mean(off)) < 3 * REGRESSION_SD_SHARE / sqrt(len(off))


def test_square_of_the_balance_earns_no_place(bats):
    assert fit(bats, degree=2).sd_share > 0.97 * fit(bats).sd_share


def test_every_model_bat_lies_inside_the_bounds_of_a_bat(bats):
    for shares, (least, most) in (
        (bats.balance_share, BALANCE_SHARES),
        (bats.inertia_share, INERTIA_SHARES),
    ):
        assert least < shares.min()
        assert shares.max() < most


def test_home_measures_find_the_pickup_of_model_bats_within_the_spread_told(bats):
    chance = np.random.default_rng(5)
    off, told = [], []
    for mass, share, length, pickup in zip(
        bats.mass_kg, bats.balance_share, bats.overall_m, bats.pickup_kg_m2, strict=True
    ):
        read = Measured(
            1000 * mass + chance.normal(0, 5),
            1000 * share * length + chance.normal(0, 1.6),
            1000 * length + chance.normal(0, 2),
        )
        found = known(read)
        off.append((found.pickup_kg_m2 - pickup) / pickup)
        told.append(found.sd_share)
    # the floor for real handles covers what model bats and kitchen scales come to
    assert np.sqrt(np.mean(np.square(off))) < REAL_BATS_SD_SHARE
    assert min(told) > REAL_BATS_SD_SHARE - 1e-12


def test_swings_rank_before_the_regression():
    found = known(swung(0.056))
    assert (found.by, found.swings_refused) == ("swings", False)
    assert found.about_balance_kg_m2 == pytest.approx(0.056, rel=1e-9)
    arm = 0.851 - 0.1524 - 0.355
    assert found.pickup_kg_m2 == pytest.approx(0.056 + 1.1 * arm**2, rel=1e-9)


def test_spread_of_swings_is_that_of_many_readings():
    """Central differences against plain chance: 20,000 readings of the same bat."""
    chance, bat = np.random.default_rng(11), swung()
    read = [
        known(
            Measured(
                bat.mass_g + chance.normal(0, 5),
                bat.balance_from_toe_mm + chance.normal(0, 1.6),
                bat.overall_length_mm + chance.normal(0, 2),
                TimedSwings(152.4, 30, bat.swings.seconds + chance.normal(0, 0.2), 8 + chance.normal(0, 3)),
            ),
            EXACTLY,
        ).pickup_kg_m2
        for _ in range(20000)
    ]
    assert known(bat).sd_kg_m2 == pytest.approx(float(np.std(read)), rel=0.02)


def test_more_swings_leave_less_spread():
    spreads = [known(swung(swings=count)).sd_share for count in (10, 20, 30, 60)]
    assert spreads == sorted(spreads, reverse=True)
    assert spreads[-1] < spreads[0] / 2


def test_spread_grows_with_a_worse_balance_above_the_floor():
    guessed = [known(AS_MEASURED, MeasuringSpreads(balance_from_toe_mm=by)) for by in (10, 20, 30)]
    assert [one.sd_share for one in guessed] == sorted(one.sd_share for one in guessed)
    assert guessed[2].sd_kg_m2 > 2 * guessed[0].sd_kg_m2
    assert known(AS_MEASURED, EXACTLY).sd_share == pytest.approx(REAL_BATS_SD_SHARE)


@pytest.mark.parametrize(
    "swings",
    [
        TimedSwings(152.4, 30, 3.0),  # far too quick: no inertia is left about the balance
        TimedSwings(152.4, 31, swung(swings=30).swings.seconds * 0.9),
        TimedSwings(152.4, 30, 300.0),
        TimedSwings(152.4, 1, swung(swings=1).swings.seconds),  # true, but says less than the scales
        TimedSwings(496.0, 30, 40.0),  # hung on its balance
        TimedSwings(700.0, 30, 40.0),  # hung below it
        TimedSwings(152.4, 0, 40.0),
        TimedSwings(152.4, 30, 40.0, amplitude_degrees=180),
        TimedSwings(152.4, 30, float("nan")),
    ],
)
def test_swings_that_are_not_believed_leave_the_regression(swings):
    found = known(replace(AS_MEASURED, swings=swings))
    assert found == replace(known(AS_MEASURED), swings_refused=True)


@pytest.mark.parametrize(
    "bat",
    [
        Measured(1100, 851 - 355, 851),  # measured from the wrong end
        Measured(1100, 200, 851),
        Measured(0, 355, 851),
        Measured(1100, 355, float("inf")),
        Measured(float("nan"), 355, 851),
        Measured(1100, 140, 280),
    ],
)
def test_measures_of_no_bat_say_nothing(bat):
    assert estimate(bat) is None


@given(
    st.floats(400, 1800),
    st.floats(150, 600),
    st.floats(550, 1000),
    st.floats(0, 400),
    st.integers(1, 500),
    st.floats(0, 2000, exclude_min=True),
)
def test_whatever_a_sheet_holds_is_answered_soundly(mass, balance, overall, pivot, swings, time):
    found = estimate(Measured(mass, balance, overall, TimedSwings(pivot, swings, time)))
    if found is not None:
        assert 0 < found.about_balance_kg_m2 < found.pickup_kg_m2
        assert 0 < found.sd_share < 0.2
        assert (found.by == "regression") == found.swings_refused
