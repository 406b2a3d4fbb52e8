"""The ten golden build sheets with their weighings, and how they are renewed.

A golden file holds a build sheet, the model version and the weighing which that version computed with the
materials in ``golden/materials.json``. When the model is changed on purpose: raise ``MODEL_VERSION``, tell it
in CHANGELOG.md ("Model version N."), then run

    python -m tests.fitting.bat.golden_store

It writes the figures anew, and refuses while a figure differs under the version that is stored.
"""

import json
import re
import sys
from pathlib import Path

from fitting.bat.version import MODEL_VERSION
from fitting.bat.weigh import weigh_with
from fitting.sheets.book_materials import Materials
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet

FOLDER = Path(__file__).parent / "golden"
CHANGELOG = Path(__file__).parents[3] / "CHANGELOG.md"
FILES = sorted(path for path in FOLDER.glob("*.json") if path.name != "materials.json")

SAME = 1e-7
"""Relative difference up to which a figure is unchanged: floats on another machine, nothing else."""


def materials() -> Materials:
    """The materials that the golden figures stand on, whatever the default book says by now."""
    return read_sheet(Materials, (FOLDER / "materials.json").read_text())


def figures(stored):
    """Weigh a stored build sheet: the weighing as JSON."""
    weighing = weigh_with(read_sheet(BuildSheet, stored["build"]), materials())
    return weighing.model_dump(mode="json")


def differences(old, new, path=""):
    """Every figure that is not the same, as ``field: old -> new``."""
    if isinstance(old, dict) and isinstance(new, dict):
        keys = sorted(old.keys() | new.keys())
        return [line for key in keys for line in differences(old.get(key), new.get(key), f"{path}.{key}")]
    if isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        pairs = enumerate(zip(old, new, strict=True))
        return [line for number, (a, b) in pairs for line in differences(a, b, f"{path}[{number}]")]
    numbers = isinstance(old, int | float) and isinstance(new, int | float)
    same = abs(old - new) <= SAME * max(abs(old), abs(new)) if numbers else old == new
    return [] if same else [f"{path.lstrip('.')}: {old} -> {new}"]


def told_in_changelog(version):
    """Whether CHANGELOG.md names a version of the model."""
    return re.search(rf"\bModel version {re.escape(version)}\b", CHANGELOG.read_text()) is not None


def renew():
    """Write all golden figures anew; returns the faults that forbid it."""
    if not told_in_changelog(MODEL_VERSION):
        return [f'CHANGELOG.md does not tell "Model version {MODEL_VERSION}."']
    renewed, faults = {}, []
    for path in FILES:
        stored = json.loads(path.read_text())
        weighing = figures(stored)
        if stored.get("model_version") == MODEL_VERSION:
            faults += [f"{path.name}: {line}" for line in differences(stored["weighing"], weighing)]
        renewed[path] = {**stored, "model_version": MODEL_VERSION, "weighing": weighing}
    if faults:
        return [*faults, f"raise MODEL_VERSION above {MODEL_VERSION} first"]
    for path, content in renewed.items():
        path.write_text(json.dumps(content, indent=1) + "\n")
    return []


if __name__ == "__main__":
    faults = renew()
    print("\n".join(faults) or f"{len(FILES)} golden files stand at model version {MODEL_VERSION}")
    sys.exit(1 if faults else 0)
