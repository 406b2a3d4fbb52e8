"""Tables as files: rows of text out of CSV or xlsx, and rows into them, whatever the texts begin with."""

import csv
import io
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from openpyxl import Workbook, load_workbook
from openpyxl.cell import WriteOnlyCell

from workshop.rack.allowed import UNPRINTABLE
from workshop.rack.columns import as_text

MOST_BYTES = 10 * 1024 * 1024
MOST_ROWS = 20_000
MOST_COLUMNS = 60
# A workbook is packed; unpacked it may be many times larger than a cleft's rows ever are.
MOST_UNPACKED = 200 * 1024 * 1024
DELIMITERS = (";", ",", "\t")
# What a spreadsheet would take for a formula, and the sign that keeps a text from being one.
STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r", "'")
MARK = "'"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


class SheetUnreadable(ValueError):
    """A file that is no table; ``kind`` and ``words`` say why."""

    def __init__(self, kind: str, **words: Any) -> None:
        super().__init__(kind)
        self.kind = kind
        self.words = words


def read_table(content: bytes) -> list[list[str]]:
    """Return the rows of a CSV file or of the first sheet of a workbook, the head with them.

    Empty rows stay, so that a row has the number that a spreadsheet shows for it; those at the end go.

    Raises:
        SheetUnreadable: ``too_big``, ``empty``, ``not_utf8``, ``not_a_table``, ``too_many_rows``,
            ``too_many_columns``.
    """
    if len(content) > MOST_BYTES:
        raise SheetUnreadable("too_big", given=len(content), most=MOST_BYTES)
    rows = _from_workbook(content) if content.startswith(b"PK\x03\x04") else _from_csv(content)
    table = []
    for row in rows:
        if len(row) > MOST_COLUMNS and any(row[MOST_COLUMNS:]):
            raise SheetUnreadable("too_many_columns", most=MOST_COLUMNS)
        table.append(row[:MOST_COLUMNS])
        if len(table) > MOST_ROWS + 1 and any(row):
            raise SheetUnreadable("too_many_rows", most=MOST_ROWS)
    while table and not any(table[-1]):
        table.pop()
    if not table:
        raise SheetUnreadable("empty")
    return table


def _from_csv(content: bytes) -> Iterator[list[str]]:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise SheetUnreadable("not_utf8") from error
    head = text.lstrip().split("\n", 1)[0]
    delimiter = max(DELIMITERS, key=head.count)
    try:
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True):
            yield [_unmarked(as_text(value)) for value in row]
    except csv.Error as error:
        raise SheetUnreadable("not_a_table") from error


def _unmarked(text: str) -> str:
    """Take off the mark that ``csv_table`` sets before what would be taken for a formula."""
    return text[1:] if text.startswith(MARK) and text[1:].startswith(STARTS_A_FORMULA) else text


def _from_workbook(content: bytes) -> Iterator[list[str]]:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            if sum(part.file_size for part in packed.infolist()) > MOST_UNPACKED:
                raise SheetUnreadable("too_big", given=MOST_UNPACKED, most=MOST_UNPACKED)
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
        sheet = book.worksheets[0]
        # Some programs write the wrong extent; it is found anew.
        sheet.reset_dimensions()
        for row in sheet.iter_rows(values_only=True):
            yield [as_text(value) for value in row]
    except SheetUnreadable:
        raise
    # A damaged workbook fails anywhere within openpyxl, with whatever that place raises.
    except Exception as error:
        raise SheetUnreadable("not_a_table") from error


def csv_table(head: Sequence[str], rows: Iterable[Sequence[str | float | None]]) -> bytes:
    """Return rows as CSV in UTF-8 with its mark, so that a spreadsheet reads it as such."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(head)
    writer.writerows([_marked(value) for value in row] for row in rows)
    return b"\xef\xbb\xbf" + out.getvalue().encode()


def _marked(value: str | float | None) -> str | float | None:
    if isinstance(value, str) and value.startswith(STARTS_A_FORMULA):
        return MARK + value
    return value


def workbook(title: str, head: Sequence[str], rows: Iterable[Sequence[str | float | None]]) -> bytes:
    """Return rows as a workbook of one sheet; every text is stored as text, none as a formula."""
    book = Workbook(write_only=True)
    sheet = book.create_sheet(title)
    sheet.freeze_panes = "A2"
    sheet.append(list(head))
    for row in rows:
        cells: list[Any] = []
        for value in row:
            if isinstance(value, str) and value.startswith(STARTS_A_FORMULA):
                cell = WriteOnlyCell(sheet, value=value)
                cell.data_type = "s"
                cells.append(cell)
            else:
                cells.append(UNPRINTABLE.sub("", value) if isinstance(value, str) else value)
        sheet.append(cells)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()
