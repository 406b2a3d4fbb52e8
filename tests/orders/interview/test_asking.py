"""How a page asks back: readings to pick, echoes, what no longer goes together, and its drawings."""

import re
from html import unescape
from pathlib import Path

import pytest
from django.conf import settings
from django.template.loader import render_to_string
from django.test import Client
from django.urls import reverse

from fitting.questions import DRAWINGS
from tests.orders.interview.walking import ask, begin, fitting_of, give, page_url

pytestmark = pytest.mark.django_db


def readings_on(html: str) -> list[str]:
    return [unescape(value) for value in re.findall(r'name="reading" value="([^"]*)"', html)]


def post(client: Client, code: str, page: str, **answers: str):
    return client.post(page_url(code, page), {"version": str(fitting_of(code).version), **answers})


def test_page_offers_the_readings_of_a_doubtful_height_to_pick(anyone: Client, workshop) -> None:
    code = begin(anyone)
    html = give(anyone, code, "you", age="30", height="5.9 ft").content.decode()
    assert readings_on(html) == ["height=5 ft 11 in", "height=5 ft 9 in"]
    picked = post(anyone, code, "you", age="30", height="5.9 ft", reading="height=5 ft 9 in")
    assert picked.headers["Location"] == f"{page_url(code, 'you')}#height"
    assert fitting_of(code).answers["height"] == {"": "5 ft 9 in"}


def test_page_offers_readings_at_once(anyone: Client, workshop) -> None:
    code = begin(anyone)
    form = {"version": "0", "age": "30", "height": "5.9 ft"}
    html = anyone.post(page_url(code, "you"), form, headers={"HX-Request": "true"}).content.decode()
    assert readings_on(html) == ["height=5 ft 11 in", "height=5 ft 9 in"]


def test_page_offers_one_unit_for_all_marks(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175")
    html = give(anyone, code, "bat-face", ball_marks="18, 20, 22").content.decode()
    assert "ball_marks=18 cm; 20 cm; 22 cm" in readings_on(html)
    post(anyone, code, "bat-face", ball_marks="18, 20, 22", reading="ball_marks=18 cm; 20 cm; 22 cm")
    assert fitting_of(code).sheet["game"]["ball_marks_from_toe_mm"] == [180, 200, 220]


def test_reading_of_a_box_that_is_not_on_the_page_is_left_aside(anyone: Client, workshop) -> None:
    code = begin(anyone)
    post(anyone, code, "you", age="30", height="175", reading="wish_bow=full")
    assert "wish_bow" not in fitting_of(code).answers


def test_page_says_what_was_understood_before_without_javascript(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="5.10", hand_length="19 cm")
    plain = re.search(r"<noscript>(.*?)</noscript>", ask(anyone, code, "game"), re.DOTALL)
    assert plain
    assert "5 ft 10 in, that is 177.8 cm" in plain[1]
    assert "19 cm, that is" in plain[1]


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("wrist_height", "2 m", "2 m was given; 30 cm to 130 cm"),
        ("wrist_height", "120 cm", "120 cm was given; at that height it is 66.5 cm to 105 cm"),
        ("hand_length", "13 cm", "13 cm was given; at that height it is 14.9 cm to 24.5 cm"),
    ],
)
def test_page_refuses_a_body_that_does_not_hang_together(
    anyone: Client, workshop, name: str, typed: str, said: str
) -> None:
    code = begin(anyone)
    response = give(anyone, code, "you", age="30", height="175 cm", **{name: typed})
    html = unescape(response.content.decode())
    assert response.status_code == 422
    assert said in html
    assert f'value="{typed}"' in html
    assert name not in fitting_of(code).answers


@pytest.mark.parametrize(("age", "height"), [("3", "100 cm"), ("30", "2.6 m"), ("6", "175 cm")])
def test_page_refuses_who_cannot_be(anyone: Client, workshop, age: str, height: str) -> None:
    code = begin(anyone)
    response = give(anyone, code, "you", age=age, height=height)
    assert response.status_code == 422
    assert f'value="{height}"' in response.content.decode()
    assert not {"age", "height"} <= fitting_of(code).answers.keys()


