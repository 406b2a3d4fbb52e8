"""The job card as it is printed."""

import io
import re
from dataclasses import replace
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from pypdf import PdfReader

from orders.care import returns
from orders.commissions.models import Bat
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import MOMENT, a_bat_in, an_agreed_bat
from tests.finished import a_return
from tests.weighings import of_model_1
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.asks import asks_of
from workshop.bench.job_card import card_of, job_card
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
    assert len(reader.pages) <= 6


def test_job_card_is_tagged_and_titled(player: Player, maker: User):
    bat = an_agreed_bat(player, maker)

    reader = PdfReader(io.BytesIO(job_card(work_on(bat))))

    assert reader.metadata is not None
    assert reader.metadata.title == f"Job card {bat.commission.reference}"
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en-gb"


def test_job_card_has_every_number_to_hit_and_every_step(player: Player, maker: User):
    bat = an_agreed_bat(player, maker)
    work = work_on(bat)
    stations = asks_of(work.paper, "handle_fitting")

    pages = pages_of(bat)
    fitting = next(page for page in pages if "Handle fitting" in page)

    assert f"{work.build.mass_g.target:.0f} ± {work.build.mass_g.tolerance:.0f}" in pages[0]
    for ask in stations:
        if ask.aim is not None and ask.aim.target is not None:
            assert f"{ask.aim.target:.1f}".removesuffix(".0") in fitting, ask.name
    whole = " ".join(" ".join(pages).split())
    assert "leave the top 180 mm square" in whole
    assert "The last cuts are made under handle fitting, handle in." in whole
    assert "The nip of the press takes fingers." in whole
    assert "Your local rules and the machine maker's instructions come before these words." in whole


def test_job_card_of_a_long_name_stays_on_its_pages(player: Player, maker: User):
    player.name = "Wilhelmina-Featherstonehaugh " * 4
    player.save()
    bat = an_agreed_bat(player, maker)

    pages = pages_of(bat)

    assert "Featherstonehaugh" in pages[0]
    assert len(pages) <= 6


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
    player.name = "<img src='http://players.example/a.png'> <img src='file:///etc/hostname'>"
    player.save()
    bat = an_agreed_bat(player, maker)

    assert "<img src=" in pages_of(bat)[0].replace("\n", " ")


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

    assert shown in pages_of(back.bat)[0]


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
