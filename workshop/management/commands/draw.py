"""From a build sheet to its drawing."""

import re
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.utils.translation import gettext

from fitting.bat.weigh import weigh
from fitting.drawing import draw_bat
from fitting.drawing.bat_drawing import Layout
from fitting.sheets.build_sheet import BuildSheet
from orders.words.drawing import drawing_labels, mass_in
from workshop.management.sheets import SheetCommand

MARGIN_MM = 6
HEAD = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)" width="([\d.]+)mm" height="([\d.]+)mm">')
PAPER = "#fff"


class Command(SheetCommand):
    """Draw a build sheet in ink on paper, as the job card carries it or in true size."""

    help = "Draw a build sheet as SVG: response curve, side, face and sections on one axis."

    def add_arguments(self, parser: ArgumentParser) -> None:
        super().add_arguments(parser)
        parser.add_argument("build", metavar="BUILD", help="build sheet as JSON, - for standard input")
        parser.add_argument("svg", metavar="FILE.svg", help="where the drawing goes")
        parser.add_argument(
            "--full-size",
            action="store_true",
            help="in true size, with the section at every station and a bar of 100 mm to check the print",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        build = self.sheet(BuildSheet, options["build"])
        weighing = weigh(build, book=self.book(options["book"]))
        layout: Layout = "full_size" if options["full_size"] else "print"
        drawing = draw_bat(build, weighing, layout=layout, labels=drawing_labels(), show_mass=mass_in("mm"))
        try:
            Path(options["svg"]).write_text(on_paper(drawing), encoding="utf-8")
        except OSError as error:
            self.refuse([gettext("FILE.svg: cannot be written: %(why)s") % {"why": error.strerror}])


def on_paper(drawing: str) -> str:
    """Put a drawing on a white sheet with a margin: its ink reads on any ground, its size stays true.

    The sheet is the drawing's own SVG made larger: one SVG within another is not printed in its size
    everywhere.
    """
    found = HEAD.search(drawing)
    if found is None:
        raise ValueError("drawing without a size in millimetres")
    width, height, wide_mm, high_mm = (float(number) for number in found.groups())
    margin = MARGIN_MM * width / wide_mm
    box = f"{-margin:g} {-margin:g} {width + 2 * margin:g} {height + 2 * margin:g}"
    size = f'width="{wide_mm + 2 * MARGIN_MM:g}mm" height="{high_mm + 2 * MARGIN_MM:g}mm"'
    sheet = f'<rect x="{-margin:g}" y="{-margin:g}" width="100%" height="100%" fill="{PAPER}"/>'
    return f'{drawing[: found.start()]}viewBox="{box}" {size}>{sheet}{drawing[found.end() :]}\n'
