"""One version everywhere."""

import subprocess
import sys
import tomllib

import pytest

from workshop.environment import ROOT
from workshop.version import version


def test_version_is_the_one_of_the_project_file():
    stated = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["version"]
    assert version() == stated


@pytest.mark.parametrize("word", ["version", "--version"])
def test_version_command_prints_it(word):
    done = subprocess.run([sys.executable, "manage.py", word], cwd=ROOT, capture_output=True, text=True)
    assert done.stdout == f"{version()}\n"
    assert done.returncode == 0


def test_version_is_told_in_the_changelog():
    assert f"## {version()}\n" in (ROOT / "CHANGELOG.md").read_text()
