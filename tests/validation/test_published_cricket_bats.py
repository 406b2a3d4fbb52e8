"""What is published about cricket bats, side by side with the model (printed with -s), agreeing or not.

- Cross R. (2005), Physics of Cricket, School of Physics, University of Sydney (web page): the node of the
  first mode on the blade lies "about 150 mm" from the toe; measurements put the centre of percussion too
  close to the handle to be the sweet spot. What bats and what axis he had is not told there.
- Tinkler-Davies B., Ramage M. H., Shah D. U. (2021), Replacing willow with bamboo in cricket bats, Proc.
  IMechE P (through the university's press release): a bamboo blade's sweet spot lies 125 mm from the toe,
  closer to it than a willow bat's; so a willow bat's lies beyond 125 mm.
- Peploe C., McErlain-Naylor S. A., Harland A. R., King M. A. (2018), J. Sports Sci. 36:1407-1414: within 45
  mm along and 20 mm across of the sweet spot the ball loses less than 6 % of its speed (20 batters' shots).
- f1 "of order 100 Hz": from memory, no attributable source; printed, and only the order of magnitude
  asserted.

Where the model disagrees the test states what the model says and names the published figure beside it: a
known disagreement, told in DEVELOPERS.md. No tolerance here is about a published figure that is not met.
"""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from fitting.bat.impact import Contact, strike
from fitting.bat.response import _struck
from fitting.bat.solid import KG_M2
from fitting.sheets.book_materials import Cane, Canes, Modulus
from tests.builds import a_build
from tests.fitting.bat.golden_store import FILES
from tests.fitting.bat.struck import MATERIALS, curve_of, modes_and_body, weighed
from tests.fitting.bat.test_beam import golden

CROSS_NODE_MM = 150.0
BAMBOO_MM = 125.0
PEPLOE_ALONG_MM, PEPLOE_ACROSS_MM, PEPLOE_LOSS = 45.0, 20.0, 0.06
TOP_AXIS_MM = 0.0

BATS = {"plain short handle": a_build(), **{path.stem: golden(path) for path in FILES}}
ADULTS = [name for name, build in BATS.items() if not build.length_code.startswith(("size", "harrow"))]


@pytest.fixture(scope="module")
def weighings():
    return {name: weighed(build, MATERIALS) for name, build in BATS.items()}


def first_node(weighing):
    return weighing.modes[0].nodes_from_toe_mm[0]


def stations(*rows):
    names = ("from_toe_mm", "spine_mm", "edge_mm", "scallop")
    return [dict(zip(names, (*row, 1.0)[:4], strict=True)) for row in rows]


def with_moduli(*, cane=None, willow=None):
    """The book's materials with one modulus for all handles, or another for the willow, GPa."""
    changes: dict[str, Any] = {}
    if cane is not None:
        modulus = Modulus(gpa=cane, least_gpa=0.1, most_gpa=40)
        changes["canes"] = Canes(
            **{
                name: Cane(density_kg_m3=getattr(MATERIALS.canes, name).density_kg_m3, modulus=modulus)
                for name in Canes.model_fields
            }
        )
    if willow is not None:
        changes["willow"] = Modulus(gpa=willow, least_gpa=0.1, most_gpa=40)
    return MATERIALS.model_copy(update=changes)


def toe_of(edge):
    """The plain short handle with an edge at the toe, the wood above it rising to the same swell."""
    return a_build(
        blade__stations=stations(
            (0, edge + 6, edge, 1.0),
            (60, max(34, edge + 8), max(22, edge + 2), 1.2),
            (140, 54, 33, 1.4),
            (220, 63, 37, 1.4),
            (320, 55, 33, 1.4),
            (430, 45, 27, 1.3),
            (500, 40, 24, 1.2),
            (558, 36, 22, 1.2),
        )
    )


