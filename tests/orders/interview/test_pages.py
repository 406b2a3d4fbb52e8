"""The pages of the interview without JavaScript: ask, save, keep what was typed, name what is wrong."""

import re
from html import unescape

import pytest
from django.test import Client
from django.urls import reverse

from fitting.recommend import recommend
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from orders.interview.models import Fitting
from orders.people.models import User
from orders.words.forecast import say_lower_hand, say_spread
from orders.words.measures import show_mass
from orders.words.sweet_spot import say_peak, say_reach, where_words
from tests.orders.interview.walking import ask, begin, fitting_of, give, page_url

pytestmark = pytest.mark.django_db


def text_of(response) -> str:
    return unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode())))


def test_begin_makes_a_draft_that_lives_in_the_browser(anyone: Client, workshop) -> None:
    code = begin(anyone)
    fitting = Fitting.objects.get(code=code)
    cookie = anyone.cookies["fitting"]
    assert (fitting.state, fitting.holder, fitting.begun_by) == ("draft", None, None)
    assert cookie["httponly"]
    assert cookie["samesite"] == "Lax"
    assert cookie.value not in fitting.browser_hash


def test_begin_without_a_key_is_refused(anyone: Client, workshop) -> None:
    assert anyone.post(reverse("interview:begin")).status_code == 400
    assert not Fitting.objects.exists()


def test_begin_refused_by_get(anyone: Client, workshop) -> None:
    assert anyone.get(reverse("interview:begin")).status_code == 405


def test_begin_by_a_bench_hand_does_not_exist(bench_client: Client) -> None:
    page = bench_client.get(reverse("interview:start"))
    assert "Begin" not in re.findall(r"<button[^>]*>([^<]*)", page.content.decode())


def test_page_of_another_browser_does_not_exist(anyone: Client, workshop) -> None:
    code = begin(anyone)
    stranger = Client()
    for address in ("you", "draft", "keep", "preview"):
        assert stranger.get(f"/fitting/{code}/{address}/").status_code == 404
    assert stranger.post(page_url(code, "you"), {"age": "30"}).status_code == 404


def test_page_saves_answers_as_typed_and_goes_on(anyone: Client, workshop) -> None:
    code = begin(anyone)
    response = give(anyone, code, "you", age="30", height="5'9\"", batting_hand="left")
    fitting = fitting_of(code)
    assert response.headers["Location"] == page_url(code, "game")
    assert fitting.answers["height"] == {"": "5'9\""}
    assert fitting.sheet["player"] == {"age_years": 30, "height_mm": 1752.6, "batting_hand": "left"}
    assert fitting.version == 1


def test_page_shows_answers_in_the_unit_typed_and_says_them_back(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175 cm")
    html = ask(anyone, code, "you")
    assert 'value="175 cm"' in html
    assert "175 cm, that is 5 ft 9 in" in html


def test_page_asks_at_most_five_questions_each_with_its_why(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175 cm")
    for key in ("you", "game", "pitches", "wear", "hands", "bat", "bat-measured", "wish", "wish-blade"):
        html = ask(anyone, code, key)
        asked = len(re.findall(r'class="question"', html))
        assert 1 <= asked <= 5
        assert len(re.findall(r'class="why"', html)) == asked


def test_page_before_age_and_height_leads_to_the_first(anyone: Client, workshop) -> None:
    code = begin(anyone)
    assert anyone.get(page_url(code, "game")).headers["Location"] == page_url(code, "you")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("17.57 m", "17.57 m was given; 90 cm to 230 cm (2 ft 11½ in to 7 ft 6½ in) is allowed."),
        ("5'13\"", "5'13\" was given: a foot has 12 inches, so inches go from 0 to 11."),
        ("-3", "-3 was given, which is below nothing; 90 cm to 230 cm"),
        ("tall", "tall was given, which is no length; 90 cm to 230 cm"),
        ("NaN", "NaN was given, which is no length; 90 cm to 230 cm"),
        ("", "Please answer this one: without it there is nothing to draw."),
        ("5.9 ft", "5.9 ft could be 5 ft 11 in or 5 ft 9 in. Which is it?"),
    ],
)
def test_page_with_a_bad_height_keeps_what_was_typed_and_loses_nothing(
    anyone: Client, workshop, typed: str, said: str
) -> None:
    code = begin(anyone)
    response = give(anyone, code, "you", age="30", height=typed, batting_hand="right")
    html = response.content.decode()
    assert response.status_code == 422
    assert said in text_of(response)
    assert '<a href="#height">' in html
    assert re.search(r'id="height"[^>]*aria-invalid="true"', html)
    assert f'value="{typed.replace(chr(34), "&quot;").replace(chr(39), "&#x27;")}"' in html
    assert re.search(r"<title>Error:", html)
    fitting = fitting_of(code)
    assert "height" not in fitting.answers
    assert fitting.answers["age"] == {"": "30"}
    assert fitting.answers["batting_hand"] == {"": "right"}


