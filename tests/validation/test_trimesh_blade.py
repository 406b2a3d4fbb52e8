"""The blade's volume, mass centre and inertia against trimesh (M. Dawson-Haggerty and others) on a mesh.

The mesh is made here from the words of DEVELOPERS.md (axes and shape) and scipy's own interpolation, not from
the model's functions. Flat triangles are wrong by the square of their size, so halving them leaves an error
of a third of the last step: that step by itself must be below the tolerance, and the model must agree within
it.
"""

from itertools import pairwise

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from scipy.interpolate import PchipInterpolator

from fitting.bat.parts import blade_body, cuts_of
from tests.builds import a_build, builds


def _lines_along(build, fineness):
    """Places along x with every kink among them, closer together in the toe's corners."""
    blade = build.blade
    top, radius = blade.length_mm, blade.toe.corner_radius_mm
    kinks = {0.0, top, top - blade.shoulder.length_mm, top - build.handle.splice_length_mm, radius}
    kinks |= {s.from_toe_mm for s in blade.stations}
    if blade.toe.scoop is not None:
        kinks |= {12.0, 12.0 + blade.toe.scoop.length_mm}
    lines = []
    for low, high in pairwise(sorted(kinks)):
        steps = max(2, round(fineness * (high - low) / 1.5))
        share = np.linspace(0, 1, steps + 1)[:-1]
        if high <= radius:
            root = np.sqrt(low) + (np.sqrt(high) - np.sqrt(low)) * np.linspace(0, 1, 3 * steps + 1)[:-1]
            lines.append(root**2)
        else:
            lines.append(low + (high - low) * share)
    return np.append(np.concatenate(lines), top)


def _half_width(build, x):
    blade = build.blade
    radius, top = blade.toe.corner_radius_mm, blade.length_mm
    width = np.full_like(x, blade.width_mm)
    low = x < radius
    width[low] -= 2 * (radius - np.sqrt(radius**2 - (radius - x[low]) ** 2))
    start = top - blade.shoulder.length_mm
    high = x > start
    phase = np.pi * (x[high] - start) / blade.shoulder.length_mm
    width[high] -= (blade.width_mm - blade.shoulder.width_mm) * (1 - np.cos(phase)) / 2
    return width / 2


def _across(build, x, half, fineness):
    """Places z of the mesh's lines at every x, one side; the line number of the splice's flank."""
    inner, plain, arc = 3, round(24 * fineness), round(20 * fineness)
    top, length = build.blade.length_mm, build.handle.splice_length_mm
    share = np.clip((x - (top - length)) / length, 0, 1)
    flank = (5 + (build.handle.splice_width_mm - 5) * share) / 2
    flank = np.where(share > 0, flank, np.minimum(flank, half / 2))
    radius = np.minimum(
        np.full_like(x, max(build.blade.edge_radius_mm.face, build.blade.edge_radius_mm.back, 6.0)),
        (half - flank) * 0.999,
    )
    first = flank[:, None] * np.linspace(0, 1, inner + 1)[:-1]
    bend = half - radius
    second = flank[:, None] + (bend - flank)[:, None] * np.linspace(0, 1, plain + 1)[:-1]
    turn = np.linspace(0, np.pi / 2, arc + 1)
    third = half[:, None] - radius[:, None] * (1 - np.sin(turn))
    return np.hstack([first, second, third]), inner


def _depths(build, x, z, half):
    """Heights y of face and back at the lines of the mesh, rounding and bow in."""
    blade = build.blade
    at = [s.from_toe_mm for s in blade.stations]
    spine, edge, power = (
        PchipInterpolator(at, [getattr(s, name) for s in blade.stations])(x)[:, None]
        for name in ("spine_mm", "edge_mm", "scallop")
    )
    t = np.clip(z / half[:, None], 0, 1)
    scoop = np.zeros_like(x)
    if blade.toe.scoop is not None:
        along = (x - 12) / blade.toe.scoop.length_mm
        inside = (along > 0) & (along < 1)
        scoop[inside] = blade.toe.scoop.depth_mm * np.sin(np.pi * along[inside])
    back = edge + (spine - edge) * (1 - t) ** power - scoop[:, None]
    face = blade.face_crown_mm * t**2
    radii = blade.edge_radius_mm
    if radii.face + radii.back > 0:
        tip = blade.length_mm - build.handle.splice_length_mm
        widening = (build.handle.splice_width_mm - 5) * (x - tip) / build.handle.splice_length_mm
        cheek = half - np.where(x >= tip, 5 + widening, 0) / 2
        wood = edge[:, 0] - scoop - blade.face_crown_mm
        fits = np.minimum(
            1, np.minimum(wood / (radii.face + radii.back), cheek / max(radii.face, radii.back))
        )
        face = face + _drop(half[:, None] - z, (radii.face * fits)[:, None])
        back = back - _drop(half[:, None] - z, (radii.back * fits)[:, None])
    peak, top = blade.bow_peak_from_toe_mm, blade.length_mm
    reach = np.where(x < peak, peak, top - peak)
    bow = (blade.bow_mm * (1 - ((x - peak) / reach) ** 2))[:, None]
    return face + bow, back + bow


