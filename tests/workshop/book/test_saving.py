"""Trying a changed book on the last fittings, saving it once, its history."""

from typing import Any

import pytest

from fitting.recommend import recommend
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.snapshot import book_hash
from orders.commissions.book_in_force import book_in_force
from orders.commissions.editions import keep_edition
from orders.commissions.models import BookVersion, BuildVersion
from orders.people.once import new_key
from tests.factories import a_commission
from tests.workshop.book.conftest import sign_key
from workshop.book import trying
from workshop.book.differences import differences

pytestmark = pytest.mark.django_db
BOOK = "/floor/book/"
TRY = "/floor/book/try/"
EDITIONS = "/floor/book/editions/"

# Answers that speak for a full bow as much as the usual choice speaks for a slight one, but for a little.
LOFTED: dict[str, Any] = {"game": {"shots": {"lofted": 2, "cut": 3}}, "pitches": {}, "present_bat": {}}


def recommended(commission, book):
    return recommend(read_sheet(FittingSheet, commission.sheet), book)


def with_rules(**changes):
    rules = DEFAULT_BOOK.rules.model_copy(update=changes)
    return DEFAULT_BOOK.model_copy(update={"rules": rules})


def with_points(subject, option, points, given):
    signs = tuple(
        sign.model_copy(update={"points": given})
        if (sign.subject, sign.option, sign.points) == (subject, option, points)
        else sign
        for sign in DEFAULT_BOOK.rules.signs
    )
    return with_rules(signs=signs)


# trying


def test_without_fittings_it_is_said(change, maker_client):
    change("wishes", wish_numbers__bow_slight_mm="6")

    assert "There is no fitting yet" in maker_client.get(TRY).content.decode()


def test_weight_that_moves_one_fitting_is_shown_for_that_one(player, workshop):
    lofted, plain = a_commission(player, **LOFTED), a_commission(player)
    new = with_points("bow", "full", 1.25, 2.5)
    assert recommended(lofted, new).build.blade.bow_mm == 12

    tried = trying.run(DEFAULT_BOOK, new)

    assert (tried.there, tried.run, tried.unchanged) == (2, 2, 1)
    (row,) = tried.rows
    assert row.code == lofted.code != plain.code
    assert [(moved.what, moved.before, moved.after) for moved in row.choices] == [("Bow", "5 mm", "12 mm")]
    assert tried.choices == (("Bow", 1),)


def test_differences_are_those_of_the_recommendations(player, workshop):
    commission = a_commission(player, **LOFTED)
    new = with_rules(mass_usual_share=0.8)
    before, after = (recommended(commission, book) for book in (DEFAULT_BOOK, new))
    grams = after.weighing.mass_g - before.weighing.mass_g
    assert grams > 20

    tried = trying.run(DEFAULT_BOOK, new)

    changes = {quantity.what: quantity.change for quantity in tried.rows[0].quantities}
    assert changes["mass"] == pytest.approx(grams)
    assert changes["pickup"] == pytest.approx(
        after.weighing.inertia_kg_m2.pickup - before.weighing.inertia_kg_m2.pickup
    )
    best = {quantity.what: (quantity.change, reference) for quantity, reference in tried.greatest}
    assert best["mass"] == (pytest.approx(grams), commission.reference)


def test_same_book_changes_nothing(player, workshop):
    a_commission(player)

    assert trying.run(DEFAULT_BOOK, DEFAULT_BOOK).rows == ()


def test_it_stops_when_its_time_is_over_and_says_so(player, change, maker_client, monkeypatch):
    for _number in range(3):
        a_commission(player)
    ticks = iter([0.0, 1.0, 2.0, trying.SECONDS + 1])

    tried = trying.run(DEFAULT_BOOK, DEFAULT_BOOK, clock=lambda: next(ticks))

    assert (tried.there, tried.run) == (3, 2)
    monkeypatch.setattr(trying, "SECONDS", 0.0)
    change("wishes", wish_numbers__bow_slight_mm="6")
    page = maker_client.get(TRY).content.decode()
    assert "0 of 3 fittings were run" in page