def test_page_with_a_bad_answer_leaves_the_good_one_before(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175 cm")
    give(anyone, code, "you", age="30", height="1750 cm")
    assert fitting_of(code).answers["height"] == {"": "175 cm"}


def test_page_sent_twice_changes_nothing_the_second_time(anyone: Client, workshop) -> None:
    code = begin(anyone)
    form = {"version": "0", "age": "30", "height": "175"}
    first = anyone.post(page_url(code, "you"), form)
    second = anyone.post(page_url(code, "you"), form)
    assert (first.status_code, second.status_code) == (302, 302)
    assert fitting_of(code).version == 1


def test_page_in_two_windows_keeps_the_text_of_both(anyone: Client, workshop) -> None:
    code = begin(anyone)
    anyone.post(page_url(code, "you"), {"version": "0", "age": "30", "height": "175 cm"})
    response = anyone.post(page_url(code, "you"), {"version": "0", "age": "31", "height": "180 cm"})
    html = response.content.decode()
    assert response.status_code == 409
    assert "175 cm" in text_of(response)
    assert '<input type="hidden" name="height" value="180 cm">' in html
    assert fitting_of(code).answers["age"] == {"": "30"}
    again = anyone.post(page_url(code, "you"), {"version": "1", "age": "31", "height": "180 cm"})
    assert again.status_code == 302
    assert fitting_of(code).answers["height"] == {"": "180 cm"}


def test_page_saved_box_by_box_and_then_left_is_no_change_elsewhere(anyone: Client, workshop) -> None:
    code = begin(anyone)
    form = {"version": "0", "window": "thispage01", "age": "30"}
    anyone.post(page_url(code, "you"), form, headers={"HX-Request": "true"})
    response = anyone.post(page_url(code, "you"), {**form, "height": "175"})
    assert response.status_code == 302
    assert fitting_of(code).answers["height"] == {"": "175"}


def test_page_left_open_while_another_window_saved_is_a_change_elsewhere(anyone: Client, workshop) -> None:
    code = begin(anyone)
    form = {"version": "0", "window": "thispage01", "age": "30"}
    anyone.post(page_url(code, "you"), form, headers={"HX-Request": "true"})
    other = {"version": "1", "window": "otherpage1", "age": "31", "height": "180 cm"}
    anyone.post(page_url(code, "you"), other)
    assert anyone.post(page_url(code, "you"), {**form, "height": "175"}).status_code == 409
    assert fitting_of(code).answers["age"] == {"": "31"}


def test_page_takes_an_answer_back_when_its_box_is_emptied(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175", wrist_height="84 cm")
    give(anyone, code, "you", age="30", height="175", wrist_height="")
    assert "wrist_height" not in fitting_of(code).answers


def test_page_unsure_is_kept_and_shown(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175")
    give(anyone, code, "game", level="unsure")
    assert fitting_of(code).answers["level"] == {"": "unsure"}
    assert "level" not in fitting_of(code).sheet
    assert re.search(r'id="level-unsure" value="unsure" checked', ask(anyone, code, "game"))


def test_pages_of_a_child_are_two(anyone: Client, workshop) -> None:
    code = begin(anyone)
    response = give(anyone, code, "you", age="11", height="4 ft 8")
    assert response.headers["Location"] == page_url(code, "growing")
    html = ask(anyone, code, "growing")
    assert "page 2 of 2" in html
    assert "Is it for junior cricket only?" in html
    assert not re.search(
        r"profile|bow\b|spring", html.split('id="bat-so-far"')[0].split("<h1")[1], re.IGNORECASE
    )
    last = give(anyone, code, "growing", inside_leg="64 cm", strength="light", bat_mass="850 g")
    assert last.headers["Location"] == reverse("interview:draft", args=[code])
    assert anyone.get(page_url(code, "wish-blade")).headers["Location"] == page_url(code, "you")


def test_pages_about_a_bat_are_skipped_without_one(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175")
    response = give(anyone, code, "bat", bat_liked="none")
    assert response.headers["Location"] == page_url(code, "wish")


def test_balance_is_worked_out_from_the_scale(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175")
    html = ask(anyone, code, "bat-measured")
    assert 'aria-labelledby="how-balance-title how-balance-words"' in html
    give(
        anyone,
        code,
        "bat-measured",
        **{"bat_mass": "1160 g", "bat_overall": "851 mm", "bat_balance-reading": "696 g"},
    )
    assert fitting_of(code).sheet["present_bat"]["balance_from_toe_mm"] == pytest.approx(350.4)
    assert "it balances 350 mm, that is 13 13/16 in, from the toe" in ask(anyone, code, "bat-measured")


def test_preview_before_age_and_height_says_what_is_missing(anyone: Client, workshop) -> None:
    html = ask(anyone, begin(anyone), "you")
    missing = html.split('id="bat-so-far"')[1]
    assert "How old are you?" in missing
    assert "<svg" not in missing


def test_preview_shows_the_figures_of_the_recommendation(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175")
    beside = ask(anyone, code, "game").split('id="bat-so-far"')[1]
    found = recommend(read_sheet(FittingSheet, fitting_of(code).sheet))
    assert show_mass(found.weighing.mass_g) in beside
    assert f"{found.weighing.overall_length_mm:.0f} mm" in beside
    assert "<svg" in beside


def test_preview_tells_what_the_last_answers_moved(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175")
    response = give(anyone, code, "wish-blade", wish_profile="full", wish_bow="full")
    beside = ask(anyone, code, "wish-handle").split('id="bat-so-far"')[1]
    assert response.status_code == 302
    assert "What your last answers moved" in beside
    assert "Profile" in beside


def test_preview_says_where_the_bat_hits_hardest_and_what_the_laws_leave(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175 cm", level="club")
    beside = ask(anyone, code, "game").split('id="bat-so-far"')[1]
    weighing = recommend(read_sheet(FittingSheet, fitting_of(code).sheet)).weighing
    assert weighing.sweet_spot is not None
    assert say_peak(weighing.sweet_spot) in beside
    assert say_reach(weighing.sweet_spot) in beside
    assert say_spread(weighing.mass_sd_g) in beside.replace("\N{NO-BREAK SPACE}", " ")
    assert "Inside the Laws for club cricket." in beside


def test_preview_speaks_the_units_that_the_player_types(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="5'9\"")
    beside = ask(anyone, code, "game").split('id="bat-so-far"')[1]
    weighing = recommend(read_sheet(FittingSheet, fitting_of(code).sheet)).weighing
    assert weighing.sweet_spot is not None
    assert say_peak(weighing.sweet_spot, "imperial") in beside
    assert f'<dd class="big">{show_mass(weighing.mass_g, "imperial")}</dd>' in beside
    assert "measures in inches" in beside


def test_preview_tells_when_the_place_that_hits_hardest_moved(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175 cm")
    before = recommend(read_sheet(FittingSheet, fitting_of(code).sheet)).weighing.sweet_spot
    give(anyone, code, "wish-blade", wish_sweet_spot="high")
    after = recommend(read_sheet(FittingSheet, fitting_of(code).sheet)).weighing.sweet_spot
    moved = text_of(anyone.get(page_url(code, "wish-handle"))).split("What your last answers moved")[1]
    assert before is not None
    assert after is not None
    assert after.peak_from_toe_mm - before.peak_from_toe_mm >= 5
    assert f"hits hardest, above the toe {say_peak(before)} → to {say_peak(after)}" in moved


def test_draft_page_tells_the_blow_and_the_lower_hand(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175 cm")
    give(
        anyone,
        code,
        "bat-measured",
        **{"bat_mass": "1160 g", "bat_overall": "851 mm", "bat_balance-reading": "640 g"},
    )
    text = text_of(anyone.get(f"/fitting/{code}/draft/"))
    found = recommend(read_sheet(FittingSheet, fitting_of(code).sheet))
    for words in where_words(found.weighing):
        assert words in text
    feel = say_lower_hand(found.weighing, read_sheet(FittingSheet, fitting_of(code).sheet).present_bat)
    assert feel
    assert feel in text


def test_draft_page_of_an_unfinished_fitting_leads_to_the_questions(anyone: Client, workshop) -> None:
    code = begin(anyone)
    assert anyone.get(f"/fitting/{code}/draft/").headers["Location"] == page_url(code, "you")


def test_draft_page_tells_every_choice_laws_and_answers(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="5 ft 9", level="club")
    response = anyone.get(f"/fitting/{code}/draft/")
    found = recommend(read_sheet(FittingSheet, fitting_of(code).sheet))
    text = text_of(response)
    html = response.content.decode()
    for clause in ("5.7.1", "5.7.2", "5.7.3", "5.7.5", "B.2.3", "B.8"):
        assert clause in text
    assert "Type A may be played at every level. Types B, C, D only where" in text
    assert show_mass(found.weighing.mass_g) in text
    assert "5 ft 9 (5 ft 9 in, that is 175.3 cm)" in text
    assert html.count('class="reason"') + html.count("<dt>") > len(found.reasons)
    assert text.index("as we would make it") < text.index("Every choice, and why")
    assert html.index("<figure") < html.index("Every choice")


def test_htmx_save_answers_with_the_bat_and_what_was_understood(anyone: Client, workshop) -> None:
    code = begin(anyone)
    response = anyone.post(
        page_url(code, "you"),
        {"version": "0", "age": "30", "height": "175 cm"},
        headers={"HX-Request": "true"},
    )
    html = response.content.decode()
    assert "<html" not in html
    assert html.lstrip().startswith('<section id="bat-so-far"')
    assert '<input type="hidden" name="version" id="version" value="1" hx-swap-oob="true">' in html
    assert re.search(r'id="said"[^>]*hx-swap-oob="innerHTML">Kept<', html)
    assert "175 cm, that is 5 ft 9 in" in html


def test_htmx_save_of_a_bad_answer_brings_its_fault(anyone: Client, workshop) -> None:
    code = begin(anyone)
    response = anyone.post(
        page_url(code, "you"), {"version": "0", "age": "30", "height": "tall"}, headers={"HX-Request": "true"}
    )
    html = response.content.decode()
    assert re.search(r'id="height-fault" hx-swap-oob="true">tall was given, which is no length', html)
    assert fitting_of(code).answers == {"age": {"": "30"}}


def test_htmx_save_of_the_first_box_does_not_complain_of_the_empty_ones(anyone: Client, workshop) -> None:
    code = begin(anyone)
    response = anyone.post(
        page_url(code, "you"), {"version": "0", "age": "30", "height": ""}, headers={"HX-Request": "true"}
    )
    assert "Please answer" not in response.content.decode()


def test_answers_are_kept_out_of_caches(anyone: Client, workshop) -> None:
    code = begin(anyone)
    for address in ("you", "preview"):
        response = anyone.get(f"/fitting/{code}/{address}/")
        assert response.headers["Cache-Control"] == "no-store, private"


def test_begin_at_the_counter_stays_the_makers(maker_client: Client, maker: User) -> None:
    code = begin(maker_client)
    give(maker_client, code, "you", age="30", height="175")
    assert fitting_of(code).begun_by == maker
    assert "How does it swing on the knife edge?" in ask(maker_client, code, "bat-measured")
    assert Client().get(page_url(code, "you")).status_code == 404
