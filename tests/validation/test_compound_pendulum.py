"""Timed swings against the textbook's compound pendulum.

Uniform rod about its end, parallel axes (Steiner) and the exact period by the complete elliptic integral of
the first kind, T = T0 (2 / pi) K(sin^2(a / 2)): Meriam J. L., Kraige L. G., Engineering Mechanics: Dynamics;
Landau L. D., Lifshitz E. M., Mechanics, section 11 (both from memory). K itself from scipy.
"""

from math import pi, radians, sin, sqrt

import pytest
from scipy.special import ellipk

from fitting.bat.in_use import (
    STANDARD_GRAVITY_M_S2,
    Measured,
    TimedSwings,
    estimate,
    pendulum_inertia_kg_m2,
    small_period_s,
    swung_about_balance_kg_m2,
)
from fitting.bat.weigh import heft
from tests.builds import a_build


def wider(amplitude_degrees):
    """Exact period over that of small swings."""
    return float(2 / pi * ellipk(sin(radians(amplitude_degrees) / 2) ** 2))


def test_uniform_rod_about_its_end_has_a_third_of_its_mass_times_length_squared():
    length, mass = 0.9, 1.3
    period = 2 * pi * sqrt(2 * length / (3 * STANDARD_GRAVITY_M_S2))
    assert pendulum_inertia_kg_m2(mass, length / 2, period) == pytest.approx(mass * length**2 / 3, rel=1e-12)


def test_uniform_rod_has_a_twelfth_about_its_balance_wherever_it_hangs():
    """Parallel axes: from every pivot the same inertia about the balance."""
    length, mass = 900.0, 1300.0
    twelfth = mass / 1000 * (length / 1000) ** 2 / 12
    for pivot in (0.0, 20.0, 152.4, 300.0):
        arm = (length / 2 - pivot) / 1000
        about_pivot = twelfth + mass / 1000 * arm**2
        period = 2 * pi * sqrt(about_pivot / (mass / 1000 * STANDARD_GRAVITY_M_S2 * arm))
        swings = TimedSwings(pivot, 10, 10 * period, amplitude_degrees=0)
        found = swung_about_balance_kg_m2(Measured(mass, length / 2, length), swings)
        assert found == pytest.approx(twelfth, rel=1e-11)


@pytest.mark.parametrize("amplitude", [3, 8, 10, 20])
def test_series_gives_back_small_swings_from_the_exact_period(amplitude):
    # the next term of the series, 173 a^6 / 737280, is 4e-7 at 20 degrees
    assert small_period_s(30 * 1.4 * wider(amplitude), 30, amplitude) == pytest.approx(1.4, rel=5e-7)


def test_twenty_degrees_lengthen_the_period_by_eight_in_a_thousand():
    assert 1 / small_period_s(1, 1, 20) - 1 == pytest.approx(wider(20) - 1, rel=1e-4)
    assert wider(20) - 1 == pytest.approx(0.0077, abs=5e-5)
    assert wider(20) ** 2 - 1 == pytest.approx(0.0154, abs=1e-4)
    assert wider(10) - 1 == pytest.approx(0.0019, abs=5e-5)


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"handle__construction": "stiffened_cane", "grips__count": 2},
        {"blade__bow_mm": 14, "willow__density_kg_m3": {"min": 340, "max": 360}},
    ],
)
@pytest.mark.parametrize("pivot", [20.0, 152.4])
def test_model_bat_hung_and_swung_gives_back_its_pickup(changes, pivot):
    """Round trip: its own weighing, the exact period at 8 degrees, the estimate."""
    weighing = heft(a_build(**changes))
    mass, inertia = weighing.mass_g / 1000, weighing.inertia_kg_m2
    arm = (weighing.overall_length_mm - pivot - weighing.balance_from_toe_mm) / 1000
    about_pivot = inertia.about_balance + mass * arm**2
    period = 2 * pi * sqrt(about_pivot / (mass * STANDARD_GRAVITY_M_S2 * arm)) * wider(8)
    found = estimate(
        Measured(
            weighing.mass_g,
            weighing.balance_from_toe_mm,
            weighing.overall_length_mm,
            TimedSwings(pivot, 30, 30 * period),
        )
    )
    assert found is not None
    assert found.by == "swings"
    assert found.about_balance_kg_m2 == pytest.approx(inertia.about_balance, rel=1e-6)
    # the handle's axis lies some millimetres above or below the balance: left out
    assert found.pickup_kg_m2 == pytest.approx(inertia.pickup, rel=1e-3)
