"""The job card as it is printed."""

import io
import re
from dataclasses import replace
from typing import Any

import pytest
import segno
from django.test import Client
from django.urls import reverse
from pypdf import PdfReader

from fitting.sheets.build_sheet import BuildSheet
from orders.care import returns
from orders.commissions.models import Bat
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import MOMENT, a_bat_in, an_agreed_bat
from tests.finished import a_return
from tests.weighings import of_model_1
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.asks import asks_of
from workshop.bench.job_card import card_of, job_card, label_of
from workshop.bench.work import work_on
from workshop.rack.models import Cleft, CleftState

A4_POINTS = (595.3, 841.9)


def pages_of(bat: Bat) -> list[str]:
    """Return the text of each page of the card."""
    return [page.extract_text() for page in PdfReader(io.BytesIO(job_card(work_on(bat)))).pages]


def test_job_card_has_commission_and_date_on_every_page(player: Player, maker: User):
    bat = an_agreed_bat(player, maker)

    reader = PdfReader(io.BytesIO(job_card(work_on(bat))))

    for at, page in enumerate(reader.pages, start=1):
        text = page.extract_text()
        assert bat.commission.reference in text
        assert re.search(r"\d{1,2} [A-Z][a-z]{2} 20\d\d", text)
        assert f"{at} / {len(reader.pages)}" in text
        size = (float(page.mediabox.width), float(page.mediabox.height))
        assert size == pytest.approx(A4_POINTS, abs=0.5)
    assert len(reader.pages) == 1


def test_job_card_is_tagged_and_titled(player: Player, maker: User):
    bat = an_agreed_bat(player, maker)

    reader = PdfReader(io.BytesIO(job_card(work_on(bat))))

    assert reader.metadata is not None
    assert reader.metadata.title == f"Job card {bat.commission.reference}"
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en-gb"


def test_job_card_has_every_number_to_hit_and_the_conditions(player: Player, maker: User):
    bat = an_agreed_bat(player, maker)
    work = work_on(bat)
    stations = [ask for ask in asks_of(work.paper, "handle_fitting") if ask.place is not None]

    whole = " ".join(pages_of(bat)[0].split())

    assert f"{work.build.mass_g.target:.0f} ± {work.build.mass_g.tolerance:.0f}" in whole
    assert len(stations) == 3 * len(work.build.blade.stations)
    for ask in stations:
        assert ask.aim is not None
        assert ask.aim.target is not None
        assert f"{ask.aim.target:.1f}" in whole, ask.name
    assert "Shaping leaves 1 mm on everywhere and the top square" in whole
    assert "Coats of oil: 3" in whole
    assert f"{work.build.pickup_kg_m2.target:.4f}" in whole
    assert "Press: hands out of the nip" in whole
    assert "Your local rules and the machine maker's instructions come before these words." in whole


def test_job_card_is_of_what_is_shaped_to(player: Player, maker: User):
    """Once the bat has its own targets, those stand under the stations, and the card says so."""
    work = work_on(an_agreed_bat(player, maker))
    deeper = work.build.model_dump()
    for station in deeper["blade"]["stations"]:
        station["spine_mm"] += 0.7
    targets = BuildSheet.model_validate(deeper)
    shaped = replace(work)
    vars(shaped)["targets"] = targets

    context = card_of(shaped, MOMENT)

    asked = [
        ask.aim.target for ask in asks_of(shaped.paper, "handle_fitting") if ask.key == "spine" and ask.aim
    ]
    assert context["reshaped"]
    assert not card_of(work, MOMENT)["reshaped"]
    assert asked[4] == pytest.approx(targets.blade.stations[4].spine_mm, abs=0.05)
    assert all(f"{number:.1f}" in str(context["drawing"]) for number in asked)


def test_job_card_of_much_to_say_stays_on_its_page(player: Player, maker: User):
    player.name = "Wilhelmina-Featherstonehaugh-" * 4
    player.save()
    bat = an_agreed_bat(player, maker)
    bat.rounds.update(words="Two millimetres off the back below the swell, and a thinner handle. " * 9)

    pages = pages_of(bat)

    assert "Featherstonehaugh" in pages[0].replace("\n", "")
    assert len(pages) == 1


