"""The response curve and the sweet spot as drawn are those of the weighing, on the axis of the bat."""

import re
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from fitting.bat.weigh import weigh
from fitting.drawing import draw_bat
from fitting.drawing.across import DESK
from fitting.drawing.bat_drawing import Layout
from fitting.drawing.response import response_of, zone
from fitting.sheets.weighing import ResponsePoint, SweetSpot, Weighing
from tests.builds import a_build
from tests.fitting.drawing.shapes import SVG, paths, texts
from tests.fitting.drawing.words import PLAIN, sixteenths

LAYOUTS: tuple[Layout, ...] = ("wide", "bench", "narrow", "print")
SCALE = (DESK.width - 2 * DESK.margin) / 851
SWEET = SweetSpot(peak_from_toe_mm=212, from_mm=164, to_mm=260, half_width_mm=11)


def made(peak_m_s: float = 30.0, at: float = 212.0) -> Weighing:
    """A weighing whose curve is a parabola: 3 % slower 48 mm from its peak, so known at every place."""
    points = tuple(
        ResponsePoint(from_toe_mm=x, exit_speed_m_s=peak_m_s * (1 - 0.03 * ((x - at) / 48) ** 2))
        for x in np.linspace(40, 458, 43).tolist()
    )
    return weigh(a_build()).model_copy(update={"response": points, "sweet_spot": SWEET})


def version_1() -> Weighing:
    return weigh(a_build()).model_copy(update={"response": (), "sweet_spot": None})


@pytest.mark.parametrize("layout", [*LAYOUTS, "full_size"])
def test_sweet_spot_is_said_to_five_millimetres_with_its_reach(layout: Layout) -> None:
    said = " ".join(texts(draw_bat(a_build(), made(), layout=layout, labels=PLAIN)))

    assert "hits hardest about 210, from 165 to 260 (asked: mid)" in said
    assert "fastest off the bat" in said
    assert "97\N{NO-BREAK SPACE}% of that" in said


@pytest.mark.parametrize("layout", LAYOUTS)
def test_weighing_of_the_first_model_is_drawn_as_it_was(layout: Layout) -> None:
    svg = draw_bat(a_build(), version_1(), layout=layout, labels=PLAIN)

    said = " ".join(texts(svg))
    assert "swell at 220 (asked: mid), within 1 from" in said
    assert "of that" not in said
    assert "hits hardest" not in svg
    assert len(paths(svg, "swell")) == 1
    assert not paths(svg, "sweet")
    assert not paths(svg, "speed")


def test_curve_stands_over_its_places_and_peaks_at_its_peak() -> None:
    curve = paths(draw_bat(a_build(), made(), layout="wide", labels=PLAIN), "speed")[0]

    assert curve[:, 0].min() == pytest.approx(DESK.margin + 40 * SCALE, abs=0.06)
    assert curve[:, 0].max() == pytest.approx(DESK.margin + 458 * SCALE, abs=0.06)
    top = curve[curve[:, 1].argmin()]
    assert top[0] == pytest.approx(DESK.margin + 212 * SCALE, abs=2.1)
    assert curve[:, 1].max() - curve[:, 1].min() == pytest.approx(DESK.curve, abs=0.1)


def test_curve_meets_the_line_at_97_percent_where_the_band_ends() -> None:
    svg = draw_bat(a_build(), made(), layout="wide", labels=PLAIN)

    curve, band = paths(svg, "speed")[0][:-2], paths(svg, "sweet")[0]
    # Of the leaders the one at 97 % begins where the sweet spot does.
    level = next(line[0, 1] for line in paths(svg, "leader") if line[0, 0] == band[:, 0].min())
    for end in (band[:, 0].min(), band[:, 0].max()):
        assert np.interp(end, curve[:, 0], curve[:, 1]) == pytest.approx(level, abs=0.15)
    assert (band[:, 0].min() - DESK.margin) / SCALE == pytest.approx(SWEET.from_mm, abs=0.06)
    assert (band[:, 0].max() - DESK.margin) / SCALE == pytest.approx(SWEET.to_mm, abs=0.06)


def test_band_runs_from_the_curve_through_side_and_face() -> None:
    svg = draw_bat(a_build(), made(), layout="wide", labels=PLAIN)

    band, face = paths(svg, "sweet")[0], paths(svg, "willow")[1]

    assert band[:, 1].min() < paths(svg, "speed")[0][:, 1].min()
    assert band[:, 1].max() > face[:, 1].max()


@pytest.mark.parametrize("left_handed", [False, True])
def test_zone_on_the_face_reaches_along_and_across_as_the_sweet_spot(left_handed: bool) -> None:
    svg = draw_bat(a_build(), made(), layout="wide", labels=PLAIN, left_handed=left_handed)

    widest, face = paths(svg, "sweet")[1], paths(svg, "willow")[1]

    from_toe = (
        DESK.width - DESK.margin - widest[:, 0] if left_handed else widest[:, 0] - DESK.margin
    ) / SCALE
    assert from_toe.min() == pytest.approx(SWEET.from_mm, abs=0.1)
    assert from_toe.max() == pytest.approx(SWEET.to_mm, abs=0.1)
    assert np.ptp(widest[:, 1]) / SCALE == pytest.approx(2 * SWEET.half_width_mm, abs=0.2)
    assert widest[:, 1].mean() == pytest.approx((face[:, 1].min() + face[:, 1].max()) / 2, abs=0.2)


