"""What a drawing says must be what the sheet says, on one axis, in well-formed SVG."""

import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from fitting.bat.outline import edge, spine, swell_from_toe_mm
from fitting.bat.weigh import weigh
from fitting.drawing import bat_small, draw_bat
from fitting.drawing.across import DESK
from fitting.drawing.bat_drawing import Layout
from fitting.drawing.lines import section_places
from fitting.drawing.views import PARTS
from fitting.sheets.build_sheet import BuildSheet
from tests.builds import a_build
from tests.fitting.drawing.shapes import SVG, paths, texts
from tests.fitting.drawing.words import PLAIN, sixteenths

LAYOUTS: tuple[Layout, ...] = ("wide", "bench", "narrow", "print", "full_size")


@pytest.mark.parametrize("layout", LAYOUTS)
def test_drawing_carries_no_inline_style_and_escapes_words(layout: Layout) -> None:
    svg = draw_bat(a_build(), layout=layout, labels=PLAIN)

    root = ET.fromstring(svg)

    assert all("style" not in element.attrib for element in root.iter())
    assert root.get("role") == "img"
    assert root.get("aria-label") == "The bat <drawn>"
    assert root.findtext(f"{SVG}desc") == "851 overall, blade 558, handle 293, width 107, thickest at 220"


@pytest.mark.parametrize("layout", LAYOUTS)
def test_drawing_dimensions_equal_the_sheet(layout: Layout) -> None:
    build = a_build(blade__width_mm=106.4, handle__length_mm=287.5, blade__bow_mm=6.5)
    weighing = weigh(build)

    said = " ".join(texts(draw_bat(build, weighing, layout=layout, labels=PLAIN)))

    for words in ("blade 558", "handle 287.5", "overall 845.5", "width 106.4", "bow 6.5 at 250"):
        assert words in said
    assert f"balances at {round(weighing.balance_from_toe_mm)}" in said
    assert f"swell at {swell_from_toe_mm(build.blade):g}, within 1 from" in said
    assert "104 " in said
    assert "girth under the grip" in said


@pytest.mark.parametrize("layout", LAYOUTS)
def test_drawing_shows_spine_and_edge_at_every_cut(layout: Layout) -> None:
    build = a_build()
    places = section_places(build)
    if layout == "full_size":
        places = [station.from_toe_mm for station in build.blade.stations]

    said = " ".join(texts(draw_bat(build, layout=layout, labels=PLAIN)))

    assert 4 <= len(places) <= 8
    x = np.array(places)
    for place, deep, side in zip(places, spine(build.blade, x), edge(build.blade, x), strict=True):
        for value in (place, deep, side):
            assert re.search(rf"\b{f'{value:.1f}'.removesuffix('.0')}\b", said)


def test_cuts_keep_apart_and_take_stations_of_the_sheet() -> None:
    build = a_build()

    places = section_places(build)

    assert 220 in places
    assert {s.from_toe_mm for s in build.blade.stations} & (set(places) - {220})
    assert all(b - a > build.blade.width_mm for a, b in pairwise(places))


def test_without_weighing_no_balance_is_drawn() -> None:
    svg = draw_bat(a_build(), layout="wide", labels=PLAIN)

    assert not any("balances" in words for words in texts(svg))
    assert not paths(svg, "mark")


def test_straight_blade_says_no_bow() -> None:
    svg = draw_bat(a_build(blade__bow_mm=0), layout="narrow", labels=PLAIN)

    assert not any("bow" in words for words in texts(svg))


def test_side_and_face_stand_on_one_axis() -> None:
    build = a_build()
    scale = (DESK.width - 2 * DESK.margin) / 851

    side, face = paths(draw_bat(build, layout="wide", labels=PLAIN), "willow")[:2]

    for view in (side, face):
        assert view[:, 0].min() == pytest.approx(DESK.margin, abs=0.06)
        assert view[:, 0].max() == pytest.approx(DESK.margin + 558 * scale, abs=0.06)
    assert face[:, 1].max() - face[:, 1].min() == pytest.approx(107 * scale, abs=0.1)
    bowed = 63 + 5 * (1 - ((220 - 250) / 250) ** 2)
    assert side[:, 1].max() - side[:, 1].min() == pytest.approx(bowed * scale, abs=0.3)


def test_left_handers_drawing_is_the_mirror_of_the_axis() -> None:
    right = paths(draw_bat(a_build(), layout="wide", labels=PLAIN), "willow")[:2]
    left = paths(draw_bat(a_build(), layout="wide", labels=PLAIN, left_handed=True), "willow")[:2]

    for one, other in zip(right, left, strict=True):
        assert other[:, 0].min() == pytest.approx(DESK.width - one[:, 0].max(), abs=0.11)
        assert other[:, 1].min() == pytest.approx(one[:, 1].min(), abs=0.11)


