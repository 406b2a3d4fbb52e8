"""A bat with a blade for tests: its cleft chosen, its stations read on the numbers, weighed on paper."""

from fitting.bat.condition import Condition
from fitting.bat.in_condition import lay_out
from fitting.sheets.build_sheet import BuildSheet
from orders.commissions import stages
from orders.commissions.bench_entries import Required, record_reading
from orders.commissions.models import Bat
from orders.commissions.states import Stage, Unit
from orders.people.models import Player, User
from tests.factories import an_agreed_bat
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.models import ScalesReading
from workshop.bench.rows import keep_row
from workshop.bench.work import choose_cleft, work_on


def a_bat_with_wood(player: Player, maker: User, stage: str = Stage.SHAPING, number: int = 71) -> Bat:
    """A bat in a stage, made of a cleft in the middle of its band."""
    bat = an_agreed_bat(player, maker)
    stages.begin(bat, by=maker)
    band = work_on(bat).build.willow.density_kg_m3
    choose_cleft(work_on(bat), a_cleft(number, maker, density=(band.min + band.max) / 2), by=maker)
    while bat.stage != stage:
        stages.pass_on(bat, by=maker, required=Required())
    return bat


def read_stations(bat: Bat, maker: User, over_mm: float = 0.0, places: int = 40) -> None:
    """Read spine and both edges at every station that the stage asks for, so much over the number to hit."""
    asks = [ask for ask in work_on(bat).asks if ask.key in ("spine", "edge_left", "edge_right")]
    kept = sorted({ask.place for ask in asks if ask.place is not None})[:places]
    for ask in asks:
        if ask.place in kept and ask.aim is not None and ask.aim.target is not None:
            value = round((ask.aim.target + over_mm) * 10)
            record_reading(bat, key=ask.key, value=value, unit=Unit.MM, by=maker, from_toe=ask.place)


def on_paper_g(bat: Bat, sheet: BuildSheet, condition: Condition, density: float) -> float:
    """What a bat weighs in a condition when its willow is so dense."""
    return lay_out(sheet, condition, work_on(bat).book.materials, density, 12.0).whole.mass_g


def weigh_bat(bat: Bat, maker: User, mass_g: float, condition: Condition) -> ScalesReading:
    """Keep a reading of the scales."""
    return keep_row(
        ScalesReading,
        bat,
        by=maker,
        mass=round(mass_g * 10),
        balance=None,
        condition=condition.model_dump(mode="json"),
    )
