"""How a cleft can lie in a bat, and what comes to lie where."""

import pytest

from fitting.sheets.book_bench import DEFAULT_BENCH
from orders.people.models import User
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.lies import LIES, Lie, Zones, best_of, every_lie, lying, mark_words, reasons_against
from workshop.rack.models import Blemish, Cleft

# A blade of 558 mm in a cleft of 710: 127 mm are over beside the 25 mm that are cut off for the ends.
ZONES = Zones(blade_mm=558, splice_from_mm=423, reach_from_mm=165, reach_to_mm=265, rough_mm=25)
FACE_1A = Lie(1, "a")


def marked(cleft: Cleft, kind: str = "knot", side: str = "a", *, at: int, **changes: int) -> Blemish:
    """Note a blemish in the middle of a side, ``at`` mm from end 1."""
    values = {"across": 590, "size": 80, **changes}
    return Blemish.objects.create(cleft=cleft, kind=kind, side=side, from_end=at * 10, **values)


@pytest.mark.parametrize(
    ("lie", "left"), [(Lie(1, "a"), 1), (Lie(1, "b"), 2), (Lie(2, "a"), 2), (Lie(2, "b"), 1)]
)
def test_left_edge_follows_from_toe_and_face(lie: Lie, left: int):
    """Turning a cleft over and turning it end for end each change the sides; both together do not."""
    assert lie.left_edge == left
    assert lie.outside_edge("right") == left
    assert lie.outside_edge("left") == 3 - left
    assert lie.outside_edge("") is None


def test_knot_on_the_face_where_the_ball_is_hit_spoils_and_turned_over_does_not(maker: User):
    cleft = a_cleft(1, maker)
    marked(cleft, at=220)

    face, back = lying(cleft, FACE_1A, ZONES), lying(cleft, Lie(1, "b"), ZONES)

    assert back.marks[0].place == "back"
    assert not back.spoilt_by
    # With the surplus cut off at the toe's end it comes to lie below the hitting zone.
    assert face.surplus_at_toe
    assert face.marks[0].from_toe_mm == pytest.approx(220 - 127 - 12.5)
    assert not face.spoilt_by


def test_knot_that_neither_end_takes_out_of_the_hitting_zone_spoils(maker: User):
    cleft = a_cleft(1, maker)
    # 277.5 from the toe with the surplus at the shoulder, 150.5 with it at the toe: touched either way.
    marked(cleft, at=290, size=600)

    assert [mark.zone for mark in lying(cleft, FACE_1A, ZONES).spoilt_by] == ["reach"]


def test_fault_on_the_back_spoils_only_where_it_goes_through(maker: User):
    cleft = a_cleft(1, maker)
    shake = marked(cleft, "shake", "b", at=290, size=600)
    assert not lying(cleft, FACE_1A, ZONES).spoilt_by

    shake.through = True
    shake.save()

    assert lying(cleft, FACE_1A, ZONES).spoilt_by


def test_fault_in_the_splice_spoils_on_either_side(maker: User):
    cleft = a_cleft(1, maker)
    marked(cleft, "shake", "b", at=690, size=2600)

    assert [mark.zone for mark in lying(cleft, FACE_1A, ZONES).spoilt_by] == ["splice"]


def test_knot_in_an_edge_spoils_anywhere_and_a_stain_nowhere(maker: User):
    cleft = a_cleft(1, maker)
    marked(cleft, side="edge_1", at=430, across=380, size=100)
    marked(cleft, "stain", at=290, size=600)

    knot, stain = lying(cleft, FACE_1A, ZONES).marks[::-1]

    assert (knot.zone, knot.spoils) == ("edge", True)
    assert (stain.zone, stain.spoils) == ("reach", False)


def test_edges_and_ends_change_places_with_the_lie(maker: User):
    cleft = a_cleft(1, maker)
    marked(cleft, "speck", "edge_1", at=300)
    marked(cleft, "speck", "a", at=300, across=180)

    edge, broad = lying(cleft, FACE_1A, ZONES).marks
    turned_edge, turned_broad = lying(cleft, Lie(2, "a"), ZONES).marks

    assert (edge.place, turned_edge.place) == ("left", "right")
    assert broad.across == pytest.approx(18 / 118)
    assert turned_broad.across == pytest.approx(1 - 18 / 118)


def test_best_lie_is_one_that_nothing_spoils(maker: User):
    cleft = a_cleft(1, maker)
    marked(cleft, at=290, size=600)

    best = best_of(every_lie(cleft, ZONES))

    assert len(every_lie(cleft, ZONES)) == len(LIES) == 4
    assert not best.spoilt_by


def test_short_cleft_has_no_surplus_to_cut_off(maker: User):
    cleft = a_cleft(1, maker, length=5830)
    marked(cleft, at=200)

    how = lying(cleft, FACE_1A, ZONES)

    assert not how.surplus_at_toe
    assert how.marks[0].from_toe_mm == pytest.approx(187.5)


def test_mark_is_told_with_kind_size_place_and_zone(maker: User):
    cleft = a_cleft(1, maker)
    marked(cleft, "shake", at=290, size=600, through=True)

    words = mark_words(lying(cleft, FACE_1A, ZONES).marks[0])

    assert words == "1: shake of 60 mm on the face, where the ball is hit, right through"


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"moisture": 131}, "Moisture 13.1 %, outside 8 to 13 %: back to season."),
        ({"moisture": 79}, "Moisture 7.9 %, outside 8 to 13 %: back to season."),
        ({"run_out": 11}, "The grain runs out by 1 in 11, through splice and hitting zone: not for a bat."),
    ],
)
def test_reason_against_a_cleft_however_it_lies(changes: dict[str, int], said: str, maker: User):
    assert reasons_against(a_cleft(1, maker, **changes), DEFAULT_BENCH) == [said]


@pytest.mark.parametrize("changes", [{"moisture": 130}, {"moisture": 80}, {"run_out": 12}, {}])
def test_nothing_is_said_against_a_cleft_on_the_bounds(changes: dict[str, int], maker: User):
    assert reasons_against(a_cleft(1, maker, **changes), DEFAULT_BENCH) == []
