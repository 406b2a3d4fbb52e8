"""The book: read back whole, edited by a maker, stamped by its content."""

import json

import pytest

from fitting.recommend import recommend
from fitting.sheets.book import Book
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.snapshot import book_hash, canonical, canonical_json, snapshot_hash
from tests.sheets import fitting


def content() -> dict:
    return json.loads(DEFAULT_BOOK.model_dump_json())


def test_book_is_the_same_after_a_walk_through_json():
    again = read_sheet(Book, DEFAULT_BOOK.model_dump_json())
    assert again == DEFAULT_BOOK
    assert book_hash(again) == book_hash(DEFAULT_BOOK)


def test_stamp_changes_with_any_number_in_it():
    changed = content()
    changed["rules"]["mass_step_g"] += 0.001
    stamps = {book_hash(DEFAULT_BOOK), book_hash(read_sheet(Book, changed))}
    assert len(stamps) == 2
    assert all(len(stamp) == 12 for stamp in stamps)


def test_every_length_has_one_row_that_hangs_together():
    assert len(DEFAULT_BOOK.lengths) == 14
    for row in DEFAULT_BOOK.lengths:
        assert row.blade_mm + row.handle_mm == row.overall_mm
        assert DEFAULT_BOOK.length(row.code) == row


def test_lengths_twice_or_crossed_bounds_are_refused():
    twice = content()
    twice["lengths"].append(twice["lengths"][0])
    with pytest.raises(SheetRefused):
        read_sheet(Book, twice)
    crossed = content()
    crossed["lengths"][3]["mass_low_g"] = 1400
    with pytest.raises(SheetRefused) as refused:
        read_sheet(Book, crossed)
    assert refused.value.faults[0].field == "lengths.3"


@pytest.mark.parametrize(
    ("part", "name", "value"),
    [
        ("trade_limits_adult", "spine_swell_least_mm", 67),
        ("trade_limits_junior", "toe_strong_centre_least_mm", 31),
        ("rules", "density_most_kg_m3", 390),
        ("rules", "shoulder_width_mm", 47),
        ("rules", "junior_upper_bounds_mm", [1400, 1300, 1450, 1500, 1575, 1650, 1727]),
        ("rules", "profiles", {}),
        ("rules", "signs", []),
        ("rules", "signs", [{"subject": "bow", "option": "huge", "points": 1, "fact": "bow.for"}]),
        ("rules", "signs", [{"subject": "bow", "option": "full", "points": 1, "fact": "bow.magic"}]),
    ],
)
def test_numbers_that_leave_no_bat_are_refused(part, name, value):
    edited = content()
    edited[part][name] = value
    with pytest.raises(SheetRefused) as refused:
        read_sheet(Book, edited)
    assert refused.value.faults[0].field.startswith(part)


def test_maker_who_edits_a_number_gets_another_bat():
    edited = content()
    edited["wish_numbers"]["bow_slight_mm"] = 6.5
    assert recommend(fitting(), read_sheet(Book, edited)).build.blade.bow_mm == 6.5
    assert recommend(fitting()).build.blade.bow_mm == 5


def test_maker_who_edits_a_weight_gets_another_choice():
    lofting = fitting(game={"shots": {"lofted": 2}})
    edited = content()
    signs = [one for one in edited["rules"]["signs"] if one["option"] == "full" and one["fact"] == "bow.for"]
    signs[0]["points"] = 3
    assert recommend(lofting).build.blade.bow_mm == 5
    assert recommend(lofting, read_sheet(Book, edited)).build.blade.bow_mm == 12


def test_snapshot_rounds_to_what_can_be_measured():
    kept = canonical(
        {
            "mass_g": {"target": 1150.04},
            "blade": {"stations": [{"spine_mm": 62.96, "scallop": 1.4142}]},
            "pickup_kg_m2": {"target": 0.189764},
            "inertia_kg_m2": {"pickup": 0.1234567},
            "grade": 2,
            "scoop": None,
        }
    )
    assert kept == {
        "mass_g": {"target": 1150},
        "blade": {"stations": [{"spine_mm": 63, "scallop": 1.414}]},
        "pickup_kg_m2": {"target": 0.18976},
        "inertia_kg_m2": {"pickup": 0.12346},
        "grade": 2,
        "scoop": None,
    }
    assert canonical(kept) == kept


def test_snapshot_hash_ignores_order_and_what_rounding_takes_but_nothing_else():
    one = {"mass_g": 1150.0, "blade": {"width_mm": 106.9, "bow_mm": 5}}
    same = {"blade": {"bow_mm": 5.0, "width_mm": 106.9000001}, "mass_g": 1150}
    other = {**one, "mass_g": 1150.1}
    assert snapshot_hash(one) == snapshot_hash(same)
    assert snapshot_hash(one) != snapshot_hash(other)
    assert len(snapshot_hash(one)) == 64


def test_canonical_json_refuses_what_is_no_number():
    with pytest.raises(ValueError, match="JSON"):
        canonical_json({"mass_g": float("nan")})


def test_stamps_of_many_books_are_told_apart_and_each_again_the_same():
    books = [DEFAULT_BOOK.model_copy(update={"version": number}) for number in range(1, 41)]
    stamps = [book_hash(book) for book in books]
    assert len(set(stamps)) == 40
    assert [book_hash(book) for book in books] == stamps


def test_stamp_of_a_book_that_is_gone_is_not_given_to_the_next_in_its_place():
    stamps = [book_hash(DEFAULT_BOOK.model_copy(update={"version": number})) for number in range(1, 41)]
    assert len(set(stamps)) == 40
