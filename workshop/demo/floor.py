"""What a stage leaves beside its steps and readings: hours, handle, supplies, coats, weighings, grades."""

from datetime import datetime, timedelta
from random import Random

from fitting.bat.in_condition import lay_out
from orders.commissions.models import Bat
from orders.commissions.states import Stage
from orders.people.models import User
from workshop.bench import finishing, handle
from workshop.bench.condition import guessed
from workshop.bench.models import ScalesReading
from workshop.bench.rows import keep_row
from workshop.bench.spells import begin_work, lay_down
from workshop.bench.standing import AtBench
from workshop.bench.waits import dry_at, last_coat
from workshop.bench.work import Work
from workshop.rack.clefts import cleft_of_round, grade_again
from workshop.stock import handles, supplies
from workshop.stock.models import Handle, Kind

# Hours of work in a stage, from memory of the trade, no source.
HOURS = {"cleft_selection": 0.3, "pressing": 0.6, "shaping": 2.5, "handle_fitting": 1.25, "finishing": 1.5}
GLUE_G, THREAD_M, OIL_G = 12.0, 38.0, 5.0
# What the true density of a blade is off what the rack tells, and the spread of scales and of balancing.
DENSITY_SD_SHARE, SCALES_SD_G, BALANCE_SD_MM = 0.02, 0.4, 1.2


def spend_hours(bat: Bat, chance: Random, *, by: User, at: datetime, share: float = 1.0) -> datetime:
    """Note that somebody worked on a bat in its stage, and return when it was laid down again."""
    minutes = HOURS[bat.stage] * 60 * share * chance.uniform(0.8, 1.3)
    ended = at + timedelta(minutes=max(4, round(minutes)))
    begin_work(bat, by=by, at=at)
    lay_down(bat, by=by, at=ended)
    return ended


def grade_of_round(work: Work, chance: Random, *, when: str, by: User, at: datetime) -> None:
    """Grade the wood anew after dressing or pressing; mostly it keeps its grade."""
    cleft = cleft_of_round(work.bat)
    if cleft is None:
        return
    worse = chance.random() < 0.15
    words = "A stain came out that was not to be seen before." if worse else ""
    grade_again(cleft, grade=min(4, cleft.grade + worse), when=when, by=by, words=words, at=at)


def take_handle(work: Work, *, by: User, at: datetime) -> Handle | None:
    """Reserve the handle that comes nearest to the mass that is wanted; None where there is none."""
    found = handles.handle_of(work.bat)
    choices = handles.handles_for(work.build, work.book)
    if found is not None or not choices:
        return found
    return handle.choose(work, choices[0].handle.code, by=by, at=at)


def use_for_handle(work: Work, *, by: User, at: datetime) -> None:
    """Book glue and thread, and the handle as glued in."""
    handle.glue_in(work, by=by, at=at)
    _use(work, Kind.GLUE, GLUE_G, by=by, at=at)
    _use(work, Kind.THREAD, THREAD_M, by=by, at=at)


def use_for_finish(work: Work, *, by: User, at: datetime) -> None:
    """Book grips and coverings."""
    protection = work.build.protection
    _use(work, Kind.GRIP, float(work.build.grips.count), by=by, at=at)
    if protection.face_film is not None:
        _use(work, Kind.FILM, 1.0, by=by, at=at)
    if protection.toe_guard is not None:
        _use(work, Kind.TOE_GUARD, 1.0, by=by, at=at)


def oil(work: Work, *, by: User, at: datetime, until: datetime) -> datetime:
    """Lay on the coats that were agreed, each when the one before is dry, while there is time.

    Returns when the last of them is dry.
    """
    moment = at
    for _ in range(work.build.finish.oil_coats):
        if moment > until:
            break
        coat = finishing.lay_coat(work, by=by, at=moment)
        _use(work, Kind.OIL, OIL_G, by=by, at=moment)
        moment = dry_at(coat, work.book.bench) + timedelta(minutes=15)
    last = last_coat(work)
    return at if last is None else dry_at(last, work.book.bench)


def weigh_half_made(work: Work, chance: Random, *, by: User, at: datetime) -> ScalesReading | None:
    """Lay a half-made bat on the scales: what its model weighs with wood a little other than believed."""
    if work.bat.stage not in (Stage.SHAPING, Stage.HANDLE_FITTING):
        return None
    at_bench, condition, materials = AtBench(work), guessed(work), work.book.materials
    density = at_bench.rack.density_kg_m3 * chance.gauss(1, DENSITY_SD_SHARE)
    sheet = at_bench.now(sanded=condition.sanded)
    whole = lay_out(sheet, condition, materials, density, materials.moisture_percent).whole
    balance = float(whole.centre_mm[0]) + chance.gauss(0, BALANCE_SD_MM)
    return keep_row(
        ScalesReading,
        work.bat,
        by=by,
        at=at,
        mass=round((whole.mass_g + chance.gauss(0, SCALES_SD_G)) * 10),
        balance=round(balance * 10),
        condition=condition.model_dump(mode="json"),
    )


def _use(work: Work, kind: Kind, amount: float, *, by: User, at: datetime) -> None:
    """Take from the batch of a kind that is there and may still be used."""
    day = at.date()
    batch = next((one for one in supplies.in_stock(kind) if not one.is_past_on(day)), None)
    if batch is not None and batch.left >= round(amount * 10):
        supplies.use(batch, amount, bat=work.bat, by=by, at=at)
