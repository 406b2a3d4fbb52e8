"""Every key that the core can return has a sentence."""

import ast
import json

import pytest
from hypothesis import given, settings
from pydantic import BaseModel

from fitting.facts import FACTS
from fitting.recommend import recommend
from fitting.recommend.pickup import PRESENT_SD
from fitting.recommend.trade_offs import ALL_TRADE_OFFS
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Conflict
from orders.words.answers import ANSWERS
from orders.words.facts import FACT_WORDS
from orders.words.fields import BUILD_FIELDS, VALUES
from orders.words.reasons import (
    CAUTION_WORDS,
    CONFLICT_WORDS,
    TRADE_OFF_WORDS,
    WAY_OUT_WORDS,
    say_caution,
    say_confidence,
    say_conflict,
    say_ways_out,
    word_reason,
)
from orders.words.reports import with_words
from orders.words.values import say_field, say_value
from tests.rules.source import ROOT
from tests.sheets import fitting, fittings


def written_keys(call: str, argument: str) -> set[str]:
    """Literal keys that the recommendation's own source hands to a record: ``Because(fact="...")``."""
    found = set()
    for path in (ROOT / "fitting" / "recommend").glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == call:
                for keyword in node.keywords:
                    if keyword.arg == argument:
                        found |= {
                            one.value
                            for one in ast.walk(keyword.value)
                            if isinstance(one, ast.Constant) and isinstance(one.value, str)
                        }
    return found


def test_every_fact_has_a_sentence_and_every_sentence_a_fact():
    assert set(FACT_WORDS) == set(FACTS)


def test_every_fact_of_the_book_and_the_code_is_known():
    used = {sign.fact for sign in DEFAULT_BOOK.rules.signs} | written_keys("Because", "fact")
    assert len(used) > 40
    assert used <= set(FACTS)


def test_every_price_has_a_sentence():
    assert set(TRADE_OFF_WORDS) == ALL_TRADE_OFFS


def test_every_caution_and_conflict_has_a_sentence():
    cautions, conflicts = written_keys("Caution", "key"), written_keys("Conflict", "key")
    assert len(cautions) > 5
    assert len(conflicts) > 4
    assert cautions == set(CAUTION_WORDS)
    assert conflicts | {"mass.unreached_light", "mass.unreached_heavy"} == set(CONFLICT_WORDS)


def dotted(model: type[BaseModel], at: str = ""):
    """Fields of the fitting sheet that an answer can be."""
    for name, field in model.model_fields.items():
        inner = field.annotation
        records = [
            one
            for one in (inner, *getattr(inner, "__args__", ()))
            if isinstance(one, type) and issubclass(one, BaseModel)
        ]
        if records and records[0].__name__ not in {"OversMix", "MassWish", "Pendulum"}:
            yield from dotted(records[0], f"{at}{name}.")
        else:
            yield at + name


def test_every_answer_has_a_name():
    assert {*dotted(FittingSheet), "game.shots"} - {"sheet"} == set(ANSWERS)


def test_every_value_in_words_has_a_word():
    options = {sign.option for sign in DEFAULT_BOOK.rules.signs if not sign.option.isdigit()}
    assert options <= set(VALUES)


@settings(max_examples=40, deadline=None)
@given(fittings())
def test_every_recommendation_can_be_said(sheet):
    found = recommend(sheet)
    for reason in found.reasons:
        assert reason.field in BUILD_FIELDS
        worded = word_reason(reason)
        assert all([worded.name, worded.value, worded.because, worded.sure])
        assert all(worded.because)
    for conflict in found.conflicts:
        said = say_conflict(conflict)
        assert "%(" not in said
        assert said
        assert all(say_ways_out(conflict))
    assert all(say_caution(caution.key) for caution in found.cautions)
    json.dumps(with_words(found))


def test_every_field_with_a_name_is_one_that_gets_a_reason():
    assert {reason.field for reason in recommend(fitting()).reasons} == set(BUILD_FIELDS)


@pytest.mark.parametrize(
    ("confidence", "words"),
    [
        (0.2, "talk about it"),
        (0.44, "talk about it"),
        (0.45, "fairly sure"),
        (0.69, "fairly sure"),
        (0.7, "sure"),
        (1, "sure"),
    ],
)
def test_confidence_is_said_in_three_steps(confidence, words):
    assert say_confidence(confidence) == words


def test_conflict_is_said_with_its_numbers():
    found = recommend(fitting(wishes={"mass_g": {"max": 900}}))
    said = say_conflict(next(one for one in found.conflicts if one.key == "mass.trade_limit"))
    assert "886 g" in said
    assert "1026 g" in said


def test_pickup_of_the_bat_in_use_is_said_with_its_spread():
    bat = recommend(fitting()).weighing
    present = {"mass_g": round(bat.mass_g, 1), "balance_from_toe_mm": bat.balance_from_toe_mm + 25}
    present |= {"overall_length_mm": bat.overall_length_mm, "liked": True}
    found = recommend(fitting(present_bat=present))
    conflict = next(one for one in found.conflicts if one.key == "pickup.present")
    spread = conflict.cost[PRESENT_SD]
    assert 0.004 < spread < 0.006
    assert f"{conflict.given_up} ± {spread:.4f} kg m²" in say_conflict(conflict)
    older = conflict.model_copy(update={"cost": {"pickup_kg_m2": 0.01}})
    assert "±" not in say_conflict(older)


def test_wish_against_the_answers_is_said_with_both_sides():
    conflict = Conflict(
        fields=("profile", "wishes.profile"),
        kept="full",
        given_up="tapered_spine",
        ways_out=("wishes.profile",),
    )
    assert say_conflict(conflict) == (
        "Profile: you wish full, your other answers lead to spine fading out before the toe. "
        "We followed the wish."
    )
    assert say_ways_out(conflict) == ("leave the profile you wish",)


def test_ways_out_are_all_said():
    ways = set(WAY_OUT_WORDS)
    assert written_keys("Conflict", "ways_out") <= ways | set(ANSWERS) | {"wishes.edges", "mass_g"}


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("length_code", "short_handle", "short handle"),
        ("mass_g", 1165.0, "1165 g"),
        ("blade.width_mm", 106.9, "106.9 mm"),
        ("grips", 1, "1 grip"),
        ("grips", 2, "2 grips"),
        ("willow.grade", 3, "grade 3 or finer"),
        ("willow.density_kg_m3", 411.0, "about 411 kg/m³"),
        ("pickup_kg_m2", 0.1898, "0.190 kg m²"),
        ("protection.face_film", 0.25, "yes, 0.25 mm"),
        ("protection.face_film", None, "none"),
        ("sweet_spot.peak_from_toe_mm", None, "found out later"),
        ("finish.oil_coats", 3, "3 coats"),
        ("handle.other_material", 0.05, "5 % of the handle"),
        ("blade.stations.scallop", 1.4, "concave (1.4)"),
        ("blade.stations.scallop", 0.95, "full (0.95)"),
    ],
)
def test_value_is_said_in_its_unit(field, value, said):
    assert say_value(field, value) == said


def test_answer_fields_are_named_too():
    assert say_field("player.height_mm") == "your height"
    assert say_field("mass_g") == "Mass"