def test_at_most_fifty_newest_are_run(player, workshop, monkeypatch):
    first, *_rest = [a_commission(player, **LOFTED) for _number in range(3)]
    monkeypatch.setattr(trying, "MOST_FITTINGS", 2)

    tried = trying.run(DEFAULT_BOOK, with_points("bow", "full", 1.25, 2.5))

    assert tried.run == 2
    assert first.code not in {row.code for row in tried.rows}


def test_page_shows_what_would_change(player, maker_client, workshop):
    commission = a_commission(player, **LOFTED)
    said = {"once": new_key(), "version": "1", f"points.{sign_key('bow', 'slight', 2)}": "0"}

    answer = maker_client.post(f"{BOOK}signs/bow/", {**said, "next": "try"})

    assert answer["Location"] == TRY
    page = maker_client.get(TRY).content.decode()
    assert "Bow: 5 mm → <strong>12 mm</strong>" in page
    assert f">{commission.reference}</a> {player.name.split()[0]}" in page
    assert player.name not in page
    assert "Bow, slight: with nothing said" in page
    assert "Save as edition 2" in page


# saving


def test_saved_once_with_who_why_and_when(change, save, maker, maker_client):
    change("wishes", wish_numbers__bow_slight_mm="6")
    form = {"once": new_key(), "version": "1", "edition": "", "note": "  more   spring "}

    answers = [maker_client.post(f"{BOOK}save/", form) for _time in range(3)]

    assert {answer["Location"] for answer in answers} == {BOOK}
    kept = BookVersion.objects.get()
    assert (kept.number, kept.by, kept.note) == (2, maker, "more spring")
    assert kept.hash == book_hash(book_in_force())
    assert book_in_force().version == 2
    assert book_in_force().wish_numbers.bow_slight_mm == 6
    assert maker_client.get(TRY)["Location"] == BOOK


@pytest.mark.parametrize(("note", "words"), [("  ", "Write one line"), ("x" * 201, "201 letters were given")])
def test_a_line_that_says_why_is_needed(change, save, note, words):
    change("wishes", wish_numbers__bow_slight_mm="6")

    answer = save(note)

    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert 'href="#id_note"' in answer.content.decode()
    assert BookVersion.objects.count() == 0


def test_second_of_two_sees_theirs_and_saves_upon_it(change, save, maker_client, maker):
    change("wishes", wish_numbers__bow_slight_mm="6")
    keep_edition(DEFAULT_BOOK.model_copy(update={"law_margin_mm": 1.5}), seen=1, by=maker, note="theirs")

    answer = save("mine", version="1")

    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Somebody else has been here" in page
    assert '<td data-label="now">1.5 mm</td>' in page
    assert "6 mm" in page
    assert BookVersion.objects.count() == 1
    assert save("mine", version="2")["Location"] == BOOK
    assert (book_in_force().law_margin_mm, book_in_force().wish_numbers.bow_slight_mm) == (1.5, 6)


def test_theirs_is_shown_where_mine_is_tried(change, maker_client, maker):
    change("wishes", wish_numbers__bow_slight_mm="6")
    keep_edition(DEFAULT_BOOK.model_copy(update={"law_margin_mm": 1.5}), seen=1, by=maker, note="theirs")

    page = maker_client.get(TRY).content.decode()

    assert "Somebody else has been here" in page
    assert "Save as edition 3" in page
    assert "Somebody else" not in maker_client.get(TRY).content.decode()


def test_changes_that_fit_no_longer_can_be_dropped(change, maker_client, maker):
    change("lengths", lengths__9__girth_low_mm="108")
    rows = list(DEFAULT_BOOK.lengths)
    rows[9] = rows[9].model_copy(update={"girth_high_mm": 104, "girth_low_mm": 101})
    keep_edition(DEFAULT_BOOK.model_copy(update={"lengths": tuple(rows)}), seen=1, by=maker, note="theirs")

    page = maker_client.get(BOOK).content.decode()

    assert "do not fit edition 2 any more" in page
    assert "Drop my changes" in page
    assert maker_client.get(TRY)["Location"] == BOOK


