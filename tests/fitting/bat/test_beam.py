import json

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitting.bat.beam import RIGID, Modes, deflection, modes_of, standstills
from fitting.bat.bending import ELEMENTS, MODES, bat_beam
from fitting.bat.weigh import heft, solid_of, weigh, weigh_with
from fitting.sheets.book_materials import Cane, Canes, Materials, Modulus
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet
from tests.beams import beam
from tests.builds import a_build, builds
from tests.fitting.bat.golden_store import FILES

MATERIALS = Materials()
FINENESS = ((6, 2, 3), (11, 4, 7), ELEMENTS, (44, 16, 28), (88, 32, 56))


def beam_of_bat(build, *, elements=ELEMENTS, moisture=12.0, density=None):
    bat = solid_of(build, MATERIALS, density, moisture)
    return bat, bat_beam(
        build,
        MATERIALS,
        bat.bodies,
        bat.whole,
        density_kg_m3=bat.density_kg_m3,
        moisture_percent=moisture,
        elements=elements,
    )


def golden(path):
    return read_sheet(BuildSheet, json.loads(path.read_text())["build"])


def frequencies(weighing):
    return np.array([mode.frequency_hz for mode in weighing.modes])


def first_node(weighing):
    return weighing.modes[0].nodes_from_toe_mm[0]


def rigid_motions(beam):
    shift = np.tile([1.0, 0.0], len(beam.nodes))
    turn = np.column_stack([beam.nodes, np.ones_like(beam.nodes)]).ravel()
    return shift, turn


@pytest.mark.parametrize(
    "build", [a_build(), *map(golden, FILES[:6:2])], ids=["plain", "harrow", "long", "sh"]
)
def test_as_many_elements_as_are_used_are_enough(build):
    """Convergence table, printed with -s; what is used is held against four times as many."""
    rows = {}
    for elements in FINENESS:
        modes = modes_of(beam_of_bat(build, elements=elements)[1], MODES)
        firsts = np.array([1000 * still[0] for still in standstills(modes, 3)])
        rows[sum(elements)] = (modes.frequency_hz, firsts)
    print("\nelements  f1      f2      f3 (Hz)   first nodes of modes 1, 2, 3 (mm from the toe)")
    for count, (hz, firsts) in rows.items():
        print(f"{count:5}", *(f"{f:9.3f}" for f in hz[:3]), *(f"{n:9.2f}" for n in firsts))
    (used, at), (finest, best) = rows[sum(ELEMENTS)], rows[176]
    assert sum(ELEMENTS) == 44
    assert used[:3] == pytest.approx(finest[:3], rel=1e-3)
    assert at == pytest.approx(best, abs=0.2)
    # the modes beyond the third only take part in the blow
    assert used == pytest.approx(finest, rel=0.02)


def differences_from_the_solid(build):
    """Relative differences of mass, balance and inertia of the beam's rigid motions from those weighed."""
    beam, weighing = beam_of_bat(build)[1], heft(build)
    shift, turn = rigid_motions(beam)
    mass = shift @ beam.mass @ shift
    balance = shift @ beam.mass @ turn / mass
    about_balance = turn @ beam.mass @ turn - mass * balance**2
    return (
        mass / (weighing.mass_g / 1000) - 1,
        balance / (weighing.balance_from_toe_mm / 1000) - 1,
        about_balance / weighing.inertia_kg_m2.about_balance - 1,
    )


@given(builds())
def test_beam_has_the_mass_balance_and_inertia_of_the_solid(build):
    """Willow is weighed anew at the beam's own points; a scoop's ends are kinks inside an element."""
    plain = build.blade.model_copy(update={"toe": build.blade.toe.model_copy(update={"scoop": None})})
    unscooped = build.model_copy(update={"blade": plain})
    assert differences_from_the_solid(unscooped) == pytest.approx((0, 0, 0), abs=1e-4)
    # the shortest and steepest scoops, 20 mm long and 7 mm deep, are off by 1.5e-4 and 4.3e-4 in inertia
    assert differences_from_the_solid(build) == pytest.approx((0, 0, 0), abs=5e-4)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_beam_of_a_golden_bat_has_the_mass_balance_and_inertia_of_the_solid(path):
    assert differences_from_the_solid(golden(path)) == pytest.approx((0, 0, 0), abs=1e-4)


