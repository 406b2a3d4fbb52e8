"""What stops a re-shaping, in one line with its numbers."""

from typing import Any

import pytest

from fitting.bat.reshape import reshape, willow_range
from fitting.bat.reshaped import Barrier, WillowRange
from fitting.recommend import recommend
from orders.words.shaping import report_shaping, say_barrier, say_willow
from tests.sheets import fitting


@pytest.fixture(scope="module")
def build():
    return recommend(fitting()).build


@pytest.fixture(scope="module")
def willow(build):
    return willow_range(build)


def a_barrier(**changes: Any) -> Barrier:
    content: dict[str, Any] = {
        "stop": "too_light",
        "limit": "gauge",
        "mass_g": 1104.4,
        "density_kg_m3": 401.2,
        "spine_mm": 68.04,
        "spine_allowed_mm": 63.2,
        "peak_from_toe_mm": None,
    }
    return Barrier(**{**content, **changes})


def test_light_willow_is_said_with_the_depth_it_needs_and_the_density_that_would_do(willow):
    assert say_barrier(a_barrier(), willow) == (
        "needs 68.0 mm of spine, and 63.2 mm is the most (the gauge of the Laws, with the book's margin): "
        "1104 g is all that this willow gives; a cleft of at least 402 kg/m³ would do"
    )


def test_dense_willow_is_said_with_the_depth_it_may_have(willow):
    barrier = a_barrier(stop="too_dense", limit="spine", spine_mm=47.5, spine_allowed_mm=50, mass_g=1190.2)
    assert say_barrier(barrier, willow) == (
        "may have no more than 47.5 mm of spine, and 50.0 mm is the least (the trade's limit of its depth): "
        "1190 g is the lightest from this willow; a cleft of at most 401 kg/m³ would do"
    )


def test_density_is_rounded_to_the_side_that_does(willow):
    assert "at least 403 kg/m³" in say_barrier(a_barrier(density_kg_m3=402.01), willow)
    assert "at most 402 kg/m³" in say_barrier(a_barrier(stop="too_dense", density_kg_m3=402.99), willow)


def test_no_density_is_invented_where_none_would_do(willow):
    said = say_barrier(a_barrier(density_kg_m3=None), willow)
    assert said.endswith("; no cleft would do for this mass and this sweet spot")
    assert "kg/m³" not in said


def test_sweet_spot_out_of_reach_is_said_with_where_it_would_lie(willow):
    said = say_barrier(
        a_barrier(stop="peak", limit="toe", density_kg_m3=None, peak_from_toe_mm=214.6), willow
    )
    assert said.startswith("the bat would hit hardest 215 mm above the toe and no longer where it was asked")
    assert said.endswith(say_willow(willow))


@pytest.mark.parametrize("limit", ["spine", "edge", "gauge", "laws", "kink", "scoop", "swell"])
@pytest.mark.parametrize("stop", ["too_light", "too_dense"])
def test_every_limit_is_said_in_words_in_one_line(willow, stop, limit):
    said = say_barrier(a_barrier(stop=stop, limit=limit), willow)
    assert f"({limit})" not in said
    assert "\n" not in said
    assert all(number in said for number in ("68.0 mm", "63.2 mm", "1104 g"))


def test_willow_is_said_from_the_least_to_the_most_that_do(willow):
    told = willow.model_copy(update={"least_kg_m3": 360.2, "most_kg_m3": 480.9})
    assert say_willow(told).startswith("willow of 361 to 480 kg/m³ can become the bat")
    none = WillowRange(**{**told.model_dump(), "least_kg_m3": None, "most_kg_m3": None})
    assert say_willow(none) == "no willow can become the bat of this sheet at its own mass"


def test_report_tells_figures_every_stations_move_and_the_willow(build, willow):
    found = reshape(build, 398, build.mass_g.target)
    lines = report_shaping(found, willow).splitlines()
    assert lines[0].startswith(f"mass {found.weighing.mass_g:.0f} g, balance ")
    assert found.weighing.sweet_spot is not None
    assert f"hits hardest {found.weighing.sweet_spot.peak_from_toe_mm:.0f} mm from the toe" in lines[1]
    for station, moved in zip(found.build.blade.stations, found.moved, strict=True):
        line = next(line for line in lines if line.lstrip().startswith(f"{station.from_toe_mm:.1f} mm"))
        assert f"{station.spine_mm:.2f}" in line
        assert line.split()[-2:] == [f"{moved.spine_mm:+.2f}", f"{moved.edge_mm:+.2f}"]
    assert lines[-1] == say_willow(willow)
