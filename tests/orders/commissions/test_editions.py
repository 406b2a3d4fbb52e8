"""Editions of the book: kept one after the other, read by programs that came later."""

import pytest

from fitting.sheets.book import Book
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from fitting.sheets.snapshot import book_hash
from orders.commissions.book_in_force import book_in_force, brought_up
from orders.commissions.editions import (
    SIGNS,
    changes_between,
    edition_numbered,
    keep_edition,
    number_in_force,
)
from orders.commissions.models import BookVersion
from orders.commissions.refusals import MovedOn

pytestmark = pytest.mark.django_db

SAFER = DEFAULT_BOOK.model_copy(update={"law_margin_mm": 1.5})


def test_the_first_that_is_kept_is_the_second(maker):
    assert number_in_force() == DEFAULT_BOOK.version == 1

    kept = keep_edition(SAFER, seen=1, by=maker, note="safer")

    assert (kept.number, kept.by, kept.note) == (2, maker, "safer")
    assert book_in_force() == SAFER.model_copy(update={"version": 2})
    assert kept.hash == book_hash(book_in_force())


@pytest.mark.parametrize("seen", [0, 1, 3])
def test_only_upon_the_edition_in_force(maker, seen):
    keep_edition(SAFER, seen=1, by=maker, note="first")

    with pytest.raises(MovedOn):
        keep_edition(DEFAULT_BOOK, seen=seen, by=maker, note="second")

    assert BookVersion.objects.count() == 1


def test_editions_are_found_by_number(maker):
    keep_edition(SAFER, seen=1, by=maker, note="safer")

    assert edition_numbered(1) == DEFAULT_BOOK
    assert edition_numbered(2) == book_in_force()
    assert edition_numbered(3) is None


def test_differences_name_field_and_both_values():
    assert changes_between(DEFAULT_BOOK, SAFER) == {"law_margin_mm": (1, 1.5)}
    assert changes_between(DEFAULT_BOOK, DEFAULT_BOOK.model_copy(update={"version": 9})) == {}


def test_signs_are_one_value():
    rules = DEFAULT_BOOK.rules.model_copy(update={"signs": DEFAULT_BOOK.rules.signs[1:]})

    (found,) = changes_between(DEFAULT_BOOK, DEFAULT_BOOK.model_copy(update={"rules": rules})).items()

    assert found[0] == SIGNS
    assert len(found[1][0]) == len(found[1][1]) + 1


def test_edition_of_an_older_program_takes_what_it_lacks_from_the_default():
    content = SAFER.model_dump(mode="json")
    del content["rules"]["hand_to_diameter"]
    del content["materials"]["spreads"]["depth_mm"]
    del content["lengths"][3]["spine_mm"]
    content["rules"]["signs"] = [sign for sign in content["rules"]["signs"] if sign["subject"] != "scoop"]

    book = read_sheet(Book, brought_up(content))

    assert book.law_margin_mm == 1.5
    assert book.rules.hand_to_diameter == DEFAULT_BOOK.rules.hand_to_diameter
    assert book.materials.spreads.depth_mm == DEFAULT_BOOK.materials.spreads.depth_mm
    assert book.lengths == DEFAULT_BOOK.lengths
    scoops = [sign for sign in DEFAULT_BOOK.rules.signs if sign.subject == "scoop"]
    assert [sign for sign in book.rules.signs if sign.subject == "scoop"] == scoops


def test_whole_edition_is_read_as_it_was_kept():
    content = SAFER.model_dump(mode="json")

    assert read_sheet(Book, brought_up(content)) == SAFER
