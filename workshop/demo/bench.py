"""Bats worked at the bench: every step ticked and every number read, as near to its aim as hands come."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from math import pi, sqrt
from random import Random

from fitting.bat.in_use import STANDARD_GRAVITY_M_S2, USUAL_AMPLITUDE_DEGREES, small_period_s
from fitting.bat.weigh import PICKUP_AXIS_MM
from orders.commissions.bench_entries import mark_step
from orders.commissions.consents import ask_consent
from orders.commissions.models import Bat
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.models import User
from workshop.bench import handle
from workshop.bench.asks import Aim, Ask
from workshop.bench.inspection import pass_bat, rows_of
from workshop.bench.lies import best_of, every_lie
from workshop.bench.onward import pass_on
from workshop.bench.press_depths import AFTER, BEFORE, LINES
from workshop.bench.press_work import InPress, keep_pass
from workshop.bench.selection import hand_of, orient, orientation_of, zones_of_work
from workshop.bench.standing import AtBench
from workshop.bench.waits import OIL, waits_of
from workshop.bench.work import (
    READ_AGAIN,
    Typed,
    Work,
    candidates,
    choose_cleft,
    keep_entries,
    work_on,
)
from workshop.demo import floor
from workshop.rack.clefts import cleft_of, cleft_of_round
from workshop.rack.models import Cleft
from workshop.stock.handles import handle_of

# Readings whose aim is only a bound, or that have none: where they usually lie.
USUAL: dict[str, tuple[float, float]] = {
    "final_moisture": (10.5, 12.4),
    "splice_gap": (0.0, 0.2),
    "handle_offset": (0.0, 1.0),
}
# The steps of a stage that a finished bat goes through again.
DONE_AGAIN = frozenset({"last_cuts", "sand", "oil", "knock_in", "grip", "gauge_covered", "weigh_at_rest"})

# Light to heavy: the tool of each pass, and the share of the whole loss that it has reached.
PASSES = (("edge_roller", 0.3), ("flat_roller", 0.6), ("flat_roller", 0.85), ("crown_roller", 1.0))
DROP = {"height_mm": 1000.0, "ball": "leather, 156 g, worn", "support": "two battens, 400 mm apart"}


class NoCleft(LookupError):
    """No cleft on the rack can become this bat; the demo's rack is wrong."""


@dataclass(frozen=True)
class Turn:
    """One turn at the bench: who works, from when, and how far.

    Attributes:
        by: the bench hand.
        at: when it begins.
        until: nothing is done later than this.
        whole: else only the first half of the stage.
        off: readings that come out wrong, by so much.
        cleft: whether one is chosen where there is none.
    """

    by: User
    at: datetime
    until: datetime
    whole: bool = True
    off: dict[str, float] = field(default_factory=dict)
    cleft: bool = True


def work_stage(bat: Bat, chance: Random, turn: Turn) -> datetime:
    """Do the work of the bat's stage, and return when the last of it is done."""
    work = work_on(bat)
    if work.stage_work is None:
        raise ValueError(f"nothing is worked on in {bat.stage}")
    floor.spend_hours(bat, chance, by=turn.by, at=turn.at, share=1.0 if turn.whole else 0.5)
    if bat.stage == Stage.CLEFT_SELECTION:
        _choose(work, turn)
    if bat.stage == Stage.HANDLE_FITTING and not work.is_adjustment:
        floor.take_handle(work, by=turn.by, at=turn.at)
    ended = _steps_and_coats(work, turn)
    _read_all(work, chance, turn, rested=ended)
    if bat.stage == Stage.HANDLE_FITTING and not work.is_adjustment:
        floor.use_for_handle(work, by=turn.by, at=turn.at)
    if bat.stage == Stage.FINISHING and turn.whole:
        floor.use_for_finish(work, by=turn.by, at=turn.at)
    if not turn.whole and not work.is_adjustment:
        floor.weigh_half_made(work, chance, by=turn.by, at=turn.at + timedelta(minutes=40))
    return ended


def _choose(work: Work, turn: Turn) -> None:
    if turn.cleft and cleft_of_round(work.bat) is None:
        best_cleft(work, by=turn.by, at=turn.at)
    if turn.whole and not work.is_adjustment:
        lay(work, by=turn.by, at=turn.at)


