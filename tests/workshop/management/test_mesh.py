"""The bodies of a build sheet as a file: what the command prints, writes and refuses."""

import json

import pytest
import trimesh

from fitting.bat.weigh import weigh
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.builds import a_build, changed, short_handle
from tests.workshop.management.test_sheet_commands import outside, run


@pytest.fixture
def sheet(tmp_path):
    path = tmp_path / "build.json"
    path.write_text(json.dumps(short_handle()), encoding="utf-8")
    return str(path)


def test_mesh_writes_the_bodies_and_tells_the_weighings_volumes_and_centres(sheet, tmp_path):
    stl = tmp_path / "bat.stl"
    out, err, status = run("mesh", sheet, str(stl), "--json")
    assert (err, status) == ("", 0)
    bodies = json.loads(out)["bodies"]
    parts = {part.name: part for part in weigh(a_build()).parts}
    assert [body["name"] for body in bodies] == ["blade", "handle"]
    for body in bodies:
        part = parts[body["name"]]
        assert body["volume_mm3"] == pytest.approx(part.volume_mm3, rel=1e-3)
        assert body["centre_mm"][0] == pytest.approx(part.centre_from_toe_mm, abs=0.1)
        assert body["centre_mm"][2] == pytest.approx(0, abs=1e-3)
    read = trimesh.load_mesh(stl)
    assert read.is_watertight
    assert len(read.faces) == sum(body["triangles"] for body in bodies)
    assert read.volume == pytest.approx(sum(body["volume_mm3"] for body in bodies), rel=1e-6)
    assert read.bounds[:, 0] == pytest.approx([0, 851])


def test_mesh_report_names_both_bodies_and_the_file(sheet, tmp_path):
    stl = tmp_path / "bat.stl"
    out, err, status = run("mesh", sheet, str(stl))
    assert (err, status) == ("", 0)
    blade, handle, file = out.splitlines()
    parts = {part.name: part for part in weigh(a_build()).parts}
    for line, name in ((blade, "blade"), (handle, "handle")):
        said = line.split()
        assert said[0] == name
        assert 1000 * float(said[1]) == pytest.approx(parts[name].volume_mm3, rel=1e-3)
        assert f"{parts[name].centre_from_toe_mm:.1f} mm from the toe" in line
    assert str(stl) in file


def test_mesh_takes_the_binding_of_another_book(sheet, tmp_path):
    book = tmp_path / "book.json"
    book.write_text('{"materials": {"binding_mm": -1}}', encoding="utf-8")
    out, err, status = run("mesh", sheet, str(tmp_path / "bat.stl"), "--book", str(book))
    assert (out, status) == ("", 2)
    assert "--book materials.binding_mm: -1 given; a number from 0.1 to 3 allowed\n" in err
    assert not (tmp_path / "bat.stl").exists()
    materials = DEFAULT_BOOK.materials.model_copy(update={"binding_mm": 2.0})
    content = DEFAULT_BOOK.model_copy(update={"materials": materials}).model_dump_json()
    book.write_text(content, encoding="utf-8")
    plain = json.loads(run("mesh", sheet, str(tmp_path / "bat.stl"), "--json")[0])
    bound = json.loads(run("mesh", sheet, str(tmp_path / "bat.stl"), "--json", "--book", str(book))[0])
    assert bound["bodies"][0] == plain["bodies"][0]
    assert bound["bodies"][1]["volume_mm3"] < 0.9 * plain["bodies"][1]["volume_mm3"]


def test_mesh_refuses_a_sheet_that_does_not_hang_together_and_writes_nothing(tmp_path):
    path = tmp_path / "build.json"
    path.write_text(json.dumps(changed(short_handle(), blade__width_mm=140)), encoding="utf-8")
    out, err, status = run("mesh", str(path), str(tmp_path / "bat.stl"))
    assert (out, status) == ("", 2)
    assert err == "blade.width_mm: 140 given; a number from 70 to 115 allowed\n"
    assert not (tmp_path / "bat.stl").exists()


def test_mesh_refuses_a_place_that_cannot_be_written(sheet, tmp_path):
    out, err, status = run("mesh", sheet, str(tmp_path / "none" / "bat.stl"), "--json")
    assert (out, err, status) == ("", "FILE.stl: cannot be written: No such file or directory\n", 2)


def test_mesh_runs_without_environment_database_or_secret(tmp_path):
    stl = tmp_path / "bat.stl"
    done = outside("mesh", "-", str(stl), "--json", given=json.dumps(short_handle()))
    assert (done.returncode, done.stderr) == (0, "")
    told = json.loads(done.stdout)["bodies"]
    assert stl.stat().st_size == 84 + 50 * sum(body["triangles"] for body in told)
