"""Box, cylinder, cone and rod through the model's integrator against the textbook.

Mass centres and moments of inertia of homogeneous solids: Meriam J. L., Kraige L. G., Engineering Mechanics:
Dynamics, table D/4 (from memory). Parallel axes: Steiner's theorem, the same book. Centre of percussion of a
uniform rod hung at its end at 2/3 of its length, and the period of the pendulum: the same book.
"""

import numpy as np
import pytest

from fitting.bat.moments import Sections, ellipse, rectangle
from fitting.bat.solid import rule, solid, tensor_about, together

EXACT = 1e-12
DENSITY = 700.0


def _along(length, breaks=()):
    return rule([0.0, *breaks, length])


def _box(length, width, depth, breaks=()):
    along = _along(length, breaks)
    here = np.ones_like(along.x)
    return solid(rectangle(width * here, -depth / 2 * here, depth / 2 * here), along, DENSITY)


def test_box_has_the_textbook_mass_centre_and_inertia():
    body = _box(560.0, 107.0, 40.0)
    mass = 560 * 107 * 40 * 700e-6
    assert body.mass_g == pytest.approx(mass, rel=EXACT)
    assert body.centre_mm == pytest.approx([280, 0, 0], abs=1e-9)
    about_x, about_y, about_z = np.diag(body.tensor_g_mm2)
    assert about_x == pytest.approx(mass * (107**2 + 40**2) / 12, rel=EXACT)
    assert about_y == pytest.approx(mass * (560**2 + 107**2) / 12, rel=EXACT)
    assert about_z == pytest.approx(mass * (560**2 + 40**2) / 12, rel=EXACT)
    assert np.allclose(body.tensor_g_mm2, np.diag([about_x, about_y, about_z]))


def test_cylinder_has_the_textbook_mass_centre_and_inertia():
    along = _along(300.0)
    body = solid(ellipse(np.full_like(along.x, 34.0), np.full_like(along.x, 34.0)), along, DENSITY)
    mass = np.pi * 17**2 * 300 * 700e-6
    assert body.mass_g == pytest.approx(mass, rel=EXACT)
    assert body.centre_mm == pytest.approx([150, 0, 0], abs=1e-9)
    about_x, about_y, about_z = np.diag(body.tensor_g_mm2)
    assert about_x == pytest.approx(mass * 17**2 / 2, rel=EXACT)
    assert about_y == pytest.approx(mass * (3 * 17**2 + 300**2) / 12, rel=EXACT)
    assert about_z == pytest.approx(about_y, rel=EXACT)


def test_cone_has_the_textbook_mass_centre_and_inertia():
    height, radius = 300.0, 50.0
    along = _along(height, (70.0, 212.5))
    across = 2 * radius * along.x / height
    body = solid(ellipse(across, across), along, DENSITY)
    mass = np.pi * radius**2 * height / 3 * 700e-6
    assert body.mass_g == pytest.approx(mass, rel=EXACT)
    assert body.centre_mm == pytest.approx([3 * height / 4, 0, 0], abs=1e-9)
    about_x, about_y, _ = np.diag(body.tensor_g_mm2)
    assert about_x == pytest.approx(3 * mass * radius**2 / 10, rel=EXACT)
    assert about_y == pytest.approx(3 * mass * (4 * radius**2 + height**2) / 80, rel=EXACT)


def test_half_ball_whose_width_opens_like_a_root_has_the_textbook_mass_centre_and_inertia():
    radius = 50.0
    along = rule([0.0, radius], root_until_mm=radius)
    across = 2 * np.sqrt(radius**2 - (radius - along.x) ** 2)
    body = solid(ellipse(across, across), along, DENSITY)
    mass = 2 * np.pi * radius**3 / 3 * 700e-6
    assert body.mass_g == pytest.approx(mass, rel=EXACT)
    assert body.centre_mm[0] == pytest.approx(5 * radius / 8, rel=EXACT)
    about_x, about_y, _ = np.diag(body.tensor_g_mm2)
    assert about_x == pytest.approx(2 * mass * radius**2 / 5, rel=EXACT)
    assert about_y == pytest.approx(83 * mass * radius**2 / 320, rel=EXACT)


def test_parallel_axis_of_a_box_about_its_corner_is_the_textbooks():
    body = _box(560.0, 107.0, 40.0)
    tensor = tensor_about(body, np.array([0.0, -20.0, -53.5]))
    assert tensor[0, 0] == pytest.approx(body.mass_g * (107**2 + 40**2) / 3, rel=EXACT)
    assert tensor[2, 2] == pytest.approx(body.mass_g * (560**2 + 40**2) / 3, rel=EXACT)
    assert tensor[0, 1] == pytest.approx(-body.mass_g * 560 * 40 / 4, rel=EXACT)


def test_two_halves_of_a_sheared_box_together_are_the_whole():
    def part(low, high):
        along = rule([low, high])
        here = np.ones_like(along.x)
        return solid(rectangle(60 * here, -9 * here, 9 * here).raised(0.2 * along.x), along, DENSITY)

    whole, halves = part(0.0, 400.0), together([part(0.0, 150.0), part(150.0, 400.0)])
    assert halves.mass_g == pytest.approx(whole.mass_g, rel=EXACT)
    assert halves.centre_mm == pytest.approx(whole.centre_mm, rel=EXACT)
    assert halves.tensor_g_mm2 == pytest.approx(whole.tensor_g_mm2, rel=1e-11)


def test_uniform_rod_hung_at_its_end_has_its_centre_of_percussion_at_two_thirds():
    length = 850.0
    along = _along(length)
    thin = np.full_like(along.x, 1e-3)
    body = solid(Sections(thin**2, 0 * thin, 0 * thin, 0 * thin), along, DENSITY)
    about_end = tensor_about(body, np.zeros(3))[2, 2]
    assert about_end / (body.mass_g * body.centre_mm[0]) == pytest.approx(2 * length / 3, rel=EXACT)
