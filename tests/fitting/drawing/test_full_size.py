"""The drawing in true size: a millimetre of it is a millimetre of the bat, in its numbers and on paper."""

from itertools import pairwise
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from fitting.bat.weigh import weigh
from fitting.drawing import draw_bat
from fitting.drawing.full_size import cuts_of, in_rows
from fitting.drawing.request import Request, plain_mm
from fitting.sheets.build_sheet import BuildSheet
from tests.builds import a_build
from tests.fitting.drawing.printed import black_run_mm
from tests.fitting.drawing.shapes import paths, texts
from tests.fitting.drawing.words import PLAIN


def full_size(build: BuildSheet, *, left_handed: bool = False) -> str:
    return draw_bat(build, weigh(build), layout="full_size", labels=PLAIN, left_handed=left_handed)


def test_unit_of_the_drawing_is_a_millimetre_of_paper() -> None:
    sheet = ET.fromstring(full_size(a_build()))

    _, _, width, height = (float(number) for number in sheet.get("viewBox", "").split())
    assert float(sheet.get("width", "").removesuffix("mm")) == width
    assert float(sheet.get("height", "").removesuffix("mm")) == height


@pytest.mark.parametrize("left_handed", [False, True])
def test_views_have_the_sizes_of_the_sheet(left_handed: bool) -> None:
    build = a_build(blade__width_mm=106.4, blade__bow_mm=0)

    svg = full_size(build, left_handed=left_handed)

    side, face = paths(svg, "willow")[:2]
    assert np.ptp(face[:, 0]) == pytest.approx(558, abs=0.02)
    assert np.ptp(face[:, 1]) == pytest.approx(106.4, abs=0.02)
    assert np.ptp(side[:, 0]) == pytest.approx(558, abs=0.02)
    assert np.ptp(side[:, 1]) == pytest.approx(63, abs=0.02)
    handle = np.concatenate(paths(svg, "cane")[:2])
    blade_and_handle = np.concatenate([side, handle])
    assert np.ptp(blade_and_handle[:, 0]) == pytest.approx(851, abs=0.02)


def test_section_of_every_station_stands_at_its_place_in_its_size() -> None:
    build = a_build()

    svg = full_size(build)

    _, face, *sections = paths(svg, "willow")
    toe = face[:, 0].min()
    at = {round(float(shape[:, 0].min() + shape[:, 0].max()) / 2 - toe, 1): shape for shape in sections}
    for station in build.blade.stations:
        shape = at[station.from_toe_mm]
        # The spine's depth is counted from the face's plane, which the crown leaves in the middle only.
        assert np.ptp(shape[:, 1]) == pytest.approx(station.spine_mm, abs=0.05)
    assert np.ptp(at[220.0][:, 0]) == pytest.approx(107, abs=0.02)
    said = texts(svg)
    assert "spine\N{NO-BREAK SPACE}63, edge\N{NO-BREAK SPACE}37" in said
    assert "112" in said


def test_sections_share_rows_without_meeting() -> None:
    asked = Request(a_build(), None, PLAIN, plain_mm)

    rows = in_rows(cuts_of(asked))

    assert sum(len(row) for row in rows) == 8 + 3
    assert len(rows) > 1
    for row in rows:
        assert all(after.start - before.end >= 5 for before, after in pairwise(row))


def test_response_curve_stands_over_its_places_in_true_size() -> None:
    svg = full_size(a_build())

    curve, face = paths(svg, "speed")[0], paths(svg, "willow")[1]
    toe = face[:, 0].min()
    assert curve[:, 0].min() - toe == pytest.approx(40, abs=0.02)
    assert curve[:, 0].max() - toe == pytest.approx(458, abs=0.02)
    zone, sweet = paths(svg, "sweet")[1], weigh(a_build()).sweet_spot
    assert sweet is not None
    assert np.ptp(zone[:, 1]) == pytest.approx(2 * sweet.half_width_mm, abs=0.05)
    assert zone[:, 0].min() - toe == pytest.approx(sweet.from_mm, abs=0.05)


def test_full_size_says_how_to_check_the_print() -> None:
    said = texts(full_size(a_build()))

    assert "100 mm" in said
    assert PLAIN.true_size in said


def test_printed_bar_is_100_mm_long() -> None:
    svg = full_size(a_build())
    bar = paths(svg, "mark")[0]

    level = (bar[:, 1].min() + bar[:, 1].max()) / 2

    assert np.ptp(bar[:, 0]) == 100
    assert black_run_mm(svg, level) == pytest.approx(100, abs=0.2)
