"""From a build sheet to its weighing."""

from argparse import ArgumentParser
from typing import Any

from fitting.bat.weigh import weigh
from fitting.sheets.build_sheet import BuildSheet
from orders.words.reports import report_weighing
from workshop.management.sheets import SheetCommand

# Willow lighter or denser than this does not grow; the sheet's own bands keep the same bounds.
DENSITY_KG_M3 = (200.0, 800.0)
MOISTURE_PERCENT = (0.0, 30.0)


class Command(SheetCommand):
    help = "Weigh a build sheet: mass by parts, balance, inertia, how it bends, where it hits hardest."

    def add_arguments(self, parser: ArgumentParser) -> None:
        super().add_arguments(parser)
        parser.add_argument("build", metavar="BUILD", help="build sheet as JSON, - for standard input")
        parser.add_argument("--density", metavar="D", help="density of the willow, kg/m3")
        parser.add_argument("--moisture", metavar="M", default="12", help="moisture of the willow, percent")

    def handle(self, *args: Any, **options: Any) -> None:
        book = self.book(options["book"])
        density = (
            None
            if options["density"] is None
            else self.number("--density", options["density"], *DENSITY_KG_M3)
        )
        moisture = self.number("--moisture", options["moisture"], *MOISTURE_PERCENT)
        build = self.sheet(BuildSheet, options["build"])
        weighing = weigh(build, book=book, density_kg_m3=density, moisture_percent=moisture)
        if options["json"]:
            self.print_json(weighing.model_dump(mode="json"))
        else:
            self.stdout.write(report_weighing(weighing, build))
