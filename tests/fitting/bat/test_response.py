from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

from fitting.bat.response import APART_MM, BELOW_SHOULDER_MM, FROM_TOE_MM, reach_of, respond
from fitting.bat.weigh import heft
from fitting.sheets.book_impact import ImpactNumbers
from tests.builds import a_build, builds, extreme_builds
from tests.fitting.bat.golden_store import FILES
from tests.fitting.bat.struck import MATERIALS, curve_of, modes_and_body, weighed
from tests.fitting.bat.test_beam import golden

GOLDEN = {path.stem: golden(path) for path in FILES}
PLACES = np.linspace(40, 458, 43)


def curve(function):
    return CubicSpline(PLACES, function(PLACES))


def answer(build, *, numbers=MATERIALS.impact, long_axis=1.0, apart_mm=APART_MM):
    """Strike a bat; ``long_axis`` is a factor on its inertia about the long axis."""
    modes, body = modes_and_body(build)
    tensor = body.tensor_g_mm2.copy()
    tensor[0, 0] *= long_axis
    pickup = heft(build).inertia_kg_m2.pickup
    body = replace(body, tensor_g_mm2=tensor)
    return respond(build, numbers, body, modes, pickup_kg_m2=pickup, apart_mm=apart_mm)


@given(st.floats(120, 380), st.floats(150, 600))
def test_parabola_has_its_peak_and_reach_exactly(top, wide):
    peak, low, high = reach_of(curve(lambda x: 27 * (1 - ((x - top) / wide) ** 2)), 0.97)
    reach = wide * 0.03**0.5
    assert peak == pytest.approx(top, abs=1e-6)
    # the ends lie between places 1 mm apart on a straight line
    assert low == pytest.approx(max(top - reach, PLACES[0]), abs=0.02)
    assert high == pytest.approx(min(top + reach, PLACES[-1]), abs=0.02)


@pytest.mark.parametrize(("slope", "end"), [(1, 458), (-1, 40)])
def test_speed_that_only_rises_or_falls_peaks_at_the_end_of_what_is_looked_at(slope, end):
    peak, low, high = reach_of(curve(lambda x: 30 + slope * 0.02 * (x - 249)), 0.97)
    fastest = 30 + 0.02 * 209
    reach = 0.03 * fastest / 0.02
    assert peak == end
    assert (low, high) == pytest.approx((end - reach, end) if slope > 0 else (end, end + reach), abs=0.01)


def test_flat_speed_reaches_from_end_to_end():
    _, low, high = reach_of(curve(lambda x: np.full_like(x, 20.0)), 0.97)
    assert (low, high) == (40, 458)


def test_reach_ends_at_the_first_place_that_falls_however_the_curve_goes_on():
    """A second hump beyond a dip is not part of the sweet spot."""

    def two_humps(x):
        return 20 + 5 * np.exp(-(((x - 180) / 50) ** 2)) + 4.8 * np.exp(-(((x - 380) / 40) ** 2))

    peak, low, high = reach_of(curve(two_humps), 0.97)
    assert peak == pytest.approx(180, abs=0.5)
    assert 140 < low < 180 < high < 220


def test_peak_of_a_sheet_is_the_place_of_the_greatest_speed():
    weighing = weighed(a_build())
    spline = curve_of(weighing)
    slope = spline.derivative()
    spot = weighing.sweet_spot
    assert spot.peak_from_toe_mm == pytest.approx(
        brentq(slope, spot.peak_from_toe_mm - 20, spot.peak_from_toe_mm + 20), abs=0.05
    )
    for end in (spot.from_mm, spot.to_mm):
        assert spline(end) / spline(spot.peak_from_toe_mm) == pytest.approx(0.97, abs=1e-5)


@pytest.mark.parametrize("build", GOLDEN.values(), ids=GOLDEN)
def test_response_is_told_from_the_toe_to_the_shoulder_at_most_ten_millimetres_apart(build):
    places = [point.from_toe_mm for point in weighed(build).response]
    assert places[0] == FROM_TOE_MM == 40
    assert places[-1] == pytest.approx(build.blade.length_mm - BELOW_SHOULDER_MM)
    assert BELOW_SHOULDER_MM == 100
    assert 0 < np.diff(places).min() <= np.diff(places).max() <= 10


@pytest.mark.parametrize("build", GOLDEN.values(), ids=GOLDEN)
@pytest.mark.parametrize("apart_mm", [5.0, 1.0])
def test_more_places_along_the_blade_hardly_move_the_peak(build, apart_mm):
    plain, fine = answer(build).sweet_spot, answer(build, apart_mm=apart_mm).sweet_spot
    assert fine.peak_from_toe_mm == pytest.approx(plain.peak_from_toe_mm, abs=0.5)
    assert fine.half_width_mm == pytest.approx(plain.half_width_mm, abs=0.05)


def test_less_inertia_about_the_long_axis_narrows_the_sweet_spot_and_nothing_else():
    found = [answer(a_build(), long_axis=factor) for factor in (0.5, 0.8, 1.0, 2.0)]
    widths = [one.sweet_spot.half_width_mm for one in found]
    assert widths == sorted(widths)
    assert widths[0] < 0.8 * widths[2]
    # half the inertia turns as much at the root of half the offset
    assert widths[0] / widths[2] == pytest.approx(0.5**0.5, rel=0.02)
    assert len({one.sweet_spot.peak_from_toe_mm for one in found}) == 1


