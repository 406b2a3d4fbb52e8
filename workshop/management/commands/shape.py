"""From a build sheet and a cleft to the sheet of the bat that the cleft can become."""

import sys
from argparse import ArgumentParser
from typing import Any

from fitting.bat.reshape import reshape, willow_range
from fitting.bat.reshaped import CannotReshape
from fitting.sheets.build_sheet import BuildSheet
from orders.words.shaping import report_shaping, say_barrier
from workshop.management.commands.weigh import DENSITY_KG_M3
from workshop.management.sheets import SheetCommand

NO_SHAPE = 3
MASS_G = (100.0, 3000.0)


class Command(SheetCommand):
    help = (
        "Re-shape a bat for one cleft: the same bat, its stations solved for a density and a finished mass."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        super().add_arguments(parser)
        parser.add_argument("build", metavar="BUILD", help="build sheet as JSON, - for standard input")
        parser.add_argument("--density", metavar="D", required=True, help="density of the willow, kg/m3")
        parser.add_argument("--mass", metavar="M", required=True, help="finished mass wanted, g")

    def handle(self, *args: Any, **options: Any) -> None:
        book = self.book(options["book"])
        density = self.number("--density", options["density"], *DENSITY_KG_M3)
        mass = self.number("--mass", options["mass"], *MASS_G)
        build = self.sheet(BuildSheet, options["build"])
        willow = willow_range(build, book=book)
        try:
            found = reshape(build, density, mass, book=book)
        except CannotReshape as stopped:
            self.stderr.write(" ".join(say_barrier(stopped.barrier, willow).split()))
            sys.exit(NO_SHAPE)
        if options["json"]:
            content = found.model_dump(mode="json")
            self.print_json({**content, "willow": willow.model_dump(mode="json")})
        else:
            self.stdout.write(report_shaping(found, willow))
