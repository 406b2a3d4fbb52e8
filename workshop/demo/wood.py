"""120 clefts on the rack: sizes and densities as the trade buys them (from memory, no source)."""

from datetime import date, datetime, timedelta
from math import exp
from random import Random

from orders.commissions.book_in_force import book_in_force
from orders.people.models import User
from workshop.demo.marks import mark_the_wood
from workshop.rack.clefts import change_standing, grade_again, take_in, weigh_again
from workshop.rack.models import Cleft, CleftState, Load, MoisturePlace
from workshop.seasoning import equilibrium_moisture

FIRST_NUMBER = 231
# Each load: name, grower, how many, how dense on the mean (kg/m3 at 12 %, before the press), days ago.
LOADS = (
    ("Winter felling, lower meadow", "Brook Farm", 38, 398.0, 210),
    ("Winter felling, mill bank", "Mill Bank Willows", 34, 412.0, 150),
    ("Windfall, upper ditch", "Brook Farm", 26, 405.0, 95),
    ("Spring delivery", "Mill Bank Willows", 22, 420.0, 63),
)
SEASONING = "Spring delivery"
GRADES = (1, 1, 2, 2, 2, 3, 3, 3, 3, 4)
KILN_SHEET = "Ends sealed, six months under cover, then five weeks in the warm store."
PRICES = {1: 9500, 2: 6200, 3: 4100, 4: 2400}
# As many of the seasoning load are weighed every week; days after it came.
FOLLOWED, WEIGHED_AFTER = 8, (9, 17, 25, 33, 42, 51, 60)
USUAL_DAYS = (16, 26)


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
            cleft.state = CleftState.SEASONING if name == SEASONING else CleftState.READY
            found.append(take_in(cleft, by=by, at=day))
    _season(chance, [cleft for cleft in found if cleft.state == CleftState.SEASONING], by=by)
    for cleft in found[7:70:21]:
        words = "Shake that runs in from one end."
        change_standing(cleft, "reject", by=by, words=words, at=at - timedelta(days=30))
    for cleft in found[12:80:17]:
        words = "Knot at the edge 120 mm from one end: will do for a child's bat."
        change_standing(cleft, "mark_smaller", by=by, words=words, at=at - timedelta(days=28))
    _grade_again(found[3:90:9], by=by, at=at - timedelta(days=75))
    mark_the_wood(chance, found, by=by, at=at)
    return found


def _season(chance: Random, clefts: list[Cleft], *, by: User) -> None:
    """Weigh some of a load that still dries week by week; two of them are ready and are said to be."""
    room = book_in_force().room
    rest = equilibrium_moisture(room.room_temperature_c, room.room_humidity_percent)
    for place, cleft in enumerate(clefts[:FOLLOWED]):
        came = cleft.taken_in_at
        begun, dry = cleft.moisture_percent, cleft.mass_g / (1 + cleft.moisture_percent / 100)
        days = chance.uniform(*USUAL_DAYS)
        for after in WEIGHED_AFTER:
            now = rest + (begun - rest) * exp(-after / days)
            weighed = came + timedelta(days=after, hours=-3)
            weigh_again(
                cleft,
                mass=round((dry * (1 + now / 100) + chance.gauss(0, 0.7)) * 10),
                moisture=round((now + chance.gauss(0, 0.35)) * 10),
                read_on=weighed.date(),
                by=by,
                moisture_at=MoisturePlace.FACE,
                at=weighed,
            )
        if place in (2, 5):
            change_standing(cleft, "make_ready", by=by, at=came + timedelta(days=61))


def _grade_again(clefts: list[Cleft], *, by: User, at: datetime) -> None:
    """Look at some once more in better light."""
    for place, cleft in enumerate(clefts):
        if cleft.state != CleftState.REJECTED:
            grade = min(4, cleft.grade + 1) if place % 3 else max(1, cleft.grade - 1)
            words = "Less even than it looked." if place % 3 else "Cleaner on both sides than it looked."
            grade_again(cleft, grade=grade, when="", by=by, words=words, at=at)


def _felled(arrived: date) -> date:
    """Return the tenth of January before the year that wood took to season, as willow is felled in winter."""
    return date(arrived.year - 1, 1, 10)


def _cleft(chance: Random, number: int, load: Load, density: float, day: datetime) -> Cleft:
    short = chance.random() < 0.15
    length, width, depth = (640, 112, 69) if short else (710, 117, 75)
    lengths = round(chance.gauss(length, 6) * 10)
    widths = [round(chance.gauss(width, 1.2) * 10) for _ in range(3)]
    depths = [round(chance.gauss(depth, 1.3) * 10) for _ in range(3)]
    dried = load.name != SEASONING
    moisture = round(chance.uniform(9.5, 12.5) if dried else chance.uniform(16.5, 21.0), 1)
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
        mass=round(dense * volume / 1e6 * 10 * (1 if dried else (100 + moisture) / 112)),
        moisture=round(moisture * 10),
        moisture_at=MoisturePlace.END if dried else MoisturePlace.FACE,
        read_on=day.date(),
        run_out=_run_out(chance),
        heartwood=chance.choice((0, 0, 0, 5, 10, 20, 35, None)),
        note=chance.choice(("", "", "", "Lively when tapped.", "Wide rings towards one edge.")),
        taken_in_at=day,
    )


def _run_out(chance: Random) -> int | None:
    """Return the grain's run-out, 1 in so many: most are straight, few are at fault."""
    drawn = chance.random()
    if drawn < 0.04:
        return chance.choice((8, 9, 10))
    return chance.choice((14, 18, 25)) if drawn < 0.16 else None
