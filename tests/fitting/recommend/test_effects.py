"""What else would do is worked out: each alternative's numbers are those of the bat that it would be."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from math import pi

import pytest

from fitting.bat.weigh import weigh
from fitting.recommend import recommend, with_effects
from fitting.recommend.answer import Answer, answer
from fitting.recommend.draft import Draft
from fitting.recommend.effects import FULLER_G, QUICKER_G
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from fitting.sheets.recommendation import Alternative, Reason, Recommendation
from fitting.sheets.weighing import Weighing
from tests.fitting.recommend.test_every_sheet import check_lawful
from tests.seeded_sheets import seeded_sheets, with_answer
from tests.sheets import fitting
from tests.trade_limits import check_trade_limits

COUNT = 16
SHEETS = [fitting(), *seeded_sheets(COUNT - 1, seed=77)]
# How a value of a bat is looked up in the bat that an alternative would be.
VALUE_IN: dict[str, Callable[[BuildSheet], object]] = {
    "profile": lambda build: build.profile,
    "sweet_spot.choice": lambda build: build.sweet_spot.choice,
    "blade.bow_mm": lambda build: build.blade.bow_mm,
    "blade.face_crown_mm": lambda build: build.blade.face_crown_mm,
    "blade.toe.scoop": lambda build: build.blade.toe.scoop and build.blade.toe.scoop.depth_mm,
    "blade.stations.0.spine_mm": lambda build: build.blade.stations[0].spine_mm,
    "handle.construction": lambda build: build.handle.construction,
    "handle.section_top": lambda build: build.handle.section_top,
    "handle.section_bottom": lambda build: build.handle.section_bottom,
    "protection.toe_guard": lambda build: (
        build.protection.toe_guard and build.protection.toe_guard.thickness_mm
    ),
    "protection.face_film": lambda build: (
        build.protection.face_film and build.protection.face_film.thickness_mm
    ),
    "protection.edge_tape": lambda build: (
        build.protection.edge_tape and build.protection.edge_tape.thickness_mm
    ),
}
CHOICES = {
    "profile": "profile",
    "sweet_spot.choice": "sweet_spot",
    "blade.bow_mm": "bow",
    "blade.face_crown_mm": "face",
    "blade.toe.scoop": "scoop",
    "handle.construction": "construction",
    "protection.toe_guard": "toe_guard",
    "protection.face_film": "face_film",
    "protection.edge_tape": "edge_tape",
    "blade.stations.edge_mm": "edges",
    "blade.stations.0.spine_mm": "toe",
    "handle.section_top": "section",
    "handle.section_bottom": "section",
}


@cache
def told(number: int) -> tuple[Recommendation, Answer]:
    """A seeded sheet with its effects, and what they rest on."""
    return with_effects(SHEETS[number]), answer(SHEETS[number], DEFAULT_BOOK)


def made_with(draft: Draft, found: Answer) -> BuildSheet:
    """The bat of other choices at the same fullness, willow and tilt."""
    solved = found.solved
    return draft.build(draft.shapes(), solved.fullness, solved.density_kg_m3, tilt_mm=solved.tilt_mm)


def made_as_offered(reason: Reason, one: Alternative, found: Answer) -> BuildSheet:
    """The bat of an alternative: that of the first other option which gives the field its value."""
    name, draft = CHOICES[reason.field], found.draft
    dress = reason.field.startswith("protection.")
    part = next(of for of in (draft.blade, draft.handle, draft.dress) if hasattr(of, name))
    for option in getattr(part, name).others:
        other = draft.dressing(name, option) if dress else draft.deciding(name, option)
        build = made_with(other, found)
        # edges are offered by their names, everything else as it stands in the build sheet
        if one.value == (VALUE_IN[reason.field](build) if reason.field in VALUE_IN else option):
            return build
    pytest.fail(f"{reason.field}: {one.value} is not what any other choice is made with")


def check_effect(effect: dict[str, float], other: Weighing, made: Weighing) -> None:
    """Every number is the difference of two bats, rounded as it is told."""
    assert other.sweet_spot
    assert made.sweet_spot
    apart = {
        "mass_g": other.mass_g - made.mass_g,
        "pickup_kg_m2": other.inertia_kg_m2.pickup - made.inertia_kg_m2.pickup,
        "balance_from_toe_mm": other.balance_from_toe_mm - made.balance_from_toe_mm,
        "peak_from_toe_mm": other.sweet_spot.peak_from_toe_mm - made.sweet_spot.peak_from_toe_mm,
        "reach_mm": (other.sweet_spot.to_mm - other.sweet_spot.from_mm)
        - (made.sweet_spot.to_mm - made.sweet_spot.from_mm),
    }
    assert set(effect) == set(apart)
    for name, value in apart.items():
        assert effect[name] == pytest.approx(value, abs=5.1e-5 if name == "pickup_kg_m2" else 0.051), name


@pytest.mark.parametrize("number", range(COUNT))
def test_every_alternative_but_of_the_grade_has_the_effect_of_being_made(number):
    found, behind = told(number)
    checked = 0
    for reason in found.reasons:
        for one in reason.alternatives:
            if reason.field == "willow.grade":
                assert one.effect == {}
                continue
            assert one.effect, reason.field
            if reason.field in CHOICES:
                check_effect(one.effect, weigh(made_as_offered(reason, one, behind)), weigh(found.build))
                checked += 1
    assert checked >= 3


@pytest.mark.parametrize("number", range(0, COUNT, 3))
def test_another_length_has_the_effect_of_the_bat_recommended_in_it(number):
    found, _ = told(number)
    reason = next(one for one in found.reasons if one.field == "length_code")
    for one in reason.alternatives:
        other = recommend(with_answer(SHEETS[number], "wishes.length_code", one.value))
        assert other.build.length_code == one.value
        check_effect(one.effect, other.weighing, found.weighing)


@pytest.mark.parametrize("number", range(0, COUNT, 3))
def test_another_mass_in_the_same_shape_is_the_willows(number):
    found, _ = told(number)
    reason = next(one for one in found.reasons if one.field == "mass_g")
    low, high = reason.alternatives
    assert isinstance(low.value, float)
    assert isinstance(high.value, float)
    assert low.value < found.build.mass_g.target < high.value
    for one in (low, high):
        # the mass offered is the mass got, but for rounding and the oil
        assert found.weighing.mass_g + one.effect["mass_g"] == pytest.approx(one.value, abs=0.3)
        assert (one.effect["pickup_kg_m2"] > 0) == (one is high)


@pytest.mark.parametrize("number", range(0, COUNT, 3))
def test_another_girth_has_the_effect_of_its_cane(number):
    found, behind = told(number)
    reason = next(one for one in found.reasons if one.field == "handle.girth_mm")
    for one in reason.alternatives:
        assert isinstance(one.value, float)
        handle = replace(behind.draft.handle, girth_mm=one.value)
        build = made_with(replace(behind.draft, handle=handle), behind)
        assert build.handle.girth_mm.middle == one.value
        check_effect(one.effect, weigh(build), weigh(found.build))
        assert (one.effect["mass_g"] > 0) == (one.value > found.build.handle.girth_mm.middle)
        assert abs(one.effect["mass_g"]) < 60 / pi


@pytest.mark.parametrize("number", range(COUNT))
def test_without_its_effects_it_is_the_recommendation(number):
    found, _ = told(number)
    plain = recommend(SHEETS[number])
    bare = tuple(
        reason.model_copy(
            update={"alternatives": tuple(Alternative(value=one.value) for one in reason.alternatives)}
        )
        for reason in found.reasons
    )
    assert found.model_copy(update={"reasons": bare, "others": ()}) == plain
    assert plain.others == ()


@pytest.mark.parametrize("number", range(COUNT))
def test_other_bats_are_whole_lawful_weighed_and_lighter_or_heavier(number):
    found, _ = told(number)
    sheet = SHEETS[number]
    if sheet.player.age_years < 18:
        assert found.others == ()
        return
    assert len({bat.key for bat in found.others}) == len(found.others)
    for bat in found.others:
        assert read_sheet(BuildSheet, bat.build.model_dump(mode="json")) == bat.build
        check_lawful(found.model_copy(update={"build": bat.build}), sheet)
        check_trade_limits(bat.build)
        assert weigh(bat.build) == bat.weighing
        assert abs(bat.weighing.mass_g - bat.build.mass_g.target) <= bat.build.mass_g.tolerance
        apart = bat.weighing.mass_g - found.weighing.mass_g
        assert (apart < -7.9) if bat.key == "quicker" else (apart > 7.9)
        assert bat.build.profile == ("scalloped" if bat.key == "quicker" else "full")
        assert bat.build.length_code == found.build.length_code


def test_most_grown_players_are_shown_both_other_bats():
    grown = [number for number, sheet in enumerate(SHEETS) if sheet.player.age_years >= 18]
    both = [number for number in grown if len(told(number)[0].others) == 2]
    assert len(both) / len(grown) >= 0.7


@pytest.mark.parametrize("felt", [None, "right", "too_heavy", "too_light"])
@pytest.mark.parametrize("order", [None, ["mass", "pickup"]])
def test_bat_in_use_does_not_draw_the_other_bats_back_to_itself(felt, order):
    present = {"mass_g": 1165, "balance_from_toe_mm": 357, "overall_length_mm": 851, "liked": True}
    wishes = {"gives_way_first": order} if order else {}
    found = with_effects(fitting(present_bat=present | ({"pickup": felt} if felt else {}), wishes=wishes))
    apart = {bat.key: bat.weighing.mass_g - found.weighing.mass_g for bat in found.others}
    tolerance = found.build.mass_g.tolerance
    assert apart["quicker"] == pytest.approx(-QUICKER_G, abs=tolerance)
    assert apart["fuller"] == pytest.approx(FULLER_G, abs=tolerance)
