"""Files of clefts read row by row, and what is wrong named."""

from datetime import date

import pytest

from orders.people.models import User
from tests.workshop.rack.files_of_clefts import ROW, as_csv, as_xlsx
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack.imports import ParsedFile, parse, taken_meanwhile
from workshop.rack.models import Cleft, Load
from workshop.rack.sheets import SheetUnreadable, read_table

pytestmark = pytest.mark.django_db
TODAY = date(2026, 11, 25)


def read(content: bytes, currency: str | None = None) -> ParsedFile:
    return parse(read_table(content), today=TODAY, currency=currency)


@pytest.mark.parametrize("write", [as_csv, as_xlsx])
def test_parse_good_row_is_in_tenths(write):
    found = read(write({}))

    [row] = found.good
    assert not found.faults
    assert (row["number"], row["length"], row["width_2"], row["mass"]) == (500, 7125, 1175, 24500)
    assert (row["moisture"], row["heartwood"], row["grains"], row["grade"]) == (124, 20, 8, 2)
    assert (row["load"], row["read_on"], row["state"]) == ("Winter load", "2026-10-01", "ready")
    assert row["blemishes"][1] == {
        "kind": "shake",
        "side": "edge_1",
        "from_end": 300,
        "across": 200,
        "size": 600,
        "through": True,
    }
    assert "run_out" not in row
    assert found.new_loads == {"Winter load": "Brook Farm"}


@pytest.mark.parametrize(
    ("column", "given", "told"),
    [
        ("moisture_percent", "40", "40 given; 4 to 30 % is allowed"),
        ("moisture_percent", "0.124", "Did you mean 12.4 %?"),
        ("length_mm", "71.2", "Did you mean 712 mm?"),
        ("width_1_mm", "11.6", "Did you mean 116 mm?"),
        ("mass_g", "2.45", "Did you mean 2450 g?"),
        ("mass_g", "", "this column is needed"),
        ("mass_g", "heavy", "“heavy” given"),
        ("number", "12a", "A whole number from 1 to 999999"),
        ("number", "-4", "A whole number from 1 to 999999"),
        ("grade", "5", "A whole number from 1 to 4"),
        ("grains", "7.5", "a whole number"),
        ("state", "reserved", "Allowed are: seasoning, ready, smaller, rejected."),
        ("moisture_at", "left", "Allowed are: face, edge, end, waste."),
        ("read_on", "03/04/2026", "A day such as 2026-11-25"),
        ("read_on", "2026-02-30", "A day such as 2026-11-25"),
        ("read_on", "2026-11-26", "2026-11-25, today, is allowed"),
        ("heartwood_percent", "120", "0 to 100 % is allowed"),
        ("run_out_1_in", "1", "2 to 100 is allowed"),
        ("blemishes", "knot a 120", "“knot a 120” is not understood"),
        ("blemishes", "wart a 120 45 8", "is not understood"),
        ("blemishes", "knot a 720 45 8", "farther from end 1 than the cleft is long, 712.5 mm"),
        ("note", "a\x07b", "cannot be printed"),
        ("note", "x" * 1001, "1001 signs given; 1000 at most"),
    ],
)
def test_parse_bad_value_is_named_with_row_column_given_and_allowed(column: str, given: str, told: str):
    found = read(as_csv({}, {column: given}, {}))

    [fault] = found.faults
    assert (fault.row, fault.column) == (3, column)
    assert fault.given[:3] in given
    assert told in fault.words
    assert [row["number"] for row in found.good] == [500, 502]


def test_parse_mass_and_sizes_that_make_no_willow_name_both():
    found = read(as_csv({"mass_g": 700, "width_2_mm": 160, "depth_2_mm": 119}))

    [fault] = found.faults
    assert fault.column == "mass_g"
    assert "700 g in 712.5 × 160 × 119 mm would be" in fault.words
    assert "250 to 700 is allowed" in fault.words


def test_parse_names_every_fault_of_a_row():
    found = read(as_csv({"mass_g": "9", "moisture_percent": "40", "grade": "best"}))

    assert {fault.column for fault in found.faults} == {"mass_g", "moisture_percent", "grade"}
    assert found.bad_rows == 1


def test_parse_number_twice_in_the_file_and_on_the_rack(maker: User):
    a_cleft(500, maker)

    found = read(as_csv({}, {"number": 7}, {"number": "0007"}))

    assert [(fault.row, fault.given) for fault in found.faults] == [(2, "500"), (4, "7")]
    assert "on the rack already" in found.faults[0].words
    assert "Row 3 has this number already" in found.faults[1].words
    assert [row["number"] for row in found.good] == [7]


def test_parse_load_of_another_grower_is_a_fault():
    Load.objects.create(name="Winter load", grower="Mill Bank")

    found = read(as_csv({}, {"grower": "Mill Bank"}, {"grower": ""}, {"load": "", "grower": "Brook Farm"}))

    assert [(fault.row, fault.column) for fault in found.faults] == [(2, "grower"), (5, "grower")]
    assert "from Mill Bank" in found.faults[0].words
    assert found.new_loads == {}


def test_parse_missing_columns_are_named_with_what_was_perhaps_meant():
    content = as_csv({}).replace(b"length_mm", b"lenght mm").replace(b"mass_g", b"weight")

    with pytest.raises(SheetUnreadable) as refused:
        read(content)

    assert refused.value.kind == "columns_missing"
    assert refused.value.words["missing"] == ["length_mm", "mass_g"]
    assert refused.value.words["near"] == {"length_mm": "lenght mm"}


def test_parse_column_names_may_have_blanks_and_capitals_and_others_are_told():
    content = as_csv({}).replace(b"length_mm", b"Length (mm)").replace(b"note", b"shelf")

    found = read(content)

    assert found.good[0]["length"] == 7125
    assert found.not_read == ["shelf"]


def test_parse_price_is_read_for_whoever_sees_prices_only():
    content = as_csv({"note": "85,50"}).replace(b",note", b",price")

    assert read(content, "GBP").good[0]["price"] == 8550
    assert "price" not in read(content).good[0]
    assert read(content).not_read == ["price"]


def test_parse_row_numbers_are_those_of_the_spreadsheet_across_empty_rows_and_lines_in_a_note():
    head, *rows = as_csv({"note": "two\nlines"}, {"grade": "9"}).split(b"\r\n")
    content = b"\r\n".join([head, b"", *rows])

    [fault] = read(content).faults

    assert fault.row == 4


def test_parse_a_load_named_by_bad_rows_only_is_not_made():
    found = read(as_csv({}, {"load": "Other", "grade": 9}))

    assert set(found.new_loads) == {"Winter load"}


def test_parsed_file_is_the_same_after_being_kept():
    found = read(as_csv({}, {"grade": 9}))

    assert ParsedFile.from_json(found.as_json()) == found


def test_taken_meanwhile_names_numbers_that_came_onto_the_rack(maker: User):
    found = read(as_csv({}, {}))
    a_cleft(501, maker)

    assert taken_meanwhile(found) == [501]


def test_every_needed_column_is_one_that_a_cleft_must_have():
    needed = {"number", "grade", "length", "mass", "moisture"}
    sizes = {f"{what}_{at}" for what in ("width", "depth") for at in (1, 2, 3)}
    for column in needed | sizes:
        assert not Cleft._meta.get_field(column).null
    for column in ROW:
        name = column.removesuffix("_mm").removesuffix("_g").removesuffix("_percent").removesuffix("_1_in")
        changed = as_csv({"grower": "", column: ""})
        missing = {fault.column for fault in read(changed).faults}
        assert bool(missing) == (name in needed | sizes), column
