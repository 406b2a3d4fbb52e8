"""The rule book's pages."""

import pytest
from django.urls import reverse

from fitting.facts import COMMON_PRACTICE, KONG_LOWE
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.snapshot import book_hash
from orders.commissions.models import BookVersion
from orders.rules.told import subject_told, subjects_in
from orders.words.signs import say_subject

pytestmark = pytest.mark.django_db
BOW = "/rules/bow/"


def test_first_page_leads_to_every_subject(anyone, workshop):
    page = anyone.get("/rules/").content.decode()

    for subject in subjects_in(DEFAULT_BOOK):
        address = reverse("rules:subject", args=[subject.replace("_", "-")])
        assert f'<a href="{address}">{say_subject(subject)}</a>' in page


def test_numbers_of_the_first_page_are_the_books(anyone, workshop):
    page = anyone.get("/rules/").content.decode()

    assert "19.7 %" in page
    assert "stays 1 mm inside" in page
    assert "Kong and Lowe (2005)" in page
    assert "129.5 cm (4 ft 3 in)" in page
    assert "190 mm to 205 mm" in page
    assert "its length counts 5 points" in page
    assert "2 points ahead is as sure" in page

    rules = DEFAULT_BOOK.rules.model_copy(update={"hand_to_diameter": 0.21})
    book = DEFAULT_BOOK.model_copy(update={"version": 2, "law_margin_mm": 1.5, "rules": rules})
    BookVersion.objects.create(number=2, content=book.model_dump(mode="json"), hash=book_hash(book))
    page = anyone.get("/rules/").content.decode()

    assert "21 %" in page
    assert "stays 1.5 mm inside" in page
    assert "book 2" in page


@pytest.mark.parametrize("subject", subjects_in(DEFAULT_BOOK))
def test_subject_tells_every_sign_with_its_fact(anyone, workshop, subject):
    page = anyone.get(f"/rules/{subject.replace('_', '-')}/").content.decode()
    told = subject_told(subject, DEFAULT_BOOK)

    signs = [sign for option in told.options for sign in option.signs]
    assert len(signs) == sum(sign.subject == subject for sign in DEFAULT_BOOK.rules.signs)
    assert page.count('class="strength"') == len(signs)
    assert all(f'id="fact-{fact.number}"' in page for fact in told.facts)


def test_kind_of_each_fact_is_told():
    kinds = {fact.kind for fact in subject_told("bow", DEFAULT_BOOK).facts}

    assert "common practice of the trade, no published source" in kinds
    assert COMMON_PRACTICE not in kinds
    assert KONG_LOWE not in kinds


def test_option_that_only_a_wish_leads_to_is_told(anyone, workshop):
    page = anyone.get("/rules/edges/").content.decode()

    assert page.count("only a wish leads to it") == 2
    assert "Thick" in page
    assert "size 3" not in anyone.get("/rules/length/").content.decode().split("What speaks for what")[1]


def test_points_are_for_the_maker(anyone, player_client, maker_client, workshop):
    points = '<span class="num">1.25</span>'

    assert points not in anyone.get(BOW).content.decode()
    assert points not in player_client.get(BOW).content.decode()
    assert points in maker_client.get(BOW).content.decode()


def test_what_if_works_by_its_address_alone(anyone, workshop):
    page = anyone.get(BOW, {"age": "30", "height": "5'9", "shots.1": "lofted", "outfield_grass": "long"})

    assert "It would be: full" in page.content.decode()
    assert '<option value="long" selected>' in page.content.decode()


def test_htmx_gets_the_decision_alone(anyone, workshop):
    answer = anyone.get(BOW, {"age": "30", "height": "5'9"}, headers={"HX-Request": "true"}).content.decode()

    assert answer.lstrip().startswith('<div id="decided"')
    assert "It would be: slight" in answer


def test_what_cannot_be_read_is_told(anyone, workshop):
    answer = anyone.get(BOW, {"age": "three", "height": "5'9"})

    assert answer.status_code == 422
    page = answer.content.decode()
    assert 'href="#what-if-age"' in page
    assert 'value="three"' in page
    assert "It would be" not in page


@pytest.mark.parametrize("subject", ["nothing", "Bow", "toe_guard-x"])
def test_unknown_subject_is_not_found(anyone, workshop, subject):
    assert anyone.get(f"/rules/{subject}/").status_code == 404


def test_every_page_leads_to_the_rules(anyone, workshop):
    assert 'href="/rules/"' in anyone.get("/fitting/").content.decode()