def test_hanging_label_tells_bat_stages_and_code_on_one_small_page(
    player: Player, maker: User, bench_client: Client
):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    answer = bench_client.get(reverse("bench:hanging-label", args=[bat.code]))

    (page,) = PdfReader(io.BytesIO(answer.content)).pages
    text = page.extract_text()
    assert answer["Content-Disposition"] == f'inline; filename="hanging-label-{bat.commission.reference}.pdf"'
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx((170.1, 297.6), abs=0.5)
    said = (bat.commission.reference, player.name.split()[0], "851 mm")
    for stage in (*said, "Cleft selection", "Pressing", "Shaping", "Handle fitting", "Finishing", bat.code):
        assert stage in text


@pytest.mark.parametrize("printed", [card_of, label_of])
def test_code_leads_to_the_bats_own_page(printed: Any, player: Player, maker: User, settings: Any):
    """The modules of the printed code are those of the bat's address."""
    settings.SITE_URL = "https://bats.example"
    bat = an_agreed_bat(player, maker)

    address = f"https://bats.example{reverse('bench:bat', args=[bat.code])}"

    assert printed(work_on(bat), MOMENT)["code"] == segno.make(address, error="m").svg_inline(
        omitsize=True, border=4
    )


def test_job_card_shows_no_price(player: Player, maker: User):
    whole = " ".join(pages_of(an_agreed_bat(player, maker)))

    assert "£" not in whole
    assert "420.00" not in whole


def test_job_card_fetches_nothing(player: Player, maker: User, monkeypatch: pytest.MonkeyPatch):
    """Whatever a card says, neither disk nor net is read for it."""
    import socket

    def refuse(*args: object, **kwargs: object) -> None:
        raise AssertionError("the card went out for something")

    monkeypatch.setattr(socket.socket, "connect", refuse)
    player.name = "<img/src='http://players.example/a.png'><img/src='file:///etc/hostname'>"
    player.save()
    bat = an_agreed_bat(player, maker)

    assert "<img" in pages_of(bat)[0]


def test_job_card_address_sends_a_pdf(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    answer = bench_client.get(reverse("bench:job-card", args=[bat.code]))

    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"] == f'inline; filename="job-card-{bat.commission.reference}.pdf"'
    assert answer.content.startswith(b"%PDF-")


@pytest.mark.parametrize(("again", "shown"), [(False, "Cleft 0007"), (True, "No cleft chosen yet")])
def test_job_card_of_a_bat_put_right_names_its_wood_and_of_one_made_again_waits_for_it(
    player: Player, maker: User, again: bool, shown: str
):
    back = a_return(player, maker)
    cleft = a_cleft(7, maker)
    Cleft.objects.filter(pk=cleft.pk).update(bat=back.bat, round=1, state=CleftState.USED)
    if again:
        returns.rebuild(back, by=maker, words="Made anew.")
    else:
        returns.adjust(back, by=maker, stages_needed=[Stage.SHAPING], words="Lighter.", to_do="2 mm off")
    back.bat.refresh_from_db()

    page = " ".join(pages_of(back.bat)[0].split())
    assert shown in page
    # Only what is made anew has a top that is still to be left square.
    assert ("left square" in page) is again
    assert ("Shaping leaves" in page) is again


def test_job_card_has_the_place_that_hits_hardest_where_it_is_known(player: Player, maker: User):
    bat = an_agreed_bat(player, maker)
    work = work_on(bat)
    assert work.weighing.sweet_spot is not None
    assert card_of(work, MOMENT)["hits"] == f"{5 * round(work.weighing.sweet_spot.peak_from_toe_mm / 5)}"
    old = replace(work, weighing=of_model_1(work.weighing))
    assert card_of(old, MOMENT)["hits"] == ""
    words = PdfReader(io.BytesIO(job_card(old))).pages[0].extract_text()
    assert "hits hardest" not in words
    assert "hits hardest" in pages_of(bat)[0]
