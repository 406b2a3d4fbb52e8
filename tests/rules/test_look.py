"""The stylesheet's own promises: contrast of its tokens, day and night, and no colour outside them."""

import re
from itertools import product

import pytest

from workshop.environment import ROOT

LOOK = (ROOT / "static" / "look.css").read_text(encoding="utf-8")
GROUNDS = ("paper", "paper-deep", "field")
WORDS = ("ink", "faint", "ball")
DAY, NIGHT = re.findall(r":root \{(.*?)\n\s*\}", LOOK, flags=re.S)[:2]


def tokens(block: str) -> dict[str, str]:
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", block))


def luminance(colour: str) -> float:
    """Relative luminance of WCAG 2.2."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("block", [DAY, NIGHT], ids=["day", "night"])
def test_words_stand_out_from_every_ground(block: str) -> None:
    colours = tokens(block)

    for word, ground in product(WORDS, GROUNDS):
        assert contrast(colours[word], colours[ground]) >= 4.5, (word, ground)


@pytest.mark.parametrize("block", [DAY, NIGHT], ids=["day", "night"])
def test_benchs_ink_stands_out_at_arms_length(block: str) -> None:
    colours = tokens(block)

    assert contrast(colours["ink"], colours["paper"]) >= 7
    assert contrast(colours["on-ink"], colours["ink"]) >= 7


@pytest.mark.parametrize("block", [DAY, NIGHT], ids=["day", "night"])
def test_drawings_lines_stand_out_from_the_wood(block: str) -> None:
    colours = tokens(block)

    for line, ground in product(("ink", "ball"), ("willow", "cane", "willow-light")):
        assert contrast(colours[line], colours[ground]) >= 3, (line, ground)


def test_night_names_the_same_colours_as_day() -> None:
    assert set(tokens(NIGHT)) == set(tokens(DAY))


def test_no_colour_is_named_outside_the_tokens() -> None:
    rules = re.sub(r":root \{.*?\n\s*\}", "", LOOK, flags=re.S)

    assert re.findall(r"#[0-9a-fA-F]{3,8}\b(?=[^{]*\})", rules) == []
