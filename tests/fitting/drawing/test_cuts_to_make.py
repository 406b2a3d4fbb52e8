"""Where to take how much off, drawn: numbers at their stations, bands to scale, labels clear."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fitting.drawing.canvas import Canvas
from fitting.drawing.cuts_to_make import SIZES, CutAt, CutLabels, Layout, canvas_of, draw_cuts, enlarged
from fitting.sheets.build_sheet import BuildSheet
from tests.builds import a_build, builds
from tests.fitting.drawing.shapes import paths, texts

LABELS = CutLabels(
    title="where to cut",
    description="off: {cuts}",
    one_cut="{spine} and {edge} at {at}",
    spine="off the spine, mm",
    edge="off both edges, mm",
    from_toe="mm from the toe",
    cut="to come off, drawn {times} times as deep as it is",
    target="where the targets lie",
    limit="as far as the limits let",
    nothing="nothing is to come off",
)
LAYOUTS: tuple[Layout, ...] = ("wide", "narrow", "print")


def cuts_for(build: BuildSheet, *depths: float) -> list[CutAt]:
    """Cuts at the stations, the last depth to the end; a target 1.5 mm down and 4 mm of room."""
    stations = build.blade.stations
    spread = [*depths, *[depths[-1]] * len(stations)][: len(stations)]
    return [
        CutAt(station.from_toe_mm, depth, round(depth * 0.6, 2), 1.5, 1.0, 4.0, 3.0)
        for station, depth in zip(stations, spread, strict=True)
    ]


def collisions(canvas: Canvas) -> list[tuple[str, str]]:
    return [(a, b) for (a, one), (b, other) in combinations(canvas.boxes, 2) if one.touches(other)]


def outside(canvas: Canvas) -> list[str]:
    return [
        words
        for words, box in canvas.boxes
        if box.left < 0 or box.right > canvas.width or box.top < 0 or box.bottom > canvas.height
    ]


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(
    build=builds(),
    depths=st.lists(st.floats(0, 12), min_size=1, max_size=40),
    layout=st.sampled_from(LAYOUTS),
)
def test_labels_stay_clear_and_on_the_sheet(build: BuildSheet, depths: list[float], layout: Layout):
    canvas = canvas_of(build, cuts_for(build, *depths), LABELS, layout=layout)

    assert collisions(canvas) == []
    assert outside(canvas) == []


def test_every_cut_has_its_number_and_a_station_without_one_has_none():
    build = a_build()
    svg = draw_cuts(build, cuts_for(build, 1.5, 0.5, 0.0), LABELS)

    words = texts(svg)
    assert words.count("1.5") == words.count("0.9") == 1
    assert words.count("0.5") == words.count("0.3") == 1
    # Every station has its place; only two have cuts.
    assert len([one for one in words if one in {f"{s.from_toe_mm:g}" for s in build.blade.stations}]) >= 8


@pytest.mark.parametrize("layout", LAYOUTS)
def test_band_is_as_deep_as_its_cut_times_what_the_legend_says(layout: Layout):
    build = a_build()
    cuts = cuts_for(build, 0.8)
    sizes = SIZES[layout]
    scale = (sizes.width - 2 * sizes.margin) / (build.blade.length_mm + 46)
    times = enlarged(cuts, scale, sizes.strip)

    svg = draw_cuts(build, cuts, LABELS, layout=layout)

    assert any(f"drawn {times} times" in one for one in [" ".join(texts(svg))])
    first = next(line for line in paths(svg, "at-work-wash"))
    assert np.ptp(first[:, 1]) == pytest.approx(0.8 * times * scale, abs=0.2)
    assert np.ptp(first[:, 0]) == pytest.approx(build.blade.length_mm * scale, abs=0.2)


def test_nothing_to_cut_is_said_and_has_no_band():
    build = a_build()

    svg = draw_cuts(build, cuts_for(build, 0.0), LABELS)

    assert "<desc>nothing is to come off</desc>" in svg
    assert paths(svg, "at-work-wash") == []


def test_limit_that_lies_below_the_strip_is_not_drawn_at_its_foot():
    build = a_build()
    far = [CutAt(c.from_toe_mm, 1.0, 1.0, 0.5, 0.5, 40.0, 40.0) for c in cuts_for(build, 1.0)]
    near = [CutAt(c.from_toe_mm, 1.0, 1.0, 0.5, 0.5, 1.0, 1.0) for c in cuts_for(build, 1.0)]

    level = [line for line in paths(draw_cuts(build, near, LABELS), "leader") if len(line) >= 2]
    none = [line for line in paths(draw_cuts(build, far, LABELS), "leader") if len(line) >= 2]

    def flat(lines: list[np.ndarray]) -> int:
        return sum(np.ptp(line[:, 1]) < 0.1 and np.ptp(line[:, 0]) > 300 for line in lines)

    assert flat(level) == 2
    assert flat(none) == 0


def test_words_are_escaped_and_the_same_bat_gives_the_same_text():
    build = a_build()
    labels = CutLabels(**{**LABELS.__dict__, "target": "<target> & co"})

    svg = draw_cuts(build, cuts_for(build, 1.0), labels)

    assert "&lt;target&gt; &amp; co" in svg
    assert svg == draw_cuts(build, cuts_for(build, 1.0), labels)