def test_answer_that_a_later_one_contradicts_is_kept_and_asked_back(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="12", height="150 cm")
    give(anyone, code, "growing", inside_leg="80 cm")
    give(anyone, code, "you", age="12", height="125 cm")
    for elsewhere in (page_url(code, "you"), reverse("interview:draft", args=[code])):
        told = anyone.get(elsewhere).content.decode().split("no longer goes with it")
        assert len(told) == 2
        assert page_url(code, "growing") in told[1].split("</p>")[0]
    html = ask(anyone, code, "growing")
    assert fitting_of(code).answers["inside_leg"] == {"": "80 cm"}
    assert "inside_leg_mm" not in fitting_of(code).sheet["player"]
    assert "80 cm was given; at that height it is 42.5 cm to 75 cm" in html
    assert 'value="80 cm"' in html


def test_bat_that_is_kept_and_too_heavy_is_asked_back_and_kept(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175")
    give(anyone, code, "bat", bat_liked="yes", bat_pickup="too_heavy")
    assert "so the same bat, lighter." in ask(anyone, code, "bat")
    assert fitting_of(code).sheet["present_bat"] == {"liked": True, "pickup": "too_heavy"}


def test_ranking_asks_three_and_shows_all_of_an_older_draft(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="30", height="175")
    assert len(re.findall(r'<select name="gives_way-', ask(anyone, code, "wish"))) == 3
    fitting = fitting_of(code)
    fitting.answers["gives_way"] = {"1": "looks", "2": "date", "3": "life", "4": "edges", "5": "mass"}
    fitting.save()
    html = ask(anyone, code, "wish")
    assert len(re.findall(r'<select name="gives_way-', html)) == 5
    assert re.search(r'id="gives_way-5".*?value="mass" selected', html, re.DOTALL)


def test_child_is_asked_in_a_childs_words(anyone: Client, workshop) -> None:
    code = begin(anyone)
    give(anyone, code, "you", age="11", height="4 ft 8")
    html = ask(anyone, code, "growing")
    assert "Hold a bat straight out in the top hand alone." in html
    assert "Late in a long innings" not in html
    give(anyone, code, "growing", strength="light", level="junior")
    draft = anyone.get(reverse("interview:draft", args=[code])).content.decode()
    assert "under 10 seconds" in draft


def test_swings_at_the_counter_stand_alone_only_with_a_word(maker_client: Client, maker) -> None:
    code = begin(maker_client)
    give(maker_client, code, "you", age="30", height="175")
    swings = {"pendulum-pivot": "152 mm", "pendulum-swings": "30", "pendulum-seconds": "43"}
    give(maker_client, code, "bat-measured", **swings)
    assert "Swings alone tell nothing yet" in ask(maker_client, code, "bat-measured")
    assert fitting_of(code).sheet["present_bat"]["pendulum"]["seconds"] == 43
    measured = {"bat_mass": "1160 g", "bat_overall": "851 mm", "bat_balance-place": "352 mm"}
    give(maker_client, code, "bat-measured", **swings, **measured)
    assert "Swings alone tell nothing yet" not in ask(maker_client, code, "bat-measured")


def test_fitting_at_the_counter_is_found_again_by_name_without_a_mail_address(
    maker_client: Client, maker
) -> None:
    code = begin(maker_client)
    give(maker_client, code, "you", age="30", height="175", called="  Rowan   Reed ")
    assert fitting_of(code).called == "Rowan Reed"
    assert "Rowan Reed" in maker_client.get(reverse("interview:start")).content.decode()
    assert maker_client.get(reverse("interview:draft", args=[code])).status_code == 200
    assert 'value="Rowan Reed"' in maker_client.get(reverse("interview:keep", args=[code])).content.decode()


def test_fitting_in_a_players_own_browser_takes_no_name(anyone: Client, workshop) -> None:
    code = begin(anyone)
    assert 'name="called"' not in ask(anyone, code, "you")
    give(anyone, code, "you", age="30", height="175", called="Rowan Reed")
    assert fitting_of(code).called == ""


@pytest.mark.parametrize("name", DRAWINGS)
def test_drawing_has_a_name_and_words_in_place_of_itself(name: str) -> None:
    html = render_to_string(f"interview/how/{name}.html")
    assert f'role="img" aria-labelledby="how-{name}-title how-{name}-words"' in html
    assert re.search(rf'<title id="how-{name}-title">[^<]{{8,}}</title>', html)
    assert re.search(rf'<desc id="how-{name}-words">[^<]{{40,}}</desc>', html)
    assert "style=" not in html


def test_drawings_are_all_there() -> None:
    folder = Path(settings.BASE_DIR) / "templates" / "interview" / "how"
    assert {path.stem for path in folder.glob("*.html")} == set(DRAWINGS)
