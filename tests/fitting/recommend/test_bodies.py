"""For bodies as people are: every bat is whole, lawful and of the trade, or tells which wish forbids it."""

import numpy as np
import pytest

from fitting.recommend import recommend
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Recommendation
from tests.bodies import Body, bodies
from tests.fitting.recommend.test_every_sheet import (
    MISSED_MASS,
    check_child,
    check_complete,
    check_lawful,
    check_mass,
    check_sweet_spot,
)
from tests.seeded_sheets import seeded_sheets
from tests.trade_limits import check_trade_limits

TOLD = {*MISSED_MASS, "mass.gave_way"}
ALL = 6000
SAMPLE = 150


def bare(body: Body) -> FittingSheet:
    """The sheet of somebody who gave measures and nothing else."""
    return read_sheet(FittingSheet, {"sheet": 1, "player": body.player()})


def with_answers_of(sheet: FittingSheet, body: Body) -> FittingSheet:
    """The same body with somebody's other answers."""
    content = sheet.model_dump(mode="json", exclude_none=True)
    content["player"] = {**content["player"], **body.player()}
    return read_sheet(FittingSheet, content)


def check_wish_told(found: Recommendation, sheet: FittingSheet) -> None:
    """A mass outside what the size has, or not as wished, names the wish or answer that forbids it."""
    row, limits = DEFAULT_BOOK.length(found.build.length_code), DEFAULT_BOOK.trade_limits
    slack = limits(row.code).mass_slack_share
    target = found.build.mass_g.target
    low, high = row.mass_low_g * (1 - slack) - 1, row.mass_high_g * (1 + slack) + 1
    wish = sheet.wishes.mass_g
    # bounds of a wish that leave less room than a bat can be made to are met in their middle
    as_wished = wish is None or (
        (wish.min is None or target >= wish.min - 1) and (wish.max is None or target <= wish.max + 1)
    )
    if low <= target <= high and as_wished:
        return
    told = [conflict for conflict in found.conflicts if conflict.key in TOLD]
    given = sheet.model_dump(mode="json", exclude_none=True)
    for conflict in told:
        chapters = [field.split(".") for field in conflict.fields if "." in field]
        assert any(name[1] in given.get(name[0], {}) for name in chapters), conflict
    assert told, target


def check_body(found: Recommendation, sheet: FittingSheet) -> None:
    check_complete(found)
    check_lawful(found, sheet)
    check_trade_limits(found.build)
    check_mass(found)
    check_sweet_spot(found.build)
    check_child(found, sheet)
    check_wish_told(found, sheet)


def check_bare(body: Body) -> None:
    sheet = bare(body)
    found = recommend(sheet)
    check_body(found, sheet)
    # without a wish nothing stands in the way of a usual mass; only a hand may ask for a girth not made
    assert {conflict.key for conflict in found.conflicts} <= {"girth.limit", "length.pair"}


def check_answering(body: Body, others: FittingSheet) -> None:
    sheet = with_answers_of(others, body)
    check_body(recommend(sheet), sheet)


def test_bodies_of_one_seed_are_the_same_bodies():
    assert list(bodies(20)) == list(bodies(20))


def test_a_sample_of_bodies_gets_whole_bats():
    chance = np.random.default_rng(150)
    numbers = set(chance.choice(ALL, SAMPLE, replace=False).tolist())
    sheets = list(seeded_sheets(SAMPLE))
    picked = [body for number, body in enumerate(bodies(ALL)) if number in numbers]
    for number, (body, others) in enumerate(zip(picked, sheets, strict=True)):
        if number % 2:
            check_bare(body)
        else:
            check_answering(body, others)


@pytest.mark.storm
def test_every_body_gets_a_whole_bat():
    people = list(bodies(ALL))
    for body in people[: ALL // 2]:
        check_bare(body)
    for body, others in zip(people[ALL // 2 :], seeded_sheets(ALL // 2), strict=True):
        check_answering(body, others)
