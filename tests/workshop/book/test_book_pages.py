"""Changing the book chapter by chapter; nothing counts before it is saved."""

from typing import Any

import pytest

from fitting.sheets.default_book import DEFAULT_BOOK
from orders.commissions.book_in_force import book_in_force
from orders.commissions.models import BookVersion
from orders.people.once import new_key
from tests.workshop.book.conftest import chapter_form, sign_key
from workshop.book.chapters import CHAPTERS

pytestmark = pytest.mark.django_db
BOOK = "/floor/book/"
TRY = "/floor/book/try/"

# A change in each chapter that its bounds allow.
CHANGES = {
    "lengths": {"lengths__9__mass_high_g": "1255"},
    "limits": {"law_margin_mm": "1,5"},
    "wishes": {"wish_numbers__bow_slight_mm": "6"},
    "thresholds": {"rules__mass_step_g": "25"},
    "shapes": {"rules__profiles__full__upper_share": "0.62"},
    "materials": {"materials__canes__plain_cane__modulus__gpa": "2.7"},
    "spreads": {"materials__spreads__depth_mm": "0.35"},
    "blow": {"materials__impact__contact__restitution": "0.51"},
    "costs": {"costs__hour_rate": "32"},
    "room": {"room__room_humidity_percent": "55"},
    "matching": {"matching__grade_points": "9"},
    "bench": {"bench__stages__0__entries__0__most": "3600"},
}


def test_every_chapter_has_a_change_here():
    assert set(CHANGES) == {chapter.key for chapter in CHAPTERS} - {"signs"}


@pytest.mark.parametrize("key", CHANGES)
def test_chapter_is_changed_for_trying_and_saved(change, save, maker_client, key):
    (name,) = CHANGES[key]

    assert change(key, next="try", **CHANGES[key])["Location"] == TRY
    assert book_in_force() == DEFAULT_BOOK
    value = CHANGES[key][name].replace(",", ".")
    assert f'value="{value}"' in maker_client.get(f"{BOOK}{key}/").content.decode()

    assert save("to see")["Location"] == BOOK
    found: Any = book_in_force().model_dump()
    for step in name.split("__"):
        found = found[int(step)] if step.isdigit() else found[step]
    assert found == float(value)


@pytest.mark.parametrize("client", ["player_client", "bench_client", "anyone"])
def test_the_book_is_the_makers(client, request, workshop):
    stranger = request.getfixturevalue(client)
    before = {"anyone": 302}.get(client, 404)

    assert stranger.get(BOOK).status_code == before
    assert stranger.post(f"{BOOK}wishes/", chapter_form("wishes")).status_code == before
    assert stranger.post(f"{BOOK}save/", {"once": new_key()}).status_code == before
    assert BookVersion.objects.count() == 0


@pytest.mark.parametrize(
    ("key", "box", "given", "words"),
    [
        ("wishes", "wish_numbers.bow_slight_mm", "80", "a number from 4 to 8 allowed"),
        ("wishes", "wish_numbers.bow_slight_mm", "much", "much was given, which is no number."),
        ("wishes", "wish_numbers.bow_slight_mm", "", "A number is needed."),
        ("wishes", "wish_numbers.bow_slight_mm", "nan", "nan was given"),
        ("wishes", "wish_numbers.bow_slight_mm", "1e1", "1e1 was given"),
        ("thresholds", "rules.oil_coats", "2.5", "it must be a whole number"),
        ("lengths", "lengths.9.girth_low_mm", "130", "“girth, least” cannot be above “girth, most”."),
        ("thresholds", "rules.junior_upper_bounds_mm.1", "1200", "Each must be larger than the one before."),
        ("thresholds", "rules.splice_width_mm", "55", "must be 8 mm or more above"),
        ("limits", "laws_edition", "2019", "2022, 2026"),
        ("materials", "materials.willow.gpa", "9.5", "modulus, most"),
        ("bench", "bench.stages.0.entries.0.least", "9000", "cannot be above"),
    ],
)
def test_fault_is_told_at_its_box_and_what_was_typed_is_kept(change, maker_client, key, box, given, words):
    answer = change(key, **{box.replace(".", "__"): given})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert words in page
    assert given == "" or f'value="{given}"' in page or key == "limits"
    assert 'class="faults"' in page
    assert BookVersion.objects.count() == 0
    assert maker_client.get(TRY)["Location"] == BOOK


def test_one_wrong_row_is_one_fault(change):
    page = change("lengths", lengths__9__girth_low_mm="130").content.decode()

    assert page.count('<li><a href="#box-lengths-9-girth_low_mm">') == 1
    assert "long; 14" not in page


def test_what_is_changed_is_marked(change, save, maker_client):
    change("wishes", wish_numbers__bow_slight_mm="6")
    page = maker_client.get(f"{BOOK}wishes/").content.decode()
    assert "changed, came as 5" in page
    assert "in force 5" in page
    assert "one change not saved" in maker_client.get(BOOK).content.decode()

    save()
    page = maker_client.get(f"{BOOK}wishes/").content.decode()
    assert "changed, came as 5" in page
    assert "in force 5" not in page
    assert "one of your own" in maker_client.get(BOOK).content.decode()


