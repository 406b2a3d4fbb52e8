"""From a build sheet to two closed bodies of triangles."""

from argparse import ArgumentParser
from io import BytesIO
from pathlib import Path
from typing import Any

from django.utils.translation import gettext

from fitting.bat.mesh import Triangles, mesh_bodies, write_stl
from fitting.sheets.build_sheet import BuildSheet
from orders.words.mesh import report_mesh
from workshop.management.sheets import SheetCommand


class Command(SheetCommand):
    help = "Write a build sheet as STL in mm: blade with its recess, and handle without binding and grip."

    def add_arguments(self, parser: ArgumentParser) -> None:
        super().add_arguments(parser)
        parser.add_argument("build", metavar="BUILD", help="build sheet as JSON, - for standard input")
        parser.add_argument("stl", metavar="FILE.stl", help="where the bodies go, as binary STL")

    def handle(self, *args: Any, **options: Any) -> None:
        book = self.book(options["book"])
        bodies = mesh_bodies(self.sheet(BuildSheet, options["build"]), book=book)
        content = BytesIO()
        write_stl(bodies.values(), content)
        try:
            Path(options["stl"]).write_bytes(content.getvalue())
        except OSError as error:
            self.refuse([gettext("FILE.stl: cannot be written: %(why)s") % {"why": error.strerror}])
        if options["json"]:
            self.print_json({"bodies": [_told(name, body) for name, body in bodies.items()]})
        else:
            self.stdout.write(report_mesh(bodies, options["stl"]))


def _told(name: str, body: Triangles) -> dict[str, Any]:
    return {
        "name": name,
        "volume_mm3": body.volume_mm3,
        "centre_mm": body.centre_mm.tolist(),
        "triangles": len(body.faces),
    }
