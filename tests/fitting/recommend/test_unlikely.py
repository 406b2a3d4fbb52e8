"""Answers that are unlikely: each kind on a made sheet, and none where the answers agree."""

from typing import Any

import pytest

from fitting.recommend import recommend
from fitting.recommend.call_sheet import call_sheet
from fitting.recommend.unlikely import HAND_ON_STATURE
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.fitting.recommend.test_call_sheet import ANSWERED
from tests.sheets import fitting

BAT = ANSWERED["present_bat"]
MADE: dict[str, dict[str, Any]] = {
    "mass": {"present_bat": {"mass_g": 1650}},
    "length": {"present_bat": {"overall_length_mm": 800, "length_code": "short_handle"}},
    "no_bat": {"present_bat": {**BAT, "balance_from_toe_mm": 600}},
    "swings": {
        "present_bat": {**BAT, "pendulum": {"pivot_from_handle_top_mm": 150, "swings": 30, "seconds": 90}}
    },
    "pickup": {"present_bat": {**BAT, "balance_from_toe_mm": 310}},
    "hand": {"player": {"hand_length_mm": 150}},
    "girth": {"player": {"hand_length_mm": 190}, "present_bat": {"grip_girth_mm": 150}},
    "marks": {
        "game": {"ball_marks_from_toe_mm": [240, 245, 250, 255, 260]},
        "wishes": {"sweet_spot": "low"},
    },
    "liked_too_heavy": {"present_bat": {"liked": True, "pickup": "too_heavy"}},
    "liked_too_light": {"present_bat": {"liked": True, "pickup": "too_light"}},
    "bounce_too_low": {"pitches": {"bounce": "low"}, "present_bat": {"sweet_spot": "too_low"}},
    "bounce_too_high": {"pitches": {"bounce": "high"}, "present_bat": {"sweet_spot": "too_high"}},
    "wish_heavier": {
        "present_bat": {"mass_g": 1150, "pickup": "too_heavy"},
        "wishes": {"mass_g": {"min": 1200}},
    },
    "wish_lighter": {
        "present_bat": {"mass_g": 1150, "pickup": "too_light"},
        "wishes": {"mass_g": {"max": 1100}},
    },
    "patient_lofted": {"game": {"approach": "patient", "shots": {"lofted": 3}}},
    "big_hitting_grounded": {"game": {"approach": "big_hitting", "shots": {"lofted": 0}}},
}


def doubted(**chapters: Any) -> list[str]:
    sheet = fitting(**chapters)
    lines = call_sheet(sheet, recommend(sheet), DEFAULT_BOOK)
    return [line.key for line in lines if line.kind == "unlikely"]


@pytest.mark.parametrize("key", MADE)
def test_made_sheet_is_doubted_for_that_alone(key):
    assert doubted(**MADE[key]) == [key]


@pytest.mark.parametrize(
    "chapters",
    [
        {},
        ANSWERED,
        {"present_bat": {"mass_g": 1240}},
        {"player": {"age_years": 9, "height_mm": 1300}, "present_bat": {"mass_g": 760}},
        {"player": {"age_years": 9, "height_mm": 1300, "hand_length_mm": 145}},
        {"player": {"hand_length_mm": 190}, "present_bat": {"grip_girth_mm": 150, "handle": "too_thick"}},
        {"present_bat": {"liked": False, "pickup": "too_heavy"}},
        {"pitches": {"bounce": "low"}, "present_bat": {"sweet_spot": "too_high"}},
        {"present_bat": {"mass_g": 1150, "pickup": "too_heavy"}, "wishes": {"mass_g": {"max": 1100}}},
        {"game": {"approach": "patient", "shots": {"straight_drive": 3, "lofted": 1}}},
        {
            "game": {"ball_marks_from_toe_mm": [150, 155, 160, 165, 170]},
            "wishes": {"sweet_spot": "low"},
        },
    ],
)
def test_answers_that_agree_are_not_doubted(chapters):
    assert doubted(**chapters) == []


def test_handle_called_too_thin_although_thicker_than_the_hand_would_take():
    sheet = fitting(player={"hand_length_mm": 180}, present_bat={"grip_girth_mm": 122, "handle": "too_thin"})
    (line,) = [one for one in call_sheet(sheet, recommend(sheet), DEFAULT_BOOK) if one.kind == "unlikely"]
    assert line.key == "girth"
    assert "present_bat.handle" in line.answers


@pytest.mark.parametrize(("mean_stature", "mean_hand", "row"), [(1756.2, 193.3, 0), (1628.5, 181.1, 1)])
def test_ansur_ii_hand_on_stature_passes_through_the_published_means(mean_stature, mean_hand, row):
    """Gordon et al. (2014), NATICK/TR-15/007: mean stature and hand length of 4,082 men, 1,986 women, mm."""
    intercept, slope, _se = HAND_ON_STATURE[row]
    assert intercept + slope * mean_stature == pytest.approx(mean_hand, abs=0.2)


@pytest.mark.parametrize(("height", "hand"), [(1602, 172), (1927, 218), (1483, 160), (1777, 207)])
def test_ansur_ii_hands_at_the_first_and_last_percentile_are_not_doubted(height, hand):
    """Gordon et al. (2014): P1 and P99 of stature and hand length together, men and women, mm."""
    assert doubted(player={"height_mm": height, "hand_length_mm": hand}) == []