@settings(max_examples=30)
@given(builds())
def test_stiffness_is_symmetric_and_bends_back_whatever_the_motion_but_the_rigid_ones(build):
    beam = beam_of_bat(build)[1]
    scale = np.abs(beam.stiffness).max()
    assert np.abs(beam.stiffness - beam.stiffness.T).max() < 1e-12 * scale
    for motion in rigid_motions(beam):
        assert np.abs(beam.stiffness @ motion).max() < 1e-11 * scale
    weights = np.linalg.eigvalsh(beam.stiffness)
    assert weights[0] > -1e-12 * weights[-1]
    assert np.abs(weights[:RIGID]).max() < 1e-11 * weights[-1]
    assert np.linalg.eigvalsh(beam.mass)[0] > 0


@settings(max_examples=30)
@given(builds())
def test_modes_are_mass_normalised_and_apart_from_the_rigid_motions(build):
    beam = beam_of_bat(build)[1]
    modes = modes_of(beam, MODES)
    assert modes.shapes.T @ beam.mass @ modes.shapes == pytest.approx(np.eye(MODES), abs=1e-8)
    for motion in rigid_motions(beam):
        assert modes.shapes.T @ beam.mass @ motion == pytest.approx(np.zeros(MODES), abs=1e-6)
    assert (np.diff(modes.frequency_hz) > 0).all()


@settings(max_examples=30)
@given(builds())
def test_mode_stands_still_once_more_often_than_the_one_below_it(build):
    modes = modes_of(beam_of_bat(build)[1], 3)
    found = standstills(modes, 3)
    assert [len(still) for still in found] == [2, 3, 4]
    for number, still in enumerate(found):
        assert deflection(modes, still)[number] == pytest.approx(0, abs=2e-3)


def test_deflection_at_the_nodes_is_that_of_the_shapes():
    beam = beam_of_bat(a_build())[1]
    modes = modes_of(beam, 4)
    assert deflection(modes, beam.nodes) == pytest.approx(modes.shapes[::2].T, abs=1e-12)


def test_two_elements_bend_between_their_nodes_as_a_clamped_beam_with_a_load_at_its_end():
    """w = P (3 L x2 - x3) / 6 EI + P x / kGA (Timoshenko; any text): exact inside the elements too."""
    bending, shearing, length, load = 1500.0, 20000.0, 0.9, 100.0
    bar = beam(length, 2, bending=lambda x: bending, mass=lambda x: 1.0, shearing=lambda x: shearing)
    forces = np.zeros(len(bar.stiffness))
    forces[-2] = load
    motion = np.zeros_like(forces)
    motion[2:] = np.linalg.solve(bar.stiffness[2:, 2:], forces[2:])
    x = np.linspace(0, length, 13)
    exact = load * (3 * length * x**2 - x**3) / (6 * bending) + load * x / shearing
    bent = Modes(frequency_hz=np.zeros(1), shapes=motion[:, None], beam=bar)
    assert deflection(bent, x)[0] == pytest.approx(exact, rel=1e-9, abs=1e-12)


def with_cane(gpa):
    """The book's materials with one construction's modulus changed, densities the same."""
    plain = MATERIALS.canes.plain_cane
    cane = Cane(density_kg_m3=plain.density_kg_m3, modulus=Modulus(gpa=gpa, least_gpa=1, most_gpa=8))
    return MATERIALS.model_copy(update={"canes": Canes(plain_cane=cane)})


def test_stiffer_cane_and_nothing_else_raises_every_mode():
    found = [frequencies(weigh_with(a_build(), with_cane(gpa))) for gpa in (1, 2, 2.6, 4, 6, 8)]
    assert (np.diff(found, axis=0) > 0).all()