def test_phone_stands_the_bat_on_its_toe_with_both_views_level() -> None:
    side, face = paths(draw_bat(a_build(), layout="narrow", labels=PLAIN), "willow")[:2]

    assert side[:, 1].max() == pytest.approx(face[:, 1].max(), abs=0.06)
    assert side[:, 1].min() == pytest.approx(face[:, 1].min(), abs=0.06)
    assert side[:, 0].max() < face[:, 0].min()


@pytest.mark.parametrize("layout", LAYOUTS)
def test_drawing_is_the_same_every_time(layout: Layout) -> None:
    build = a_build()

    assert draw_bat(build, weigh(build), layout=layout, labels=PLAIN) == draw_bat(
        build, weigh(build), layout=layout, labels=PLAIN
    )


@pytest.mark.parametrize("part", PARTS)
def test_part_worked_on_is_marked_on_both_views_and_named(part: str) -> None:
    plain = draw_bat(a_build(), layout="wide", labels=PLAIN)
    marked = draw_bat(a_build(), layout="wide", labels=PLAIN, part=part)

    assert not paths(plain, "at-work")
    assert len(paths(marked, "at-work-wash")) >= 2
    assert f"working: {part}" in texts(marked)


def test_pressed_wood_ends_below_the_splice_and_above_the_toe() -> None:
    scale = (DESK.width - 2 * DESK.margin) / 851

    for shape in paths(draw_bat(a_build(), layout="wide", labels=PLAIN, part="pressing"), "at-work-wash"):
        assert shape[:, 0].min() >= DESK.margin + 20 * scale - 0.1
        assert shape[:, 0].max() <= DESK.margin + (558 - 135) * scale + 0.1


def test_unknown_part_is_refused() -> None:
    with pytest.raises(ValueError, match="polishing"):
        draw_bat(a_build(), layout="wide", labels=PLAIN, part="polishing")


def test_compared_bat_lies_over_this_one_in_broken_lines_on_the_longer_ones_scale() -> None:
    longer = a_build(handle__length_mm=320)

    svg = draw_bat(a_build(), layout="wide", labels=PLAIN, compare=longer)

    over = np.concatenate([shape for shape in paths(svg, "other") if len(shape) > 2])
    assert over[:, 0].max() == pytest.approx(DESK.width - DESK.margin, abs=0.11)
    assert paths(svg, "willow")[0][:, 0].max() == pytest.approx(26 + 558 * 848 / 878, abs=0.11)
    assert "broken line: the other bat" in texts(svg)


def test_print_is_ink_only_and_sized_in_millimetres() -> None:
    svg = draw_bat(a_build(), layout="print", labels=PLAIN, part="shaping")

    colours = set(re.findall(r"#[0-9a-f]+", svg))
    assert all(len(set(re.findall("..", c[1:].ljust(6, c[1])))) == 1 for c in colours)
    assert ET.fromstring(svg).get("width") == "182mm"


def test_lengths_are_worded_as_the_edge_asks() -> None:
    said = texts(draw_bat(a_build(), layout="wide", labels=PLAIN, show_mm=sixteenths))

    assert "blade 21\N{NO-BREAK SPACE}15/16" in said


def test_small_bat_is_ornament_without_a_title_and_an_image_with_one() -> None:
    plain, titled = bat_small(a_build()), bat_small(a_build(), title="0412 & co", part="shaping")

    assert ET.fromstring(plain).get("aria-hidden") == "true"
    assert ET.fromstring(titled).get("aria-label") == "0412 & co"
    assert not paths(plain, "at-work")
    assert paths(titled, "at-work")


def test_small_bats_share_a_scale_so_that_a_childs_bat_looks_smaller(junior: BuildSheet) -> None:
    ends = [max(p[:, 0].max() for p in paths(bat_small(b), "cane")) for b in (a_build(), junior)]

    assert ends[1] - 4 == pytest.approx((ends[0] - 4) * 730 / 851, rel=0.01)


@pytest.fixture
def junior() -> BuildSheet:
    rows = [(0, 32, 20), (160, 54, 31), (300, 42, 26), (478, 32, 20)]
    return a_build(
        length_code="size_3",
        blade__length_mm=478,
        blade__width_mm=95,
        blade__stations=[{"from_toe_mm": x, "spine_mm": s, "edge_mm": e, "scallop": 1.3} for x, s, e in rows],
        blade__bow_peak_from_toe_mm=200,
        handle__length_mm=252,
    )