def test_half_width_is_where_the_speed_has_fallen_by_the_books_share():
    """Found between three offsets; here by striking just there."""
    build = a_build()
    weighing = weighed(build)
    half = weighing.sweet_spot.half_width_mm
    narrow = answer(build, numbers=MATERIALS.impact.model_copy(update={"peak_share": 0.99})).sweet_spot
    wide = answer(build, numbers=MATERIALS.impact.model_copy(update={"peak_share": 0.90})).sweet_spot
    assert narrow.half_width_mm < half < wide.half_width_mm
    # the loss goes as the square of the offset to begin with
    assert half / narrow.half_width_mm == pytest.approx(3**0.5, rel=0.03)


def test_blade_that_nothing_turns_is_sweet_to_its_sides():
    build = a_build()
    assert answer(build, long_axis=1e6).sweet_spot.half_width_mm == build.blade.width_mm / 2


@pytest.mark.parametrize(
    ("code", "grams", "ball", "swing"),
    [
        ("size_2", 135, 14, 15),
        ("size_5", 135, 18, 19),
        ("harrow", 156, 21, 23),
        ("short_handle", 159, 25, 28),
        ("long_blade", 159, 25, 28),
    ],
)
def test_lengths_are_struck_by_their_own_row_of_the_book(code, grams, ball, swing):
    weighing = weighed(a_build(length_code=code))
    told = weighing.reference_impact
    assert (told.ball_mass_g, told.ball_speed_m_s) == (grams, ball)
    slower = (0.2 / weighing.inertia_kg_m2.pickup) ** 0.27
    assert told.swing_rad_s == pytest.approx(swing * slower, rel=1e-12)
    assert told.pivot_from_toe_mm == 851 - 50


def test_edited_row_of_the_book_is_the_one_that_counts():
    rows = tuple(
        row.model_copy(update={"ball_speed_m_s": 0.0}) if not row.codes else row
        for row in MATERIALS.impact.blows
    )
    numbers = ImpactNumbers(blows=rows)
    still = weighed(a_build(), MATERIALS.model_copy(update={"impact": numbers}))
    assert still.reference_impact.ball_speed_m_s == 0
    assert still.sweet_spot.peak_from_toe_mm < weighed(a_build()).sweet_spot.peak_from_toe_mm - 20


def shifted(swell):
    """The plain blade with its swell elsewhere, the curves on both sides drawn out with it."""
    rows = []
    for station in a_build().blade.stations:
        x = station.from_toe_mm
        moved = x * swell / 220 if x <= 220 else 558 - (558 - x) * (558 - swell) / (558 - 220)
        rows.append({**station.model_dump(mode="json"), "from_toe_mm": moved})
    return a_build(blade__stations=rows)


def of_mass(build, grams):
    def over(density):
        return heft(build, density_kg_m3=density).mass_g - grams

    return weighed(build, density_kg_m3=brentq(over, 300, 600))


def test_swell_higher_up_at_equal_mass_moves_the_peak_up():
    found = [of_mass(shifted(swell), 1150) for swell in (190, 210, 230, 250)]
    peaks = [weighing.sweet_spot.peak_from_toe_mm for weighing in found]
    print("swell 190, 210, 230, 250 mm, 1150 g: peaks", *(f"{peak:.1f}" for peak in peaks))
    assert (np.diff(peaks) > 0).all()
    assert peaks[-1] - peaks[0] > 8
    pickups = [weighing.inertia_kg_m2.pickup for weighing in found]
    assert pickups == sorted(pickups, reverse=True)


def test_mass_at_the_toe_draws_the_peak_to_it_and_speeds_blows_there():
    light, heavy = (
        weighed(a_build(protection__toe_guard={"thickness_mm": 1, "mass_g": grams})) for grams in (1, 40)
    )
    assert heavy.sweet_spot.peak_from_toe_mm < light.sweet_spot.peak_from_toe_mm - 5
    assert heavy.response[0].exit_speed_m_s > light.response[0].exit_speed_m_s
    assert heavy.reference_impact.swing_rad_s < light.reference_impact.swing_rad_s


def test_second_grip_hardly_moves_the_peak():
    one, two = (weighed(a_build(grips__count=count)).sweet_spot for count in (1, 2))
    assert two.peak_from_toe_mm == pytest.approx(one.peak_from_toe_mm, abs=3)


@given(builds())
def test_sweet_spot_lies_in_order_within_what_is_looked_at(build):
    weighing = weighed(build)
    spot, places = weighing.sweet_spot, [point.from_toe_mm for point in weighing.response]
    assert places[0] <= spot.from_mm <= spot.peak_from_toe_mm <= spot.to_mm <= places[-1]
    assert 0 < spot.half_width_mm <= build.blade.width_mm / 2
    assert spot.to_mm - spot.from_mm > 20
    # a ball that comes in is sent back from where the bat hits best
    assert max(point.exit_speed_m_s for point in weighing.response) > 0


@settings(max_examples=60, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
@given(extreme_builds(), st.floats(200, 800), st.floats(0, 30))
def test_no_figure_is_ever_missing_however_strange_the_sheet(build, density, moisture):
    with np.errstate(all="raise", under="ignore"):
        weighing = weighed(build, density_kg_m3=density, moisture_percent=moisture)
    spot, told = weighing.sweet_spot, weighing.reference_impact
    figures = [spot.peak_from_toe_mm, spot.from_mm, spot.to_mm, spot.half_width_mm, told.contact_ms]
    figures += [told.swing_rad_s, told.pivot_from_toe_mm]
    figures += [point.exit_speed_m_s for point in weighing.response]
    figures += [mode.frequency_hz for mode in weighing.modes]
    figures += [place for mode in weighing.modes for place in mode.nodes_from_toe_mm]
    assert np.isfinite(figures).all()
    assert len(weighing.modes) == 3
    assert spot.from_mm <= spot.peak_from_toe_mm <= spot.to_mm
    assert told.contact_ms > 0
