"""Blemishes placed on a cleft and drawn where they lie."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from orders.people.models import User
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack.blemishes import SIDES, draw_sides, place, strike_out
from workshop.rack.clefts import CleftRefused
from workshop.rack.columns import MOST_BLEMISHES
from workshop.rack.models import Blemish, Cleft, CleftState

KNOT: dict[str, Any] = {
    "kind": "knot",
    "side": "a",
    "from_end": 1200,
    "across": 450,
    "size": 80,
    "through": False,
}


@pytest.fixture
def cleft(maker: User) -> Cleft:
    return a_cleft(41, maker)


def test_place_keeps_the_blemish_and_tells_the_history(cleft: Cleft, maker: User):
    noted = place(cleft, by=maker, **KNOT)

    assert (noted.from_end_mm, noted.across_mm, noted.size_mm) == (120, 45, 8)
    assert cleft.entries.order_by("-pk")[0].data["from_end"] == 1200
    strike_out(noted, by=maker)
    assert not cleft.blemishes.exists()
    assert [entry.verb for entry in cleft.entries.all()] == ["take_in", "blemish", "blemish_off"]


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"from_end": 7101}, "beyond_end"),
        ({"across": 1181}, "beyond_edge"),
        ({"side": "edge_1", "across": 761}, "beyond_edge"),
    ],
)
def test_place_outside_the_wood_is_refused(changes: dict[str, Any], key: str, cleft: Cleft, maker: User):
    with pytest.raises(CleftRefused, match=key):
        place(cleft, by=maker, **{**KNOT, **changes})
    assert not cleft.blemishes.exists()


def test_place_on_a_cleft_thrown_out_and_beyond_the_most_is_refused(cleft: Cleft, maker: User):
    Blemish.objects.bulk_create([Blemish(cleft=cleft, **KNOT) for _ in range(MOST_BLEMISHES)])
    with pytest.raises(CleftRefused, match="many_blemishes"):
        place(cleft, by=maker, **KNOT)

    out = a_cleft(42, maker, state=CleftState.REJECTED)
    with pytest.raises(CleftRefused, match="thrown_out"):
        place(out, by=maker, **KNOT)


def a_drawn(**changes: object) -> tuple[dict, Cleft]:
    cleft = Cleft(
        number=1, length=7000, width_1=1160, width_2=1180, width_3=1170, depth_1=740, depth_2=760, depth_3=750
    )
    one = Blemish(cleft=cleft, **{**KNOT, **changes})
    return draw_sides(cleft, [one]), cleft


def test_draw_neighbours_on_the_wood_are_neighbours_on_the_sheet():
    """Edge 1 meets side A at edge 1's own end of the count, and side A meets edge 2 at its far end."""
    drawn, cleft = a_drawn()
    strips = {strip.side: strip for strip in drawn["strips"]}

    assert [strip.side for strip in drawn["strips"]] == list(SIDES)
    assert strips["edge_1"].place(0, 0)[1] == strips["edge_1"].y + strips["edge_1"].height
    assert strips["a"].place(0, 0)[1] == strips["a"].y
    assert strips["edge_2"].place(0, 0)[1] == strips["edge_2"].y
    assert strips["b"].place(0, 0)[1] == strips["b"].y + strips["b"].height
    assert strips["a"].height == cleft.width_2 / 10


def test_draw_what_goes_through_shows_on_both_sides():
    drawn, _ = a_drawn(through=True)
    strips = {strip.side: strip for strip in drawn["strips"]}

    assert [mark.comes_through for mark in drawn["marks"]] == [False, True]
    for mark, side in zip(drawn["marks"], ("a", "b"), strict=True):
        assert strips[side].y < mark.y < strips[side].y + strips[side].height
    assert drawn["marks"][0].x == drawn["marks"][1].x


@given(
    kind=st.sampled_from(Blemish.Kind.values),
    side=st.sampled_from(SIDES),
    from_end=st.integers(0, 7000),
    across=st.integers(0, 1180),
)
def test_draw_every_mark_has_its_middle_on_its_own_side(kind, side, from_end, across):
    drawn, _ = a_drawn(kind=kind, side=side, from_end=from_end, across=across)
    [mark] = drawn["marks"]
    strip = next(strip for strip in drawn["strips"] if strip.side == side)

    assert strip.x <= mark.x <= strip.x + strip.width
    assert strip.y <= mark.y <= strip.y + strip.height
