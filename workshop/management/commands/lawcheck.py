"""A build sheet against the Laws."""

from argparse import ArgumentParser
from typing import Any, cast, get_args

from django.utils.translation import gettext

from fitting.laws import EDITIONS, law_check, types_of
from fitting.sheets.book import Edition
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.values import Level
from orders.words.reports import report_laws
from workshop.management.sheets import SheetCommand


class Command(SheetCommand):
    help = "Check a build sheet against the Laws: sizes, coverings, handle, and the gauge of B.8."

    def add_arguments(self, parser: ArgumentParser) -> None:
        super().add_arguments(parser)
        parser.add_argument("build", metavar="BUILD", help="build sheet as JSON, - for standard input")
        parser.add_argument("--level", metavar="LEVEL", required=True, help=", ".join(get_args(Level)))
        parser.add_argument(
            "--edition", metavar="EDITION", help="year it came into force: 2022 or 2026; else the book's"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        book = self.book(options["book"])
        level = cast(Level, self._one_of("--level", str(options["level"]), get_args(Level)))
        years = tuple(str(year) for year in EDITIONS)
        edition = book.laws_edition
        if options["edition"] is not None:
            edition = cast(Edition, int(self._one_of("--edition", str(options["edition"]), years)))
        build = self.sheet(BuildSheet, options["build"])
        rows = law_check(build, level=level, edition=edition, book=book)
        if options["json"]:
            self.print_json([row.model_dump(mode="json") for row in rows])
        else:
            self.stdout.write(report_laws(rows, level, edition, types_of(build, edition)))

    def _one_of(self, name: str, given: str, allowed: tuple[str, ...]) -> str:
        if given not in allowed:
            self.refuse(
                [
                    gettext("%(name)s: %(given)s given; one of %(allowed)s allowed")
                    % {"name": name, "given": given, "allowed": ", ".join(allowed)}
                ]
            )
        return given
