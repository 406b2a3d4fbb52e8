"""A weighing against the bare arithmetic that it cannot do without, in one run on the same machine.

The yardstick is scipy's eigenvalues of the bat's own matrices and the bare time stepping of its own modes, in
plain numpy over the same places and steps. The ratio tells what sheets, sections, bodies and curves add.
"""

import tracemalloc

import numpy as np
import pytest
from scipy.linalg import eigh

from fitting.bat.beam import deflection, modes_of
from fitting.bat.bending import MODES, bat_beam
from fitting.bat.impact import STEPS
from fitting.bat.reshape import reshape
from fitting.bat.response import respond
from fitting.bat.weigh import solid_of, weigh
from fitting.recommend import recommend
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.benchmarks.test_recommend import fastest
from tests.sheets import fitting

MATERIALS = DEFAULT_BOOK.materials
STEP_S = 15e-6
MOST_OVER_BARE = 3.0
MOST_WEIGHINGS_OF_SHAPE = 7.0
MOST_FOR_TEN_TIMES_THE_POINTS = 2.0
MOST_MEMORY_MB = 20.0


@pytest.fixture(scope="module")
def build():
    return recommend(fitting()).build


def parts_of(build):
    """The bat as a body, its matrices, its modes."""
    bat = solid_of(build, MATERIALS, None, 12.0)
    beam = bat_beam(
        build, MATERIALS, bat.bodies, bat.whole, density_kg_m3=bat.density_kg_m3, moisture_percent=12.0
    )
    return bat, beam, modes_of(beam, MODES)


def stepping(shapes, frequency, rigid, speed, ball_kg):
    """Return a bare blow over all places: modes carried on, one spring, nothing told."""
    turn = 2 * np.pi * frequency[:, None]
    carried, reach, kick = np.exp(1j * turn * STEP_S), shapes / turn, shapes * STEP_S
    loose = (1 / ball_kg + rigid) * STEP_S
    mode = np.zeros(shapes.shape, dtype=complex)
    gap, closing, deepest = np.zeros_like(speed), speed.copy(), np.zeros_like(speed)
    pushes = np.empty((STEPS, len(speed)))
    for step in range(STEPS):
        mode *= carried
        gap += closing * STEP_S
        depth = np.maximum(gap - np.einsum("kp,kp->p", reach, mode.imag), 0.0)
        deepest = np.maximum(deepest, depth)
        push = 2.6e6 * deepest**1.5 * (depth / np.maximum(deepest, 1e-12)) ** 9
        mode += kick * push
        closing -= loose * push
        pushes[step] = push
    return pushes


@pytest.mark.bench
def test_weighing_stays_near_its_bare_arithmetic(build):
    _bat, beam, modes = parts_of(build)
    # as many places as a weighing strikes: those along the blade and those beside the middle
    x = np.linspace(0.04, 0.458, len(weigh(build).response) + 24)
    shapes, rigid = deflection(modes, x), np.full(len(x), 1.3)
    speed = np.full(len(x), 40.0)
    last = MODES + 1
    solving = fastest(lambda: eigh(beam.stiffness, beam.mass, subset_by_index=(0, last)), times=100)
    moving = fastest(lambda: stepping(shapes, modes.frequency_hz, rigid, speed, 0.159), times=100)
    whole = fastest(lambda: weigh(build), times=100)
    ratio = whole / (solving + moving)
    bare = f"eigh {1000 * solving:.2f} ms and steps {1000 * moving:.2f} ms"
    print(f"weigh {1000 * whole:.1f} ms is {ratio:.2f} of {bare}")
    assert ratio <= MOST_OVER_BARE


@pytest.mark.bench
@pytest.mark.parametrize("by", [-20, -8, 8, 20])
def test_shaping_takes_a_handful_of_weighings(build, by):
    density = sum(build.willow.density_kg_m3.model_dump().values()) / 2 + by
    one = fastest(lambda: weigh(build), times=60)
    ratio = fastest(lambda: reshape(build, density, build.mass_g.target), times=10) / one
    print(f"shape for {by:+d} kg/m3 takes {ratio:.1f} weighings")
    assert ratio <= MOST_WEIGHINGS_OF_SHAPE


@pytest.mark.bench
def test_ten_times_the_points_cost_at_most_twice(build):
    bat, _beam, modes = parts_of(build)

    def response(apart_mm):
        return respond(build, MATERIALS.impact, bat.whole, modes, pickup_kg_m2=0.187, apart_mm=apart_mm)

    whole = fastest(lambda: weigh(build), times=60)
    usual, fine = fastest(lambda: response(10.0)), fastest(lambda: response(1.0))
    assert len(response(1.0).points) >= 9.5 * len(response(10.0).points)
    ratio = (whole - usual + fine) / whole
    print(f"ten times the points: {ratio:.2f} of a weighing")
    assert ratio <= MOST_FOR_TEN_TIMES_THE_POINTS


@pytest.mark.bench
def test_weighing_stays_small_in_memory(build):
    weigh(build)
    tracemalloc.start()
    try:
        weigh(build)
        _now, most = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    print(f"one weighing: {most / 1e6:.2f} MB at most")
    assert most < MOST_MEMORY_MB * 1e6
