"""What people type for lengths and masses, and what is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitting.units import (
    Limits,
    NotUnderstood,
    Typed,
    feet_and_inches,
    inches_and_sixteenths,
    pounds_and_ounces,
    read_length,
    read_mass,
    read_number,
)

HEIGHT = Limits(900, 2300)
BAT_MASS = Limits(400, 1800)
MARK = Limits(0, 600)
HAND = Limits(90, 260)
BAT_LENGTH = Limits(550, 1000)


@pytest.mark.parametrize(
    "text",
    [
        "5'9\"",
        "5′9″",
        "5’9",
        "5' 9''",
        "5 ft 9",
        "5ft9in",
        "5 feet 9 inches",
        "5-9",
        "5/9",
        "5 9",
        "5.9",
        "69 in",
        "69",
        "1752.6",
        "175.26 cm",
        "1,7526 m",
    ],
)
def test_read_length_of_a_height_in_every_way_it_is_written(text: str) -> None:
    assert read_length(text, HEIGHT).value == pytest.approx(1752.6)


@pytest.mark.parametrize(
    ("text", "millimetres", "system"),
    [
        ("175", 1750, "metric"),
        ("175 cm", 1750, "metric"),
        ("1.75", 1750, "metric"),
        ("1,75 m", 1750, "metric"),
        ("1m75", 1750, "metric"),
        ("1,750 mm", 1750, "metric"),
        ("1750", 1750, "metric"),
        ("5.10", 1778, "imperial"),
        ("6'", 1828.8, "imperial"),
        ("6", 1828.8, "imperial"),
        ("5'9½\"", 1765.3, "imperial"),
        ("١٧٥", 1750, "metric"),
    ],
)
def test_read_length_keeps_the_system_typed(text: str, millimetres: float, system: str) -> None:
    typed = read_length(text, HEIGHT)
    assert (typed.value, typed.system) == (pytest.approx(millimetres), system)


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [("33 1/2 in", 850.9), ("33½", 850.9), ('33-1/2"', 850.9), ("85", 850), ("851", 851)],
)
def test_read_length_of_a_bat(text: str, millimetres: float) -> None:
    assert read_length(text, BAT_LENGTH).value == pytest.approx(millimetres)


@pytest.mark.parametrize(
    ("text", "grams", "system"),
    [
        ("2lb 9", 1162.33, "imperial"),
        ("2 lb 9 oz", 1162.33, "imperial"),
        ("2lbs9ozs", 1162.33, "imperial"),
        ("41 oz", 1162.33, "imperial"),
        ("2.8", 1133.98, "imperial"),
        ("2-8", 1133.98, "imperial"),
        ("2/8", 1133.98, "imperial"),
        ("2 8", 1133.98, "imperial"),
        ("2.10", 1190.68, "imperial"),
        ("1.16 kg", 1160, "metric"),
        ("1,16", 1160, "metric"),
        ("1160", 1160, "metric"),
        ("1,160 g", 1160, "metric"),
    ],
)
def test_read_mass_in_every_way_it_is_written(text: str, grams: float, system: str) -> None:
    typed = read_mass(text, BAT_MASS)
    assert (typed.value, typed.system) == (pytest.approx(grams, abs=0.01), system)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("5'9\"", (5, 9)),
        ("5 ft 9", (5, 9)),
        ("5.9", (5, 9)),
        ("5.10", (5, 10)),
        ("5.1", (5, 1)),
        ("5.11", (5, 11)),
    ],
)
def test_read_length_of_feet_point_inches_is_never_decimal_feet(text: str, said: tuple[int, int]) -> None:
    assert feet_and_inches(read_length(text, HEIGHT).value)[:2] == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("2 lb 9 oz", (2, 9)),
        ("2lb 9", (2, 9)),
        ("2.8", (2, 8)),
        ("2.10", (2, 10)),
        ("2.1", (2, 1)),
        ("2-8", (2, 8)),
        ("2/8", (2, 8)),
        ("41 oz", (2, 9)),
    ],
)
def test_read_mass_of_pounds_point_ounces_is_never_decimal_pounds(text: str, said: tuple[int, float]) -> None:
    typed = read_mass(text, BAT_MASS)
    assert (pounds_and_ounces(typed.value), typed.system) == (said, "imperial")


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("17.57 m", "out_of_range"),
        ("5'13\"", "inches_past_eleven"),
        ("5 13", "inches_past_eleven"),
        ("-3", "negative"),
        ("−3", "negative"),
        ("tall", "not_a_length"),
        ("NaN", "not_a_length"),
        ("inf", "not_a_length"),
        ("1e308", "not_a_length"),
        ("1.75.3", "not_a_length"),
        ("5 ft 9 in 3", "not_a_length"),
        ("5.5 ft 3 in", "not_a_length"),
        ("1/0 in", "not_a_length"),
        ("", "not_a_length"),
        ("   ", "not_a_length"),
        ("2 lb", "wrong_unit"),
        ("5.9 ft", "ambiguous"),
        ("90", "ambiguous"),
        ("9" * 60, "too_long"),
    ],
)
def test_read_length_refuses_by_kind(text: str, kind: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_length(text, HEIGHT)
    assert (refused.value.kind, refused.value.given) == (kind, text)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("2 lb 16", "ounces_past_fifteen"),
        ("2.16", "ounces_past_fifteen"),
        ("5 cm", "wrong_unit"),
        ("heavy", "not_a_mass"),
        ("-2 lb", "negative"),
        ("2.8 lb", "ambiguous"),
        ("1.2", "ambiguous"),
        ("5 kg", "out_of_range"),
    ],
)
def test_read_mass_refuses_by_kind(text: str, kind: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_mass(text, BAT_MASS)
    assert refused.value.kind == kind


def test_read_length_ambiguous_names_both_readings() -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_length("9.5", HAND)
    assert [(round(r.value, 1), r.system) for r in refused.value.readings] == [
        (95.0, "metric"),
        (241.3, "imperial"),
    ]


def test_read_length_out_of_range_tells_what_was_understood() -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_length("17.57 m", HEIGHT)
    assert refused.value.readings == (Typed(17570.0, "metric"),)


@pytest.mark.parametrize(("text", "value"), [("2", 2), ("2.5", 2.5), ("2,5", 2.5), (" 7 ", 7)])
def test_read_number_takes_comma_or_point(text: str, value: float) -> None:
    assert read_number(text, Limits(0, 60)) == value


@pytest.mark.parametrize(
    ("text", "kind"),
    [("two", "not_a_number"), ("61", "out_of_range"), ("-1", "negative"), ("nan", "not_a_number")],
)
def test_read_number_refuses_by_kind(text: str, kind: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_number(text, Limits(0, 60))
    assert refused.value.kind == kind


@given(st.integers(9000, 23000))
def test_feet_and_inches_round_trip_stays_within_half_a_step(tenths: int) -> None:
    feet, inches, half = feet_and_inches(tenths / 10)
    assert inches < 12
    back = read_length(f"{feet} ft {inches}{'.5' if half else ''} in", Limits(880, 2320)).value
    assert abs(back - tenths / 10) <= 25.4 / 4 + 1e-9
    assert feet_and_inches(back) == (feet, inches, half)


@given(st.integers(4000, 18000))
def test_pounds_and_ounces_round_trip_never_drifts(tenths: int) -> None:
    pounds, ounces = pounds_and_ounces(tenths / 10)
    assert ounces < 16
    back = read_mass(f"{pounds} lb {ounces} oz", Limits(390, 1810)).value
    assert abs(back - tenths / 10) <= 28.349523125 / 20 + 1e-9
    assert pounds_and_ounces(back) == (pounds, ounces)


@pytest.mark.parametrize(
    ("millimetres", "shown"), [(965.2, (38, 0)), (107.95, (4, 4)), (304.7, (12, 0)), (27.0, (1, 1))]
)
def test_inches_and_sixteenths_are_carried(millimetres: float, shown: tuple[int, int]) -> None:
    assert inches_and_sixteenths(millimetres) == shown


@given(st.text(max_size=45))
def test_read_length_of_any_text_answers_inside_the_limits_or_refuses(text: str) -> None:
    try:
        typed = read_length(text, HEIGHT)
    except NotUnderstood:
        return
    assert HEIGHT.hold(typed.value)


@given(st.text(alphabet="0123456789.,/-' \"lbozkgft", max_size=20))
def test_read_mass_of_any_digits_answers_inside_the_limits_or_refuses(text: str) -> None:
    try:
        typed = read_mass(text, BAT_MASS)
    except NotUnderstood:
        return
    assert BAT_MASS.hold(typed.value)
