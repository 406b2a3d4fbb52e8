"""Finished bats without an owner that could be the bat of a commission."""

import pytest

from tests.workshop.match.floors import a_waiting_bat, agreed_build, today
from workshop.match.floor import matched
from workshop.match.told import as_content
from workshop.stock.stock_bats import lay_by

pytestmark = pytest.mark.django_db


def on_the_shelf(maker, bat, **changes):
    """A finished bat just like the agreed one, but for the changes."""
    build, weighing = agreed_build(bat), bat.agreed.snapshot["weighing"]
    values = {
        "kind": "finished",
        "length_code": build["length_code"],
        "mass": round(build["mass_g"]["target"] * 10),
        "balance": round(weighing["balance_from_toe_mm"] * 10),
        "grade": build["willow"]["grade"],
    }
    return lay_by(**{**values, **changes}, cleft=None, bat=None, words="from the window", by=maker, cost=None)


def offered():
    content = as_content(matched(today=today()))
    return [row["off_shelf"] for row in (*content["assigned"], *content["unmatched"])]


def test_finished_bat_of_the_same_length_mass_and_balance_could_be_it(player, maker):
    bat = a_waiting_bat(player, maker)
    stock_bat = on_the_shelf(maker, bat)

    assert offered() == [[stock_bat.label]]


def test_nearest_in_mass_comes_first(player, maker):
    bat = a_waiting_bat(player, maker)
    target = round(agreed_build(bat)["mass_g"]["target"] * 10)
    further = on_the_shelf(maker, bat, mass=target + 120)
    nearer = on_the_shelf(maker, bat, mass=target - 30)

    assert offered() == [[nearer.label, further.label]]


@pytest.mark.parametrize(
    "changes",
    [
        {"kind": "part_made"},
        {"length_code": "long_handle"},
        {"mass": 13000},
        {"mass": None},
        {"balance": 4000},
        {"balance": None},
        {"grade": 4},
    ],
)
def test_bat_that_differs_could_not(changes, player, maker):
    on_the_shelf(maker, a_waiting_bat(player, maker), **changes)

    assert offered() == [[]]


def test_page_names_it_with_its_figures(maker_client, player, maker):
    stock_bat = on_the_shelf(maker, a_waiting_bat(player, maker))

    page = maker_client.get("/floor/match/").content.decode()

    assert "Off the shelf could be this bat:" in page
    assert f"/floor/stock/bats/{stock_bat.code}/" in page
