"""No label lies on another or leaves the sheet, whatever the bat, the arrangement, the hand and the units."""

from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import ImageFont

from fitting.bat.weigh import weigh
from fitting.drawing.bat_drawing import Layout, canvas_for
from fitting.drawing.canvas import Canvas, text_box
from fitting.drawing.request import Request, plain_mm, soft_mm
from fitting.drawing.views import PARTS
from fitting.sheets.build_sheet import BuildSheet
from tests.builds import a_build, builds
from tests.fitting.drawing.words import PLAIN, sixteenths

FONTS = Path("/usr/share/fonts/truetype/dejavu")


def collisions(canvas: Canvas) -> list[tuple[str, str]]:
    return [(a, b) for (a, one), (b, other) in combinations(canvas.boxes, 2) if one.touches(other)]


def outside(canvas: Canvas) -> list[str]:
    return [
        words
        for words, box in canvas.boxes
        if box.left < 0 or box.right > canvas.width or box.top < 0 or box.bottom > canvas.height
    ]


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    build=builds(),
    compare=st.none() | builds(),
    layout=st.sampled_from(["wide", "bench", "narrow", "print", "full_size"]),
    version_1=st.booleans(),
    part=st.none() | st.sampled_from(PARTS),
    left_handed=st.booleans(),
    inches=st.booleans(),
)
def test_labels_stay_clear_of_each_other_and_on_the_sheet(
    build: BuildSheet,
    compare: BuildSheet | None,
    layout: Layout,
    version_1: bool,
    part: str | None,
    left_handed: bool,
    inches: bool,
) -> None:
    weighing = weigh(build)
    if version_1:
        weighing = weighing.model_copy(update={"response": (), "sweet_spot": None})
    asked = Request(
        build=build,
        weighing=weighing,
        labels=PLAIN,
        show_mm=sixteenths if inches else plain_mm,
        show_soft=sixteenths if inches else soft_mm,
        part=part,
        compare=compare,
        compare_weighing=weigh(compare) if compare else None,
        left_handed=left_handed,
    )

    canvas = canvas_for(asked, layout)

    assert collisions(canvas) == []
    assert outside(canvas) == []


def test_the_check_sees_a_collision() -> None:
    canvas = Canvas(width=100, height=100)
    canvas.text((10, 50), "one", size=12)
    canvas.text((15, 52), "two", size=12)

    assert collisions(canvas) == [("one", "two")]


@pytest.mark.skipif(not FONTS.is_dir(), reason="the widest of the usual faces is not on this machine")
@pytest.mark.parametrize("layout", ["wide", "bench", "narrow", "print", "full_size"])
def test_boxes_are_no_smaller_than_the_words_in_a_wide_face(layout: Layout) -> None:
    faces = {"number": "DejaVuSansMono.ttf", "view": "DejaVuSerif-Bold.ttf", "word": "DejaVuSans.ttf"}
    build = a_build()
    asked = Request(build, weigh(build), PLAIN, plain_mm, part="shaping", compare=build)

    for words, _ in canvas_for(asked, layout).boxes:
        face = (
            "number"
            if words[0].isdigit()
            else "view"
            if words in {"side", "face", PLAIN.sections}
            else "word"
        )
        drawn = ImageFont.truetype(str(FONTS / faces[face]), 100).getlength(words)
        box = text_box((0, 0), words, size=100, anchor="start", face=face, turned=False)
        assert drawn <= box.right - box.left
