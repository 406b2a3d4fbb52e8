"""A cleft drawn with the bat laid into it."""

import re
from xml.etree import ElementTree

import pytest

from fitting.sheets.book_bench import DEFAULT_BENCH
from orders.commissions.models import Bat
from orders.people.models import Player, User
from tests.factories import an_agreed_bat
from tests.workshop.bench.test_lies import marked
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.cleft_picture import SCALE, Laid, draw_cleft, draw_lie
from workshop.bench.lies import Lie, lying, zones_of
from workshop.bench.work import work_on
from workshop.rack.models import Cleft


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    """A bat that wants a cleft."""
    return an_agreed_bat(player, maker)


def laid(bat: Bat, cleft: Cleft, lie: Lie) -> Laid:
    """Lay a bat into a cleft."""
    work = work_on(bat)
    zones = zones_of(work.build, work.weighing, DEFAULT_BENCH)
    return Laid(cleft, lying(cleft, lie, zones), work.build, zones, DEFAULT_BENCH.rough_depth_mm)


def words(picture: str) -> list[str]:
    """Return everything that is written on a picture."""
    return [one.text or "" for one in ElementTree.fromstring(picture).iter() if one.tag.endswith("}text")]


def outline_of(picture: str, name: str) -> list[tuple[float, float]]:
    """Return the corners of the first shape of a class."""
    found = re.search(rf'class="{name}"[^>]* d="M([^"Z]+)', picture)
    assert found is not None
    numbers = [float(n) for n in found[1].split()]
    return list(zip(numbers[0::2], numbers[1::2], strict=True))


def test_sizes_stand_at_their_ends_as_the_cleft_lies(bat: Bat, maker: User):
    cleft = a_cleft(41, maker, width_1=1210, width_3=1170, depth_1=790, depth_3=750)

    end_1_down = words(draw_cleft(laid(bat, cleft, Lie(1, "a"))))
    end_2_down = words(draw_cleft(laid(bat, cleft, Lie(2, "a"))))

    assert "710" in end_1_down
    assert [one for one in end_1_down if one in ("121", "118", "117")] == ["121", "118", "117"]
    assert [one for one in end_2_down if one in ("121", "118", "117")] == ["117", "118", "121"]
    assert [one for one in end_1_down if one in ("79", "76", "75")] == ["79", "76", "75"]
    assert "end 1, toe" in end_1_down
    assert "end 2, toe" in end_2_down


def test_bat_is_drawn_to_the_clefts_scale(bat: Bat, maker: User):
    picture = draw_lie(laid(bat, a_cleft(41, maker), Lie(1, "a")))

    blade, cleft = outline_of(picture, "willow"), outline_of(picture, "cane")

    length = max(y for _, y in blade) - min(y for _, y in blade)
    assert length == pytest.approx(work_on(bat).build.blade.length_mm * SCALE, abs=0.3)
    assert max(x for x, _ in blade) < max(x for x, _ in cleft)


def test_edges_change_places_when_the_cleft_is_turned_over(bat: Bat, maker: User):
    cleft = a_cleft(41, maker)

    assert [one for one in words(draw_lie(laid(bat, cleft, Lie(1, "a")))) if "edge" in one] == [
        "edge 1",
        "edge 2",
    ]
    assert [one for one in words(draw_lie(laid(bat, cleft, Lie(1, "b")))) if "edge" in one] == [
        "edge 2",
        "edge 1",
    ]


def test_fault_in_the_way_is_drawn_red_and_told(bat: Bat, maker: User):
    cleft = a_cleft(41, maker)
    clean = draw_lie(laid(bat, cleft, Lie(1, "a")))
    marked(cleft, "shake", at=690, size=2600)

    picture = draw_lie(laid(bat, cleft, Lie(1, "a")))

    assert 'class="sweet-dot"' in picture
    assert 'class="sweet-dot"' not in clean
    assert "1: shake of 260 mm on the face, in the splice" in picture
    assert "no blemish noted" in clean


def test_grain_leans_as_it_runs_out(bat: Bat, maker: User):
    straight = outline_of(draw_cleft(laid(bat, a_cleft(41, maker), Lie(1, "a"))), "grain")
    running = outline_of(draw_cleft(laid(bat, a_cleft(42, maker, run_out=14), Lie(1, "a"))), "grain")

    assert straight[0][0] == straight[-1][0]
    across = running[-1][0] - running[0][0]
    along = running[0][1] - running[-1][1]
    assert along / across == pytest.approx(14, rel=0.03)
