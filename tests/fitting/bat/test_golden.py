"""The model has a version: a changed figure fails until the version and CHANGELOG rise (see golden_store)."""

import json

import pytest

from fitting.bat.version import MODEL_VERSION
from tests.fitting.bat.golden_store import FILES, differences, figures, told_in_changelog


def test_golden_store_holds_ten_different_bats():
    sheets = [json.loads(path.read_text())["build"] for path in FILES]
    assert len(sheets) == 10
    assert len({json.dumps(sheet["blade"]) for sheet in sheets}) == 10
    assert len({sheet["length_code"] for sheet in sheets}) >= 7
    assert {sheet["profile"] for sheet in sheets} == {"tapered_spine", "spine_to_toe", "scalloped", "full"}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_golden_bat_still_weighs_what_this_model_version_said(path):
    stored = json.loads(path.read_text())
    assert stored["model_version"] == MODEL_VERSION, "renew the golden files, see golden_store"
    changes = differences(stored["weighing"], figures(stored))
    assert not changes, "a figure moved: raise MODEL_VERSION, tell it in CHANGELOG.md, renew"


def test_changelog_tells_the_model_version_in_force():
    assert told_in_changelog(MODEL_VERSION)


def test_moved_figure_is_seen():
    weighing = {"mass_g": 1150.0, "parts": [{"name": "blade", "mass_g": 830.0, "volume_mm3": None}]}
    moved = {"mass_g": 1150.01, "parts": [{"name": "blade", "mass_g": 830.0, "volume_mm3": 1.0}]}
    assert differences(weighing, weighing) == []
    assert differences(weighing, moved) == ["mass_g: 1150.0 -> 1150.01", "parts[0].volume_mm3: None -> 1.0"]


def test_version_missing_from_the_changelog_is_seen():
    assert not told_in_changelog(MODEL_VERSION + "0")
