"""From a fitting sheet to a recommendation."""

import json
import sys
from argparse import ArgumentParser
from typing import Any

from fitting.recommend import recommend
from fitting.sheets.book import Book
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Recommendation
from orders.words.faults import say_fault
from orders.words.reports import report_recommendation, with_words
from workshop.management.sheets import BAD_INPUT, SheetCommand


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

    def handle(self, *args: Any, **options: Any) -> None:
        book = self.book(options["book"])
        if options["lines"]:
            self._lines(options["sheet"], book, words=options["words"])
            return
        found = recommend(self.sheet(FittingSheet, options["sheet"]), book)
        if options["json"]:
            self.print_json(_content(found, words=options["words"]))
        else:
            self.stdout.write(report_recommendation(found))

    def _lines(self, source: str, book: Book, *, words: bool) -> None:
        """Answer line by line; a bad line gets its errors, the others go on."""
        bad = False
        for number, line in enumerate(self.text(source).removesuffix("\n").split("\n"), start=1):
            try:
                sheet = read_sheet(FittingSheet, line)
            except SheetRefused as refused:
                bad = True
                errors = [say_fault(fault, FittingSheet) for fault in refused.faults]
                answer: dict[str, Any] = {"line": number, "errors": errors}
            else:
                answer = _content(recommend(sheet, book), words=words)
            self.stdout.write(json.dumps(answer, ensure_ascii=False, allow_nan=False))
        if bad:
            sys.exit(BAD_INPUT)


def _content(found: Recommendation, *, words: bool) -> dict[str, Any]:
    return with_words(found) if words else found.model_dump(mode="json")
