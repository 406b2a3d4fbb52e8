"""The program's version: one place (pyproject.toml), shown by a command and at the foot of each page."""

import tomllib
from functools import lru_cache

from workshop.environment import ROOT


@lru_cache(maxsize=1)
def version() -> str:
    """Return the version as pyproject.toml states it."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return str(project["version"])
