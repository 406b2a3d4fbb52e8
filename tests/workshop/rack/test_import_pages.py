"""A file of clefts sent, looked at and confirmed; and the rack given out as a file."""

import re
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from orders.people.models import User
from orders.people.once import new_key
from tests.workshop.rack.files_of_clefts import as_csv, as_xlsx
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack.models import Cleft, CleftFile, CleftState
from workshop.rack.sheets import read_table

pytestmark = pytest.mark.django_db


def sent(client: Client, content: bytes, name: str = "clefts.csv") -> Any:
    file = SimpleUploadedFile(name, content)
    return client.post(reverse("rack:import"), {"file": file, "once": new_key()})


def taken(client: Client, **fields: str) -> Any:
    address = reverse("rack:import-take", args=[CleftFile.objects.get().code])
    return client.post(address, {"once": new_key(), **fields})


@pytest.mark.parametrize(("write", "name"), [(as_csv, "clefts.csv"), (as_xlsx, "clefts.xlsx")])
def test_file_is_shown_before_anything_is_stored(write: Any, name: str, bench_client: Client):
    answer = sent(bench_client, write({}, {"moisture_percent": 40}, {"length_mm": 71}), name)

    page = bench_client.get(answer["Location"]).content.decode()
    assert not Cleft.objects.exists()
    assert "40 given; 4 to 30 % is allowed" in page
    assert "Did you mean 710 mm?" in page
    assert re.search(r'<th scope="row" class="num">3</th><td[^>]*><code>moisture_percent</code>', page)
    assert "Put 1 cleft on the rack" in page
    assert "a new load" in page


def test_file_with_bad_rows_is_taken_only_when_said_so(bench_client: Client, bench_hand: User):
    sent(bench_client, as_csv({}, {"moisture_percent": 40}))

    refused = taken(bench_client)
    assert refused.status_code == 422
    assert 'href="#id_good_only"' in refused.content.decode()
    assert not Cleft.objects.exists()

    done = taken(bench_client, good_only="on")
    assert done["Location"] == reverse("rack:clefts")
    assert Cleft.objects.get().number == 500
    assert Cleft.objects.get().entries.get().by == bench_hand
    assert "1 cleft of the file is on the rack." in bench_client.get(done["Location"]).content.decode()


def test_file_whose_number_was_taken_meanwhile_is_refused_whole(maker_client: Client, maker: User):
    sent(maker_client, as_csv({}, {}))
    a_cleft(501, maker)

    answer = taken(maker_client)

    assert answer.status_code == 422
    assert "nothing of this file was taken in" in answer.content.decode()
    assert [cleft.number for cleft in Cleft.objects.all()] == [501]


def test_file_is_seen_by_whoever_sent_it_only(maker_client: Client, bench_client: Client):
    address = sent(maker_client, as_csv({}))["Location"]

    assert bench_client.get(address).status_code == 404
    assert taken(bench_client).status_code == 404
    assert not Cleft.objects.exists()


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", "There is no cleft in this file"),
        (b"number;mass_g\n", "These columns are missing: grade"),
        (b"number\n1\n", "The first row has: number."),
        ("number;µ\n1;2".encode("latin-1"), "not written in UTF-8"),
        (b"PK\x03\x04nothing", "no table that can be read"),
    ],
)
def test_file_that_is_none_is_refused_with_why(content: bytes, told: str, bench_client: Client):
    answer = sent(bench_client, content)

    page = answer.content.decode()
    assert answer.status_code == 422
    assert told in page
    assert 'href="#id_file"' in page
    assert not CleftFile.objects.exists()


def test_no_file_chosen_is_told_at_the_field(bench_client: Client):
    answer = bench_client.post(reverse("rack:import"), {"once": new_key()})

    assert answer.status_code == 422
    assert "Choose a file first." in answer.content.decode()


def test_bad_rows_as_a_file_have_all_of_them(bench_client: Client):
    sent(bench_client, as_csv(*({"grade": 7, "note": "=x"} for _ in range(350))))

    shown = bench_client.get(reverse("rack:import-shown", args=[CleftFile.objects.get().code]))
    file = bench_client.get(reverse("rack:import-faults", args=[CleftFile.objects.get().code]))

    assert "50 more are in the file of bad rows." in shown.content.decode()
    rows = read_table(file.content)
    assert len(rows) == 351
    assert rows[1] == ["2", "grade", "7", "A whole number from 1 to 4 is allowed."]
    assert file["Content-Disposition"] == 'attachment; filename="bad-rows.csv"'


def test_text_of_a_file_is_shown_as_text(bench_client: Client):
    answer = sent(bench_client, as_csv({"load": "<b>load</b>", "grade": "<i>1</i>"}, {"load": "<b>load</b>"}))

    page = bench_client.get(answer["Location"]).content.decode()
    assert "<b>load" not in page
    assert "<i>1" not in page
    assert "&lt;b&gt;load" in page


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_export_is_of_what_the_filter_shows(kind: str, bench_client: Client, maker: User):
    a_cleft(41, maker, price=8550)
    a_cleft(42, maker, state=CleftState.SEASONING)

    answer = bench_client.get(reverse(f"rack:export-{kind}"), {"shown": "seasoning"})

    head, *rows = read_table(answer.content)
    assert [row[head.index("number")] for row in rows] == ["42"]
    assert "price" not in head
    assert f".{kind}" in answer["Content-Disposition"]


def test_export_has_prices_for_the_maker(maker_client: Client, maker: User):
    a_cleft(41, maker, price=8550)

    head, row = read_table(maker_client.get(reverse("rack:export-csv")).content)

    assert row[head.index("price")] == "85.50"


def test_pattern_has_the_columns_that_are_read(bench_client: Client):
    [head] = read_table(bench_client.get(reverse("rack:import-pattern")).content)

    assert head == read_table(as_csv({}))[0]
