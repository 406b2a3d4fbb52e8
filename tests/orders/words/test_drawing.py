"""The drawing's words in the reader's units: what is known roughly is not told in sixteenths."""

from xml.etree import ElementTree as ET

import pytest

from fitting.bat.weigh import weigh
from orders.words.drawing import drawing_for, soft_inches
from tests.builds import a_build

DESC = "{http://www.w3.org/2000/svg}desc"


@pytest.mark.parametrize(
    ("value_mm", "words"),
    [
        (212.0, "8\N{NO-BREAK SPACE}1/4"),
        (215.0, "8\N{NO-BREAK SPACE}1/2"),
        (203.2, "8"),
        (165.0, "6\N{NO-BREAK SPACE}1/2"),
    ],
)
def test_rough_length_in_inches_is_told_to_the_quarter(value_mm: float, words: str) -> None:
    assert soft_inches(value_mm) == words


def test_text_alternative_is_in_the_readers_units() -> None:
    build = a_build()
    weighing = weigh(build)

    told = {
        units: ET.fromstring(str(drawing_for(build, weighing, units=units)["narrow"])).findtext(DESC)
        for units in ("mm", "in")
    }

    assert told["mm"] is not None
    assert told["in"] is not None
    assert f"weighs {weighing.mass_g:.0f} g, give or take" in told["mm"]
    assert "weighs 2 lb 8" in told["in"]
    assert "hits hardest about" in told["in"]
    assert told["in"].endswith("measures in inches")


def test_paper_is_drawn_where_it_is_asked_for_and_in_millimetres() -> None:
    build = a_build()

    assert drawing_for(build, weigh(build), units="in")["paper"] is None
    paper = drawing_for(build, weigh(build), units="in", paper=True)["paper"]
    assert paper is not None
    assert "blade 558" in paper
