"""The readable report of a weighing: the new figures in clear lines, and none that was not computed."""

import pytest

from fitting.bat.weigh import weigh
from fitting.recommend import recommend
from orders.words.reports import report_recommendation, report_weighing
from orders.words.sweet_spot import say_peak, say_reach
from tests.builds import a_build
from tests.sheets import fitting
from tests.weighings import of_model_1, sweet_spot_of


@pytest.fixture(scope="module")
def weighing():
    return weigh(a_build())


def line(report, start):
    (found,) = [row for row in report.splitlines() if row.startswith(start)]
    return found


def test_report_tells_where_it_hits_how_it_bends_and_the_lower_hand(weighing):
    report = report_weighing(weighing, a_build())
    sweet, hand = weighing.sweet_spot, weighing.lower_hand
    assert f"{say_peak(sweet)} from the toe, {say_reach(sweet)}" in line(report, "sweet spot")
    assert f"half width {sweet.half_width_mm:.0f} mm" in line(report, "sweet spot")
    modes = ", ".join(f"{mode.frequency_hz:.0f}" for mode in weighing.modes)
    assert f"{modes} Hz" in line(report, "modes")
    assert f"{weighing.modes[0].nodes_from_toe_mm[0]:.0f} mm" in line(report, "modes")
    assert f"{hand.static_moment_kg_m:.3f} kg m" in line(report, "lower hand")
    assert f"{weighing.centre_of_percussion_from_toe_mm:.0f} mm" in line(report, "percussion")
    assert "159 g at 25 m/s" in report


def test_report_tells_the_spreads(weighing):
    report = report_weighing(weighing, a_build())
    assert f"{weighing.balance_from_toe_mm:.1f} ± {weighing.balance_sd_mm:.1f} mm" in line(report, "balance")
    assert f"± {weighing.pickup_sd_kg_m2:.4f} kg m²" in line(report, "pickup")


def test_report_of_an_older_weighing_leaves_out_what_it_lacks(weighing):
    report = report_weighing(of_model_1(weighing), a_build())
    assert line(report, "balance") == f"balance     {weighing.balance_from_toe_mm:.1f} mm from the toe"
    assert not any(row.startswith(("sweet spot", "modes", "lower hand")) for row in report.splitlines())


def test_report_of_a_recommendation_has_the_same_lines():
    found = recommend(fitting())
    report = report_recommendation(found)
    assert say_peak(sweet_spot_of(found.weighing)) in line(report, "sweet spot")
    assert line(report, "modes").endswith("from the toe")
