"""The JSON Schema of both sheets."""

from typing import Any

from fitting.sheets.schema import sheets_schema
from workshop.management.sheets import SheetCommand


class Command(SheetCommand):
    help = "Print the JSON Schema of the fitting sheet and the build sheet."

    def handle(self, *args: Any, **options: Any) -> None:
        self.print_json(sheets_schema())
