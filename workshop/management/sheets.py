"""What the commands over sheets share: where a sheet comes from, how it is refused, which book answers.

None of them needs a database, an environment variable or a secret.
"""

import json
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand
from django.utils.translation import gettext

from fitting.sheets.book import Book
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.record import Record
from orders.words.faults import say_fault

BAD_INPUT = 2


class SheetCommand(BaseCommand):
    """A command that reads a sheet from a file or from standard input (``-``)."""

    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Add what every command over a sheet takes."""
        parser.add_argument("--json", action="store_true", help="print JSON instead of a report")
        parser.add_argument("--book", metavar="FILE", help="another book than the default, as JSON")

    def text(self, source: str) -> str:
        """Read a file, or standard input for ``-``; what cannot be read is refused."""
        try:
            raw = sys.stdin.buffer.read() if source == "-" else Path(source).read_bytes()
            return raw.decode("utf-8-sig")
        except OSError as error:
            self.refuse([_unreadable(source, error.strerror or str(error))])
        except UnicodeDecodeError:
            self.refuse([_unreadable(source, gettext("it is not text in UTF-8"))])

    def sheet[Sheet: Record](self, kind: type[Sheet], source: str) -> Sheet:
        """Read a sheet; every fault is one line on standard error, and nothing on standard output."""
        text = self.text(source)
        try:
            return read_sheet(kind, text)
        except SheetRefused as refused:
            self.refuse([say_fault(fault, kind) for fault in refused.faults])

    def book(self, source: str | None) -> Book:
        """Read the book of ``--book``, the default one without it."""
        if source is None:
            return DEFAULT_BOOK
        text = self.text(source)
        try:
            return read_sheet(Book, text)
        except SheetRefused as refused:
            self.refuse([f"--book {say_fault(fault, Book)}" for fault in refused.faults])

    def number(self, name: str, given: str | float, least: float, most: float) -> float:
        """Read a number of the command line; what is none or lies outside its bounds is refused."""
        try:
            value = float(given)
        except ValueError:
            value = float("nan")
        if not least <= value <= most:
            self.refuse(
                [
                    gettext("%(name)s: %(given)s given; a number from %(least)g to %(most)g allowed")
                    % {"name": name, "given": given or gettext("nothing"), "least": least, "most": most}
                ]
            )
        return value

    def refuse(self, lines: list[str]) -> NoReturn:
        """Print one line a fault on standard error and leave with the status of bad input."""
        for line in lines:
            self.stderr.write(" ".join(line.split()))
        sys.exit(BAD_INPUT)

    def print_json(self, content: Any) -> None:
        """Print JSON on standard output, indented."""
        self.stdout.write(json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False))


def _unreadable(source: str, why: str) -> str:
    return gettext("%(source)s given, which cannot be read (%(why)s); a file or - allowed") % {
        "source": source,
        "why": why,
    }
