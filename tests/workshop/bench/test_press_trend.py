"""The curve of one piece over what earlier pieces did."""

import re
from xml.etree import ElementTree

from workshop.bench.press_history import Band
from workshop.bench.press_trend import NARROW, WIDE, Sheet, Trend, draw_trend

BANDS = [Band(1, 0.6, 0.8, 1.0, 9), Band(2, 1.4, 1.7, 2.1, 9)]


def drawn(sheet: Sheet = WIDE, **changes: object) -> str:
    """Return a picture of two passes."""
    values: dict[str, object] = {
        "title": "Loss & more",
        "told": "pass 1: 0.9",
        "points": {1: 0.9, 2: 2.0},
        "bands": BANDS,
        "names": ["1", "2", "3", "rested"],
    }
    return draw_trend(Trend(**{**values, **changes}), sheet)  # type: ignore[arg-type]


def heights(picture: str, words: str) -> list[float]:
    """Return how far down some words stand."""
    return [float(y) for y in re.findall(rf'y="([\d.]+)"[^>]*>{words}<', picture)]


def test_picture_is_whole_and_says_what_it_shows():
    picture = ElementTree.fromstring(drawn())

    names = [one.tag.split("}")[1] for one in picture]
    assert names[:2] == ["title", "desc"]
    assert [picture[0].text, picture[1].text] == ["Loss & more", "pass 1: 0.9"]


def test_greater_loss_stands_higher_and_the_limit_above_it():
    picture = drawn(limit=(5.0, "5 at most"))

    first, second = heights(picture, "0.9")[0], heights(picture, "2")[0]
    assert heights(picture, "5 at most")[0] < second < first


def test_earlier_pieces_are_drawn_only_where_there_are_enough():
    assert 'class="swell"' in drawn()
    assert 'class="swell"' not in drawn(bands=[])


def test_everything_stands_on_the_sheet():
    for sheet in (WIDE, NARROW):
        picture = drawn(sheet, limit=(5.0, "5 at most"))
        numbers = [float(n) for d in re.findall(r' d="M([^"Z]+)', picture) for n in d.split()]
        assert min(numbers) >= 0
        assert max(numbers[0::2]) <= sheet.width
        assert max(numbers[1::2]) <= sheet.height


def test_rebounds_need_not_begin_at_nothing():
    picture = drawn(points={1: 480.0, 2: 492.0}, bands=[], from_zero=False)

    assert not heights(picture, "0")
    assert heights(picture, "480")
