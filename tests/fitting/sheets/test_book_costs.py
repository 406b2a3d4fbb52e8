"""The costs part of the book."""

import json

import pytest
from pydantic import ValidationError

from fitting.sheets.book import Book
from fitting.sheets.book_costs import Costs
from fitting.sheets.default_book import DEFAULT_BOOK


@pytest.mark.parametrize("field", ["hour_rate", "handle_turning_loss_g"])
@pytest.mark.parametrize("value", [-0.1, 1e6, float("nan"), "30"])
def test_costs_out_of_bounds_are_refused(field, value):
    with pytest.raises(ValidationError):
        Costs.model_validate({field: value})


def test_book_of_an_older_program_gets_the_usual_costs():
    older = DEFAULT_BOOK.model_dump(mode="json")
    del older["costs"]

    assert Book.model_validate_json(json.dumps(older)).costs == Costs()
