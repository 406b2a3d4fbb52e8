"""The blow against the textbook's: rigid bodies, a heavy block, energy.

Apparent coefficient of restitution of a free rigid bat: e_A = (e - r) / (1 + r), r the ball's mass over the
bat's effective mass at the place, 1 / M = 1 / m + b2 / I + z2 / I_long; exit speed e_A v + (1 + e_A) V:
Cross R. and Nathan A. (2009), Performance versus moment of inertia of sporting implements, Sports Technology
2:7-15 (from memory). That the loss of a given law of contact does not depend on the speed where the bat is
rigid: Nathan A. M. (2000), Dynamics of the baseball-bat collision, Am. J. Phys. 68:979-990 (from memory).
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitting.bat import impact
from fitting.bat.bending import MODES
from fitting.bat.impact import STEPS, Contact, Struck, strike
from fitting.bat.response import respond
from fitting.sheets.book_materials import Canes
from tests.builds import a_build, builds
from tests.fitting.bat.struck import BALL_KG, MATERIALS, along_the_blade, modes_and_body, weighed

BOOKS = Contact(
    MATERIALS.impact.contact.stiffness, MATERIALS.impact.contact.press, MATERIALS.impact.contact.restitution
)


def contacts(least=0.051):
    """All that the book's bounds let in, from a restitution on."""
    return st.builds(
        Contact,
        stiffness=st.floats(4, 10).map(lambda power: 10**power),
        press=st.floats(1, 4),
        restitution=st.floats(least, 0.95),
    )


RELEASE_MOST = 200.0
"""A ball lets go along a power of the depth (320 already for a press of 4 that gives back an eighth): beyond
this one the force falls off within a step, and up to 0.012 too much is given back."""


def followed(contacts):
    """Contacts whose letting go the steps can follow; a cricket ball's power lies near 9."""
    return contacts.filter(lambda contact: contact.release <= RELEASE_MOST)


def stiffened(factor):
    """The book's materials with every modulus raised; the bounds of the fields are for real ones."""

    def raised(modulus):
        return modulus.model_copy(update={"gpa": factor * modulus.gpa})

    canes = {
        name: getattr(MATERIALS.canes, name).model_copy(
            update={"modulus": raised(getattr(MATERIALS.canes, name).modulus)}
        )
        for name in Canes.model_fields
    }
    return MATERIALS.model_copy(
        update={"willow": raised(MATERIALS.willow), "canes": MATERIALS.canes.model_copy(update=canes)}
    )


def blow(struck, contact=BOOKS, speed=45.0, **more):
    return strike(struck, contact, ball_kg=BALL_KG, speed=np.full_like(struck.rigid, speed), **more)


def of_rigid(struck, restitution):
    ratio = BALL_KG * struck.rigid
    return (restitution - ratio) / (1 + ratio)


def block(effective_kg):
    """Something that does not bend, given by its effective masses (kg)."""
    rigid = 1 / np.atleast_1d(np.asarray(effective_kg, dtype=float))
    return Struck(rigid=rigid, shapes=np.zeros((1, len(rigid))), frequency_hz=np.array([1000.0]))


@given(followed(contacts(least=0.1)), st.floats(1, 90))
def test_heavy_block_gives_back_the_contacts_own_restitution(contact, speed):
    assert blow(block(1e9), contact, speed).returned[0] == pytest.approx(contact.restitution, abs=2e-3)


@given(followed(contacts(least=0.1)), st.floats(1, 90), st.floats(0.1, 10))
def test_rigid_body_without_bending_gives_the_textbooks_value(contact, speed, mass):
    struck = block(mass)
    found = blow(struck, contact, speed).returned
    assert found == pytest.approx(of_rigid(struck, contact.restitution), abs=2e-3)


def test_bat_a_thousand_times_as_stiff_gives_the_rigid_values_along_the_blade():
    """Within 1 % of the restitution that e_A is made of."""
    x, real = along_the_blade(a_build())
    _, stiff = along_the_blade(a_build(), stiffened(1000.0))
    assert stiff.frequency_hz == pytest.approx(1000**0.5 * real.frequency_hz, rel=1e-6)
    found, expected = blow(stiff).returned, of_rigid(stiff, BOOKS.restitution)
    print("\nplace (mm)   e_A a thousand times as stiff   rigid   as it is")
    for row in zip(x, found, expected, blow(real).returned, strict=True):
        print("{:6.0f} {:20.4f} {:16.4f} {:9.4f}".format(*row))
    assert found == pytest.approx(expected, abs=0.01 * BOOKS.restitution)
    # of the exit speed, as a share
    assert 1 + found == pytest.approx(1 + expected, rel=0.01)


@settings(max_examples=40)
@given(builds(), st.sampled_from([0.0, 16.0, 32.0]))
def test_bending_only_ever_costs_speed_near_the_peak(build, across):
    """A bat that bends gives back less than the same bat rigid, but for modes that swing back in time."""
    _, struck = along_the_blade(build, across_mm=across)
    assert (blow(struck).returned < of_rigid(struck, BOOKS.restitution) + 0.02).all()


@given(builds(), contacts(), st.floats(1, 90))
def test_energy_never_grows(build, contact, speed):
    _, struck = along_the_blade(build)
    with np.errstate(all="raise", under="ignore"):
        found = blow(struck, contact, speed)
    assert (found.energy <= 1 + 1e-6).all()
    assert np.isfinite(found.returned).all()
    assert (found.bent >= 0).all()
    assert (found.returned > -1).all()
    assert (found.returned < 1).all()
    assert (found.contact_s > 0).all()


