"""Many fitting sheets at once: each answered as it would be alone, in order, whatever others say."""

import json
from io import StringIO

import pytest
from django.core.management import call_command

from fitting.recommend import recommend, with_effects
from fitting.sheets.recommendation import Recommendation
from tests.seeded_sheets import seeded_sheets
from workshop.management.commands.fit import FEW_LINES

MANY = FEW_LINES + 8
FEW = 6
MANY_EFFECTS = FEW_LINES
BAD = {
    3: "{oops",
    9: '{"sheet": 1, "player": {"age_years": 3, "height_mm": 950}}',
    17: '{"sheet": 1, "player": {"age_years": 30, "height_mm": 2600}}',
    30: '{"sheet": 1, "player": {"age_years": 30, "height_mm": NaN}}',
    31: "",
    41: '{"sheet": 1, "player": {"age_years": 30, "height_mm": 1750, "shoe": 44}}',
}


def fit_lines(tmp_path, lines, *options):
    """The answers to lines as content, and the exit status."""
    path = tmp_path / "sheets.jsonl"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    out, status = StringIO(), 0
    try:
        call_command("fit", "--lines", str(path), *options, stdout=out)
    except SystemExit as leaving:
        status = int(leaving.code or 0)
    return [json.loads(line) for line in out.getvalue().splitlines()], status


def written(sheet):
    return sheet.model_dump_json(exclude_none=True)


@pytest.fixture(scope="module")
def sheets():
    """Likely sheets, as many as are answered by several processes."""
    return list(seeded_sheets(MANY, seed=40))


def test_many_lines_are_answered_in_order_as_one_by_one(tmp_path, sheets):
    answers, status = fit_lines(tmp_path, [written(sheet) for sheet in sheets])
    assert status == 0
    assert answers == [recommend(sheet).model_dump(mode="json") for sheet in sheets]


def test_few_and_many_lines_are_answered_the_same(tmp_path, sheets):
    lines = [written(sheet) for sheet in sheets]
    many, _ = fit_lines(tmp_path, lines)
    few, _ = fit_lines(tmp_path, lines[:FEW])
    assert many[:FEW] == few


def test_bad_lines_are_told_by_their_numbers_and_the_others_go_on(tmp_path, sheets):
    lines = [written(sheet) for sheet in sheets]
    for number, line in BAD.items():
        lines[number - 1] = line
    answers, status = fit_lines(tmp_path, lines)
    assert status == 2
    assert len(answers) == MANY
    refused = {number for number, one in enumerate(answers, start=1) if "errors" in one}
    assert refused == set(BAD)
    for number in BAD:
        told = answers[number - 1]
        assert set(told) == {"line", "errors"}
        assert told["line"] == number
        assert told["errors"]
    assert answers[8]["errors"] == ["player.age_years: 3 given; a whole number from 4 to 100 allowed"]
    assert answers[16]["errors"] == ["player.height_mm: 2600 given; a number from 900 to 2300 allowed"]
    assert answers[0] == recommend(sheets[0]).model_dump(mode="json")
    assert answers[-1] == recommend(sheets[-1]).model_dump(mode="json")


def test_lines_with_alternatives_have_every_effect_and_the_other_bats(tmp_path, sheets):
    answers, status = fit_lines(
        tmp_path, [written(sheet) for sheet in sheets[:MANY_EFFECTS]], "--alternatives"
    )
    assert status == 0
    assert len(answers) == MANY_EFFECTS
    for answer, sheet in zip(answers, sheets, strict=False):
        for reason in answer["reasons"]:
            for one in reason["alternatives"]:
                assert bool(one["effect"]) == (reason["field"] != "willow.grade"), reason["field"]
        plain = recommend(sheet)
        assert answer["build"] == plain.build.model_dump(mode="json")
        assert answer["weighing"] == plain.weighing.model_dump(mode="json")
        assert sheet.player.age_years >= 18 or answer["others"] == []
    grown = [one for one, sheet in zip(answers, sheets, strict=False) if sheet.player.age_years >= 18]
    assert sum(len(one["others"]) == 2 for one in grown) > len(grown) / 2
    assert answers[FEW - 1] == with_effects(sheets[FEW - 1]).model_dump(mode="json")


def test_lines_without_alternatives_have_neither(tmp_path, sheets):
    answers, _ = fit_lines(tmp_path, [written(sheet) for sheet in sheets[:FEW]])
    for answer in answers:
        read = Recommendation.model_validate_json(json.dumps(answer))
        assert read.others == ()
        assert not any(one.effect for reason in read.reasons for one in reason.alternatives)
