"""The first page of the site."""

import pytest

pytestmark = pytest.mark.django_db


def test_stranger_reads_what_is_made_here_and_where_to_begin(anyone, workshop):
    page = anyone.get("/").content.decode()
    assert workshop.name in page
    assert 'href="/fitting/"' in page
    assert "tape measure" in page
    assert "kitchen scale" in page
    assert 'href="/sign-in/"' in page


def test_start_draws_a_bat_from_a_build_sheet(anyone, workshop):
    page = anyone.get("/").content.decode()
    assert page.count("<svg") >= 2
    assert "style=" not in page


def test_holder_finds_the_way_to_their_bats(player_client):
    assert 'href="/my/"' in player_client.get("/").content.decode()


def test_staff_are_led_to_their_day(maker_client, bench_client):
    assert maker_client.get("/")["Location"] == "/floor/"
    assert bench_client.get("/")["Location"] == "/floor/bench/"


def test_start_can_only_be_read(anyone, workshop):
    assert anyone.post("/").status_code == 405
