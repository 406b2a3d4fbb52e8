"""Many clefts at once: exactly what was shown, all of it or nothing; and out again in the same columns."""

from datetime import date
from time import perf_counter
from typing import Any

import pytest
from django.db import DatabaseError, connection
from django.utils import timezone

from orders.people.models import User
from tests.workshop.rack.files_of_clefts import as_csv, as_xlsx
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack import delivery, exports
from workshop.rack.clefts import CleftRefused
from workshop.rack.delivery import confirm, forget_files, keep_file
from workshop.rack.imports import parse
from workshop.rack.models import Blemish, Cleft, CleftEntry, CleftFile, Load
from workshop.rack.sheets import read_table

pytestmark = pytest.mark.django_db
COLUMNS = (
    *(
        "number",
        "state",
        "grade",
        "grains",
        "heartwood",
        "run_out",
        "length",
        "width_1",
        "width_2",
        "width_3",
    ),
    *("depth_1", "depth_2", "depth_3", "mass", "moisture", "moisture_at", "read_on", "price", "note"),
    *("load__name", "load__grower"),
)


def kept(content: bytes, by: User, currency: str | None = None) -> CleftFile:
    parsed = parse(read_table(content), today=timezone.localdate(), currency=currency)
    return CleftFile.objects.get(pk=keep_file("clefts.csv", parsed, by=by).pk)


def on_rack() -> list[Any]:
    """Return what a file tells of every cleft, blemishes with it."""
    marks = {
        cleft.number: sorted(
            cleft.blemishes.values_list("kind", "side", "from_end", "across", "size", "through")
        )
        for cleft in Cleft.objects.all()
    }
    return [*Cleft.objects.values_list(*COLUMNS), marks]


def test_confirm_stores_what_was_shown_with_load_blemishes_and_history(maker: User):
    found = confirm(kept(as_csv({}, {"load": "", "grower": ""}), maker), good_only=False, by=maker)

    first, second = Cleft.objects.all()
    assert [cleft.pk for cleft in found] == [first.pk, second.pk]
    assert (first.length, first.mass, first.read_on) == (7125, 24500, date(2026, 10, 1))
    assert first.load is not None
    assert (first.load.name, first.load.grower, second.load) == ("Winter load", "Brook Farm", None)
    assert [(one.kind, one.side, one.from_end) for one in first.blemishes.all()] == [
        ("shake", "edge_1", 300),
        ("knot", "a", 1200),
    ]
    entry = first.entries.get()
    assert (entry.verb, entry.by, entry.to_state) == ("take_in", maker, "ready")
    assert entry.data == {"mass": 24500, "moisture": 124, "read_on": "2026-10-01", "grade": 2}
    assert not CleftFile.objects.exists()


def test_confirm_with_bad_rows_stores_nothing_unless_said_so(maker: User):
    file = kept(as_csv({}, {"grade": 9}), maker)

    with pytest.raises(CleftRefused, match="file_has_faults"):
        confirm(file, good_only=False, by=maker)
    assert not Cleft.objects.exists()

    confirm(file, good_only=True, by=maker)
    assert [cleft.number for cleft in Cleft.objects.all()] == [500]


def test_confirm_with_no_good_row_stores_nothing(maker: User):
    with pytest.raises(CleftRefused, match="file_empty"):
        confirm(kept(as_csv({"grade": 9}), maker), good_only=True, by=maker)


def test_confirm_number_taken_meanwhile_stores_nothing_at_all(maker: User):
    file = kept(as_csv({}, {}, {}), maker)
    a_cleft(502, maker)

    with pytest.raises(CleftRefused, match="numbers_taken"):
        confirm(file, good_only=True, by=maker)

    assert [cleft.number for cleft in Cleft.objects.all()] == [502]
    assert not Load.objects.exists()
    assert CleftFile.objects.filter(pk=file.pk).exists()


