"""The head line and the title block: whose workshop, where to go, and what this sheet is called."""

import re

import pytest
from django.template import engines
from django.template.loader import render_to_string
from django.test import Client, RequestFactory
from django.urls import reverse

from orders.people.models import User, Workshop
from workshop.page import ROADS, links

PAGE = '{% extends "base.html" %}{% block title %}Hands &amp; pitches{% endblock %}'


def words_for(user: User, path: str = "/") -> dict[str, bool]:
    request = RequestFactory().get(path)
    request.user = user
    return {str(link.words): link.current for link in links(request)}


def test_every_road_leads_somewhere() -> None:
    for roads in ROADS.values():
        for name, _ in roads:
            assert reverse(name).startswith("/")


def test_bench_hand_sees_bench_rack_and_stock_only(bench_hand: User) -> None:
    assert list(words_for(bench_hand)) == ["Bench", "Rack", "Stock"]


def test_player_sees_no_road_to_the_floor(player_user: User) -> None:
    request = RequestFactory().get("/")
    request.user = player_user

    assert links(request)
    assert not any(link.address.startswith("/floor/") for link in links(request))


def test_the_page_one_is_on_is_marked(maker: User) -> None:
    found = words_for(maker, reverse("rack:clefts"))

    assert [words for words, current in found.items() if current] == ["Rack"]


def test_title_stands_in_the_window_and_in_the_title_block(workshop: Workshop) -> None:
    html = engines["django"].from_string(PAGE).render({"workshop": workshop, "version": "9.9"})

    assert f"<title>Hands &amp; pitches · {workshop.name}</title>" in html
    assert '<dd class="sheet-title">Hands &amp; pitches</dd>' in html
    assert workshop.place in html
    assert "9.9" in html


@pytest.mark.django_db
def test_stranger_is_shown_the_door_and_no_roads(client: Client, workshop: Workshop) -> None:
    html = client.get(reverse("people:sign-in")).content.decode()

    assert '<nav aria-label="Pages">' not in html
    assert workshop.name in html


@pytest.mark.django_db
def test_unknown_address_says_so_in_the_workshops_own_frame(client: Client, workshop: Workshop) -> None:
    answer = client.get("/no/such/sheet/")

    html = answer.content.decode()
    assert answer.status_code == 404
    assert "There is no such sheet" in html
    assert workshop.name in html


@pytest.mark.parametrize("name", ["400", "403", "403_csrf", "404", "422", "429", "500"])
def test_error_pages_render_with_nothing_known(name: str) -> None:
    html = render_to_string(f"{name}.html")

    assert len(re.findall("<h1>", html)) == 1
    assert 'href="/"' in html