def test_book_that_makes_no_bat_is_not_saved(change, save, monkeypatch):
    change("wishes", wish_numbers__bow_slight_mm="6")
    monkeypatch.setattr(trying, "PLAIN_PLAYER", {"age_years": 200, "height_mm": 1740})

    answer = save("whatever")

    assert answer.status_code == 422
    assert "no bat can be made for a grown player" in answer.content.decode()
    assert BookVersion.objects.count() == 0


def test_nothing_changed_is_not_saved(save):
    assert save("again")["Location"] == BOOK
    assert BookVersion.objects.count() == 0


def test_new_commissions_go_by_the_new_edition_and_old_ones_stay(change, save, player):
    agreed = a_commission(player)
    before = BuildVersion.objects.get(commission=agreed)
    change("limits", law_margin_mm="3")
    save()

    after = BuildVersion.objects.get(commission=a_commission(player))

    assert after.book_number == 2
    assert after.build["blade"]["width_mm"] <= 105 < before.build["blade"]["width_mm"]
    again = BuildVersion.objects.get(commission=agreed)
    assert (again.book_number, again.build) == (1, before.build)


def test_a_draft_follows_the_new_edition_at_once(change, save, anyone):
    before = anyone.get("/rules/bow/").content.decode()
    change("wishes", wish_numbers__bow_slight_mm="7")
    save()

    assert '<span class="num">5 mm</span>' in before
    assert '<span class="num">7 mm</span>' in anyone.get("/rules/bow/").content.decode()


# history


def test_history_tells_every_edition_and_what_differs(change, save, maker_client):
    change("wishes", wish_numbers__bow_slight_mm="6")
    save("more spring")
    change("limits", law_margin_mm="2")
    save("safer")

    page = maker_client.get(EDITIONS, {"from": "1", "to": "3"}).content.decode()

    assert page.index("safer") < page.index("more spring") < page.index("The book that came with the program")
    assert '<td data-label="edition 1">5 mm</td><td data-label="edition 3">6 mm</td>' in page
    assert '<td data-label="edition 1">1 mm</td><td data-label="edition 3">2 mm</td>' in page
    assert "slight bow" not in maker_client.get(EDITIONS, {"from": "2", "to": "3"}).content.decode().lower()


@pytest.mark.parametrize("number", ["9", "x", "-1", "²", "9" * 20])
def test_unknown_edition_is_told(maker_client, workshop, number):
    answer = maker_client.get(EDITIONS, {"from": number})

    assert answer.status_code == 422
    assert "There is no edition of that number." in answer.content.decode()


def test_an_old_edition_is_taken_up_again(change, save, maker_client):
    change("wishes", wish_numbers__bow_slight_mm="6")
    save("more spring")

    page = maker_client.get(TRY, {"edition": "1"}).content.decode()
    assert "Save as edition 3" in page
    assert save("back to it", edition="1")["Location"] == BOOK

    assert book_in_force() == DEFAULT_BOOK.model_copy(update={"version": 3})
    assert [one.number for one in BookVersion.objects.all()] == [3, 2]


def test_taking_up_again_keeps_what_is_changed_and_not_saved(change, save, maker_client):
    change("wishes", wish_numbers__bow_slight_mm="6")
    save("more spring")
    change("wishes", wish_numbers__bow_full_mm="14")
    save("back to it", edition="1")

    page = maker_client.get(TRY).content.decode()

    assert "14 mm" in page
    assert "Save as edition 4" in page


@pytest.mark.parametrize("edition", ["9", "x", "²"])
def test_edition_that_is_none_is_not_taken_up(save, maker_client, edition):
    assert save("back", edition=edition)["Location"] == BOOK
    assert maker_client.get(TRY, {"edition": edition})["Location"] == BOOK
    assert BookVersion.objects.count() == 0


def test_order_of_signs_is_a_difference():
    signs = DEFAULT_BOOK.rules.signs

    (row,) = differences(DEFAULT_BOOK, with_rules(signs=(*signs[1:], signs[0])))

    assert "Order of the signs" in row.what
