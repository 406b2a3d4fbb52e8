"""Unit conversions against NIST Special Publication 811 (2008 edition), Appendix B.

Guide for the Use of the International System of Units (SI), B.8 "Factors for Units Listed Alphabetically":
foot 3.048 E-01 m, inch 2.54 E-02 m, pound (avoirdupois) 4.535 923 7 E-01 kg, ounce (avoirdupois)
2.834 952 E-02 kg. B.6 takes the inch as exactly 25.4 mm, so the foot as 0.3048 m, and the avoirdupois
pound as exactly 0.453 592 37 kg. The printed ounce has seven digits, hence its tolerance of half the last.
"""

import pytest

from fitting.units import Limits, factor, feet_and_inches, pounds_and_ounces, read_length, read_mass

ANY = Limits(0, 1e6)


@pytest.mark.parametrize(
    ("unit", "to", "printed"),
    [
        ("inch", "millimeter", 25.4),
        ("foot", "meter", 0.3048),
        ("pound", "kilogram", 0.45359237),
    ],
)
def test_factor_exact_in_print(unit: str, to: str, printed: float) -> None:
    assert factor(unit, to) == pytest.approx(printed, rel=1e-14)


def test_factor_of_ounce_as_printed() -> None:
    assert factor("ounce", "gram") == pytest.approx(28.34952, abs=0.000005)


@pytest.mark.parametrize(
    ("typed", "millimetres"),
    [("38 in", 38 * 25.4), ("5 ft 9 in", 5 * 304.8 + 9 * 25.4), ("1 ft", 304.8), ("2.64 in", 2.64 * 25.4)],
)
def test_read_length_uses_the_printed_factors(typed: str, millimetres: float) -> None:
    assert read_length(typed, ANY).value == pytest.approx(millimetres, rel=1e-12)


@pytest.mark.parametrize(
    ("typed", "grams"),
    [("1 lb", 453.59237), ("2 lb 9 oz", 2 * 453.59237 + 9 * 28.34952), ("41 oz", 41 * 28.34952)],
)
def test_read_mass_uses_the_printed_factors(typed: str, grams: float) -> None:
    assert read_mass(typed, ANY).value == pytest.approx(grams, abs=41 * 0.000005)


def test_shown_measures_return_to_the_printed_ones() -> None:
    assert feet_and_inches(1752.6) == (5, 9, 0)
    assert pounds_and_ounces(2 * 453.59237 + 8 * 28.34952) == (2, 8.0)
