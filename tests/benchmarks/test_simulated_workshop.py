"""A simulated workshop: how many bats land within 10 g of the agreed mass, with advice and without.

See tests/simulated_bench.py for what is true, what is read and how hands err. Without advice a bat is shaped
to the very targets that the rack's density gives, and finished. With it the pressed piece, the roughed-out
blade, the bound bat and the sanded bat are weighed, the targets solved anew, and the last cuts made as told.
"""

import numpy as np
import pytest

from fitting.bat.reshaped import CannotReshape
from fitting.recommend import recommend
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.seeded_sheets import seeded_sheets
from tests.simulated_bench import Bench, OtherCleft, Truth, with_advice, without_advice

BATS = 100
WITHIN_G = 10.0
LEAST_SHARE = 0.95
SEED = 20261125


@pytest.mark.bench
def test_bats_land_on_the_agreed_mass():
    chance = np.random.default_rng(SEED)
    advised, alone, other, trips = [], [], 0, []
    for sheet in seeded_sheets(BATS, seed=SEED):
        build = recommend(sheet).build
        band = build.willow.density_kg_m3
        measured = (band.min + band.max) / 2 + float(chance.normal(0, 6))
        truth = Truth.drawn(measured, DEFAULT_BOOK, chance)
        hands = int(chance.integers(2**31))

        def on_bench(build=build, measured=measured, truth=truth, hands=hands):
            return Bench(build, measured, truth.again(), np.random.default_rng(hands))

        try:
            bench = on_bench()
            advised.append(with_advice(bench) - build.mass_g.target)
            trips.append(bench.weighings)
        except OtherCleft:
            other += 1
        try:
            alone.append(without_advice(on_bench()) - build.mass_g.target)
        except CannotReshape:
            continue
    shares = [float(np.mean(np.abs(off) <= WITHIN_G)) for off in (advised, alone)]
    print(
        f"\nSimulated workshop, {BATS} bats: within {WITHIN_G:.0f} g of the agreed mass {shares[0]:.0%} with "
        f"advice (mean {np.mean(advised):+.1f} g, sd {np.std(advised):.1f} g, {np.mean(trips):.1f} weighings "
        f"a bat), {shares[1]:.0%} without (sd {np.std(alone):.1f} g); {other} told to take another cleft."
    )
    assert len(advised) >= 0.9 * BATS
    assert shares[0] >= LEAST_SHARE
    assert shares[0] > shares[1]
