"""The arithmetic of clefts: volume, spread, the press."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitting.sheets.book_bench import DEFAULT_BENCH
from workshop.willow import (
    RawCleft,
    cleft_density,
    density_at,
    mass_at,
    usual_pressing,
    volume_mm3,
)

CLEFT = RawCleft(710, (115, 115, 115), (70, 70, 70), 2400, 12)


def test_mass_at_another_moisture_keeps_the_dry_mass():
    assert mass_at(1120, moisture_percent=12, to_percent=0) == pytest.approx(1000)
    assert mass_at(1000, moisture_percent=0, to_percent=20) == pytest.approx(1200)


def test_volume_of_a_plain_block():
    assert volume_mm3(CLEFT) == pytest.approx(710 * 115 * 70)


def test_volume_of_a_wedge_is_exact():
    """A depth that falls linearly has a section that does so too: Simpson's rule is exact."""
    wedge = replace(CLEFT, depths_mm=(80, 70, 60))

    assert volume_mm3(wedge) == pytest.approx(710 * 115 * 70)


def test_density_at_12_of_a_cleft_read_at_12_is_as_read():
    density = cleft_density(CLEFT, usual_pressing(DEFAULT_BENCH), DEFAULT_BENCH)

    assert density.as_read == pytest.approx(2400 / (7.1 * 1.15 * 0.7), rel=1e-9)
    assert density.at_12 == pytest.approx(density.as_read)


def test_density_of_a_wet_cleft_falls_to_12():
    density = cleft_density(replace(CLEFT, moisture_percent=18), usual_pressing(DEFAULT_BENCH), DEFAULT_BENCH)

    assert density.at_12 < density.as_read


def test_pressed_density_carries_the_lost_depth():
    """With no widening and the whole blade pressed, 3 mm into 30 mm is a tenth more."""
    pressing = replace(
        usual_pressing(DEFAULT_BENCH), loss_mm=3, pressed_share=1, mean_depth_mm=30, widening_mm=0
    )

    density = cleft_density(CLEFT, pressing, DEFAULT_BENCH)

    assert density.pressed == pytest.approx(1.1 * density.at_12)
    assert density.pressed_sd > density.at_12_sd


def test_spread_of_density_against_a_simulated_one():
    """The added squares against a plain simulation of 20,000 readings: 3 % is its own noise."""
    numpy = pytest.importorskip("numpy")
    chance = numpy.random.default_rng(7)
    bench, n = DEFAULT_BENCH, 20_000
    length = chance.normal(710, bench.cleft_size_sd_mm, n)
    widths = chance.normal(115, bench.cleft_size_sd_mm, (3, n))
    depths = chance.normal(70, bench.cleft_size_sd_mm, (3, n))
    shape = chance.normal(1, bench.cleft_shape_sd_share, n)
    moistures = chance.normal(10, bench.moisture_sd_percent, n)
    areas = widths * depths
    volumes = length * (areas[0] + 4 * areas[1] + areas[2]) / 6 * shape
    found = [
        density_at(2400 / v * 1e6, moisture_percent=m, to_percent=12)
        for v, m in zip(volumes, moistures, strict=True)
    ]

    cleft = replace(CLEFT, moisture_percent=10)
    density = cleft_density(cleft, usual_pressing(bench), bench)

    assert density.at_12_sd == pytest.approx(numpy.std(found), rel=0.03)


@given(st.floats(300, 550), st.floats(5, 28), st.floats(5, 28))
def test_density_at_goes_there_and_back(density: float, moisture: float, other: float):
    there = density_at(density, moisture_percent=moisture, to_percent=other)

    assert density_at(there, moisture_percent=other, to_percent=moisture) == pytest.approx(density)
