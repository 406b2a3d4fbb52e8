"""A whole floor matched, against the bare arithmetic that it cannot do without, in one run on one machine.

500 commissions against 5,000 clefts. The yardstick is scipy's solver on the full matrix and the plain array
arithmetic that builds it: pressed densities as an outer product, masses and peaks interpolated, sizes and
bands compared, costs added up. The ratio tells what blemishes, reasons, spreads, second bests and the telling
add. The memory is what Python and numpy take at most beside the data that came in.
"""

import sys
import tracemalloc
from dataclasses import dataclass, replace

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment
from scipy.special import ndtr

from fitting.bat.weigh import weigh
from fitting.bat.willow_table import willow_table
from fitting.recommend import recommend
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.benchmarks.test_recommend import fastest
from tests.sheets import fitting
from workshop.matching import costs_of, match
from workshop.matching_costs import Clefts, Standing, usable_kg_m3, wanted_of
from workshop.matching_marks import Marks

BOOK = DEFAULT_BOOK.matching
COMMISSIONS, CLEFTS, BLEMISHES = 500, 5000, 4000
MOST_OVER_BARE = 5.0
MOST_MEMORY_MB = 1000.0
WISHES = ({}, {"sweet_spot": "low"}, {"mass_g": {"max": 1120}}, {"mass_g": {"min": 1240}})


@dataclass(frozen=True)
class Floor:
    bats: list
    clefts: Clefts


@pytest.fixture(scope="module")
def floor():
    """Four kinds of bat in every grade and urgency; a rack of which each bat can use about half."""
    random = np.random.default_rng(20270301)
    kinds = []
    for wishes in WISHES:
        build = recommend(fitting(wishes=wishes)).build
        table = willow_table(build, book=DEFAULT_BOOK)
        kinds.append(wanted_of(build, table, weigh(build, book=DEFAULT_BOOK), book=DEFAULT_BOOK))
    bats = [
        replace(kinds[at % len(kinds)], grade=int(grade), days_left=float(days))
        for at, (grade, days) in enumerate(
            zip(random.integers(1, 5, COMMISSIONS), random.uniform(-10, 120, COMMISSIONS), strict=True)
        )
    ]
    return Floor(bats, _rack(random))


def _rack(random):
    marks = Marks.of_clefts(
        random.integers(0, CLEFTS, BLEMISHES),
        side=random.integers(0, 4, BLEMISHES),
        from_end_mm=random.uniform(0, 700, BLEMISHES),
        size_mm=random.uniform(2, 20, BLEMISHES),
        through=random.random(BLEMISHES) < 0.2,
        looks=random.random(BLEMISHES) < 0.5,
    )
    return Clefts(
        length_mm=random.normal(710, 8, CLEFTS),
        width_mm=random.normal(116, 2, CLEFTS),
        depth_mm=random.normal(74, 3, CLEFTS),
        density_kg_m3=random.normal(395, 25, CLEFTS),
        density_sd_kg_m3=random.uniform(8, 14, CLEFTS),
        grade=random.integers(1, 5, CLEFTS),
        price=random.choice([3000.0, 4500.0, 6000.0, 9000.0], CLEFTS),
        age_days=random.uniform(0, 500, CLEFTS),
        run_out=np.where(random.random(CLEFTS) < 0.05, random.integers(5, 20, CLEFTS), np.nan),
        kept_for=np.full(CLEFTS, -1),
        for_smaller=random.random(CLEFTS) < 0.03,
        marks=marks,
    )


