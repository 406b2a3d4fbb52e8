"""What lies on the shelves beside the clefts: handles, supplies, two bats that nobody owns.

Masses, amounts and prices are as the trade buys them, from memory, no source.
"""

from datetime import datetime, timedelta
from random import Random

from orders.commissions.states import Stage
from orders.people.models import User
from workshop.rack.models import Cleft, CleftState
from workshop.stock import handles, supplies
from workshop.stock.models import Handle, Supply
from workshop.stock.scrap import write_off
from workshop.stock.stock_bats import lay_by

HANDLES = 60
# Of ten handles, as they are asked for.
CONSTRUCTIONS = ("plain_cane",) * 6 + ("stiffened_cane",) * 3 + ("lightened_cane",)
RAW_G = {"plain_cane": 280, "stiffened_cane": 296, "lightened_cane": 258}
LINES = ("straight", "straight", "straight", "a little to the left at the top", "leans forward 2 mm")
# Kind, name, colour, unit, mass of one (0.1 g), price of one, how much came, minimum, days it holds.
SUPPLIES: tuple[tuple[str, str, str, str, int | None, int, float, float, int | None], ...] = (
    ("grip", "ribbed", "blue", "piece", 500, 320, 48, 10, None),
    ("grip", "ribbed", "black", "piece", 500, 320, 6, 10, None),
    ("grip", "fine junior", "red", "piece", 320, 290, 15, 6, None),
    ("thread", "twisted linen", "black", "metre", 4, 6, 1600, 300, None),
    ("thread", "twisted linen", "natural", "metre", 4, 6, 450, 300, None),
    ("film", "clear, cut to the face", "", "piece", 150, 410, 26, 8, None),
    ("toe_guard", "moulded", "clear", "piece", 90, 240, 26, 10, None),
    ("edge_tape", "fibre tape", "", "metre", 40, 55, 50, 15, None),
    ("glue", "wood glue", "", "gram", None, 3, 1500, 500, 200),
    ("glue", "two-part glue", "", "gram", None, 9, 400, 100, -12),
    ("oil", "raw linseed", "", "gram", None, 2, 3000, 800, 300),
)


def stock_the_shelves(chance: Random, *, by: User, at: datetime) -> None:
    """Take in 60 handles and some of every supply, use a little, and lay two bats by."""
    arrived = at - timedelta(days=70)
    for number in range(1, HANDLES + 1):
        handles.take_in(_handle(chance, number, arrived), by=by, at=arrived)
    bent = Handle.objects.get(number=11)
    handles.reject_handle(bent, "Bent like a bow: 9 mm over its length.", by, at=at - timedelta(days=40))
    for place, row in enumerate(SUPPLIES):
        _supply(row, place, by=by, at=at)
    _bats_nobody_owns(by=by, at=at)


def _handle(chance: Random, number: int, arrived: datetime) -> Handle:
    construction = CONSTRUCTIONS[chance.randrange(len(CONSTRUCTIONS))]
    return Handle(
        number=number,
        mass=round(chance.gauss(RAW_G[construction], 13) * 10),
        springs=chance.choice((1, 2, 2, 3)),
        construction=construction,
        line=chance.choice(LINES),
        batch="spring" if number <= HANDLES // 2 else "summer",
        price=1450 + 200 * (construction != "plain_cane"),
        taken_in_at=arrived,
    )


def _supply(
    row: tuple[str, str, str, str, int | None, int, float, float, int | None],
    place: int,
    *,
    by: User,
    at: datetime,
) -> None:
    kind, name, colour, unit, mass, price, came, minimum, holds = row
    arrived = at - timedelta(days=60 - place)
    supply = Supply(
        kind=kind,
        name=name,
        colour=colour,
        unit=unit,
        mass=mass,
        price=price,
        minimum=round(minimum * 10),
        batch=f"{kind[:1].upper()}{place + 1}",
        arrived_on=arrived.date(),
        opened_on=(at - timedelta(days=20)).date() if holds is not None else None,
        use_by=(at + timedelta(days=holds)).date() if holds is not None else None,
    )
    supplies.enter(supply, came, by=by, at=arrived)
    if holds is None or holds > 0:
        some = 1.0 if unit == "piece" else 40.0
        supplies.use(supply, some, bat=None, by=by, words="tried out", at=arrived + timedelta(days=3))


def _bats_nobody_owns(*, by: User, at: datetime) -> None:
    """Lay by a practice blank of wood that was thrown out, and a finished bat that nobody fetched."""
    failed = Cleft.objects.filter(state=CleftState.REJECTED).order_by("number").first()
    if failed is not None:
        words = "The shake went through to the face."
        write_off(
            cause="hidden_fault",
            cleft=failed,
            bat=None,
            stage=Stage.CLEFT_SELECTION,
            words=words,
            by=by,
            minutes=25,
            at=at - timedelta(days=30),
        )
    lay_by(
        kind="blank",
        length_code="size_5",
        cleft=failed,
        bat=None,
        words="A practice blank out of the sound end.",
        by=by,
        cost=0,
        price=3500,
        at=at - timedelta(days=29),
    )
    lay_by(
        kind="finished",
        length_code="short_handle",
        cleft=None,
        bat=None,
        words="Made for the window; a knot at the edge.",
        by=by,
        cost=11000,
        mass=11680,
        balance=3510,
        grade=3,
        price=22000,
        at=at - timedelta(days=90),
    )
