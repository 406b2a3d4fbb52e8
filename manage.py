#!/usr/bin/env python
"""The project's command line."""

import os
import sys

from django.core.management import execute_from_command_line

from workshop.environment import EnvironmentFaultError
from workshop.version import version


def main() -> None:
    """Run one management command under the project's settings."""
    # Django keeps the word "version" to itself and would answer with its own.
    if sys.argv[1:] in (["version"], ["--version"]):
        sys.stdout.write(f"{version()}\n")
        return
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "workshop.settings")
    try:
        execute_from_command_line(sys.argv)
    except EnvironmentFaultError as fault:
        sys.exit(str(fault))


if __name__ == "__main__":
    main()
