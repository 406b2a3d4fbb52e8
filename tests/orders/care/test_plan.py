"""The care of a bat follows from its own build sheet and weighing."""

import pytest

from fitting.bat.weigh import weigh
from orders.care.plan import care_plan, grams_a_percent, knocking_in_minutes
from orders.words.care import ADVICE, SUBJECTS, care_figures, care_words, hours_words
from tests.builds import a_build

FILM = {"thickness_mm": 0.25, "mass_g": 15}


def keys(build, **about):
    given = {"age_years": 30, "often_damp": None, **about}
    return {(one.subject, one.key) for one in care_plan(build, weigh(build), **given)}


def test_knocking_in_is_shortened_by_the_makers_minutes_and_never_replaced():
    untouched = knocking_in_minutes(a_build(finish__knocked_in_minutes=0), 30)
    assert knocking_in_minutes(a_build(finish__knocked_in_minutes=90), 30) == untouched - 90
    assert knocking_in_minutes(a_build(finish__knocked_in_minutes=1000), 30) == 60


def test_knocking_in_is_shorter_for_a_child_and_under_a_film():
    grown = knocking_in_minutes(a_build(finish__knocked_in_minutes=0), 30)
    assert knocking_in_minutes(a_build(finish__knocked_in_minutes=0), 12) < grown
    assert knocking_in_minutes(a_build(finish__knocked_in_minutes=0, protection__face_film=FILM), 30) < grown


def test_grams_a_percent_is_the_water_that_the_model_itself_adds():
    """USDA Wood Handbook, ch. 4: the dry mass stays, so a blade's mass goes with 1 + moisture."""
    build = a_build()
    at_12, at_13 = weigh(build), weigh(build, moisture_percent=13)
    blade_12, blade_13 = (
        next(part.mass_g for part in weighing.parts if part.name == "blade") for weighing in (at_12, at_13)
    )
    assert grams_a_percent(at_12) == pytest.approx(blade_13 - blade_12, rel=0.03)
    assert 5 < grams_a_percent(at_12) < 10


def test_plan_of_a_filmed_face_forbids_oil_on_it_and_a_bare_one_wants_it():
    assert ("face", "filmed") in keys(a_build(protection__face_film=FILM))
    assert ("face", "natural") in keys(a_build(protection__face_film=None))


@pytest.mark.parametrize(("damp", "told"), [(True, True), (False, False), (None, False)])
def test_plan_tells_of_damp_ground_where_the_player_said_so(damp, told):
    assert (("toe", "damp_ground") in keys(a_build(), often_damp=damp)) is told


def test_plan_of_a_child_wants_an_adult():
    assert ("mind", "child_with_adult") in keys(a_build(), age_years=11)
    assert ("mind", "child_with_adult") not in keys(a_build(), age_years=18)


def test_plan_begins_with_what_keeps_people_from_harm():
    plan = care_plan(a_build(), weigh(a_build()), age_years=30, often_damp=True)
    assert [one.subject for one in plan[:3]] == ["caution"] * 3
    assert {"loose_handle", "splinter", "through_crack", "oily_rags", "eye_care"} <= {one.key for one in plan}


def test_words_name_every_key_and_leave_no_number_open():
    builds = [
        a_build(),
        a_build(
            protection__face_film=FILM, protection__toe_guard=None, protection__edge_tape=FILM, grips__count=2
        ),
    ]
    said = set()
    for build in builds:
        plan = care_plan(build, weigh(build), age_years=10, often_damp=True)
        said |= {(one.subject, one.key) for one in plan}
        sections = care_words(plan)
        assert {section.subject for section in sections} <= set(SUBJECTS)
        assert not [words for section in sections for words in section.sentences if "%(" in words]
    assert said == set(ADVICE)


def test_words_carry_the_numbers_of_this_bat():
    build = a_build(finish__knocked_in_minutes=90)
    plan = care_plan(build, weigh(build), age_years=30, often_damp=None)
    text = " ".join(words for section in care_words(plan) for words in section.sentences)
    assert "4½ hours" in text
    assert "90 minutes" in text
    assert f"{grams_a_percent(weigh(build)):.0f} g for each per cent" in text
    assert care_figures(plan)[0].number == "4½ hours"


@pytest.mark.parametrize(
    ("minutes", "words"), [(30, "30 minutes"), (60, "1 hour"), (75, "1¼ hours"), (360, "6 hours")]
)
def test_hours_are_said_to_the_quarter(minutes, words):
    assert hours_words(minutes) == words
