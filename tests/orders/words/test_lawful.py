"""What a law check comes to, in one line; and each row with its place."""

import pytest

from fitting.laws import law_check
from orders.words.lawful import book_margin_words, law_rows_worded, lawful_words, tightest_of
from tests.builds import a_build


def rows(level="club", edition=2026, **changes):
    return law_check(a_build(**changes), level=level, edition=edition)


def test_a_lawful_bat_is_said_with_its_level_and_what_is_tightest():
    checked = rows()
    lawful = lawful_words(checked, "club")
    tightest = min((row for row in checked if row.unit == "mm"), key=lambda row: row.margin)
    assert lawful.ok
    assert "Inside the Laws for club cricket." in lawful.words
    assert f"{tightest.margin:.1f}".removesuffix(".0") + " mm to spare" in lawful.words
    assert lawful.by_body == ""


def test_the_place_of_the_tightest_size_is_said_in_the_players_units():
    stations = a_build().model_dump(mode="json")["blade"]["stations"]
    stations[3]["spine_mm"] = 64.5
    checked = rows(blade__stations=stations)
    assert tightest_of(checked).station_from_toe_mm == pytest.approx(220, abs=3)
    assert "220 mm above the toe" in lawful_words(checked, "club").words
    assert "8 3/4 in above the toe" in lawful_words(checked, "club", "imperial").words.replace(
        "\N{NO-BREAK SPACE}", " "
    )


def test_an_unlawful_bat_names_what_breaks_the_laws():
    lawful = lawful_words(rows(blade__width_mm=110), "junior")
    assert not lawful.ok
    assert lawful.words.startswith(
        "Outside the Laws for junior cricket: width of the blade; width in the gauge"
    )


def test_a_covering_of_a_millimetre_is_never_the_tightest():
    checked = rows(protection__face_film={"thickness_mm": 0.9, "mass_g": 15})
    assert tightest_of(checked).what != "face_film"


def test_what_needs_the_national_bodys_word_is_said():
    lawful = lawful_words(rows(handle__other_material={"share": 0.15, "reach_into_splice_mm": 40}), "club")
    assert lawful.ok
    assert "only if your national governing body allows type" in lawful.by_body


def test_the_maker_is_told_what_keeps_less_than_the_books_margin():
    assert "Less than your margin of 1 mm: width of the blade" in book_margin_words(
        rows(blade__width_mm=107.4), 1.0
    )
    assert book_margin_words(rows(blade__width_mm=106), 1.0) == ""


def test_every_row_has_its_place_and_one_is_the_tightest():
    worded = law_rows_worded(rows())
    places = {row["what"]: row["place"] for row in worded}
    assert places["greatest depth"].endswith("mm above the toe")
    assert places["depth in the gauge, bare"].endswith("mm above the toe")
    assert places["overall length"] == ""
    assert sum(row["is_tightest"] for row in worded) == 1
