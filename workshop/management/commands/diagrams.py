"""Write the diagrams of DEVELOPERS.md anew from the tables that the program itself obeys."""

import re
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from workshop.diagrams import DIAGRAMS


class Command(BaseCommand):
    help = "Write the diagrams between the markers of DEVELOPERS.md; --check only tells if they are current."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--check", action="store_true", help="change nothing, fail if anything would change"
        )
        parser.add_argument(
            "--file",
            type=Path,
            default=Path(settings.BASE_DIR) / "DEVELOPERS.md",
            help="the text to write into",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        path: Path = options["file"]
        before = path.read_text(encoding="utf-8")
        after = with_diagrams(before)
        if before == after:
            return
        if options["check"]:
            raise CommandError(f"{path.name} is out of date: run manage.py diagrams")
        path.write_text(after, encoding="utf-8")
        self.stdout.write(f"{path.name} written anew")


def with_diagrams(text: str) -> str:
    """Return the text with every diagram drawn between its markers.

    Raises:
        CommandError: a diagram's markers are missing.
    """
    for name, draw in DIAGRAMS.items():
        between = re.compile(rf"(<!-- diagram:{name} -->\n).*?(<!-- /diagram:{name} -->)", re.DOTALL)
        found = between.search(text)
        if found is None:
            raise CommandError(
                f"the markers <!-- diagram:{name} --> and <!-- /diagram:{name} --> are missing"
            )
        drawn = f"```mermaid\n{draw()}\n```\n"
        start, end = found.span()
        text = text[:start] + found[1] + drawn + found[2] + text[end:]
    return text