def test_what_is_typed_as_it_was_is_no_change(change, maker_client):
    change("wishes", wish_numbers__bow_slight_mm="6")
    change("wishes", wish_numbers__bow_slight_mm="5")

    assert maker_client.get(TRY)["Location"] == BOOK


def test_changes_are_dropped(change, maker_client):
    change("wishes", wish_numbers__bow_slight_mm="6")

    assert maker_client.post(f"{BOOK}drop/", {"once": new_key()})["Location"] == BOOK
    assert maker_client.get(TRY)["Location"] == BOOK


def test_form_read_in_an_older_edition_shows_both(change, save, maker_client):
    mine = chapter_form("wishes", wish_numbers__bow_slight_mm="6")
    change("wishes", wish_numbers__bow_slight_mm="7", wish_numbers__bow_full_mm="13")
    save("theirs")

    answer = maker_client.post(f"{BOOK}wishes/", mine)

    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Somebody else has been here" in page
    assert '<td data-label="now">7 mm</td>' in page
    assert 'name="wish_numbers.bow_slight_mm" value="6"' in page
    assert 'name="wish_numbers.bow_full_mm" value="13"' in page
    assert 'name="version" value="2"' in page


@pytest.mark.parametrize("version", ["", "x", "²", "-1", "77", "9" * 30])
def test_form_without_a_known_edition_changes_nothing(maker_client, workshop, version):
    form = {**chapter_form("wishes", wish_numbers__bow_slight_mm="6"), "version": version}

    assert maker_client.post(f"{BOOK}wishes/", form).status_code == 409
    assert maker_client.get(TRY)["Location"] == BOOK


@pytest.mark.parametrize("key", ["nothing", "Wishes"])
def test_unknown_chapter_is_not_found(maker_client, workshop, key):
    assert maker_client.get(f"{BOOK}{key}/").status_code == 404


# signs


def signs_form(**changes):
    return {"once": new_key(), "version": "1", **changes}


def test_points_are_changed_and_a_sign_switched_off(maker_client, save):
    key, other = sign_key("bow", "full", 0.75), sign_key("bow", "full", 0.5)

    maker_client.post(f"{BOOK}signs/bow/", signs_form(**{f"points.{key}": "1,75", f"points.{other}": "0"}))
    save()

    points = [
        sign.points for sign in book_in_force().rules.signs if (sign.subject, sign.option) == ("bow", "full")
    ]
    assert points == [1.25, 1.75, 1.25, 0]


def test_sign_is_taken_out_and_another_added(maker_client, save):
    key = sign_key("bow", "full", 0.75)
    maker_client.post(
        f"{BOOK}signs/bow/",
        signs_form(
            **{
                f"remove.{key}": "on",
                "new.option": "none",
                "new.points": "3",
                "new.fact": "bow.against",
                "new.when.1": "pitches.surface=concrete",
                "new.when.2": "pitches.surface=matting",
                "new.when.3": "game.nets_hours_a_week#",
                "new.least.3": "4",
            }
        ),
    )
    page = maker_client.get(f"{BOOK}signs/bow/").content.decode()
    assert "added, not saved" in page
    assert f'name="remove.{key}" checked' in page
    save()

    signs = [sign for sign in book_in_force().rules.signs if sign.subject == "bow"]
    assert 0.75 not in [sign.points for sign in signs]
    new = signs[-1]
    assert (new.option, new.points, new.fact) == ("none", 3, "bow.against")
    assert [(one.answer, one.one_of, one.at_least) for one in new.when] == [
        ("pitches.surface", ("concrete", "matting"), None),
        ("game.nets_hours_a_week", None, 4),
    ]


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"new.option": "sideways", "new.points": "1", "new.fact": "bow.for"}, "Choose the option"),
        ({f"points.{sign_key('bow', 'slight', 2)}": "2x"}, "slight, with nothing said: 2x was given"),
        ({"new.option": "full", "new.points": "", "new.fact": "bow.for"}, "Points are needed"),
        ({"new.option": "full", "new.points": "21", "new.fact": "bow.for"}, "from -20 to 20"),
        ({"new.option": "full", "new.points": "1", "new.fact": "hearsay"}, "Choose the fact"),
        (
            {"new.option": "full", "new.points": "1", "new.fact": "bow.for", "new.when.1": "moon=full"},
            "moon=full is none of the answers.",
        ),
        (
            {
                "new.option": "full",
                "new.points": "1",
                "new.fact": "bow.for",
                "new.when.1": "player.height_mm#",
            },
            "Give the number from which",
        ),
    ],
)
def test_sign_that_is_none_is_refused(maker_client, workshop, said, words):
    answer = maker_client.post(f"{BOOK}signs/bow/", signs_form(**said))

    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert maker_client.get(TRY)["Location"] == BOOK


def test_last_usual_choice_cannot_be_taken_out(maker_client, workshop):
    key = sign_key("edges", "medium", 2)

    answer = maker_client.post(f"{BOOK}signs/edges/", signs_form(**{f"remove.{key}": "on"}))

    assert answer.status_code == 422
    assert "One option without conditions is needed for Edges." in answer.content.decode()


def test_unknown_subject_is_not_found(maker_client, workshop):
    assert maker_client.get(f"{BOOK}signs/moon/").status_code == 404
