"""From a fitting sheet to a recommendation."""

import json
import multiprocessing
import os
import sys
from argparse import ArgumentParser
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from typing import Any

from fitting.recommend import recommend, with_effects
from fitting.recommend.call_sheet import call_sheet
from fitting.sheets.book import Book
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Recommendation
from orders.words.call_sheet import report_call_sheet
from orders.words.faults import say_fault
from orders.words.pickup import pickup_reference
from orders.words.reports import report_recommendation, with_words
from workshop.management.sheets import BAD_INPUT, SheetCommand

FEW_LINES = 40
"""Fewer sheets than this are answered sooner by one process than others are started."""


class Command(SheetCommand):
    help = (
        "Recommend a bat for a fitting sheet: the build sheet, its weighing, and a reason for every choice."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        super().add_arguments(parser)
        parser.add_argument("sheet", metavar="SHEET", help="fitting sheet as JSON, - for standard input")
        parser.add_argument(
            "--lines", action="store_true", help="one sheet a line in, one answer a line out, as JSON"
        )
        parser.add_argument("--words", action="store_true", help="add the sentences to the JSON")
        parser.add_argument(
            "--alternatives",
            action="store_true",
            help="work out what each alternative would change, and two other whole bats",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        book = self.book(options["book"])
        telling = Telling(book, words=options["words"], alternatives=options["alternatives"])
        if options["lines"]:
            self._lines(options["sheet"], telling)
            return
        sheet = self.sheet(FittingSheet, options["sheet"])
        found = telling.recommended(sheet)
        if options["json"]:
            self.print_json(telling.content(found))
        else:
            self.stdout.write(report_recommendation(found))
            reference = pickup_reference(found.build.length_code, book)
            self.stdout.write(report_call_sheet(call_sheet(sheet, found, book), reference))

    def _lines(self, source: str, telling: "Telling") -> None:
        """Answer line by line; a bad line gets its errors, the others go on."""
        lines = list(enumerate(self.text(source).removesuffix("\n").split("\n"), start=1))
        bad = False
        for answer, refused in _answers(lines, telling):
            bad = bad or refused
            self.stdout.write(answer)
        if bad:
            sys.exit(BAD_INPUT)


@dataclass(frozen=True)
class Telling:
    """How sheets are answered: by which book, with sentences or not, with effects or not."""

    book: Book
    words: bool
    alternatives: bool

    def recommended(self, sheet: FittingSheet) -> Recommendation:
        """Recommend a bat."""
        return with_effects(sheet, self.book) if self.alternatives else recommend(sheet, self.book)

    def content(self, found: Recommendation) -> dict[str, Any]:
        """Return a recommendation as JSON content."""
        return with_words(found) if self.words else found.model_dump(mode="json")

    def answered(self, numbered: tuple[int, str]) -> tuple[str, bool]:
        """Answer one line as JSON, and tell whether it was refused."""
        number, line = numbered
        try:
            sheet = read_sheet(FittingSheet, line)
        except SheetRefused as refused:
            errors = [say_fault(fault, FittingSheet) for fault in refused.faults]
            return json.dumps({"line": number, "errors": errors}, ensure_ascii=False), True
        content = self.content(self.recommended(sheet))
        return json.dumps(content, ensure_ascii=False, allow_nan=False), False


def _answers(lines: list[tuple[int, str]], telling: Telling) -> Iterator[tuple[str, bool]]:
    """Answer lines in their order, many of them on all cores."""
    cores = len(os.sched_getaffinity(0))
    if len(lines) < FEW_LINES or cores == 1:
        yield from map(telling.answered, lines)
        return
    # Children are forked with the settings read; each is told once by what to answer.
    with ProcessPoolExecutor(cores, multiprocessing.get_context("fork")) as pool:
        yield from pool.map(telling.answered, lines, chunksize=max(len(lines) // (cores * 8), 1))
