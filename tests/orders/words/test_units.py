"""In which units a player thinks."""

import pytest

from orders.words.units import system_of


@pytest.mark.parametrize(
    ("answers", "system"),
    [
        ({}, "metric"),
        ({"height": {"": "5'9"}}, "imperial"),
        ({"height": {"": "175 cm"}}, "metric"),
        ({"height": {"": "175 cm"}, "bat_mass": {"": "2lb 9"}}, "metric"),
        ({"height": {"": "5'9"}, "bat_mass": {"": "2lb 9"}, "bat_overall": {"": "851 mm"}}, "imperial"),
        ({"height": {"": "tall"}, "bat_mass": {"": "2lb 9"}}, "imperial"),
        ({"level": {"": "club"}, "age": {"": "30"}}, "metric"),
    ],
)
def test_most_typed_measures_decide(answers, system):
    assert system_of(answers) == system