def _drop(from_side, radius):
    inward = np.clip(radius - from_side, 0, radius)
    return radius - np.sqrt(np.clip(radius**2 - inward**2, 0, None))


def _mesh(build, fineness):
    """The blade with its splice recess as one closed body."""
    x = _lines_along(build, fineness)
    half = _half_width(build, x)
    z, flank = _across(build, x, half, fineness)
    face, back = _depths(build, x, z, half)
    face, back, z = (np.hstack([v[:, :0:-1] * sign, v]) for v, sign in ((face, 1), (back, 1), (z, -1)))
    rows, columns = z.shape
    middle = (columns - 1) // 2
    tip = build.blade.length_mm - build.handle.splice_length_mm
    wood = np.ones((rows - 1, columns - 1), dtype=bool)
    wood[x[:-1] > tip - 1e-9, middle - flank : middle + flank] = False

    along = np.repeat(x[:, None], columns, axis=1)
    points = np.concatenate([np.stack([along, y, z], axis=-1).reshape(-1, 3) for y in (face, back)])
    number = np.arange(rows * columns).reshape(rows, columns)
    lift = rows * columns
    quads = []
    i, j = np.nonzero(wood)
    corners = [number[i, j], number[i + 1, j], number[i + 1, j + 1], number[i, j + 1]]
    quads.append(np.column_stack(corners))
    quads.append(np.column_stack(corners[::-1]) + lift)
    framed = np.pad(wood, 1)
    for axis, nodes in ((0, number[:, :, None]), (1, number[:, :, None])):
        step = np.diff(framed.astype(int), axis=axis)
        step = step[:, 1:-1] if axis == 0 else step[1:-1, :]
        a, b = np.nonzero(step)
        begins = step[a, b] > 0
        first = nodes[a, b, 0]
        second = nodes[a, b + 1, 0] if axis == 0 else nodes[a + 1, b, 0]
        turned = begins if axis == 0 else ~begins
        low, high = np.where(turned, first, second), np.where(turned, second, first)
        quads.append(np.column_stack([low, high, high + lift, low + lift]))
    quad = np.concatenate(quads)
    faces = np.concatenate([quad[:, [0, 1, 2]], quad[:, [0, 2, 3]]])
    body = trimesh.Trimesh(points, faces, process=False)
    body.remove_unreferenced_vertices()
    assert body.is_watertight
    assert body.is_winding_consistent
    return body


def _figures(mesh):
    sign = np.sign(mesh.volume)
    inertia = mesh.moment_inertia * sign
    return np.array([abs(mesh.volume), *mesh.center_mass[:2], inertia[0, 0], inertia[1, 1], inertia[2, 2]])


def _model(build):
    body = blade_body(cuts_of(build), 1e6)  # 1 g a cubic millimetre
    tensor = body.tensor_g_mm2
    return np.array([body.volume_mm3, *body.centre_mm[:2], tensor[0, 0], tensor[1, 1], tensor[2, 2]])


# Volume; mass centre along and through, in shares of 10 mm; inertia about the long axis, y and z.
TOLERANCE = np.array([1e-4, 1e-3, 1e-3, 2e-4, 1e-4, 1e-4])


def _agrees(build):
    coarse, fine = (_figures(_mesh(build, fineness)) for fineness in (1, 2))
    scale = np.array([fine[0], 10.0, 10.0, *fine[3:]])
    last_step = np.abs(fine - coarse) / scale
    assert np.all(last_step < TOLERANCE), last_step
    off = np.abs(_model(build) - fine) / scale
    assert np.all(off < TOLERANCE), off


def test_plain_blade_has_the_volume_centre_and_inertia_of_its_mesh():
    _agrees(a_build())


def test_scooped_bowed_blade_has_the_volume_centre_and_inertia_of_its_mesh():
    build = a_build(
        blade__toe={"corner_radius_mm": 45, "scoop": {"length_mm": 105, "depth_mm": 10}},
        blade__bow_mm=15,
        blade__face_crown_mm=2.4,
        blade__edge_radius_mm={"face": 5, "back": 8},
    )
    _agrees(build)


@settings(max_examples=5, deadline=None, derandomize=True)
@given(builds())
def test_any_blade_has_the_volume_centre_and_inertia_of_its_mesh(build):
    _agrees(build)


@pytest.mark.storm
@settings(max_examples=200, deadline=None)
@given(builds())
def test_many_blades_have_the_volume_centre_and_inertia_of_their_meshes(build):
    _agrees(build)
