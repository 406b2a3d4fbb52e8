"""Measures as people read them, and pickup told as the mass of a bat."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitting.bat.weigh import weigh
from fitting.recommend import recommend
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from orders.words.measures import (
    PickupReference,
    like_mass_g,
    say_pickup,
    show_body,
    show_decimals,
    show_length,
    show_mass,
    show_mass_shortly,
)
from orders.words.pickup import LIGHT_KG_M3, picks_up_like, picks_up_like_mass_g, pickup_reference

REFERENCE = PickupReference(light_g=1000, light_kg_m2=0.16, heavy_g=1200, heavy_kg_m2=0.20)


@pytest.mark.parametrize(
    ("millimetres", "system", "words"),
    [
        (851, "metric", "851 mm"),
        (850.9, "imperial", "33 1/2 in"),
        (12.7, "imperial", "1/2 in"),
        (0, "imperial", "0 in"),
        (304.8, "imperial", "12 in"),
        (107.95, "imperial", "4 1/4 in"),
    ],
)
def test_show_length(millimetres: float, system: str, words: str) -> None:
    assert show_length(millimetres, system) == words  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("millimetres", "system", "words"),
    [
        (1750, "metric", "175 cm"),
        (1752.6, "metric", "175.3 cm"),
        (1752.6, "imperial", "5 ft 9 in"),
        (1765.3, "imperial", "5 ft 9½ in"),
        (1828.7, "imperial", "6 ft"),
        (190.5, "imperial", "7½ in"),
        (1536.7, "imperial", "5 ft ½ in"),
    ],
)
def test_show_body(millimetres: float, system: str, words: str) -> None:
    assert show_body(millimetres, system) == words  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("grams", "system", "words"),
    [(1171.6, "metric", "1172 g"), (1133.98, "imperial", "2 lb 8 oz"), (907.1, "imperial", "2 lb 0 oz")],
)
def test_show_mass(grams: float, system: str, words: str) -> None:
    assert show_mass(grams, system) == words  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("grams", "words"), [(1133.98, "2 lb 8"), (1145, "2 lb 8"), (907.2, "2 lb"), (900, "2 lb")]
)
def test_show_mass_shortly_to_the_ounce(grams: float, words: str) -> None:
    assert show_mass_shortly(grams) == words


def test_like_mass_is_linear_between_the_two_weighings() -> None:
    assert like_mass_g(0.16, REFERENCE) == pytest.approx(1000)
    assert like_mass_g(0.18, REFERENCE) == pytest.approx(1100)
    assert like_mass_g(0.20, REFERENCE) == pytest.approx(1200)


@pytest.mark.parametrize(
    ("value", "decimals", "said"),
    [(114.15, 1, "114.2"), (107.97, 1, "108.0"), (-0.06, 1, "-0.1"), (0.32346, 4, "0.3235"), (12, 1, "12.0")],
)
def test_show_decimals_rounds_where_the_formatter_cuts_off(value: float, decimals: int, said: str) -> None:
    assert show_decimals(value, decimals) == said


def test_say_pickup_in_the_words_of_the_trade() -> None:
    assert say_pickup(0.1868, REFERENCE) == "like a 2 lb 8"


@pytest.mark.parametrize(
    ("sd_kg_m2", "ounces"),
    # 5,000 g of the reference bat per kg m2, 28.35 g an ounce
    [(0.0057, "1"), (0.008, "1.5"), (0.0003, "0.5"), (0.0113, "2")],
)
def test_say_pickup_with_the_spread_of_its_measurement_to_the_half_ounce(
    sd_kg_m2: float, ounces: str
) -> None:
    assert say_pickup(0.1868, REFERENCE, sd_kg_m2) == f"like a 2 lb 8, give or take {ounces} oz"


@given(st.floats(0.05, 0.4), st.floats(0.0001, 0.05))
def test_like_mass_grows_with_the_pickup(pickup: float, more: float) -> None:
    assert like_mass_g(pickup + more, REFERENCE) > like_mass_g(pickup, REFERENCE)


@pytest.mark.parametrize("code", ["short_handle", "size_4"])
@pytest.mark.parametrize("density", [LIGHT_KG_M3, 415.0, 460.0])
def test_reference_bat_picks_up_like_its_own_mass_at_any_density(code: str, density: float) -> None:
    player = (
        {"age_years": 12, "height_mm": 1500} if code == "size_4" else {"age_years": 30, "height_mm": 1740}
    )
    sheet = read_sheet(FittingSheet, {"sheet": 1, "player": player, "wishes": {"length_code": code}})
    build = recommend(sheet).build
    weighing = weigh(build, density_kg_m3=density)
    assert picks_up_like_mass_g(build, weighing.inertia_kg_m2.pickup) == pytest.approx(
        weighing.mass_g, abs=0.01
    )
    assert picks_up_like(build, weighing) == f"like a {show_mass_shortly(weighing.mass_g)}"


def test_every_adult_bat_is_told_by_the_short_handle() -> None:
    assert pickup_reference("long_blade") == pickup_reference("short_handle")
    assert pickup_reference("size_4") != pickup_reference("short_handle")
