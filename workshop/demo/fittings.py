"""Fitting sheets of invented players, put into the interview as they would be typed."""

from datetime import datetime
from random import Random
from typing import Any

from fitting.answers_written import answers_from
from fitting.questions import pages
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from orders.interview import drafts
from orders.interview.models import Fitting
from orders.people.models import Player, User

Sheet = dict[str, Any]


def grown_sheet(chance: Random, *, age: int | None = None) -> Sheet:
    """Return what a grown player may say: some of it always, the rest now and then."""
    sheet: Sheet = {
        "sheet": 1,
        "player": {
            "age_years": age or chance.randint(18, 61),
            "height_mm": 10 * round(chance.gauss(177, 7)),
            "batting_hand": chance.choice(("right", "right", "right", "left")),
            "strength": chance.choice(("light", "average", "average", "strong")),
        },
        "level": chance.choice(("club", "club", "club", "first_class")),
    }
    _sometimes(chance, sheet, "game", _game(chance))
    _sometimes(chance, sheet, "pitches", _pitches(chance))
    _sometimes(chance, sheet, "hold", _hold(chance))
    sheet["present_bat"] = _present_bat(chance)
    sheet["wishes"] = _wishes(chance)
    return sheet


def child_sheet(chance: Random, age: int) -> Sheet:
    """Return what is asked of somebody under 18: body, level, the bat in use."""
    height = round(chance.gauss(0.78 + 0.0585 * age, 0.03), 2)
    return {
        "sheet": 1,
        "player": {
            "age_years": age,
            "height_mm": round(1000 * height),
            "inside_leg_mm": round(460 * height),
            "hand_length_mm": round(104 * height),
            "batting_hand": chance.choice(("right", "left")),
            "strength": chance.choice(("light", "average")),
        },
        "level": "junior",
        "present_bat": {"liked": False, "pickup": chance.choice(("too_heavy", "right"))},
    }


def _sometimes(chance: Random, sheet: Sheet, chapter: str, answers: Sheet) -> None:
    """Leave a few questions of a chapter open, as people do."""
    kept = {key: value for key, value in answers.items() if chance.random() < 0.85}
    if kept:
        sheet[chapter] = kept


def _game(chance: Random) -> Sheet:
    shots = ("straight_drive", "drive_on_the_up", "cut", "pull_and_hook", "sweep", "lofted", "leg_glance")
    best = chance.sample(shots, 3)
    return {
        "batting_place": chance.choice(("opener", "top_order", "middle_order", "lower_order")),
        "approach": chance.choice(("patient", "balanced", "balanced", "attacking", "big_hitting")),
        "overs_mix": chance.choice(
            (
                {"long": 3, "fifty": 2, "twenty": 1},
                {"long": 0, "fifty": 3, "twenty": 2},
                {"long": 1, "fifty": 1, "twenty": 4},
            )
        ),
        "shots": dict(zip(best, (3, 2, 1), strict=True)),
        "ball": chance.choice((["hard"], ["hard", "machine"], ["hard", "soft"])),
        "nets_hours_a_week": chance.choice((1, 1.5, 2, 3, 5)),
    }


def _pitches(chance: Random) -> Sheet:
    return {
        "bounce": chance.choice(("low", "medium", "medium", "high", "varied")),
        "surface": chance.choice(("turf", "turf", "turf", "artificial")),
        "outfield_grass": chance.choice(("short", "medium", "long")),
        "often_damp": chance.random() < 0.4,
    }


def _hold(chance: Random) -> Sheet:
    return {
        "hands": chance.choice(("top", "middle", "bottom")),
        "tightness": chance.choice(("light", "firm", "tight")),
        "stance": chance.choice(("upright", "medium", "crouched")),
        "leading_hand": chance.choice(("top", "bottom")),
        "taps_ground": chance.random() < 0.6,
    }


def _present_bat(chance: Random) -> Sheet:
    mass = chance.randrange(1110, 1260, 5)
    bat: Sheet = {
        "liked": chance.random() < 0.5,
        "length_code": "short_handle",
        "mass_g": mass,
        "pickup": chance.choice(("right", "right", "too_heavy", "too_light")),
        "handle": chance.choice(("right", "right", "too_thin", "too_thick")),
    }
    if chance.random() < 0.5:
        bat |= {
            "overall_length_mm": chance.choice((848, 850, 851, 853)),
            "balance_from_toe_mm": round(chance.gauss(352, 5)),
            "grip_girth_mm": chance.randrange(110, 122),
        }
    if chance.random() < 0.3:
        bat["broke_at"] = [chance.choice(("toe", "edge", "face"))]
    return bat


def _wishes(chance: Random) -> Sheet:
    wishes: Sheet = {"looks_grade": chance.choice((2, 3, 3, 4))}
    if chance.random() < 0.5:
        least = chance.randrange(1120, 1190, 10)
        wishes["mass_g"] = {"min": least, "max": least + 40}
    if chance.random() < 0.4:
        wishes["sweet_spot"] = chance.choice(("low", "mid", "mid", "high"))
    if chance.random() < 0.3:
        wishes["bow"] = chance.choice(("slight", "full"))
    if chance.random() < 0.3:
        wishes["handle_section"] = chance.choice(("round", "oval", "round_to_oval"))
    return wishes


def as_typed(sheet: Sheet, *, imperial: bool) -> dict[str, dict[str, str | list[str]]]:
    """Return the answers that make a sheet, in feet and pounds for those who think in them."""
    answers = answers_from(read_sheet(FittingSheet, sheet))
    if imperial:
        inches = round(sheet["player"]["height_mm"] / 25.4)
        answers["height"] = {"": f"{inches // 12}'{inches % 12}\""}
        if "bat_mass" in answers:
            ounces = round(sheet["present_bat"]["mass_g"] / 28.3495)
            answers["bat_mass"] = {"": f"{ounces // 16} lb {ounces % 16}"}
    return answers


def fill_in(
    fitting: Fitting, answers: dict[str, dict[str, str | list[str]]], *, upto: int | None = None
) -> Fitting:
    """Answer a fitting page by page as the interview does; only its first pages if ``upto`` says how many.

    Raises:
        ValueError: an answer was refused, so the demo itself is wrong.
    """
    done = 0
    while upto is None or done < upto:
        following = pages(drafts.situation(fitting))[done:]
        if not following:
            break
        page = following[0]
        given = {one.key: answers.get(one.key, {}) for one in page.questions}
        saved = drafts.save_answers(
            fitting,
            page.questions,
            given,
            version=fitting.version,
            window="",
            whole_page=True,
        )
        if saved.faults:
            raise ValueError(f"the demo's answers were refused: {saved.faults}")
        done += 1
    return fitting


def begun_fitting(
    player: Player | None,
    sheet: Sheet,
    *,
    at: datetime,
    imperial: bool = False,
    upto: int | None = None,
    by: User | None = None,
    waiting_for: str = "",
) -> Fitting:
    """Begin a fitting and fill it in: a player's own, one at the counter, or one of a browser.

    The interview knows no other time than now; the day it happened on is written afterwards, here.
    """
    fitting = drafts.begin(user=by or (player.holder if player else None), browser="")
    answers = as_typed(sheet, imperial=imperial)
    fill_in(fitting, answers, upto=upto)
    if player is not None:
        fitting.player, fitting.holder = player, player.holder
    if waiting_for:
        drafts.leave_to_address(fitting, waiting_for)
        fitting.waiting_for = waiting_for
    fitting.created_at = fitting.changed_at = at
    fitting.save(update_fields=["player", "holder", "created_at", "changed_at"])
    return fitting
