"""Tables out of files and into them."""

import io
import zipfile
from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook, load_workbook

from workshop.rack.sheets import (
    MOST_COLUMNS,
    MOST_ROWS,
    SheetUnreadable,
    csv_table,
    read_table,
    workbook,
)

# Texts as a form keeps them: no signs that cannot be printed, no blanks at the ends, lines ended by \n.
TEXTS = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"], include_characters="\n\t"), max_size=40
).map(str.strip)


@pytest.mark.parametrize("delimiter", [";", ",", "\t"])
def test_read_table_finds_the_delimiter(delimiter):
    text = f"number{delimiter}mass\r\n1{delimiter}2\r\n"
    assert read_table(text.encode()) == [["number", "mass"], ["1", "2"]]


def test_read_table_semicolons_leave_decimal_commas_alone():
    assert read_table(b"number;mass\n1;2450,5\n")[1] == ["1", "2450,5"]


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (b"", "empty"),
        (b"\n\n", "empty"),
        ("n;m\n1;µ".encode("latin-1"), "not_utf8"),
        (b'a,b\n"1,2', "not_a_table"),
        (b"PK\x03\x04 nothing more", "not_a_table"),
        (b"a;b\n" + b"1;2\n" * (MOST_ROWS + 1), "too_many_rows"),
        (b";".join([b"a"] * (MOST_COLUMNS + 1)), "too_many_columns"),
    ],
)
def test_read_table_what_is_no_table_is_refused(content, kind):
    with pytest.raises(SheetUnreadable) as refused:
        read_table(content)
    assert refused.value.kind == kind


def test_read_table_of_a_packed_file_that_is_no_workbook():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr("a.txt", "nothing")
    with pytest.raises(SheetUnreadable, match="not_a_table"):
        read_table(out.getvalue())


def test_read_table_of_a_workbook_that_unpacks_beyond_measure(monkeypatch):
    monkeypatch.setattr("workshop.rack.sheets.MOST_UNPACKED", 500)
    with pytest.raises(SheetUnreadable, match="too_big"):
        read_table(workbook("clefts", ["number"], [[1]]))


def test_read_table_numbers_and_days_of_a_workbook_as_they_would_be_typed():
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["number", "mass", "empty", "day"])
    sheet.append([231.0, 2450.5, None, datetime(2026, 10, 1)])
    out = io.BytesIO()
    book.save(out)

    assert read_table(out.getvalue())[1] == ["231", "2450.5", "", "2026-10-01"]


@pytest.mark.parametrize("text", ["=1+1", "+4", "-2", "@SUM(A1)", '=HYPERLINK("x")', "'quoted"])
def test_text_that_looks_like_a_formula_becomes_none(text):
    lines = csv_table(["note"], [[text]]).decode("utf-8-sig").splitlines()
    assert lines[1].lstrip('"').startswith("'")

    cell = load_workbook(io.BytesIO(workbook("clefts", ["note"], [[text]]))).worksheets[0]["A2"]
    assert (cell.data_type, cell.value) == ("s", text)


@given(st.lists(st.tuples(TEXTS, TEXTS), min_size=1, max_size=5))
def test_texts_come_back_as_they_were(rows):
    written = [["x", *row] for row in rows]
    head = ["number", "load", "note"]

    assert read_table(csv_table(head, written))[1:] == written
    assert read_table(workbook("clefts", head, written))[1:] == written
