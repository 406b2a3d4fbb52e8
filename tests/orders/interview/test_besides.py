"""What else would do: other whole bats and what each other choice would change, asked for from the draft."""

import json

import pytest
from django.test import Client
from django.urls import reverse

from fitting.recommend import with_effects
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from orders.interview.besides import besides_of
from orders.people.models import Player
from tests.cast import signed_in
from tests.journeys.world import TYPED, a_draft
from tests.sheets import fitting_json

pytestmark = pytest.mark.django_db


def found_for(sheet):
    return with_effects(read_sheet(FittingSheet, json.dumps(sheet)))


def test_whole_bats_stand_from_the_lightest_to_the_fullest_with_their_figures():
    sheet = fitting_json()
    found = found_for(sheet)
    told = besides_of(sheet, "metric")
    assert told is not None
    assert [bat.key for bat in told.bats] == ["quicker", "recommended", "fuller"]
    masses = [bat.rows[0][1] for bat in told.bats]
    quicker, fuller = found.others
    weighed = (quicker.weighing, found.weighing, fuller.weighing)
    assert masses == [f"{weighing.mass_g:.0f} g" for weighing in weighed]
    assert all("<svg" in bat.small for bat in told.bats)


def test_every_alternative_of_a_reason_is_told_with_what_it_changes():
    sheet = fitting_json()
    found = found_for(sheet)
    told = besides_of(sheet, "metric")
    assert told is not None
    asked = [len(reason.alternatives) for reason in found.reasons if reason.alternatives]
    assert [len(choice.others) for choice in told.choices] == asked
    profile = next(choice for choice in told.choices if choice.name == "Profile")
    full = next(other for other in profile.others if other.value == "full")
    assert any(change.endswith("heavier") for change in full.changes)


def test_child_is_offered_no_other_bat():
    told = besides_of(fitting_json(player={"age_years": 9, "height_mm": 1350}), "metric")
    assert told is not None
    assert told.bats == ()


def test_inches_are_kept_to():
    told = besides_of(fitting_json(), "imperial")
    assert told is not None
    assert " lb " in told.bats[0].rows[0][1]


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
