import numpy as np
import pytest
from hypothesis import given

from fitting.bat.parts import (
    binding_body,
    blade_body,
    blade_rule,
    cane_body,
    cuts_of,
    film_body,
    glue_g,
    grip_body,
    guard_body,
    oil_body,
    surface_mm2,
    tape_body,
)
from fitting.bat.solid import rule
from fitting.sheets.book_materials import Canes, Materials
from tests.builds import a_build, builds

MATERIALS = Materials()
COVERED = {
    "protection__toe_guard": {"thickness_mm": 1, "mass_g": 9},
    "protection__face_film": {"thickness_mm": 0.25, "mass_g": 15},
    "protection__edge_tape": {"thickness_mm": 0.2, "mass_g": 6},
}


def _there(body):
    assert body is not None
    return body


def _figures(body):
    return np.array([body.volume_mm3, *body.centre_mm[:2], *np.diag(body.tensor_g_mm2)])


@given(builds())
def test_blade_and_cane_move_by_less_than_a_hundred_thousandth_under_a_finer_rule(build):
    assert _figures(blade_body(cuts_of(build), 400)) == pytest.approx(
        _figures(blade_body(cuts_of(build, points=80), 400)), rel=1e-5, abs=1e-5
    )
    assert _figures(cane_body(cuts_of(build), MATERIALS)) == pytest.approx(
        _figures(cane_body(cuts_of(build, points=80), MATERIALS, points=80)), rel=1e-6, abs=1e-5
    )


@given(builds())
def test_lengths_of_the_rule_add_up_to_the_blade(build):
    along = blade_rule(build)
    assert along.weight.sum() == pytest.approx(build.blade.length_mm)
    assert (np.diff(along.x) > 0).all()


def test_rule_is_exact_for_a_polynomial_of_degree_17():
    along = rule([0.0, 0.7, 2.0])
    assert along.weight @ along.x**17 == pytest.approx(2.0**18 / 18, rel=1e-12)


def test_willow_and_splice_fill_the_blade_together():
    """A blade of even depth without corners: what the splice takes, the willow has not."""
    stations = [{"from_toe_mm": x, "spine_mm": 30, "edge_mm": 30, "scallop": 1} for x in (0, 200, 558)]
    build = a_build(
        blade__stations=stations,
        blade__face_crown_mm=0,
        blade__edge_radius_mm={"face": 0, "back": 0},
        blade__toe__corner_radius_mm=0,
    )
    narrowing = (107 - 62) * 45 / 2
    splice = (5 + 42) / 2 * 135
    assert blade_body(cuts_of(build), 1).volume_mm3 == pytest.approx(
        (107 * 558 - narrowing - splice) * 30, rel=1e-9
    )


def test_scoop_takes_a_half_sine_over_the_full_width():
    plain = a_build(blade__edge_radius_mm={"face": 0, "back": 0}, blade__toe__corner_radius_mm=0)
    scooped = a_build(
        blade__edge_radius_mm={"face": 0, "back": 0},
        blade__toe={"corner_radius_mm": 0, "scoop": {"length_mm": 80, "depth_mm": 7}},
    )
    taken = blade_body(cuts_of(plain), 1).volume_mm3 - blade_body(cuts_of(scooped), 1).volume_mm3
    assert taken == pytest.approx(107 * 80 * 7 * 2 / np.pi, rel=1e-9)


def test_rounding_an_edge_takes_the_corner_of_a_square_less_its_quarter_circle():
    stations = [{"from_toe_mm": x, "spine_mm": 40, "edge_mm": 30, "scallop": 1.4} for x in (0, 200, 558)]
    square = {"blade__stations": stations, "blade__edge_radius_mm": {"face": 0, "back": 0}}
    round_ = {"blade__stations": stations, "blade__edge_radius_mm": {"face": 0, "back": 6}}
    taken = (
        blade_body(cuts_of(a_build(**square)), 1).volume_mm3
        - blade_body(cuts_of(a_build(**round_)), 1).volume_mm3
    )
    assert taken == pytest.approx(2 * 558 * 36 * (1 - np.pi / 4), rel=1e-6)


