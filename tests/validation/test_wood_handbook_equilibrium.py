"""The moisture that wood comes to in air, against the Wood Handbook's table 4-2.

Source: Glass S. V., Zelinka S. L. (2021) Moisture relations and physical properties of wood, Wood Handbook
ch. 4, USDA Forest Products Laboratory, FPL-GTR-282: table 4-2, printed to a tenth of a percent, against its
equation 4-5. The handbook says of its own data that a tenth is "not meaningful": the check is of the formula
and its constants, not of wood.
"""

import pytest

from workshop.seasoning import equilibrium_moisture

# Temperature in °C (the table's rows are in whole °F), relative humidity in %, printed moisture in %.
TABLE_4_2 = [
    (21.1, 5, 1.3),
    (21.1, 30, 6.2),
    (21.1, 50, 9.2),
    (21.1, 75, 14.4),
    (21.1, 95, 23.9),
    (37.8, 50, 8.7),
    (37.8, 90, 19.5),
    (-1.1, 75, 14.9),
]


@pytest.mark.parametrize(("temperature_c", "humidity_percent", "printed"), TABLE_4_2)
def test_equilibrium_moisture_of_table_4_2(temperature_c, humidity_percent, printed):
    """Within half of the last printed digit."""
    assert equilibrium_moisture(temperature_c, humidity_percent) == pytest.approx(printed, abs=0.05)


def test_equilibrium_moisture_with_constants_for_fahrenheit_is_no_match():
    """The handbook prints constants for °F beside those for °C; fed with 70 they would be far off."""
    assert equilibrium_moisture(70, 75) != pytest.approx(14.4, abs=0.5)
