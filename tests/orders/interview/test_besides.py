"""Other whole bats, asked for from the draft."""

import json

import pytest
from django.test import Client
from django.urls import reverse

from fitting.recommend import whole_bats
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from orders.interview.besides import told_bats
from orders.people.models import Player
from tests.cast import signed_in
from tests.journeys.world import TYPED, a_draft
from tests.sheets import fitting_json

pytestmark = pytest.mark.django_db


def test_whole_bats_stand_from_the_lightest_to_the_fullest_with_their_figures():
    sheet = fitting_json()
    bats = {str(bat.key): bat for bat in whole_bats(read_sheet(FittingSheet, json.dumps(sheet)))}
    told = told_bats(sheet, "metric")
    assert [bat.key for bat in told] == ["quicker", "recommended", "fuller"]
    for bat in told:
        assert bat.rows[0][1] == f"{bats[bat.key].weighing.mass_g:.0f} g"
        assert "<svg" in bat.small


def test_child_is_offered_no_other_bat():
    assert told_bats(fitting_json(player={"age_years": 9, "height_mm": 1350}), "metric") == ()


def test_inches_are_kept_to():
    assert " lb " in told_bats(fitting_json(), "imperial")[0].rows[0][1]


def test_page_belongs_to_who_sees_the_draft(client: Client, player: Player):
    draft = a_draft(TYPED, holder=player.holder, player=player)
    address = reverse("interview:besides", args=[draft.code])
    assert client.get(address).status_code == 404
    mine = signed_in(player.holder)
    page = mine.get(address).content.decode()
    assert "A quicker one" in page
    assert "<html" in page
    part = mine.get(address, headers={"HX-Request": "true"}).content.decode()
    assert part.lstrip().startswith('<div id="besides">')
    assert address in mine.get(reverse("interview:draft", args=[draft.code])).content.decode()


def test_unfinished_draft_is_sent_back_to_its_first_page(player: Player):
    draft = a_draft({}, holder=player.holder, player=player)
    answer = signed_in(player.holder).get(reverse("interview:besides", args=[draft.code]))
    assert answer.status_code == 302
    assert answer.headers["Location"] == reverse("interview:page", args=[draft.code, "you"])