def lower_blade_deeper(by):
    plain = a_build().blade.stations
    rows = [
        (s.from_toe_mm, s.spine_mm + share * by, s.edge_mm + share * by, s.scallop)
        for s, share in zip(plain, (1, 1, 0.5, 0, 0, 0, 0, 0), strict=True)
    ]
    return a_build(blade__stations=stations(*rows))


def old_fashioned(**changes):
    """Thin edges, the wood spread down to a thick toe, fullest 60 to 120 mm from it: 1.0 kg."""
    spread = stations((0, 46, 21), (60, 50, 21), (120, 50, 21), (300, 43, 19), (430, 37, 17), (558, 32, 18))
    return a_build(blade__stations=spread, profile="tapered_spine", **changes)


PLANK = stations((0, 30, 30), (300, 30, 30), (558, 30, 30))

# What a real bat may be, one thing changed at a time from the plain short handle.
STUDY = {
    "as it is": (a_build(), MATERIALS),
    **{f"cane {gpa} GPa": (a_build(), with_moduli(cane=gpa)) for gpa in (1, 2.6, 4, 8)},
    **{f"willow {gpa} GPa": (a_build(), with_moduli(willow=gpa)) for gpa in (6.6, 8.5)},
    **{f"toe's edge {edge} mm": (toe_of(edge), MATERIALS) for edge in (14, 20, 30)},
    **{f"lower blade {by} mm deeper": (lower_blade_deeper(by), MATERIALS) for by in (5, 10)},
    "no grip": (a_build(grips__count=0), MATERIALS),
    "60 g more at the top": (a_build(grips={"count": 2, "mass_g": 55, "wall_mm": 1.5}), MATERIALS),
    "cane of 150 g": (a_build(handle__cane_mass_g=150.0), MATERIALS),
    "toe guard of 30 g": (a_build(protection__toe_guard={"thickness_mm": 2, "mass_g": 30}), MATERIALS),
}
# Several at once, further and further from a modern bat.
OLD = {
    "old-fashioned": (old_fashioned(), MATERIALS),
    "old-fashioned, cane 8 GPa": (old_fashioned(), with_moduli(cane=8)),
    "the same, bare light handle": (
        old_fashioned(handle__cane_mass_g=120.0, grips__count=0),
        with_moduli(cane=8),
    ),
    "board of 30 mm as a blade": (a_build(blade__stations=PLANK), MATERIALS),
    "the same, handle 39 GPa": (a_build(blade__stations=PLANK), with_moduli(cane=39)),
}


def table(rows):
    print(f"\nCross (2005): node {CROSS_NODE_MM:.0f} mm from the toe. The model's nodes of modes 1, 2, 3:")
    found = {}
    for name, (build, materials) in rows.items():
        weighing = weighed(build, materials)
        found[name] = first_node(weighing)
        firsts = " ".join(f"{mode.nodes_from_toe_mm[0]:5.0f}" for mode in weighing.modes)
        print(f"{name:28} {weighing.mass_g:6.0f} g {weighing.modes[0].frequency_hz:5.0f} Hz  {firsts}")
    return found


def test_first_node_against_cross(weighings):
    """Known disagreement: Cross 150 mm, the model's adult bats 225 to 245, see DEVELOPERS.md."""
    table({name: (build, MATERIALS) for name, build in BATS.items()})
    assert all(225 < first_node(weighings[name]) < 245 for name in ADULTS)
    assert all(170 < first_node(weighing) < 245 for weighing in weighings.values())
    # 0.224 of the length is the uniform beam's; thinner towards the toe, a bat's lies further up
    assert all(0.224 < first_node(w) / w.overall_length_mm < 0.30 for w in weighings.values())


