"""The shaping targets, worded: for which willow, what moved against the drawing, what stops them."""

from dataclasses import dataclass
from datetime import datetime

from django.utils.translation import gettext

from fitting.sheets.build_sheet import Station
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.models import User
from orders.words.measures import show_decimals
from orders.words.shaping import say_barrier
from workshop.bench.models import SolvedFor, Targets
from workshop.bench.standing import AtBench
from workshop.bench.targets import (
    WillowNow,
    all_solved,
    barrier_of,
    moved,
    solve,
    targets_in_force,
)
from workshop.bench.work import Work
from workshop.rack.clefts import cleft_of_round

# A density that differs by less would move no station by as much as a calliper shows.
WORTH_SOLVING_KG_M3 = 1.0
MOVED_MM = 0.05
SOLVED_AGAIN_IN = (Stage.SHAPING, Stage.HANDLE_FITTING)


@dataclass(frozen=True)
class MovedRow:
    """One station of the targets against the agreed drawing, mm."""

    place: str
    spine: str
    spine_moved: str
    midway: str
    midway_moved: str
    edge: str
    edge_moved: str


@dataclass(frozen=True)
class SolvedRow:
    """One attempt: for what, which density, who and when, and what stopped it."""

    words: str
    density: str
    stopped: str
    by: str
    at: datetime


@dataclass(frozen=True)
class TargetsTold:
    """The targets in force, what moved, what stopped the last attempt, and all attempts."""

    in_force: str
    leave: str
    rows: list[MovedRow]
    stopped: str
    solved: list[SolvedRow]
    can_solve: bool


def targets_told(work: Work, at_bench: AtBench | None = None) -> TargetsTold:
    """Return the shaping targets of a bat in words; ``at_bench`` where its standing is known already."""
    bat = work.bat
    row = targets_in_force(bat) if work.targets is not work.build else None
    solved = all_solved(bat)
    stopped = _stopped(solved[0]) if solved else ""
    return TargetsTold(
        in_force="" if row is None else _in_force(row),
        leave=show_decimals(work.leave_mm, 1),
        rows=_rows(work) if row is not None else [],
        stopped=stopped,
        solved=[_solved_row(one) for one in solved],
        can_solve=_willow_by_the_scales(at_bench or AtBench(work)) is not None,
    )


def _in_force(row: Targets) -> str:
    return gettext("Re-shaped for cleft %(cleft)s of %(density)s, so that it weighs what was agreed.") % {
        "cleft": row.cleft.label,
        "density": _density(row),
    }


def _density(row: Targets) -> str:
    return gettext("%(density)s ± %(spread)s kg/m³") % {
        "density": show_decimals(row.density / 10, 0),
        "spread": show_decimals(row.spread / 10, 0),
    }


def midway_mm(station: Station) -> float:
    """Return the depth of the back midway between spine and edge, mm: what a hollow is measured by."""
    return station.edge_mm + (station.spine_mm - station.edge_mm) * float(0.5**station.scallop)


def _rows(work: Work) -> list[MovedRow]:
    drawn, stations = work.build.blade.stations, work.targets.blade.stations
    return [
        MovedRow(
            place=show_decimals(one.from_toe_mm, 0),
            spine=show_decimals(station.spine_mm, 1),
            spine_moved=_signed(one.spine_mm),
            midway=show_decimals(midway_mm(station), 1),
            midway_moved=_signed(midway_mm(station) - midway_mm(before)),
            edge=show_decimals(station.edge_mm, 1),
            edge_moved=_signed(one.edge_mm),
        )
        for one, station, before in zip(moved(work.build, work.targets), stations, drawn, strict=True)
    ]


def _signed(moved_mm: float) -> str:
    if abs(moved_mm) < MOVED_MM:
        return "0"
    return f"{'+' if moved_mm > 0 else '−'}{show_decimals(abs(moved_mm), 1)}"


def _stopped(row: Targets) -> str:
    barrier = barrier_of(row)
    return "" if barrier is None else say_barrier(barrier)


def _solved_row(row: Targets) -> SolvedRow:
    return SolvedRow(
        words=str(SolvedFor(row.cause).label),
        density=_density(row),
        stopped=_stopped(row),
        by=row.by.name,
        at=row.at,
    )


def solve_anew(work: Work, *, by: User, at: datetime | None = None) -> Targets:
    """Solve the targets with what the scales tell of the willow.

    Raises:
        Refused: ``wrong_stage`` where the blade is not being shaped, or nothing new is known.
    """
    willow = _willow_by_the_scales(AtBench(work))
    if willow is None:
        raise Refused("wrong_stage", what=("solve_targets", work.bat.stage))
    return solve(work, willow, by=by, at=at)


def _willow_by_the_scales(at_bench: AtBench) -> WillowNow | None:
    """Return the willow as weighed, where that is another than what the targets were solved for."""
    work, bat = at_bench.work, at_bench.work.bat
    cleft = cleft_of_round(bat)
    if cleft is None or bat.stage not in SOLVED_AGAIN_IN or work.is_adjustment:
        return None
    try:
        stood = at_bench.stood
    except Refused:
        return None
    if stood is None or stood.weighed is None:
        return None
    solved = all_solved(bat)
    believed = stood.standing.believed
    if solved and abs(solved[0].density / 10 - believed.density_kg_m3) < WORTH_SOLVING_KG_M3:
        return None
    return WillowNow(cleft, believed, SolvedFor.SCALES)
