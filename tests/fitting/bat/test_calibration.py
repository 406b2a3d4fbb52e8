"""The one bat that the contact was calibrated on.

Its stiffness was set so that this bat hits hardest 0.35 m below the shoulder (Kant A., Padole P. M.,
Uddanwadikar R. (2013), iNaCoMM 2013, through a summary). These tests guard the calibration: they prove
nothing about the model, since the one place was put in.
"""

from dataclasses import dataclass, field

import numpy as np
import pytest

from fitting.bat.beam import deflection
from fitting.bat.bending import bend
from fitting.bat.impact import OVER, Contact, Struck, strike
from fitting.bat.weigh import solid_of, weigh
from fitting.curve import FloatArray
from fitting.recommend import recommend
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.weighing import Weighing
from tests.sheets import fitting

BELOW_SHOULDER_MM = 350.0
MATERIALS = DEFAULT_BOOK.materials


@dataclass(frozen=True)
class Felt(Contact):
    """A contact that keeps every force it gave."""

    forces: list[FloatArray] = field(default_factory=list)

    def force(self, depth: FloatArray, deepest: FloatArray) -> FloatArray:
        self.forces.append(super().force(depth, deepest))
        return self.forces[-1]


@pytest.fixture(scope="module")
def build() -> BuildSheet:
    return recommend(fitting()).build


def below_shoulder_mm(build: BuildSheet, weighing: Weighing) -> float:
    assert weighing.sweet_spot is not None
    return build.blade.length_mm - weighing.sweet_spot.peak_from_toe_mm


def half_force_ms(build: BuildSheet, weighing: Weighing, stiffness: float, restitution: float) -> float:
    """How long the force at the peak stays above half its greatest, ms: the reference blow struck again."""
    bat = solid_of(build, MATERIALS, None, 12.0)
    modes = bend(
        build, MATERIALS, bat.bodies, bat.whole, density_kg_m3=bat.density_kg_m3, moisture_percent=12.0
    )
    blow, peak = weighing.reference_impact, weighing.sweet_spot
    assert blow is not None
    assert peak is not None
    away = (peak.peak_from_toe_mm - weighing.balance_from_toe_mm) / 1000
    rigid = 1000 / weighing.mass_g + away**2 / weighing.inertia_kg_m2.about_balance
    x = np.array([peak.peak_from_toe_mm / 1000])
    felt = Felt(stiffness, MATERIALS.impact.contact.press, restitution)
    bat_speed = blow.swing_rad_s * (blow.pivot_from_toe_mm - peak.peak_from_toe_mm) / 1000
    came = strike(
        Struck(np.array([rigid]), deflection(modes, x), modes.frequency_hz),
        felt,
        ball_kg=blow.ball_mass_g / 1000,
        speed=np.array([blow.ball_speed_m_s + bat_speed]),
    )
    # the same blow: it lasts as long as the weighing's own
    assert came.contact_s[0] * 1000 == pytest.approx(blow.contact_ms, rel=0.03)
    forces = np.array(felt.forces)[:, 0]
    touching = np.flatnonzero(forces > OVER * forces.max())[-1] + 1
    return float(np.sum(forces >= forces.max() / 2) * came.contact_s[0] * 1000 / touching)


def struck(
    build: BuildSheet, *, stiffness: float | None = None, restitution: float | None = None
) -> tuple[float, float]:
    """Peak below the shoulder, mm, and how long the force stays above half its greatest, ms."""
    usual = MATERIALS.impact.contact
    contact = usual.model_copy(
        update={
            "stiffness": stiffness or usual.stiffness,
            "restitution": restitution or usual.restitution,
        }
    )
    impact = MATERIALS.impact.model_copy(update={"contact": contact})
    materials = MATERIALS.model_copy(update={"impact": impact})
    weighing = weigh(build, book=DEFAULT_BOOK.model_copy(update={"materials": materials}))
    half = half_force_ms(build, weighing, contact.stiffness, contact.restitution)
    return below_shoulder_mm(build, weighing), half


def test_bat_of_an_empty_sheet_hits_hardest_where_it_was_calibrated_to(build):
    below, _contact = struck(build)
    print(f"hits hardest {below:.1f} mm below the shoulder")
    assert below == pytest.approx(BELOW_SHOULDER_MM, abs=3)


def test_force_lasts_about_a_millisecond(build):
    """About 1 ms is told of such blows: it lies between the half and the tenth of the greatest force."""
    weighing = weigh(build)
    _below, half = struck(build)
    assert weighing.reference_impact is not None
    touching = weighing.reference_impact.contact_ms
    print(f"force above half its greatest for {half:.2f} ms, above a tenth for {touching:.2f} ms")
    assert half < 1.0 < touching
    assert touching < 2.0 * half


def test_stiffer_contact_is_shorter_and_hits_hardest_nearer_to_the_node(build):
    """The calibration is sharp: the peak leaves its place as soon as the stiffness leaves its value."""
    found = {}
    for stiffness in (1.3e6, 2.6e6, 5.2e6):
        found[stiffness] = struck(build, stiffness=stiffness)
        below, contact = found[stiffness]
        print(f"stiffness {stiffness:.1e}: {below:.1f} mm below the shoulder, {contact:.2f} ms")
    soft, usual, stiff = found.values()
    assert soft[1] > usual[1] > stiff[1]
    assert abs(soft[0] - usual[0]) > 3
    assert abs(stiff[0] - usual[0]) > 3


def test_restitution_moves_the_peak_less_than_stiffness(build):
    found = {}
    for restitution in (0.4, 0.5, 0.6):
        found[restitution] = struck(build, restitution=restitution)
        below, contact = found[restitution]
        print(f"restitution {restitution}: {below:.1f} mm below the shoulder, {contact:.2f} ms")
    places = [below for below, _contact in found.values()]
    softer, _contact = struck(build, stiffness=1.3e6)
    assert max(places) - min(places) < abs(softer - places[1])
