"""The drawing of a build sheet as a file."""

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from django.core.management import call_command

from fitting.recommend import recommend
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from tests.fitting.drawing.printed import black_run_mm
from tests.fitting.drawing.shapes import paths
from workshop.management.commands.draw import MARGIN_MM

README_DRAWING = Path(__file__).parents[3] / "static" / "readme.svg"
README_FITTING = {
    "player": {"age_years": 27, "height_mm": 1757},
    "level": "club",
    "pitches": {"bounce": "medium"},
    "game": {"approach": "balanced"},
}


def the_build(tmp_path: Path) -> Path:
    build = recommend(read_sheet(FittingSheet, README_FITTING)).build
    path = tmp_path / "build.json"
    path.write_text(json.dumps(build.model_dump(mode="json")), encoding="utf-8")
    return path


def test_drawing_in_readme_is_what_the_program_draws_now(tmp_path: Path) -> None:
    call_command("draw", str(the_build(tmp_path)), str(tmp_path / "bat.svg"))

    assert (tmp_path / "bat.svg").read_text() == README_DRAWING.read_text(), (
        "static/readme.svg is stale: fit the sheet of this test and draw it anew with manage.py draw"
    )


def test_drawing_is_sound_xml_on_white_paper(tmp_path: Path) -> None:
    call_command("draw", str(the_build(tmp_path)), str(tmp_path / "bat.svg"))

    sheet = ElementTree.parse(tmp_path / "bat.svg").getroot()
    assert sheet[0].tag.endswith("rect")
    assert sheet[0].get("fill") == "#fff"


def test_full_size_is_in_true_size_on_its_sheet_of_paper(tmp_path: Path) -> None:
    call_command("draw", str(the_build(tmp_path)), str(tmp_path / "bat.svg"), "--full-size")

    svg = (tmp_path / "bat.svg").read_text()
    bar = paths(svg, "mark")[0]
    level = MARGIN_MM + (bar[:, 1].min() + bar[:, 1].max()) / 2
    assert black_run_mm(svg, level) == pytest.approx(100, abs=0.2)


def test_draw_into_a_folder_that_is_not_there_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        call_command("draw", str(the_build(tmp_path)), str(tmp_path / "nowhere" / "bat.svg"))

    told = capsys.readouterr()
    assert left.value.code == 2
    assert told.out == ""
    assert "FILE.svg: cannot be written" in told.err
