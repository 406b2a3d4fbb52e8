"""Every valid sheet gets a whole bat: complete, lawful, inside the trade's limits, its mass met or told."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings

from fitting.bat.weigh import weigh
from fitting.facts import FACTS
from fitting.laws import law_check
from fitting.recommend import recommend
from fitting.recommend.blade import swell_band_mm
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Recommendation
from fitting.sheets.values import JUNIOR_CODES
from tests.sheets import fittings
from tests.trade_limits import check_trade_limits

MISSED_MASS = {"mass.unreached_light", "mass.unreached_heavy", "mass.trade_limit", "mass.child_ceiling"}


def leaves(content: Any, at: str = "") -> Iterator[str]:
    """Dotted paths of everything in a build sheet; a record that is null counts by itself."""
    if isinstance(content, dict):
        for key, value in content.items():
            yield from leaves(value, f"{at}.{key}" if at else key)
    elif isinstance(content, list):
        for number, value in enumerate(content):
            yield from leaves(value, f"{at}.{number}")
    else:
        yield at


def check_complete(found: Recommendation) -> None:
    fields = {reason.field for reason in found.reasons}
    assert len(fields) == len(found.reasons)
    told = {
        path
        for path in leaves(found.build.model_dump(mode="json"))
        if any(path == field or path.startswith(f"{field}.") for field in fields)
    }
    assert set(leaves(found.build.model_dump(mode="json"))) - told == {"build"}
    assert read_sheet(BuildSheet, found.build.model_dump(mode="json")) == found.build


def check_lawful(found: Recommendation, sheet: FittingSheet) -> None:
    for row in law_check(found.build, level=sheet.level):
        assert row.passes, row
        assert row.book_margin_kept, row


def check_mass(found: Recommendation) -> None:
    build = found.build
    again = weigh(build)
    assert again.mass_g == pytest.approx(found.weighing.mass_g, abs=1e-6)
    assert abs(again.mass_g - build.mass_g.target) <= build.mass_g.tolerance
    assert abs(again.inertia_kg_m2.pickup - build.pickup_kg_m2.target) <= build.pickup_kg_m2.tolerance
    row = DEFAULT_BOOK.length(build.length_code)
    inside = row.mass_low_g * 0.95 - 1 <= build.mass_g.target <= row.mass_high_g * 1.05 + 1
    assert inside or MISSED_MASS & {conflict.key for conflict in found.conflicts}


def check_sweet_spot(build: BuildSheet) -> None:
    low, high = swell_band_mm(build.sweet_spot.choice, build.blade.length_mm, DEFAULT_BOOK)
    assert low - 0.5 <= build.sweet_spot.swell_from_toe_mm <= high + 0.5
    deepest = max(build.blade.stations, key=lambda station: station.spine_mm)
    assert deepest.from_toe_mm == build.sweet_spot.swell_from_toe_mm


def check_reasons(found: Recommendation, sheet: FittingSheet) -> None:
    given = set(leaves(sheet.model_dump(mode="json", exclude_none=True)))
    for reason in found.reasons:
        for one in reason.because:
            assert one.fact in FACTS
            if one.answer is not None:
                assert any(path == one.answer or path.startswith(f"{one.answer}.") for path in given), one
        assert reason.because


def check_child(found: Recommendation, sheet: FittingSheet) -> None:
    if sheet.player.age_years >= 18:
        return
    assert {"child.guardian", "child.lighter"} <= {caution.key for caution in found.cautions}
    if found.build.length_code in JUNIOR_CODES:
        ceiling = DEFAULT_BOOK.length(found.build.length_code).mass_high_g
        reached = any(conflict.key == "mass.unreached_light" for conflict in found.conflicts)
        assert found.build.mass_g.target <= ceiling or reached


def check_all(sheet: FittingSheet) -> None:
    found = recommend(sheet)
    check_complete(found)
    check_lawful(found, sheet)
    check_trade_limits(found.build)
    check_mass(found)
    check_sweet_spot(found.build)
    check_reasons(found, sheet)
    check_child(found, sheet)


@settings(max_examples=150, deadline=None)
@given(fittings())
def test_recommendation_is_whole_for_every_valid_sheet(sheet):
    check_all(sheet)


@pytest.mark.storm
@settings(max_examples=5000, deadline=None)
@given(fittings())
def test_recommendation_is_whole_in_a_storm_of_sheets(sheet):
    check_all(sheet)


@settings(max_examples=20, deadline=None)
@given(fittings())
def test_same_answers_give_the_same_bat(sheet):
    again = read_sheet(FittingSheet, json.loads(sheet.model_dump_json(exclude_none=True)))
    assert recommend(sheet) == recommend(again)
