"""Every number of the book stands in a chapter, under words and bounds of its own."""

import pytest

from fitting.sheets.default_book import DEFAULT_BOOK
from orders.commissions.editions import book_leaves
from orders.words.book import has_words, say_book_field
from workshop.book.chapters import CHAPTERS, FOLLOWS, chapter_of, is_number, names_in
from workshop.book.form import ChapterForm
from workshop.book.pending import Pending, shown

LEAVES = book_leaves(DEFAULT_BOOK)
NUMBERS = [name for name, value in LEAVES.items() if is_number(value) and name != "version"]
FRESH = Pending(seen=1)


def form(key):
    chapter = next(one for one in CHAPTERS if one.key == key)
    return ChapterForm.of_book(chapter, DEFAULT_BOOK, FRESH)


def boxes(key):
    found = []
    for section in form(key).sections():
        found += section.boxes
        found += [box for row in section.table.rows for box in row[2]] if section.table else []
    return found


def test_every_number_stands_in_one_chapter_once():
    shown_names = [box.name for chapter in CHAPTERS for box in boxes(chapter.key)]

    assert sorted(shown_names) == sorted(NUMBERS)


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("lengths.3.blade_mm", "lengths"),
        ("trade_limits_junior.bow_most_mm", "limits"),
        ("law_margin_mm", "limits"),
        ("wish_numbers.bow_slight_mm", "wishes"),
        ("rules.signs", "signs"),
        ("rules.mass_step_g", "thresholds"),
        ("rules.profiles.full.upper_share", "shapes"),
        ("materials.canes.plain_cane.modulus.gpa", "materials"),
        ("materials.spreads.depth_mm", "spreads"),
        ("materials.impact.contact.press", "blow"),
        ("bench.tolerances.girth_mm", "bench"),
        ("costs.hour_rate", "costs"),
        ("rules.something_new_mm", "thresholds"),
    ],
)
def test_field_stands_in_the_chapter_of_its_name(name, key):
    assert chapter_of(name).key == key


def test_every_number_has_words():
    assert not [name for name in NUMBERS if not has_words(name)]


def test_field_without_words_reads_as_its_name():
    assert say_book_field("rules.something_quite_new_mm") == "something quite new"


def test_box_tells_unit_bounds_and_what_came():
    box = next(box for box in boxes("wishes") if box.name == "wish_numbers.bow_slight_mm")

    assert (box.label, box.unit, box.bounds, box.value, box.came_as) == (
        "slight bow",
        "mm",
        "4 to 8",
        "5",
        "5",
    )
    assert not box.is_changed


def test_bounds_stand_with_column_or_row():
    (lengths,) = (section.table for section in form("lengths").sections())
    (limits,) = (section.table for section in form("limits").sections() if section.table)

    assert ("blade, mm", "380 to 620") in lengths.columns
    assert limits.columns == (("adult", ""), ("junior", ""))
    assert ("toe, least at its centre, mm", "8 to 70") in [row[:2] for row in limits.rows]


@pytest.mark.parametrize("key", [chapter.key for chapter in CHAPTERS if chapter.key != "signs"])
def test_chapter_sent_as_it_came_changes_nothing(key):
    filled = form(key)
    sent = ChapterForm.of_post(filled.chapter, DEFAULT_BOOK, dict(filled.typed))

    assert names_in(filled.chapter, LEAVES)
    assert sent.read(FRESH, DEFAULT_BOOK) == FRESH


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (5, "5"),
        (5.0, "5"),
        (0.0625, "0.0625"),
        (1 / 15, "0.066667"),
        (2.6e6, "2600000"),
        (-7, "-7"),
        (1295.4, "1295.4"),
    ],
)
def test_number_is_shown_without_exponent(value, text):
    assert shown(value) == text


def test_overall_length_follows_from_blade_and_handle():
    filled = form("lengths")
    row = next(f"lengths.{n}" for n, one in enumerate(DEFAULT_BOOK.lengths) if one.code == "short_handle")
    typed = {**filled.typed, f"{row}.blade_mm": "560"}

    changed = ChapterForm.of_post(filled.chapter, DEFAULT_BOOK, typed).read(FRESH, DEFAULT_BOOK)

    length = changed.on(DEFAULT_BOOK).length("short_handle")
    assert (length.blade_mm, length.overall_mm) == (560, 853)
    assert changed.values == {f"{row}.blade_mm": 560.0, f"{row}.{FOLLOWS}": 853.0}