def test_what_is_left_is_the_restitution_where_nothing_bends():
    """Rigid: of the energy in the approach seen from the common mass centre, e2 is left."""
    struck = block([0.3, 0.6, 1.2])
    shared = 1 / (1 + BALL_KG * struck.rigid)
    left = blow(struck).energy
    assert left == pytest.approx(1 - shared * (1 - BOOKS.restitution**2), abs=2e-3)


@settings(max_examples=40)
@given(builds(), st.floats(10, 60))
def test_half_the_step_hardly_moves_what_is_given_back(build, speed):
    _, struck = along_the_blade(build)
    whole, half = blow(struck, speed=speed), blow(struck, speed=speed, steps=2 * STEPS)
    assert np.abs(half.returned - whole.returned).max() < 2e-3


@pytest.mark.parametrize("speed", [2.0, 10.0, 25.0, 60.0])
def test_blow_has_ended_when_it_is_no_longer_followed(speed, monkeypatch):
    """A slow ball stays longer: three times the time in as short steps moves nothing."""
    _, struck = along_the_blade(a_build())
    once = blow(struck, speed=speed)
    monkeypatch.setattr(impact, "FOLLOWED", 3 * impact.FOLLOWED)
    thrice = blow(struck, speed=speed, steps=3 * STEPS)
    assert once.returned == pytest.approx(thrice.returned, abs=2e-4)


def peak(build, *, count=MODES):
    modes, body = modes_and_body(build, count=count)
    pickup = weighed(build).inertia_kg_m2.pickup
    found = respond(build, MATERIALS.impact, body, modes, pickup_kg_m2=pickup)
    return found.sweet_spot.peak_from_toe_mm


SOME = (a_build(), a_build(sweet_spot__choice="low", blade__bow_mm=12), a_build(grips__count=2))


@pytest.mark.parametrize("build", SOME, ids=["plain", "bowed", "two grips"])
def test_half_the_step_moves_the_peak_by_less_than_a_millimetre(build, monkeypatch):
    plain = peak(build)
    monkeypatch.setattr(strike, "__kwdefaults__", {"steps": 2 * STEPS})
    assert peak(build) == pytest.approx(plain, abs=1.0)
    # it must have been felt at all
    assert peak(build) != plain


@pytest.mark.parametrize("build", SOME, ids=["plain", "bowed", "two grips"])
def test_twelve_modes_for_eight_move_the_peak_by_less_than_two_millimetres(build):
    assert MODES == 8
    assert peak(build, count=12) == pytest.approx(peak(build), abs=2.0)


@pytest.mark.parametrize("build", SOME, ids=["plain", "bowed", "two grips"])
def test_modes_left_out_take_less_than_four_in_a_thousand_of_the_speed(build):
    """Twenty instead of eight; with four it would be 0.008, with six 0.0045."""
    kept, more = (blow(along_the_blade(build, count=count)[1]).returned for count in (MODES, 20))
    assert np.abs(more - kept).max() < 0.004


def test_rigid_blow_gives_back_the_same_share_whatever_its_speed():
    struck = block([0.3, 0.5, 0.8])
    slow, fast = blow(struck, speed=5.0), blow(struck, speed=80.0)
    assert fast.returned == pytest.approx(slow.returned, abs=1e-9)


def test_linear_spring_on_a_bending_bat_gives_back_the_same_share_whatever_its_speed():
    """With force in proportion to depth everything is in proportion to the speed."""
    _, struck = along_the_blade(a_build())
    linear = Contact(3e5, 1.0, 0.5)
    slow, fast = (blow(struck, linear, speed) for speed in (5.0, 80.0))
    assert fast.returned == pytest.approx(slow.returned, abs=1e-9)
    assert fast.contact_s == pytest.approx(slow.contact_s, rel=1e-9)


def test_hertzian_contact_lasts_as_the_fifth_root_of_the_speed_falls():
    """Hertz: time of contact goes as speed to the power -1/5."""
    slow, fast = (blow(block(1e9), speed=speed).contact_s[0] for speed in (5.0, 80.0))
    assert slow / fast == pytest.approx(16**0.2, rel=0.03)


def test_ball_leaves_a_bat_at_rest_and_a_moving_one_by_the_same_rule():
    """v = e_A v_in + (1 + e_A) V: the response curve's own points, for the bat's own swing."""
    build = a_build()
    weighing = weighed(build)
    x, struck = along_the_blade(build, apart_mm=10.0)
    told = weighing.reference_impact
    bat = told.swing_rad_s * (told.pivot_from_toe_mm - x) / 1000
    found = strike(struck, BOOKS, ball_kg=told.ball_mass_g / 1000, speed=told.ball_speed_m_s + bat)
    leaving = found.returned * told.ball_speed_m_s + (1 + found.returned) * bat
    assert [point.exit_speed_m_s for point in weighing.response] == pytest.approx(leaving, rel=1e-9)
    # seen from the bat the ball leaves at e_A times its approach
    assert leaving - bat == pytest.approx(found.returned * (told.ball_speed_m_s + bat), rel=1e-12)


def test_energy_does_not_grow_in_a_blow_that_outlasts_many_swings_of_the_modes():
    """A ball at walking speed on a spring as soft as a cushion: steps once kicked a mode in its own time."""
    _, struck = along_the_blade(a_build(blade__length_mm=558))
    found = blow(struck, Contact(stiffness=1e4, press=2.0, restitution=0.75), 1.0)
    assert (found.energy <= 1 + 1e-6).all()