def test_zone_is_widest_at_a_peak_that_is_not_in_the_middle_of_its_reach() -> None:
    shape = zone(SweetSpot(peak_from_toe_mm=60, from_mm=40, to_mm=120, half_width_mm=8))

    assert shape[shape[:, 1].argmax(), 0] == pytest.approx(60)
    assert (shape[:, 0].min(), shape[:, 0].max()) == pytest.approx((40, 120))


def test_phone_lays_the_curve_along_the_blade_and_the_depths_at_the_sections() -> None:
    svg = draw_bat(a_build(), made(), layout="narrow", labels=PLAIN)

    curve, side = paths(svg, "speed")[0], paths(svg, "willow")[0]
    a_millimetre = np.ptp(side[:, 1]) / 558
    toe = side[:, 1].max()
    assert (toe - curve[:, 1].max()) / a_millimetre == pytest.approx(40, abs=0.3)
    assert (toe - curve[:, 1].min()) / a_millimetre == pytest.approx(458, abs=0.3)
    assert curve[:, 0].max() < side[:, 0].min()
    assert "spine\N{NO-BREAK SPACE}63, edge\N{NO-BREAK SPACE}37" in texts(svg)


def test_compared_curve_is_told_in_shares_of_this_bats_peak() -> None:
    both = response_of(made(), made(peak_m_s=33.0, at=230.0))
    assert both is not None
    assert both.other_shares is not None

    assert both.other_shares[:, 1].max() == pytest.approx(1.1, abs=0.001)
    assert both.ceiling == pytest.approx(1.1, abs=0.001)
    assert both.floor == pytest.approx(0.2)


def test_compared_curve_is_drawn_broken_and_higher_where_the_other_bat_hits_harder() -> None:
    faster = made(peak_m_s=33.0, at=230.0)

    svg = draw_bat(a_build(), made(), layout="wide", labels=PLAIN, compare=a_build(), compare_weighing=faster)

    other, own = paths(svg, "other")[0], paths(svg, "speed")[0]
    assert other[:, 1].min() < own[:, 1].min() - 5
    assert other[other[:, 1].argmin(), 0] == pytest.approx(DESK.margin + 230 * SCALE, abs=2.5)


def test_other_bat_without_a_curve_leaves_this_ones_alone() -> None:
    alone = draw_bat(a_build(), made(), layout="wide", labels=PLAIN, compare=a_build())

    for other in (None, version_1()):
        svg = draw_bat(
            a_build(), made(), layout="wide", labels=PLAIN, compare=a_build(), compare_weighing=other
        )
        assert svg == alone


def test_share_of_the_reach_is_honest_where_the_curve_ends_before_it_has_fallen() -> None:
    short = SWEET.model_copy(update={"from_mm": 180.0, "to_mm": 244.0})
    weighing = made().model_copy(update={"sweet_spot": short})

    said = texts(draw_bat(a_build(), weighing, layout="wide", labels=PLAIN))

    assert "99\N{NO-BREAK SPACE}% of that" in said


def test_foot_of_the_curve_is_never_below_standing_still() -> None:
    weighing = made()
    slow = tuple(p.model_copy(update={"exit_speed_m_s": p.exit_speed_m_s - 25}) for p in weighing.response)
    response = response_of(weighing.model_copy(update={"response": slow}), None)
    assert response is not None

    assert response.floor == 0
    assert response.shares[:, 1].min() == 0


@pytest.mark.parametrize("layout", [*LAYOUTS, "full_size"])
def test_description_tells_mass_balance_and_sweet_spot(layout: Layout) -> None:
    weighing = made()

    told = ET.fromstring(draw_bat(a_build(), weighing, layout=layout, labels=PLAIN)).findtext(f"{SVG}desc")

    assert told is not None
    assert f"weighs {weighing.mass_g:.0f} g, give or take {weighing.mass_sd_g:.0f} g" in told
    assert f"balances at {weighing.balance_from_toe_mm:.0f}" in told
    assert "hits hardest about 210, from 165 to 260 (asked: mid)" in told


def test_soft_measures_are_worded_as_the_edge_asks() -> None:
    svg = draw_bat(a_build(), made(), layout="wide", labels=PLAIN, show_soft=sixteenths)

    assert any("hits hardest about 8\N{NO-BREAK SPACE}6/16" in words for words in texts(svg))


def test_real_curve_on_paper_is_ink_without_inline_style() -> None:
    svg = draw_bat(a_build(), weigh(a_build()), layout="print", labels=PLAIN)

    assert paths(svg, "speed")
    assert paths(svg, "sweet")
    assert "style=" not in svg
    colours = set(re.findall(r"#[0-9a-f]+", svg))
    assert all(len(set(re.findall("..", c[1:].ljust(6, c[1])))) == 1 for c in colours)
