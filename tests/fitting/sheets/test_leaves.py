"""A book taken apart into single values and put together again."""

import pytest

from fitting.sheets.book import Book
from fitting.sheets.bounds import allowed_in
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.leaves import leaves, value_at, with_leaves

CONTENT = {"a": 1, "rows": [{"b": 2.5}, {"b": 3}], "pair": [7, 8]}


def test_leaves_are_named_by_their_way():
    assert leaves(CONTENT) == {"a": 1, "rows.0.b": 2.5, "rows.1.b": 3, "pair.0": 7, "pair.1": 8}


def test_what_is_whole_is_not_taken_apart():
    assert leaves(CONTENT, whole=("rows",))["rows"] == CONTENT["rows"]


def test_values_are_put_in_and_the_original_stays():
    changed = with_leaves(CONTENT, {"rows.1.b": 9, "pair.0": 5})

    assert (changed["rows"][1]["b"], changed["pair"]) == (9, [5, 8])
    assert value_at(CONTENT, "rows.1.b") == 3


@pytest.mark.parametrize("name", ["x", "rows.2.b", "rows.b", "a.b", "rows.0.c", "pair.2"])
def test_name_that_leads_nowhere_is_refused(name):
    with pytest.raises(KeyError):
        with_leaves(CONTENT, {name: 1})


def test_whole_book_comes_back():
    content = DEFAULT_BOOK.model_dump(mode="json")

    assert with_leaves(content, leaves(content)) == content


def test_each_place_of_a_fixed_list_has_its_own_bounds():
    allowed = allowed_in(Book, "rules.profiles.full.spine_shares.1")

    assert (allowed.kind, allowed.least, allowed.most) == ("number", 0, 1)
    assert allowed_in(Book, "wish_numbers.swell_low_mm.0").kind == "number"