def bare_matrix(floor, standing):
    """The same sizes, bands, bats and costs in plain numpy, without marks, reasons and spreads told."""
    bats, rack = floor.bats, floor.clefts
    gain = np.array([bat.gain for bat in bats])
    gain_sd = np.array([bat.gain_sd for bat in bats])
    density = np.multiply.outer(gain, rack.density_kg_m3)
    sd = np.hypot(
        np.multiply.outer(gain, rack.density_sd_kg_m3), np.multiply.outer(gain_sd, rack.density_kg_m3)
    )
    matrix = np.full((len(bats), CLEFTS + len(bats)), BOOK.forbidden_points)
    for row, bat in enumerate(bats):
        x, table = density[row], bat.table
        low, high = usable_kg_m3(bat) or (0.0, 0.0)
        mass = np.interp(x, table.density_kg_m3, table.mass_g)
        peak = np.interp(x, table.density_kg_m3, table.peak_mm)
        spine = np.interp(x, table.density_kg_m3, table.spine_mm)
        does = (
            (rack.length_mm >= bat.rough_length_mm)
            & (rack.width_mm >= bat.rough_width_mm)
            & (rack.depth_mm >= spine + bat.rough_depth_mm)
            & (rack.grade <= bat.grade)
            & standing.straight
            & (x + BOOK.reach_sds * sd[row] >= low)
            & (x - BOOK.reach_sds * sd[row] <= high)
        )
        cost = (
            BOOK.mass_points * ((mass - bat.target_g) / bat.tolerance_g) ** 2
            + BOOK.peak_points * ((peak - bat.peak_mm) / BOOK.peak_off_mm) ** 2
            + BOOK.risk_points * (ndtr((low - x) / sd[row]) + ndtr((x - high) / sd[row]))
            + BOOK.grade_points * np.maximum(bat.grade - rack.grade, 0)
            + standing.money
            + standing.age
        )
        np.copyto(matrix[row, :CLEFTS], cost, where=does)
        matrix[row, CLEFTS + row] = BOOK.no_cleft(bat.days_left)
    return matrix


@pytest.mark.bench
def test_matching_stays_near_its_bare_arithmetic(floor):
    standing = Standing.of(floor.clefts, BOOK)
    matrix = costs_of(floor.bats, floor.clefts, standing, BOOK).matrix
    solving = fastest(lambda: linear_sum_assignment(matrix), times=5)
    building = fastest(lambda: bare_matrix(floor, standing), times=5)
    whole = fastest(lambda: match(floor.bats, floor.clefts, BOOK), times=5)
    ratio = whole / (solving + building)
    bare = f"solver {solving:.2f} s and arithmetic {building:.2f} s"
    print(f"match of {COMMISSIONS} against {CLEFTS} takes {whole:.2f} s: {ratio:.2f} of {bare}")
    assert ratio <= MOST_OVER_BARE


@pytest.mark.bench
def test_total_of_the_whole_floor_is_the_solvers(floor):
    matrix = costs_of(floor.bats, floor.clefts, Standing.of(floor.clefts, BOOK), BOOK).matrix
    rows, columns = linear_sum_assignment(matrix.T)

    found = match(floor.bats, floor.clefts, BOOK)

    assert found.total == pytest.approx(matrix.T[rows, columns].sum(), rel=1e-12)
    told = sum(one.pair.cost for one in found.assigned) + sum(one.no_cleft for one in found.unmatched)
    assert told == pytest.approx(found.total, rel=1e-9)
    print(f"{len(found.assigned)} matched, {len(found.unmatched)} without, total {found.total:.1f} points")


@pytest.mark.bench
def test_matching_keeps_its_memory(floor):
    tracemalloc.start()
    match(floor.bats, floor.clefts, BOOK)
    _now, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    print(f"match takes {most / 1e6:.0f} MB at most")
    assert most / 1e6 <= MOST_MEMORY_MB


@pytest.mark.bench
def test_matching_calls_no_model(floor):
    """Every call of a function of the model is seen while a part of the floor is matched."""
    called = []

    def see(frame, event, _arg):
        if event == "call" and "/fitting/bat/" in frame.f_code.co_filename:
            called.append(frame.f_code.co_name)

    sys.setprofile(see)
    try:
        found = match(floor.bats[:50], floor.clefts, BOOK)
    finally:
        sys.setprofile(None)

    assert found.assigned
    assert not called
