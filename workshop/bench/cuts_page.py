"""Where to take how much off a bat, worded and drawn: stations, limits, warnings, what can be added."""

from dataclasses import dataclass
from functools import lru_cache

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext

from fitting.bat.condition import Standing
from fitting.bat.last_cuts import Aims, CutPlan, last_cuts
from fitting.drawing.cuts_to_make import CutAt, draw_cuts
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.snapshot import book_hash
from orders.words.measures import show_decimals, show_mass
from orders.words.standing import addition_words, aim_name, cut_labels, limit_words, warning_words
from workshop.bench.asks import reading_at
from workshop.bench.standing import AtBench, Stood
from workshop.bench.standing_page import ForecastLine, forecast_lines
from workshop.bench.work import Work

# What a hand can cut, and what it may take before the scales are asked again: common practice, no source.
HAND_MM = 0.5
HALF_FIRST_G = 15.0
# So little over its mass a bat is left alone.
LEFT_ALONE_G = 2.0
SHOWN_MM = 0.05


@dataclass(frozen=True)
class CutRow:
    """One station of the plan: what the calliper reads now, what comes off, what it should read then."""

    place: str
    spine_now: str
    spine_off: str
    spine_then: str
    edge_now: str
    edge_off: str
    edge_then: str


@dataclass(frozen=True)
class Plan:
    """Where to take how much off, worded and drawn."""

    drawing: dict[str, SafeString]
    rows: list[CutRow]
    takes: str
    half_first: bool
    missed: list[str]
    stopped: list[str]
    warnings: list[str]
    after: list[ForecastLine]
    short: str
    additions: list[str]


def plan_of(at_bench: AtBench, stood: Stood) -> Plan | None:
    """Return the smallest cuts that land the bat, worded and drawn.

    None before the first weighing, and while the piece is still a block.
    """
    work = at_bench.work
    if stood.weighed is None or stood.condition.square_top_mm > work.build.blade.length_mm / 2:
        return None
    found = _planned(work.book, stood, at_bench.aims, work.targets)
    now = stood.standing.after
    rows: list[CutRow] = []
    if found.takes_g >= LEFT_ALONE_G:
        rows = [_row(at_bench, found, number) for number in range(len(found.cuts))]
    too_light = found.short_g > at_bench.aims.mass_tolerance_g
    return Plan(
        drawing=_drawing(now, work.targets, found),
        rows=[row for row in rows if row.spine_off or row.edge_off],
        takes=show_mass(found.takes_g),
        half_first=found.takes_g > HALF_FIRST_G,
        missed=[aim_name(key) for key in found.missed],
        stopped=[
            gettext("%(place)s mm from the toe: %(limit)s")
            % {"place": show_decimals(place, 0), "limit": limit_words(key)}
            for place, key in found.stopped_by
        ],
        warnings=[warning_words(key) for key in found.warnings] if rows else [],
        after=forecast_lines(at_bench, found.weighing),
        short=show_mass(found.short_g) if too_light else "",
        additions=[addition_words(one) for one in found.can_be_added] if too_light else [],
    )


# A book cannot be a key by itself: it is known by its stamp.
_BOOKS: dict[str, Book] = {}


def _planned(book: Book, stood: Stood, aims: Aims, targets: BuildSheet) -> CutPlan:
    """Solve the cuts; looked at again, the same bat is not solved anew."""
    stamp = book_hash(book)
    _BOOKS.setdefault(stamp, book)
    return _solved(
        stood.standing.model_dump_json(),
        aims,
        targets.model_dump_json(),
        stood.condition.square_top_mm,
        stamp,
    )


@lru_cache(maxsize=64)
def _solved(standing: str, aims: Aims, targets: str, square_top_mm: float, stamp: str) -> CutPlan:
    return last_cuts(
        Standing.model_validate_json(standing),
        aims,
        aim=BuildSheet.model_validate_json(targets),
        book=_BOOKS[stamp],
        square_top_mm=square_top_mm,
        step_mm=HAND_MM,
    )


def _row(at_bench: AtBench, plan: CutPlan, number: int) -> CutRow:
    cut, work = plan.cuts[number], at_bench.work
    target = work.targets.blade.stations[number]
    place = round(target.from_toe_mm * 10)
    spine = at_bench.depth("spine", place)
    sides = [row for key in ("edge_left", "edge_right") if (row := at_bench.depth(key, place)) is not None]
    edge = sum(row.in_unit for row in sides) / len(sides) if sides else None
    return CutRow(
        place=show_decimals(target.from_toe_mm, 0),
        spine_now="" if spine is None else show_decimals(spine.in_unit, 1),
        spine_off=_off(cut.spine_mm),
        spine_then=_then(
            None if spine is None else spine.in_unit,
            cut.spine_mm,
            reading_at(work.paper, "spine", target),
            work,
        ),
        edge_now="" if edge is None else show_decimals(edge, 1),
        edge_off=_off(cut.edge_mm),
        edge_then=_then(edge, cut.edge_mm, reading_at(work.paper, "edge", target), work),
    )


def _off(cut_mm: float) -> str:
    return show_decimals(cut_mm, 1) if cut_mm >= SHOWN_MM else ""


def _then(now: float | None, cut: float, target: float, work: Work) -> str:
    """What the calliper should read after a cut; a station that was not read counts as target and leave."""
    start = target + work.leave_mm if now is None else now
    return show_decimals(start - cut, 1)


def _drawing(now: BuildSheet, targets: BuildSheet, plan: CutPlan) -> dict[str, SafeString]:
    cuts = [
        CutAt(
            from_toe_mm=cut.from_toe_mm,
            spine_mm=cut.spine_mm,
            edge_mm=cut.edge_mm,
            spine_to_target_mm=station.spine_mm - target.spine_mm,
            edge_to_target_mm=station.edge_mm - target.edge_mm,
            spine_room_mm=room.spine_mm,
            edge_room_mm=room.edge_mm,
        )
        for cut, room, station, target in zip(
            plan.cuts, plan.room, now.blade.stations, targets.blade.stations, strict=True
        )
    ]
    labels = cut_labels()
    # Every word in it went through html.escape; the rest are numbers.
    return {
        "wide": mark_safe(draw_cuts(now, cuts, labels, layout="wide")),  # noqa: S308
        "narrow": mark_safe(draw_cuts(now, cuts, labels, layout="narrow")),  # noqa: S308
    }
