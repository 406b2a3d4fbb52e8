"""The new bat beside the one in use, as a commission's page shows it."""

import pytest

from fitting.recommend import recommend
from orders.commissions.shown import differences
from tests.sheets import fitting

pytestmark = pytest.mark.django_db


def pickup_row(change_of_balance_mm):
    """The row of a bat in use like the new one, but for its balance."""
    found = recommend(fitting())
    bat = found.weighing
    sheet = fitting(
        present_bat={
            "mass_g": bat.mass_g,
            "balance_from_toe_mm": bat.balance_from_toe_mm + change_of_balance_mm,
            "overall_length_mm": bat.overall_length_mm,
        }
    )
    rows = [row for row in differences(sheet, found.build, bat) if row.what == "to pick up"]
    return rows[0] if rows else None


def test_pickup_of_the_bat_in_use_is_shown_with_its_spread():
    row = pickup_row(0)
    assert "give or take" in row.present
    assert "give or take" not in row.new


@pytest.mark.parametrize(
    ("nearer_the_handle_mm", "words"),
    # 3 % of a pickup is the spread; 5 mm of balance move it by 1.5 %, 30 mm by 9 %
    [(5, "about the same"), (-5, "about the same"), (30, "heavier to lift"), (-30, "lighter to lift")],
)
def test_difference_within_the_spread_is_none(nearer_the_handle_mm, words):
    assert pickup_row(nearer_the_handle_mm).change == words


def test_pickup_of_what_is_no_bat_is_not_shown():
    assert pickup_row(160) is None