def test_binding_is_a_shell_inside_the_girth():
    build = a_build(
        handle__section_bottom="round", handle__girth_mm=dict.fromkeys(("top", "middle", "bottom"), 106)
    )
    radius = 106 / 2 / np.pi
    shell = np.pi * (radius**2 - (radius - 0.6) ** 2) * 293
    assert binding_body(build, MATERIALS).volume_mm3 == pytest.approx(shell, rel=1e-9)
    assert binding_body(build, MATERIALS).centre_mm == pytest.approx([558 + 146.5, 18, 0])


def test_construction_decides_the_density_of_the_cane():
    masses = {
        name: cane_body(cuts_of(a_build(handle__construction=name)), MATERIALS).mass_g
        for name in ("lightened_cane", "plain_cane", "stiffened_cane")
    }
    canes = Canes()
    assert masses["plain_cane"] / masses["lightened_cane"] == pytest.approx(
        canes.plain_cane.density_kg_m3 / canes.lightened_cane.density_kg_m3
    )
    assert masses["stiffened_cane"] > masses["plain_cane"]


def test_grips_lie_from_25_mm_above_the_blade_to_the_top_one_over_the_other():
    one = _there(grip_body(a_build(handle__girth_mm=dict.fromkeys(("top", "middle", "bottom"), 106))))
    two = _there(
        grip_body(
            a_build(
                handle__girth_mm=dict.fromkeys(("top", "middle", "bottom"), 106),
                grips={"count": 2, "mass_g": 50, "wall_mm": 1.5},
            )
        )
    )
    assert one.centre_mm[0] == pytest.approx((558 + 25 + 851) / 2, abs=0.5)
    assert (one.mass_g, two.mass_g) == (50, 100)
    assert two.volume_mm3 > 2 * one.volume_mm3
    assert two.tensor_g_mm2[0, 0] > 2 * one.tensor_g_mm2[0, 0]


def test_grip_without_a_wall_still_lies_round_the_handle():
    thin = _there(grip_body(a_build(grips={"count": 1, "mass_g": 50, "wall_mm": 0})))
    radius = np.sqrt(thin.tensor_g_mm2[0, 0] / thin.mass_g)
    assert radius == pytest.approx(108 / 2 / np.pi, rel=0.03)


def test_coverings_weigh_what_the_sheet_says_where_they_sit():
    build = a_build(**COVERED, blade__toe__corner_radius_mm=0)
    guard, film, tape = (_there(body(cuts_of(build))) for body in (guard_body, film_body, tape_body))
    assert [body.mass_g for body in (guard, film, tape)] == [9, 15, 6]
    assert 0 < guard.centre_mm[0] < 6
    assert film.centre_mm[0] == pytest.approx((558 - 45) / 2)
    assert film.centre_mm[1] < guard.centre_mm[1] < tape.centre_mm[1]
    across = np.sqrt((tape.tensor_g_mm2[0, 0] + tape.tensor_g_mm2[1, 1] - tape.tensor_g_mm2[2, 2]) / 2 / 6)
    assert across == pytest.approx(53.5)


def test_nothing_there_is_no_body():
    build = a_build(
        grips={"count": 0, "mass_g": 50, "wall_mm": 1},
        protection={"toe_guard": None, "face_film": None, "edge_tape": None},
        finish__oil_coats=0,
    )
    blade = blade_body(cuts_of(build), 400)
    bodies = [
        grip_body(build),
        guard_body(cuts_of(build)),
        film_body(cuts_of(build)),
        tape_body(cuts_of(build)),
    ]
    assert [*bodies, oil_body(cuts_of(build), MATERIALS, blade)] == [None] * 5


def test_surface_of_a_plank_is_its_face_back_and_edges():
    stations = [{"from_toe_mm": x, "spine_mm": 30, "edge_mm": 30, "scallop": 1} for x in (0, 200, 558)]
    build = a_build(
        blade__stations=stations,
        blade__face_crown_mm=0,
        blade__toe__corner_radius_mm=0,
        blade__shoulder={"length_mm": 45, "width_mm": 107},
    )
    assert surface_mm2(cuts_of(build)) == pytest.approx(2 * 558 * (107 + 30))


def test_glue_follows_the_area_of_the_joint():
    build = a_build()
    assert 8 < glue_g(cuts_of(build), MATERIALS) < 15  # common practice, no source
    assert glue_g(cuts_of(build), Materials(glue_g_m2=0)) == 0
    assert glue_g(cuts_of(a_build(handle__splice_length_mm=150)), MATERIALS) > glue_g(
        cuts_of(build), MATERIALS
    )