def _steps_and_coats(work: Work, turn: Turn) -> datetime:
    """Tick the steps, each coat of oil when the one before is dry, what is done at rest when it is over."""
    stage_work = work.stage_work
    if stage_work is None:
        return turn.at
    steps = [step for step in stage_work.steps if not work.is_adjustment or step.key in DONE_AGAIN]
    moment = turn.at
    for step in steps if turn.whole else steps[: len(steps) // 2]:
        if step.key == OIL and not work.is_adjustment:
            moment = floor.oil(work, by=turn.by, at=moment, until=turn.until)
        if step.at_rest and not work.is_adjustment:
            moment = max(moment, rested(work.bat, moment))
        mark_step(work.bat, step=step.key, by=turn.by, at=min(moment, turn.until))
    return moment


def _read_all(work: Work, chance: Random, turn: Turn, *, rested: datetime) -> None:
    """Read the numbers of the stage; what the press has left is read when it is over and rested."""
    asks = [ask for ask in work.asks if not work.is_adjustment or ask.key in READ_AGAIN | {"swing_time"}]
    if not turn.whole:
        asks = asks[: len(asks) // 3]
    read = reader_for(work, chance)
    values = {ask.name: round(read(ask) + turn.off.get(ask.name, 0.0), 1) for ask in asks}
    if work.bat.stage == Stage.PRESSING and not work.is_adjustment:
        _press_and_read(work, chance, values, turn)
        return
    handle.keep_readings(work, Typed(values, {}), by=turn.by, at=rested)


def _press_and_read(work: Work, chance: Random, values: dict[str, float], turn: Turn) -> None:
    after = {name: value for name, value in values.items() if name.startswith("depth_after")}
    before = {name: value for name, value in values.items() if name not in after}
    keep_entries(work, Typed(before, {}), by=turn.by, at=turn.at)
    floor.grade_of_round(work, chance, when="dressing", by=turn.by, at=turn.at)
    if not turn.whole:
        # Two passes of four are through.
        press(work, chance, read_ahead(work, chance, before), turn, passes=PASSES[:2])
        return
    last = press(work, chance, values, turn, passes=PASSES)
    rest = timedelta(hours=work.book.bench.work(Stage.PRESSING).wait_hours, minutes=5)
    keep_entries(work, Typed(after, {}), by=turn.by, at=last + rest)
    floor.grade_of_round(work, chance, when="pressing", by=turn.by, at=last + rest)


def read_ahead(work: Work, chance: Random, before: dict[str, float]) -> dict[str, float]:
    """Return depths before the press with those that it will leave, which nobody has read yet."""
    names = {name: name.replace("depth_before", "depth_after") for name in before if "depth_before" in name}
    return {**before, **{after: before[name] - chance.uniform(1.8, 2.8) for name, after in names.items()}}


def lay(work: Work, *, by: User, at: datetime) -> None:
    """Decide how the cleft lies: where the fewest faults are in the way, its outside edge for the player."""
    cleft = cleft_of_round(work.bat)
    if cleft is None or orientation_of(work.bat) is not None:
        return
    lie = best_of(every_lie(cleft, zones_of_work(work))).lie
    orient(work, lie, outside_edge=lie.outside_edge(hand_of(work)) or lie.left_edge, by=by, at=at)


def press(
    work: Work, chance: Random, read: dict[str, float], turn: Turn, *, passes: tuple[tuple[str, float], ...]
) -> datetime:
    """Take the wood through the press, light to heavy, and drop a ball on it; return when the last pass was.

    ``read`` has the depths before and rested; of what the last pass took some comes back overnight.
    """
    places = sorted({ask.place for ask in work.asks if ask.key == "depth_before" and ask.place is not None})
    gauge, rebound = chance.randrange(700, 800), chance.uniform(430, 455)
    at = turn.at
    for number, (tool, share) in enumerate(passes, start=1):
        at = turn.at + timedelta(minutes=6 * number)
        rebound += chance.uniform(6, 16)
        values = {
            "tool": tool,
            "gauge": gauge,
            "depths": _depths_after(read, places, share, chance),
            "rebounds": [float(round(rebound + chance.gauss(0, 4))) for _ in range(5)],
            "drop": DROP,
            "words": "",
        }
        keep_pass(work, number=number, values=values, by=turn.by, at=at)
        gauge += chance.randrange(60, 130)
    return at


def _depths_after(
    read: dict[str, float], places: list[int], share: float, chance: Random
) -> dict[str, list[float]]:
    """Return the depths after a pass that has reached so much of the whole loss, in every line read."""
    depths = {}
    for line in LINES:
        pairs = [(read.get(f"{BEFORE[line]}-{x}"), read.get(f"{AFTER[line]}-{x}")) for x in places]
        known = [(before, after) for before, after in pairs if before is not None and after is not None]
        if len(known) == len(places):
            lost = [(before, share * (before - after + 0.4)) for before, after in known]
            depths[line] = [round(before - loss + chance.uniform(-0.1, 0.1), 1) for before, loss in lost]
    return depths


def best_cleft(work: Work, *, by: User, at: datetime) -> Cleft:
    """Reserve the cleft that comes nearest to the bat's target mass."""
    found = candidates(work)
    if not found:
        raise NoCleft(work.bat.commission.reference)
    cleft = found[0].cleft
    choose_cleft(work, cleft, by=by, at=at)
    return cleft


def pass_stage(bat: Bat, *, by: User, at: datetime) -> Stage:
    """Send a bat whose stage is done on to the next."""
    return pass_on(work_on(bat), by=by, at=at)


def rested(bat: Bat, at: datetime) -> datetime:
    """Return when the bat may go on, its waits over: the moment that is given, or a later one."""
    work = work_on(bat)
    pressed = press_rest_ends(work) if bat.stage == Stage.PRESSING else None
    return max([at, *([pressed] if pressed else []), *(wait.until for wait in waits_of(work, now=at))])


def press_rest_ends(work: Work) -> datetime | None:
    """Return when pressed wood may go on."""
    return InPress(work).rest_ends


def ask_player(bat: Bat, *, by: User, at: datetime, words: str) -> None:
    """Ask the player to accept a finished bat that is more off than was agreed."""
    ask_consent(bat, rows=[row.stored() for row in rows_of(work_on(bat))], words=words, by=by, at=at)


def inspect(bat: Bat, *, by: User, at: datetime, reason: str) -> None:
    """Pass the bat at its final inspection, with a reason where it is out of tolerance."""
    work = work_on(bat)
    try:
        pass_bat(work, by=by, at=at)
    except Refused as refused:
        if refused.key != "reason_needed":
            raise
        pass_bat(work, by=by, reason=reason, at=at)


def reader_for(work: Work, chance: Random) -> Callable[[Ask], float]:
    """Return what reads an instrument: near the aim, never outside what is plausible."""
    cleft = cleft_of(work.bat)
    seen: dict[tuple[str, float | None], float] = {}

    def read(ask: Ask) -> float:
        value = _of_cleft(ask, cleft, chance)
        own_handle = handle_of(work.bat) if ask.key == "handle_mass" else None
        if own_handle is not None:
            value = own_handle.mass_g
        elif ask.key.startswith("depth_after"):
            before = ask.key.replace("after", "before")
            value = seen[before, ask.from_toe_mm] - chance.uniform(1.8, 2.8)
        elif ask.key == "blade_mass":
            value = (AtBench(work).expected_g or 0.0) * chance.gauss(1, 0.012)
        elif ask.key == "swing_time":
            value = _swings(work, seen, chance)
        elif value is None:
            value = _near(ask, chance)
        value = min(max(value, ask.allowed.least), ask.allowed.most)
        seen[ask.key, ask.from_toe_mm] = value
        return float(round(value)) if ask.unit == "count" else round(value, 1)

    return read


def _of_cleft(ask: Ask, cleft: Cleft | None, chance: Random) -> float | None:
    """Return what is read on the raw cleft itself."""
    if cleft is None:
        return None
    if ask.key == "cleft_mass":
        return cleft.mass_g - chance.uniform(0, 8)
    if ask.key == "moisture":
        return cleft.moisture_percent + chance.gauss(0, 0.2)
    if ask.key == "grains":
        return float(cleft.grains or 8)
    if ask.key in BEFORE.values():
        # Dressed square: the edges are as deep as the centre.
        return min(cleft.depths_mm) - 2.0 + chance.uniform(-0.2, 0.2)
    if ask.key == "cleft_depth":
        return min(cleft.depths_mm) + chance.uniform(0, 1)
    return None


def _swings(work: Work, seen: dict[tuple[str, float | None], float], chance: Random) -> float:
    """Return the time of the swings of a bat with the mass, balance and length that were just read."""
    aim = work.build.pickup_kg_m2
    pickup = aim.target + max(-0.8, min(0.8, chance.gauss(0, 0.3))) * aim.tolerance
    mass, balance, length = (seen[key, None] for key in ("mass", "balance", "length"))
    torque = mass / 1000 * STANDARD_GRAVITY_M_S2 * (length - PICKUP_AXIS_MM - balance) / 1000
    wider = 1 / small_period_s(1.0, 1, USUAL_AMPLITUDE_DEGREES)
    return work.book.bench.swing_count * wider * 2 * pi * sqrt(pickup / torque)


def _near(ask: Ask, chance: Random) -> float:
    """Return a reading as near to its aim as a practised hand comes."""
    aim = ask.aim
    if ask.key in USUAL:
        return chance.uniform(*USUAL[ask.key])
    if aim is None:
        return (ask.allowed.least + ask.allowed.most) / 2
    if aim.low is not None and aim.high is not None:
        return _between(aim, chance)
    if aim.target is not None:
        return aim.target * chance.gauss(1, 0.012)
    low = aim.low if aim.low is not None else (aim.high or 0.0) * 0.5
    over = 0.06 if ask.key == "blade_mass" else 0.02
    return low * (1 + chance.uniform(0.004, over))


def _between(aim: Aim, chance: Random) -> float:
    """Return a reading inside its tolerance, more often near the middle."""
    low, high = aim.low or 0.0, aim.high or 0.0
    reach = (high - low) / 2
    return (low + high) / 2 + max(-0.9, min(0.9, chance.gauss(0, 0.35))) * reach
