"""The files that the rules look at."""

import subprocess
from functools import cache
from pathlib import Path

from workshop.environment import ROOT

LOWER_ROOMS = ("fitting", "orders")


@cache
def tracked() -> tuple[Path, ...]:
    """Every file of the project that is its own: what git tracks or would track."""
    listing = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    paths = (ROOT / line for line in listing.stdout.splitlines())
    return tuple(sorted(path for path in paths if path.is_file()))


def sources(*folders: str, suffix: str = ".py") -> list[Path]:
    """The files of some folders with one suffix, migrations left out."""
    roots = [ROOT / folder for folder in folders]
    return [
        path
        for path in tracked()
        if path.suffix == suffix
        and "migrations" not in path.parts
        and any(path.is_relative_to(root) for root in roots)
    ]


def shown(path: Path) -> str:
    """The path as a reader of a failure wants it."""
    return str(path.relative_to(ROOT))