def test_confirm_that_fails_half_way_stores_nothing_at_all(maker: User, monkeypatch: pytest.MonkeyPatch):
    file = kept(as_csv({}, {}), maker)

    def burst(*args: Any, **kwargs: Any) -> None:
        raise DatabaseError("disk full")

    monkeypatch.setattr(Blemish.objects, "bulk_create", burst)
    with pytest.raises(DatabaseError):
        confirm(file, good_only=True, by=maker)

    assert not Cleft.objects.exists()
    assert not CleftEntry.objects.exists()
    assert not Load.objects.exists()


def test_confirm_twice_counts_once(maker: User):
    file = kept(as_csv({}), maker)
    confirm(file, good_only=False, by=maker)

    with pytest.raises(CleftRefused, match="file_gone"):
        confirm(file, good_only=False, by=maker)
    assert Cleft.objects.count() == 1


def test_keep_file_forgets_the_same_persons_last_one_and_others_after_a_day(maker: User, bench_hand: User):
    first = kept(as_csv({}), maker)
    second = kept(as_csv({}), maker)
    of_other = kept(as_csv({}), bench_hand)

    assert set(CleftFile.objects.all()) == {second, of_other}
    assert first not in CleftFile.objects.all()
    assert forget_files(timezone.now() + delivery.KEPT * 1.01) == 2


@pytest.mark.parametrize("write", [exports.as_csv, exports.as_workbook])
def test_export_read_again_gives_the_same_clefts(write, maker: User):
    changes = (
        {},
        {"note": '=HYPERLINK("x")', "blemishes": ""},
        {"note": "two\nlines; and, more", "run_out_1_in": 14, "state": "smaller"},
        {
            "note": "'=1",
            "grains": "",
            "heartwood_percent": "",
            "moisture_at": "",
            "load": "-",
            "grower": "@b",
        },
        {"number": 7, "grower": "", "load": "", "state": "rejected"},
    )
    confirm(kept(as_xlsx(*changes), maker), good_only=False, by=maker)
    Cleft.objects.filter(number=500).update(price=8550)
    before = on_rack()

    file = write(Cleft.objects.all(), currency="GBP")
    Blemish.objects.all().delete()
    CleftEntry.objects.all().delete()
    Cleft.objects.all().delete()
    Load.objects.all().delete()
    confirm(kept(file, maker, "GBP"), good_only=False, by=maker)

    assert on_rack() == before


def test_export_has_no_price_for_whoever_sees_none(maker: User):
    a_cleft(41, maker, price=8550)

    assert b"85.5" in exports.as_csv(Cleft.objects.all(), currency="GBP")
    assert b"85.5" not in exports.as_csv(Cleft.objects.all(), currency=None)
    assert "price" not in exports.head(None)


def test_import_of_many_rows_takes_few_statements(maker: User, django_assert_max_num_queries):
    """Not one statement a row: 1,000 rows in about as many statements as batches of three tables."""
    file = kept(as_csv(*({} for _ in range(1000))), maker)

    with django_assert_max_num_queries(40):
        confirm(file, good_only=False, by=maker)
    assert Cleft.objects.count() == 1000


@pytest.mark.storm
@pytest.mark.parametrize("write", [as_csv, as_xlsx])
def test_ten_thousand_rows_with_thirty_bad_ones(write, maker: User, capsys):
    """Each bad row is named and no other; what it takes is printed, as the machine decides that."""
    bad = range(100, 9100, 300)
    changes: list[dict[str, Any]] = [{} for _ in range(10_000)]
    for at in bad:
        changes[at] = {"moisture_percent": 40}
    content = write(*changes)

    began = perf_counter()
    file = kept(content, maker)
    read = perf_counter()
    confirm(file, good_only=True, by=maker)
    stored = perf_counter()

    with capsys.disabled():
        print(f"\n10,000 rows as {write.__name__}: read {read - began:.1f} s, stored {stored - read:.1f} s")
    assert [fault["row"] for fault in file.parsed["faults"]] == [at + 2 for at in bad]
    assert Cleft.objects.count() == 9970
    assert connection.vendor in ("sqlite", "postgresql")