@pytest.mark.parametrize("stiffer", ["lightened_cane", "plain_cane", "stiffened_cane"])
def test_each_construction_of_the_book_stiffened_alone_raises_every_mode(stiffer):
    build = a_build(handle__construction=stiffer)
    cane = getattr(MATERIALS.canes, stiffer)
    modulus = cane.modulus.model_copy(update={"gpa": 1.1 * cane.modulus.gpa})
    canes = MATERIALS.canes.model_copy(update={stiffer: cane.model_copy(update={"modulus": modulus})})
    plain, stiff = weigh(build), weigh_with(build, MATERIALS.model_copy(update={"canes": canes}))
    assert (frequencies(stiff) > frequencies(plain)).all()
    assert stiff.mass_g == plain.mass_g


def test_stiffened_construction_rings_higher_and_lightened_lower_than_plain_cane_of_the_same_mass():
    found = [
        frequencies(weigh(a_build(handle__construction=name, handle__cane_mass_g=200.0)))
        for name in ("lightened_cane", "plain_cane", "stiffened_cane")
    ]
    assert (np.diff(found, axis=0) > 0).all()


def test_modulus_of_another_construction_changes_nothing():
    build = a_build(handle__construction="stiffened_cane")
    assert weigh_with(build, with_cane(8.0)).modes == weigh(build).modes


def test_heavier_willow_of_the_same_modulus_rings_lower():
    stubborn = MATERIALS.model_copy(update={"willow_density_power": 0.0})
    light, dense = (weigh_with(a_build(), stubborn, density_kg_m3=d) for d in (380, 440))
    assert (frequencies(dense) < frequencies(light)).all()


def test_denser_willow_of_the_book_is_stiffer_by_its_power_and_heavier_by_itself():
    """Of a bare blade f goes as the root of modulus over density: the power 0.7 lowers it all the same."""
    light, dense = (weigh(a_build(), density_kg_m3=d) for d in (380, 440))
    fallen = frequencies(dense) / frequencies(light)
    assert (fallen < 1).all()
    assert (fallen > (440 / 380) ** -0.5).all()


def test_deeper_blade_rings_higher():
    """Thickness t gives stiffness t3 and mass t: every mode rises, the second most where the blade bends."""
    plain = a_build()
    deeper = [
        {**s.model_dump(mode="json"), "spine_mm": s.spine_mm + 4, "edge_mm": s.edge_mm + 4}
        for s in plain.blade.stations
    ]
    thin, thick = weigh(plain), weigh(a_build(blade__stations=deeper))
    assert (frequencies(thick)[1:] > frequencies(thin)[1:]).all()


def test_moisture_lowers_every_mode_at_every_step():
    found = [frequencies(weigh(a_build(), moisture_percent=m)) for m in (6, 8, 10, 12, 14, 16, 20)]
    assert (np.diff(found, axis=0) < 0).all()


def test_guard_at_the_toe_draws_the_node_towards_the_toe_and_lowers_the_mode():
    bare, guarded = (
        weigh(a_build(protection__toe_guard=guard)) for guard in (None, {"thickness_mm": 1, "mass_g": 40})
    )
    assert first_node(guarded) < first_node(bare)
    assert frequencies(guarded)[0] < frequencies(bare)[0]


@settings(max_examples=25)
@given(builds(), st.floats(350, 500))
def test_grips_guard_and_tape_are_carried_and_never_stiffen(build, density):
    dressed = build.model_copy(
        update={"grips": build.grips.model_copy(update={"count": 3, "mass_g": 60.0, "wall_mm": 1.5})}
    )
    bare = build.model_copy(update={"grips": build.grips.model_copy(update={"count": 0})})
    light, heavy = (frequencies(weigh(b, density_kg_m3=density)) for b in (bare, dressed))
    assert (heavy < light).all()
