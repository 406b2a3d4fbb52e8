"""The gauge against polygons: MCC, Laws of Cricket, 2017 Code, Appendix B.8, held against shapely.

The opening is drawn once more from its printed numbers, the sections come as outlines, and whether one lies
inside the other is for shapely to say: no formula of the gauge is used. A section is pushed up from below
until it clears the arc, and as far as the roof lets it; the way between is the slack in depth.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity, prepare, unary_union
from shapely.geometry import Polygon, box

from fitting.bat.outline import bow
from fitting.bat.sections import section_outline
from fitting.laws.gauge import through_gauge
from tests.builds import builds

# half width, side, apex above the lower corners, radius of the arc: mm
METRIC = (55.0, 41.0, 68.0 - 5.0, 305.0)
INCHES = tuple(25.4 * value for value in (4.33 / 2, 1.61, 2.68 - 0.20, 12.0))
FAR = 500.0


def arc(half, radius):
    z = np.linspace(half, -half, 1501)
    centre = np.sqrt(radius**2 - half**2)
    return list(zip(z, centre - np.sqrt(radius**2 - z**2), strict=True))


def halves(printed):
    """The opening without its roof and without its floor: the sides go on for ever."""
    half, side, apex, radius = printed
    open_above = Polygon([(-half, FAR), (half, FAR), *arc(half, radius)])
    open_below = Polygon([(-half, -FAR), (half, -FAR), (half, side), (0, apex), (-half, side)])
    for one in (open_above, open_below):
        prepare(one)
    return open_above, open_below, 2 * half


OPENINGS = [halves(METRIC), halves(INCHES)]


def first_true(holds, low, high):
    """The end of the stretch where ``holds`` turns true, to a micrometre."""
    while abs(high - low) > 1e-3:
        middle = (low + high) / 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return high


def slack_of(section):
    """The least of depth and width that is left for a section in both openings."""
    least = np.inf
    left, bottom, right, top = section.bounds
    for open_above, open_below, width in OPENINGS:
        least = min(least, width - (right - left))
        if right - left > width:
            continue

        def clears(shift, of=open_above):
            return of.covers(affinity.translate(section, 0, shift))

        def fits(shift, of=open_below):
            return of.covers(affinity.translate(section, 0, shift))

        up = first_true(clears, -10 - bottom, 10 - bottom)
        down = first_true(fits, 80 - bottom, -20 - top)
        least = min(least, down - up)
    return least


def section_at(build, x, *, covered):
    blade, dress = build.blade, build.protection
    points = section_outline(build, x) - [0, bow(blade, np.array([x]))[0]]
    section = Polygon(points)
    if not covered:
        return section
    film = dress.face_film.thickness_mm if dress.face_film else 0
    tape = dress.edge_tape.thickness_mm if dress.edge_tape else 0
    half = points[:, 0].max()
    side = points[points[:, 0] > half - 1e-9, 1]
    low, high = side.min() - film, side.max()
    return unary_union(
        [
            Polygon(points - [0, film]),
            section,
            box(half - 0.01, low, half + tape, high + 1e-9),
            box(-half - tape, low, -half + 0.01, high + 1e-9),
        ]
    ).convex_hull


def sections(build, *places):
    # at the toe the guard is all round: away from it
    return [*np.linspace(6.5, build.blade.length_mm, 24), *[x for x in places if x > 6]]


@settings(max_examples=25, deadline=None)
@given(builds(), st.booleans())
def test_margin_is_what_polygons_leave(build, covered):
    passage = through_gauge(build)[covered]
    slacks = {
        x: slack_of(section_at(build, float(x), covered=covered))
        for x in sections(build, passage.from_toe_mm)
    }
    assert min(slacks.values()) >= passage.margin_mm - 0.03
    if passage.from_toe_mm > 6:
        assert slacks[passage.from_toe_mm] == pytest.approx(passage.margin_mm, abs=0.03)


def test_printed_arc_meets_its_printed_drop():
    # 0.5 cm exactly; the inches are rounded: 0.197 in for 0.20 in
    assert min(y for _z, y in arc(METRIC[0], METRIC[3])) == pytest.approx(-5.0, abs=1e-4)
    assert min(y for _z, y in arc(INCHES[0], INCHES[3])) / 25.4 == pytest.approx(-0.197, abs=5e-4)
