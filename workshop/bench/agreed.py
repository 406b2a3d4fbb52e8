"""A bat with what was agreed of it: the sheets that everything at the bench starts from."""

from dataclasses import dataclass

from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import Weighing
from orders.commissions.models import Bat, BuildVersion


@dataclass(frozen=True)
class AgreedBat:
    """A bat with what was agreed of it and the book in force."""

    bat: Bat
    build: BuildSheet
    weighing: Weighing
    version: BuildVersion
    book: Book
