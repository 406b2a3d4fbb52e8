"""Numbers that no wood has, files with rows that cannot be: told where they stand, nothing kept by half."""

import re

import pytest
from playwright.sync_api import expect

from orders.commissions.models import Bat, Reading
from orders.commissions.states import Stage
from tests.factories import a_bat_in
from tests.journeys import acts
from tests.journeys.conftest import take_refusals
from tests.workshop.rack.files_of_clefts import as_csv
from workshop.rack.models import Cleft

ROWS, BAD = 10_000, 30


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        # The block that a kilogram makes no willow of: 712 x 118 x 76 mm at 25 g are 4 kg/m3.
        ({"Mass": "25 g"}, re.compile(r"\b25\b")),
        ({"Moisture": "40"}, re.compile(r"\b40\b")),
    ],
)
def test_cleft_that_is_no_wood(open_page, workshop, bench_hand_at_work, complaints, typed, told):
    page = open_page()
    acts.sign_in_by_password(page, bench_hand_at_work.email)
    page.goto("/floor/rack/take-in/")
    sizes = {f"{what} {at}": size for what, size in (("Width", "118"), ("Depth", "76")) for at in PLACES}
    given = {"Number": "7", "Length": "712", "Mass": "2400 g", "Moisture": "12", **sizes, **typed}
    for label, value in given.items():
        page.get_by_label(label, exact=True).fill(value)
    page.get_by_label("2", exact=True).check()
    page.get_by_label("ready to be cut").check()
    page.get_by_role("button", name="Put it on the rack").click()
    expect(page.locator("#faults")).to_be_focused()
    expect(page.locator("#faults")).to_contain_text(told)
    for label, value in typed.items():
        expect(page.get_by_label(label, exact=True)).to_have_value(value)
        expect(page.get_by_label(label, exact=True)).to_have_attribute("aria-invalid", "true")
    assert not Cleft.objects.exists()
    take_refusals(complaints, 1)


PLACES = ("near end 1", "in the middle", "near end 2")


def test_file_of_ten_thousand_with_thirty_bad_rows(open_page, workshop, bench_hand_at_work, complaints):
    """Every bad row is named with its number in the file; the good ones come in only when that is said."""
    changes = [{"number": 1000 + at, "blemishes": ""} for at in range(ROWS)]
    bad = range(100, ROWS, ROWS // BAD)[:BAD]
    for at, row in enumerate(bad):
        changes[row] |= ({"mass_g": 25}, {"moisture_percent": 40}, {"grade": "fine"})[at % 3]
    page = open_page()
    acts.sign_in_by_password(page, bench_hand_at_work.email)
    page.set_default_timeout(60_000)
    page.goto("/floor/rack/import/")
    file = {"name": "all.csv", "mimeType": "text/csv", "buffer": as_csv(*changes)}
    page.get_by_label("File").set_input_files(file)
    page.get_by_role("button", name="Read the file").click()
    named = page.locator("table", has=page.locator("caption", has_text="Bad rows")).locator("tbody tr")
    expect(named).to_have_count(BAD)
    # The head is row 1 of the file.
    assert [int(row) for row in named.locator("th").all_inner_texts()] == [row + 2 for row in bad]
    assert not Cleft.objects.exists()
    page.get_by_label(f"Leave the {BAD} bad rows out and take in the good ones").check()
    page.get_by_role("button", name=f"Put {ROWS - BAD} clefts on the rack").click()
    expect(page.get_by_role("status").first).to_be_visible()
    assert Cleft.objects.count() == ROWS - BAD


def test_stage_that_is_skipped_by_its_address(open_page, workshop, player, maker, bench_hand_at_work):
    """The inspection's address does not bring a bat there, and a form of another stage keeps nothing."""
    bat = a_bat_in(Stage.SHAPING, player, maker)
    page = open_page()
    acts.sign_in_by_password(page, bench_hand_at_work.email)
    page.goto(f"/floor/bench/{bat.code}/inspection/")
    expect(page.get_by_role("button", name="Pass it")).to_have_count(0)
    assert Bat.objects.get().stage == Stage.SHAPING


def test_spine_with_a_slipped_point_without_javascript(
    open_page, workshop, player, maker, bench_hand_at_work, complaints
):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    page = open_page(java_script_enabled=False)
    acts.sign_in_by_password(page, bench_hand_at_work.email)
    page.goto(f"/floor/bench/{bat.code}/")
    box = page.locator("[name^='spine-']").nth(2)
    box.fill("6.4")
    page.get_by_role("button", name="Keep these readings").click()
    expect(page.locator("#faults")).to_contain_text("Did you mean 64 mm?")
    expect(page.locator("[name^='spine-']").nth(2)).to_have_value("6.4")
    assert not Reading.objects.filter(bat=bat).exists()
    take_refusals(complaints, 1)
