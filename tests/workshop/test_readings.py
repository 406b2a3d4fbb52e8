"""What is typed at the bench and at the rack."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop.readings import Plausible, ReadingRefused, as_tenths, plausible, read_typed

SPINE = plausible("mm", 8, 80, target=63)
MASS = plausible("g", 900, 3500)


@pytest.mark.parametrize(
    ("typed", "allowed", "value"),
    [
        ("64", SPINE, 64.0),
        (" 63,5 ", SPINE, 63.5),
        ("63.5 mm", SPINE, 63.5),
        ("6.3cm", SPINE, 63.0),
        ("2.4 kg", MASS, 2400.0),
        ("2350g", MASS, 2350.0),
        ("11,5 %", plausible("percent", 4, 30), 11.5),
        ("8", plausible("count", 2, 25), 8.0),
        ("41.3", plausible("seconds", 15, 90), 41.3),
    ],
)
def test_read_typed(typed: str, allowed: Plausible, value: float):
    assert read_typed(typed, allowed) == value


def test_read_typed_slipped_point_asks_for_what_was_meant():
    with pytest.raises(ReadingRefused) as refused:
        read_typed("6.4", SPINE)

    assert refused.value.kind == "out_of_range"
    assert refused.value.given == "6.4"
    assert refused.value.meant == 64.0
    assert (refused.value.allowed.least, refused.value.allowed.most) == (31.5, 80)


def test_read_typed_kilograms_without_unit_asks_for_grams():
    with pytest.raises(ReadingRefused) as refused:
        read_typed("2.4", MASS)

    assert refused.value.meant == 2400.0


@pytest.mark.parametrize(
    "typed", ["", "tall", "NaN", "-3", "1e3", "inf", "64 g", "6 4", "٦٤", "9" * 40, "5'13\""]
)
def test_read_typed_nonsense_is_no_reading(typed: str):
    with pytest.raises(ReadingRefused) as refused:
        read_typed(typed, SPINE)

    assert refused.value.kind == "not_a_reading"


def test_read_typed_half_a_grain_is_refused():
    with pytest.raises(ReadingRefused) as refused:
        read_typed("7.5", plausible("count", 2, 25))

    assert refused.value.kind == "not_whole"


def test_as_tenths_counts_pieces_whole():
    assert as_tenths(63.5, "mm") == 635
    assert as_tenths(8.0, "count") == 8


@given(st.floats(8, 80))
def test_read_typed_gives_back_what_was_shown(value: float):
    shown = f"{value:.1f}"

    assert read_typed(shown, plausible("mm", 8, 80)) == float(shown)


@given(st.text(max_size=20))
def test_read_typed_any_text_is_read_or_refused(text: str):
    try:
        value = read_typed(text, MASS)
    except ReadingRefused:
        return
    assert 900 <= value <= 3500
