"""The drawing of a job card: a column a station, and nothing written over anything else."""

import re
from itertools import pairwise

import pytest

from fitting.drawing.on_card import CardRow, draw_for_card
from tests.builds import a_build


def drawn(stations: int = 7):
    length = 558.0
    places = [round(length * number / (stations - 1), 1) for number in range(stations)]
    build = a_build(
        blade__stations=[{"from_toe_mm": at, "spine_mm": 50, "edge_mm": 30, "scallop": 1.2} for at in places]
    )
    rows = [
        CardRow("mm from the toe", tuple(f"{at:.0f}" for at in places)),
        CardRow("spine", tuple(f"{40 + at / 100:.1f}" for at in places)),
        CardRow("read"),
    ]
    return draw_for_card(build, rows, title="A bat", square_from_mm=378, square_words="left square")


def texts(svg):
    """Every written number: where its middle is, its size, and what it says."""
    found = re.findall(
        r'<text class="number" x="([\d.]+)" y="([\d.]+)"[^>]*font-size="([\d.]+)"[^>]*>([^<]*)<', svg
    )
    return [(float(x), float(y), float(size), words) for x, y, size, words in found]


@pytest.mark.parametrize("stations", [3, 8, 20])
def test_every_station_has_a_column_of_its_own(stations):
    numbers = texts(drawn(stations))

    assert len(numbers) == 2 * stations
    row = sorted(one for one in numbers if one[1] == numbers[0][1])
    assert len(row) == stations
    for (x, _y, size, words), (after, _, _, following) in pairwise(row):
        assert after - x > 0.6 * size * (len(words) + len(following)) / 2


def test_rows_stand_under_each_other_at_their_stations():
    numbers = texts(drawn(7))

    assert [words for *_place, words in numbers[:2]] == ["0", "40.0"]
    assert numbers[0][0] == numbers[1][0]
    assert numbers[1][1] > numbers[0][1]


def test_a_row_to_write_in_has_a_box_for_each_station_and_all_rows_their_words():
    svg = drawn(7)

    assert svg.count('class="dimension"') - drawn(6).count('class="dimension"') == 1
    for words in ("mm from the toe", "spine", "read", "left square"):
        assert f">{words}</text>" in svg


def test_all_of_it_stands_on_the_sheet():
    svg = drawn(8)

    found = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
    assert found is not None
    width, height = map(float, found.groups())
    for x, y, _size, _words in texts(svg):
        assert 0 < x < width
        assert 0 < y < height