def test_no_single_thing_brings_the_first_node_to_where_cross_has_it():
    """Known disagreement: Cross 150 mm; the nearest that one thing within a real bat's range comes is 223."""
    found = table(STUDY)
    assert min(found.values()) > 220
    assert max(found.values()) < 250
    # the ways it moves, each as mechanics has it
    assert found["cane 8 GPa"] < found["cane 4 GPa"] < found["cane 2.6 GPa"] < found["cane 1 GPa"]
    assert found["toe's edge 30 mm"] < found["toe's edge 20 mm"] < found["toe's edge 14 mm"]
    assert found["lower blade 10 mm deeper"] < found["lower blade 5 mm deeper"] < found["as it is"]
    assert found["no grip"] < found["as it is"] < found["60 g more at the top"]


def test_old_fashioned_bat_of_a_kilogram_comes_half_the_way():
    """Known disagreement: wood spread to the toe closes 32 of the 88 mm, a stiff light handle 26."""
    found = table(OLD)
    build, materials = OLD["old-fashioned"]
    assert weighed(build, materials).mass_g == pytest.approx(1000, abs=25)
    assert 195 < found["old-fashioned"] < 210
    assert 175 < found["old-fashioned, cane 8 GPa"] < 195
    # even a board on a handle as stiff as no cane is does not reach 150
    assert min(found.values()) > 165


def test_first_nodes_of_the_next_modes_lie_on_both_sides_of_cross(weighings):
    """His 150 mm lies between the model's first nodes of the second and third modes."""
    for name in ADULTS:
        second, third = (mode.nodes_from_toe_mm[0] for mode in weighings[name].modes[1:3])
        assert third < CROSS_NODE_MM < second


def test_centre_of_percussion_against_cross(weighings):
    """Nearer the handle than the node for an axis at the handle's top; for the pickup axis it is not.

    Known disagreement in part: Cross does not tell his axis. About the pickup axis, 152.4 mm below the top,
    the model's centre of percussion lies 11 to 20 mm nearer the toe than its node.
    """
    print("\nCross (2005): centre of percussion nearer the handle than the node. From the toe, mm:")
    for name in ADULTS:
        weighing = weighings[name]
        node, percussion = first_node(weighing), weighing.centre_of_percussion_from_toe_mm
        about_top = percussion_about(weighing, TOP_AXIS_MM)
        even = weighing.overall_length_mm - axis_for(weighing, node)
        print(
            f"{name:22} node {node:4.0f}, centre for the pickup axis {percussion:4.0f}, for the top"
            f" {about_top:4.0f}; they meet for an axis {even:4.0f} mm below the top"
        )
        assert 5 < node - percussion < 25  # Cross: below 0; known disagreement, see DEVELOPERS.md
        assert about_top > node + 15
        # of the sweet spot, which is what he says, the centre is on his side for both axes
        assert about_top > percussion > weighing.sweet_spot.peak_from_toe_mm


def percussion_about(weighing, below_top):
    axis = weighing.overall_length_mm - below_top
    arm = (axis - weighing.balance_from_toe_mm) / 1000
    beyond = weighing.inertia_kg_m2.about_balance / (weighing.mass_g / 1000 * arm)
    return weighing.balance_from_toe_mm - 1000 * beyond


def axis_for(weighing, place):
    """Axis along the bat whose centre of percussion is at a place, mm from the toe."""
    beyond = (weighing.balance_from_toe_mm - place) / 1000
    arm = weighing.inertia_kg_m2.about_balance / (weighing.mass_g / 1000 * beyond)
    return weighing.balance_from_toe_mm + 1000 * arm


def test_sweet_spot_lies_beyond_the_bamboo_blades(weighings):
    print(
        f"\nTinkler-Davies and others (2021): beyond {BAMBOO_MM:.0f} mm. The model's peaks, mm from the toe:"
    )
    print(*(f"{name} {w.sweet_spot.peak_from_toe_mm:.0f}" for name, w in weighings.items()), sep=", ")
    assert all(w.sweet_spot.peak_from_toe_mm > BAMBOO_MM for w in weighings.values())


