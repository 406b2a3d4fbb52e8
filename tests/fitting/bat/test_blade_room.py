"""The room of one blade: its ends, what lies between them, and the toe's taper."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitting.bat.blade_room import TAPER_REACH_MM, BladeRoom, Side, deepest_mm
from fitting.bat.outline import edge, scoop_depth
from fitting.recommend import recommend
from fitting.sheets.build_sheet import LEAST_WOOD_MM, BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.builds import a_build, builds, extreme_builds
from tests.sheets import fitting
from tests.trade_limits import check_trade_limits

SIDES: tuple[Side, Side] = (-1, 1)


def room_of(build: BuildSheet) -> BladeRoom:
    return BladeRoom.of(build, DEFAULT_BOOK)


def depths(build: BuildSheet) -> np.ndarray:
    return np.array([(s.spine_mm, s.edge_mm, -s.scallop) for s in build.blade.stations])


@settings(max_examples=40)
@given(st.one_of(builds(), extreme_builds()))
def test_blade_as_drawn_breaks_nothing_more_than_itself(build):
    room = room_of(build)
    drawn = room.build_at(0.0, 0.0)
    assert np.abs(depths(drawn) - depths(build)).max() <= 0.0051
    assert room.breach(drawn) is None
    assert room.tapers[0] <= 0 <= room.tapers[1]


@settings(max_examples=40)
@given(builds())
def test_fuller_is_nowhere_shallower(build):
    room = room_of(build)
    steps = [depths(room.build_at(fullness, 0.0)) for fullness in np.linspace(-1, 1, 9)]
    for thinner, fuller in itertools.pairwise(steps):
        assert (fuller - thinner).min() >= -1e-9
    assert (steps[-1] - steps[0]).max() > 0.1


@settings(max_examples=25)
@given(builds(), st.sampled_from(SIDES))
def test_end_keeps_every_limit_and_a_little_beyond_it_does_not(build, side):
    room = room_of(build)
    end = room.end(side, 0.0)
    assert room.breach(room.build_at(end, 0.0)) is None
    if abs(end) < 1:
        assert room.breach(room.build_at(end + side / 250, 0.0)) is not None


@pytest.mark.parametrize("wishes", [{}, {"profile": "full"}, {"edges": "thick", "sweet_spot": "low"}])
@pytest.mark.parametrize("player", [{"height_mm": 1740}, {"height_mm": 1300, "age_years": 8}])
def test_ends_of_a_recommended_bat_lie_in_the_trades_limits(wishes, player):
    room = room_of(recommend(fitting(player=player, wishes=wishes)).build)
    for side in SIDES:
        check_trade_limits(room.build_at(room.end(side, 0.0), 0.0))


def test_blade_drawn_beyond_a_limit_is_only_held_from_going_further():
    deep = a_build()  # its spine of 63 mm lies under the depth on its crown; an edge of 37 mm under 39
    stations = tuple(s.model_copy(update={"spine_mm": s.spine_mm + 8}) for s in deep.blade.stations)
    deep = deep.model_copy(update={"blade": deep.blade.model_copy(update={"stations": stations})})
    room = room_of(deep)
    assert deepest_mm(deep) == 71
    assert deepest_mm(room.build_at(1.0, 0.0)) == 71
    assert deepest_mm(room.build_at(-1.0, 0.0)) < 71


def test_taper_moves_the_lowest_reach_alone_and_keeps_the_toes_limits():
    room = room_of(recommend(fitting()).build)
    drawn = room.build_at(0.0, 0.0)
    for wanted, kept in ((-50.0, room.tapers[0]), (50.0, room.tapers[1])):
        taper = room.taper_within(wanted, 0.0)
        assert 0 < abs(taper) <= abs(kept)
        moved = depths(room.build_at(0.0, taper)) - depths(drawn)
        above = np.array([s.from_toe_mm >= TAPER_REACH_MM for s in drawn.blade.stations])
        assert np.abs(moved[above]).max() == 0
        assert moved[0][0] == pytest.approx(taper, abs=0.0051)
        check_trade_limits(room.build_at(0.0, taper))


def test_strong_toe_stays_one_that_is_told_as_strong():
    strong = recommend(fitting(wishes={"toe": "strong"})).build
    room = room_of(strong)
    slim = room.build_at(0.0, room.taper_within(-50.0, 0.0))
    assert slim.blade.stations[0].spine_mm >= DEFAULT_BOOK.trade_limits_adult.toe_strong_centre_least_mm
    # looked at anew, the slimmest of its toes may not become slimmer still
    assert room_of(slim).tapers[0] == pytest.approx(0, abs=0.01)


def test_scoop_keeps_its_wood_however_the_toe_is_tapered():
    scooped = a_build(blade__toe__scoop={"length_mm": 60, "depth_mm": 16})
    room = room_of(scooped)
    slim = room.build_at(0.0, room.taper_within(-10.0, 0.0))
    x = np.linspace(12, 72, 61)
    left = edge(slim.blade, x) - scoop_depth(slim.blade, x) - slim.blade.face_crown_mm
    assert left.min() >= LEAST_WOOD_MM
    assert room.breach(room.build_at(0.0, -3.0)) == "scoop"


def test_limit_that_holds_the_end_is_named():
    room = room_of(recommend(fitting()).build)
    full = room.build_at(room.end(1, 0.0), 0.0)
    assert room.limit_at(full, 1) in {"spine", "edge", "gauge", "kink"}
    flat = a_build(blade__face_crown_mm=0)
    bold = BladeRoom.of(flat, DEFAULT_BOOK.model_copy(update={"gauge_depth_on_flat_face_mm": 70.0}))
    assert bold.limit_at(bold.build_at(bold.end(1, 0.0), 0.0), 1) == "gauge"
