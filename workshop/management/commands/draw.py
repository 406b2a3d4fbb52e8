"""From a build sheet to its drawing."""

import re
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.utils.translation import gettext

from fitting.bat.weigh import weigh
from fitting.drawing import draw_bat
from fitting.sheets.build_sheet import BuildSheet
from orders.words.drawing import drawing_labels
from workshop.management.sheets import SheetCommand

MARGIN_MM = 6
SIZE = re.compile(r'(?:width|height)="([\d.]+)mm"')
PAPER = "#fff"


class Command(SheetCommand):
    """Draw a build sheet in ink on paper, as the job card carries it."""

    help = "Draw a build sheet as SVG: side, face and sections on one axis."

    def add_arguments(self, parser: ArgumentParser) -> None:
        super().add_arguments(parser)
        parser.add_argument("build", metavar="BUILD", help="build sheet as JSON, - for standard input")
        parser.add_argument("svg", metavar="FILE.svg", help="where the drawing goes")

    def handle(self, *args: Any, **options: Any) -> None:
        build = self.sheet(BuildSheet, options["build"])
        weighing = weigh(build, book=self.book(options["book"]))
        try:
            Path(options["svg"]).write_text(
                on_paper(draw_bat(build, weighing, layout="print", labels=drawing_labels())), encoding="utf-8"
            )
        except OSError as error:
            self.refuse([gettext("FILE.svg: cannot be written: %(why)s") % {"why": error.strerror}])


def on_paper(drawing: str) -> str:
    """Put a drawing on a white sheet, so that its ink reads on any ground."""
    width, height = (float(size) + 2 * MARGIN_MM for size in SIZE.findall(drawing)[:2])
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}mm" height="{height:g}mm">'
        f'<rect width="100%" height="100%" fill="{PAPER}"/>'
        f'<svg x="{MARGIN_MM}mm" y="{MARGIN_MM}mm">{drawing}</svg></svg>\n'
    )