def test_loss_along_against_peploe(weighings):
    print(f"\nPeploe and others (2018): under 6 % within {PEPLOE_ALONG_MM:.0f} mm along. The model:")
    for name in ADULTS:
        weighing = weighings[name]
        curve = curve_of(weighing)
        peak = weighing.sweet_spot.peak_from_toe_mm
        lost = [1 - float(curve(peak + away) / curve(peak)) for away in (-PEPLOE_ALONG_MM, PEPLOE_ALONG_MM)]
        print(f"{name:22} {100 * lost[0]:.1f} % towards the toe, {100 * lost[1]:.1f} % towards the handle")
        assert 0 < max(lost) < PEPLOE_LOSS


def lost_across(build, factor=1.0, across=PEPLOE_ACROSS_MM):
    """Share of the speed lost across at the peak; the factor is on the inertia about the long axis."""
    weighing = weighed(build, MATERIALS)
    modes, body = modes_and_body(build)
    tensor = body.tensor_g_mm2.copy()
    tensor[0, 0] *= factor
    x = np.full(2, weighing.sweet_spot.peak_from_toe_mm)
    told, contact = weighing.reference_impact, MATERIALS.impact.contact
    bat = told.swing_rad_s * (told.pivot_from_toe_mm - x) / 1000
    blow = strike(
        _struck(replace(body, tensor_g_mm2=tensor), modes, x, np.array([0.0, across])),
        Contact(contact.stiffness, contact.press, contact.restitution),
        ball_kg=told.ball_mass_g / 1000,
        speed=told.ball_speed_m_s + bat,
    )
    middle, beside = blow.returned * told.ball_speed_m_s + (1 + blow.returned) * bat
    return 1 - beside / middle


def test_loss_across_against_peploe(weighings):
    """Known disagreement: Peploe under 6 % at 20 mm, the model 10 to 11.4.

    1.7 to 2 times the inertia would close it, 0.7e-3 to 0.8e-3 kg m2 more: that of two hands of 0.4 kg, 30 mm
    from the axis (from memory), were they one with the handle within the millisecond. The model counts none.
    """
    print(f"\nPeploe and others (2018): under 6 % within {PEPLOE_ACROSS_MM:.0f} mm across. The model:")
    for name in ADULTS:
        build, long_axis = BATS[name], weighings[name].inertia_kg_m2.about_long_axis
        lost = lost_across(build)
        factor = brentq(lambda f, b=build: lost_across(b, f) - PEPLOE_LOSS, 1.0, 5.0, xtol=1e-3)
        print(
            f"{name:22} {100 * lost:.1f} %; 6 % with {factor:.2f} times the inertia about the long axis, "
            f"{1e3 * long_axis:.2f}e-3 and {1e3 * (factor - 1) * long_axis:.2f}e-3 kg m2 more"
        )
        assert 0.10 < lost < 0.12  # Peploe: under 0.06; known disagreement, see DEVELOPERS.md
        assert 1.7 < factor < 2.0


def test_loss_across_is_that_of_the_turning_alone(weighings):
    """Without turning about the long axis nothing would be lost: the model has no other cause of it."""
    assert lost_across(a_build(), factor=1e6) == pytest.approx(0, abs=1e-6)
    body = modes_and_body(a_build())[1]
    told = weighings["plain short handle"].inertia_kg_m2.about_long_axis
    assert body.tensor_g_mm2[0, 0] * KG_M2 == pytest.approx(told, rel=1e-12)


def test_first_mode_is_of_the_order_of_a_hundred_hertz(weighings):
    """From memory, no source: printed; the order of magnitude alone is asserted."""
    print("\nfrom memory: f1 of order 100, f2 of 300 to 450, f3 of 600 to 900 Hz. The model:")
    for name in ADULTS:
        print(f"{name:22}", *(f"{mode.frequency_hz:6.0f}" for mode in weighings[name].modes))
    assert all(50 < weighings[name].modes[0].frequency_hz < 200 for name in ADULTS)
