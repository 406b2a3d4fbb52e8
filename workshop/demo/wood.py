"""120 clefts on the rack: sizes and densities as the trade buys them (from memory, no source)."""

from datetime import date, datetime, timedelta
from random import Random

from orders.people.models import User
from workshop.rack.clefts import change_standing, take_in
from workshop.rack.models import Cleft, CleftState, Load

CLEFTS = 120
FIRST_NUMBER = 231
# Each load: its name, how many, how dense on the mean (kg/m3 at 12 %, before the press), days ago.
LOADS = (
    ("Winter felling, lower meadow", "Brook Farm", 38, 398.0, 210),
    ("Winter felling, mill bank", "Mill Bank Willows", 34, 412.0, 150),
    ("Windfall, upper ditch", "Brook Farm", 26, 405.0, 95),
    ("Spring delivery", "Mill Bank Willows", 22, 420.0, 20),
)
GRADES = (1, 1, 2, 2, 2, 3, 3, 3, 3, 4)
KILN_SHEET = "Ends sealed, six months under cover, then five weeks in the warm store."
PRICES = {1: 9500, 2: 6200, 3: 4100, 4: 2400}


def stock_the_rack(chance: Random, *, by: User, at: datetime) -> list[Cleft]:
    """Take in every load; the last one is still seasoning, a few clefts are for smaller sizes or out."""
    found: list[Cleft] = []
    for name, grower, count, density, days_ago in LOADS:
        day = at - timedelta(days=days_ago)
        load = Load.objects.create(
            name=name,
            grower=grower,
            felled_on=_felled(day.date()),
            kiln_sheet=KILN_SHEET,
            price_a_piece=PRICES[2],
            count=count,
            arrived_on=day.date(),
        )
        for _place in range(count):
            cleft = _cleft(chance, FIRST_NUMBER + len(found), load, density, day)
            cleft.state = CleftState.SEASONING if days_ago < 60 else CleftState.READY
            found.append(take_in(cleft, by=by, at=day))
    for cleft in found[7:70:21]:
        words = "Shake that runs in from one end."
        change_standing(cleft, "reject", by=by, words=words, at=at - timedelta(days=30))
    for cleft in found[12:80:17]:
        words = "Knot at the edge 120 mm from one end: will do for a child's bat."
        change_standing(cleft, "mark_smaller", by=by, words=words, at=at - timedelta(days=28))
    return found


def _felled(arrived: date) -> date:
    """Return the tenth of January before the year that wood took to season, as willow is felled in winter."""
    return date(arrived.year - 1, 1, 10)


def _cleft(chance: Random, number: int, load: Load, density: float, day: datetime) -> Cleft:
    short = chance.random() < 0.15
    length, width, depth = (640, 112, 69) if short else (710, 117, 75)
    lengths = round(chance.gauss(length, 6) * 10)
    widths = [round(chance.gauss(width, 1.2) * 10) for _ in range(3)]
    depths = [round(chance.gauss(depth, 1.3) * 10) for _ in range(3)]
    moisture = round(chance.uniform(9.5, 12.5), 1)
    volume = lengths * (widths[0] * depths[0] + 4 * widths[1] * depths[1] + widths[2] * depths[2]) / 6 / 1000
    dense = chance.gauss(density, 17)
    grade = chance.choice(GRADES)
    return Cleft(
        number=number,
        load=load,
        price=PRICES[grade] + 50 * chance.randrange(-6, 7),
        grade=grade,
        grains=chance.randrange(5, 13),
        length=lengths,
        width_1=widths[0],
        width_2=widths[1],
        width_3=widths[2],
        depth_1=depths[0],
        depth_2=depths[1],
        depth_3=depths[2],
        mass=round(dense * volume / 1e6 * 10),
        moisture=round(moisture * 10),
        read_on=day.date(),
        run_out=None if chance.random() > 0.04 else 9,
        note=chance.choice(("", "", "", "Small pin knot near one end.", "Lively when tapped.")),
        taken_in_at=day,
    )
