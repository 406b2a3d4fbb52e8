"""The command that re-shapes a bat for one cleft: JSON or a report, or one line saying what stops it."""

import json

import pytest

from fitting.bat.reshape import reshape
from fitting.recommend import recommend
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from tests.sheets import fitting
from tests.workshop.management.test_sheet_commands import outside, run, written

__all__ = ["written"]  # a fixture


@pytest.fixture(scope="module")
def build():
    return recommend(fitting()).build


@pytest.fixture
def sheet(written, build):
    return written(build.model_dump_json())


def shape(sheet, density, mass, *more):
    return run("shape", sheet, f"--density={density}", f"--mass={mass}", *more)


def test_shape_prints_the_bat_of_the_core(sheet, build):
    out, err, status = shape(sheet, 398, build.mass_g.target, "--json")
    assert (err, status) == ("", 0)
    content = json.loads(out)
    assert set(content) == {"build", "weighing", "moved", "willow"}
    found = json.loads(reshape(build, 398, build.mass_g.target).model_dump_json())
    assert {key: content[key] for key in found} == found
    assert all(set(row) == {"from_toe_mm", "spine_mm", "edge_mm"} for row in content["moved"])


def test_moved_is_new_less_old(sheet, build):
    content = json.loads(shape(sheet, 390, build.mass_g.target, "--json")[0])
    new = read_sheet(BuildSheet, content["build"]).blade.stations
    for old, now, moved in zip(build.blade.stations, new, content["moved"], strict=True):
        assert moved["spine_mm"] == pytest.approx(now.spine_mm - old.spine_mm, abs=0.0051)
        assert moved["edge_mm"] == pytest.approx(now.edge_mm - old.edge_mm, abs=0.0051)
    assert any(moved["spine_mm"] > 0 for moved in content["moved"])


def test_willow_tells_what_can_become_the_bat(sheet, build):
    willow = json.loads(shape(sheet, 405, build.mass_g.target, "--json")[0])["willow"]
    assert willow["least_kg_m3"] < 405 < willow["most_kg_m3"]
    for shape_of, more in (("thinnest", -1), ("fullest", 1)):
        assert more * (willow[shape_of]["volume_mm3"] - willow["as_drawn"]["volume_mm3"]) > 0


def test_report_tells_mass_and_moves(sheet, build):
    out, err, status = shape(sheet, 398, build.mass_g.target)
    assert (err, status) == ("", 0)
    assert out.startswith("mass 116")
    assert "hits hardest" in out
    assert "can become the bat of this sheet" in out


@pytest.mark.parametrize(
    ("density", "mass", "start", "end"),
    [
        (345, 1165, "needs ", " would do\n"),
        (600, 1165, "may have no more than ", " would do\n"),
        (400, 2900, "needs ", "; no cleft would do for this mass and this sweet spot\n"),
    ],
)
def test_cleft_that_cannot_leaves_with_3_and_one_line(sheet, density, mass, start, end):
    for more in ((), ("--json",)):
        out, err, status = shape(sheet, density, mass, *more)
        assert (out, status) == ("", 3)
        assert err.startswith(start)
        assert err.endswith(end)
        assert err.count("\n") == 1


def test_sweet_spot_out_of_reach_leaves_with_3_and_one_line(written, build):
    aim = build.sweet_spot.model_copy(update={"peak_from_toe_mm": 260.0})
    far = written(build.model_copy(update={"sweet_spot": aim}).model_dump_json())
    out, err, status = shape(far, 410, 1165)
    assert (out, status, err.count("\n")) == ("", 3, 1)
    assert err.startswith("the bat would hit hardest 2")


@pytest.mark.parametrize("given", ["dense", "nan", "-3", "1e9", ""])
def test_impossible_density_or_mass_is_refused_with_2(sheet, given):
    named = given or "nothing"
    assert shape(sheet, given, 1150) == (
        "",
        f"--density: {named} given; a number from 200 to 800 allowed\n",
        2,
    )
    assert shape(sheet, 400, given) == ("", f"--mass: {named} given; a number from 100 to 3000 allowed\n", 2)


def test_build_that_does_not_hang_together_is_refused_by_field(written, build):
    content = build.model_dump(mode="json")
    content["blade"]["stations"][2]["edge_mm"] = 70
    out, err, status = shape(written(content), 400, 1150, "--json")
    assert (out, status) == ("", 2)
    assert err == "blade.stations.2.edge_mm: 70 given; a number from 5 to 60 allowed\n"


def test_another_book_sets_the_limits(written, sheet, build):
    adult = DEFAULT_BOOK.trade_limits_adult.model_copy(update={"edge_most_mm": 36.0})
    limits = {"gauge_depth_on_flat_face_mm": 56.0, "trade_limits_adult": adult}
    book = written(DEFAULT_BOOK.model_copy(update=limits).model_dump_json(), "book.json")
    assert shape(sheet, 365, build.mass_g.target)[2] == 0
    out, err, status = shape(sheet, 365, build.mass_g.target, "--book", book)
    assert (out, status) == ("", 3)
    assert err.startswith("needs ")


def test_missing_density_leaves_with_2_outside(build):
    bad = outside("shape", "-", "--mass", "1150", given=build.model_dump_json())
    assert (bad.returncode, bad.stdout) == (2, "")
    assert "--density" in bad.stderr


def test_standard_input_without_environment_database_or_secret(build):
    given = build.model_dump_json()
    arguments = ["shape", "-", "--density", "398", "--mass", str(build.mass_g.target)]
    shaped = outside(*arguments, "--json", given=given)
    assert (shaped.returncode, shaped.stderr) == (0, "")
    content = json.loads(shaped.stdout)
    assert content["weighing"]["mass_g"] == pytest.approx(build.mass_g.target, abs=0.5)
    again = outside("weigh", "-", "--json", "--density", "398", given=json.dumps(content["build"]))
    assert json.loads(again.stdout) == content["weighing"]


def test_cleft_that_cannot_leaves_standard_output_empty_outside(build):
    stopped = outside("shape", "-", "--density", "345", "--mass", "1165", given=build.model_dump_json())
    assert (stopped.returncode, stopped.stdout) == (3, "")
    assert len(stopped.stderr.splitlines()) == 1
