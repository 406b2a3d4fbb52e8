"""Clefts laid side by side: what each would make of the bat."""

import pytest

from orders.people.models import Player, User
from tests.factories import an_agreed_bat
from tests.workshop.bench.test_lies import marked
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.beside import Beside, chosen_beside, laid_beside, spoken_against
from workshop.bench.work import Work, work_on
from workshop.rack.candidates import Candidate, bat_in


@pytest.fixture
def work(player: Player, maker: User) -> Work:
    """A bat that wants a cleft."""
    return work_on(an_agreed_bat(player, maker))


def in_cleft(work: Work, by: User, number: int, density: float, **changes: int) -> Candidate:
    """Return the bat in a cleft of some density once pressed, kg/m3."""
    return bat_in(a_cleft(number, by, density=density, **changes), work.build, work.book)


def shown(work: Work, one: Candidate, *, with_prices: bool = True) -> Beside:
    """Return one cleft as it stands beside others."""
    return laid_beside(work, [one], with_prices=with_prices)[0]


def test_denser_cleft_is_told_with_how_far_the_spine_moves(work: Work, maker: User):
    band = work.build.willow.density_kg_m3
    middle, dense = (
        shown(work, in_cleft(work, maker, number, density))
        for number, density in ((41, (band.min + band.max) / 2), (42, band.max))
    )

    assert middle.can_be_reshaped
    assert dense.can_be_reshaped
    assert "the spine moved by −" in dense.reshaped
    assert f"to {work.build.mass_g.target:.0f} g" in dense.reshaped


def test_cleft_that_cannot_be_this_bat_says_what_stops_it(work: Work, maker: User):
    found = shown(work, in_cleft(work, maker, 43, 640))

    assert not found.can_be_reshaped
    assert "g" in found.reshaped
    assert "None" not in found.reshaped


def test_cleft_is_drawn_in_the_lie_that_nothing_spoils(work: Work, maker: User):
    one = in_cleft(work, maker, 44, 420)
    marked(one.cleft, "shake", "a", at=290, size=2000)

    found = shown(work, one)

    assert not found.spoilt
    assert "side B the face" in found.lie
    assert spoken_against(work, [one]) == set()


def test_fault_through_the_whole_hitting_zone_speaks_against_it(work: Work, maker: User):
    one = in_cleft(work, maker, 45, 420)
    marked(one.cleft, "shake", at=355, size=7000, through=True)

    assert shown(work, one).spoilt
    assert spoken_against(work, [one]) == {one.cleft.code}


def test_price_is_left_out_for_who_sees_none(work: Work, maker: User):
    one = in_cleft(work, maker, 46, 420, price=4250)

    assert shown(work, one).price == "£42.50"
    assert shown(work, one, with_prices=False).price == ""


def test_ticked_ones_are_compared_else_the_first_three(work: Work, maker: User):
    found = [in_cleft(work, maker, number, 420) for number in (51, 52, 53, 54)]

    assert chosen_beside(found, []) == found[:3]
    assert chosen_beside(found, [found[3].cleft.code, "unknown"]) == [found[3]]
