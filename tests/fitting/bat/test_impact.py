import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from fitting.bat.impact import STEPS, Contact, Struck, strike
from fitting.sheets.book_impact import ContactNumbers, ImpactNumbers
from tests.builds import a_build
from tests.fitting.bat.struck import BALL_KG, along_the_blade

BOOKS = Contact(**ContactNumbers().model_dump())


def one(rigid=1.5, shapes=((0.0,),), frequency=(400.0,)):
    return Struck(np.atleast_1d(float(rigid)), np.array(shapes), np.array(frequency))


def blow(struck, contact=BOOKS, speed=40.0, **more):
    return strike(struck, contact, ball_kg=BALL_KG, speed=np.full_like(struck.rigid, speed), **more)


@given(st.floats(1, 4), st.floats(0.06, 0.95), st.floats(1e-4, 0.04))
def test_area_under_the_way_in_and_out_gives_back_the_square_of_the_restitution(press, restitution, deepest):
    contact = Contact(2.6e6, press, restitution)
    power = 1 / (contact.release + 1)

    def work(share):
        """Force times way where ``share`` of the work is done: evens out the steep line."""
        depth = np.array([deepest * share**power])
        return contact.force(depth, np.array([deepest]))[0] * deepest * power * share ** (power - 1)

    out = quad(work, 1e-12, 1)[0]
    taken_up = contact.stiffness * deepest ** (press + 1) / (press + 1)
    assert out / taken_up == pytest.approx(restitution**2, rel=1e-6)
    assert contact.depth(np.array([taken_up])) == pytest.approx(deepest, rel=1e-12)


def test_force_meets_the_way_in_where_it_is_deepest_and_is_nil_where_nothing_touches():
    depth = np.array([0.0, 0.005, 0.01])
    pressing = BOOKS.force(depth, depth)
    assert pressing == pytest.approx(BOOKS.stiffness * depth**1.5)
    letting_go = BOOKS.force(depth, np.full(3, 0.01))
    assert letting_go[0] == 0
    assert letting_go[1] < pressing[1]
    assert letting_go[2] == pressing[2]


def test_deeper_press_again_follows_the_way_in():
    """Let go to half and pressed anew, the force comes back to the deepest by the line it left on."""
    depths = [0.01, 0.005, 0.01, 0.012]
    deepest = np.maximum.accumulate(depths)
    force = BOOKS.force(np.array(depths), deepest)
    assert force[2] == force[0] > force[1]
    assert force[3] == pytest.approx(BOOKS.stiffness * 0.012**1.5)


def test_fully_elastic_contact_has_one_line_for_both_ways():
    assert Contact(1e6, 1.5, 1.0).release == 1.5


def test_heavier_bat_gives_back_more():
    found = [blow(one(rigid)).returned[0] for rigid in (6.0, 3.0, 1.5, 0.5, 1e-9)]
    assert found == sorted(found)
    assert found[-1] == pytest.approx(0.5, abs=2e-3)


def test_livelier_contact_gives_back_more_and_lasts_less():
    found = [blow(one(), Contact(2.6e6, 1.5, restitution)) for restitution in (0.3, 0.5, 0.7)]
    assert found[0].returned < found[1].returned < found[2].returned


def test_harder_contact_is_shorter_and_shakes_the_bat_more():
    """A blow short beside a mode's period leaves more in that mode."""
    _, struck = along_the_blade(a_build())
    soft, hard = (blow(struck, Contact(k, 1.5, 0.5)) for k in (1e6, 1e7))
    assert (hard.contact_s < soft.contact_s).all()
    assert hard.bent.mean() > soft.bent.mean()


def test_mode_that_stands_still_where_the_ball_meets_it_takes_nothing():
    struck = Struck(np.array([1.5, 1.5]), np.array([[0.0, 0.8]]), np.array([300.0]))
    at_node, beside = blow(struck).bent
    assert at_node == 0
    assert beside > 0.01


def test_mode_far_above_the_blow_takes_next_to_nothing():
    low, high = (blow(one(shapes=((0.8,),), frequency=(f,))).bent[0] for f in (300.0, 8000.0))
    assert high < 1e-3 < low


def test_mode_far_below_the_blow_is_mass_set_free():
    """Slower than the blow a mode offers its mass and no spring: as if the bat were lighter by it."""
    slow = blow(one(rigid=1.5, shapes=((0.8,),), frequency=(1e-3,))).returned
    assert slow == pytest.approx(blow(one(rigid=1.5 + 0.8**2)).returned, abs=1e-3)


def test_every_place_is_struck_on_its_own():
    _, struck = along_the_blade(a_build())
    together = blow(struck).returned
    for place in (0, 5, -1):
        alone = Struck(struck.rigid[[place]], struck.shapes[:, [place]], struck.frequency_hz)
        assert blow(alone).returned == pytest.approx(together[[place]], rel=1e-9)


def test_shape_upside_down_is_the_same_mode():
    _, struck = along_the_blade(a_build())
    turned = Struck(struck.rigid, -struck.shapes, struck.frequency_hz)
    assert blow(turned).returned == pytest.approx(blow(struck).returned, rel=1e-12)


def test_error_falls_with_the_square_of_the_step_on_a_rigid_body():
    """Second order, against very many steps; restitution 0.9, whose force has no steep end."""
    contact = Contact(2.6e6, 1.5, 0.9)
    best = blow(one(), contact, steps=64 * STEPS).returned
    coarse, fine = (abs(blow(one(), contact, steps=n * STEPS).returned - best)[0] for n in (1, 4))
    assert fine < coarse / 4


def test_book_keeps_one_blow_for_each_length():
    numbers = ImpactNumbers()
    assert numbers.blow("short_handle") == numbers.blow("long_blade")
    assert numbers.blow("size_1").ball_speed_m_s < numbers.blow("size_5").ball_speed_m_s
    assert numbers.blow("harrow").ball_mass_g == 156
    rows = numbers.blows
    with pytest.raises(ValueError, match="one row without codes"):
        ImpactNumbers(blows=rows[1:])
    with pytest.raises(ValueError, match="each length in one row only"):
        ImpactNumbers(blows=(*rows, rows[1]))
