"""Where a bat stands, worded: forecast against what was agreed, gains and losses, willow, cuts, weighings."""

from dataclasses import dataclass
from datetime import datetime

from django.utils.text import capfirst
from django.utils.translation import gettext

from fitting.bat.condition import Believed
from fitting.sheets.weighing import Weighing
from orders.commissions.refusals import Refused
from orders.words.forecast import say_pickup_spread, together
from orders.words.measures import say_pickup, show_decimals, show_length, show_mass
from orders.words.pickup import pickup_reference
from orders.words.standing import (
    condition_words,
    held_mass,
    held_pickup,
    held_place,
    pending_words,
)
from orders.words.sweet_spot import soft_number
from workshop.bench.standing import AtBench, Stood, Weighed


@dataclass(frozen=True)
class ForecastLine:
    """One figure of the finished bat: what, how much with its spread, and where it stands."""

    what: str
    number: str
    spread: str
    held: str
    good: bool


@dataclass(frozen=True)
class PendingLine:
    """One gain or loss between the scales and the finished bat."""

    what: str
    mass: str
    spread: str


@dataclass(frozen=True)
class Block:
    """What stands on the pages of the stages: the forecast, what it is told from, and whether it lands."""

    forecast: list[ForecastLine]
    told_from: str
    condition: list[str]
    cut_since: str
    weighed: bool
    good: bool
    fault: str = ""
    doubt: str = ""
    hint: str = ""


@dataclass(frozen=True)
class Account:
    """The way from the scales to the finished bat, and the willow behind it."""

    start_words: str
    start: str
    lines: list[PendingLine]
    end: str
    willow: str
    rack: str
    moved: str


@dataclass(frozen=True)
class KeptWeighing:
    """One weighing that was kept: its reading, its condition, who and when; ``pk`` where it has a row."""

    pk: int | None
    words: str
    condition: list[str]
    by: str
    at: datetime
    here: bool


def block_of(at_bench: AtBench) -> Block | None:
    """Return what a stage's page shows of the standing; None where there is no blade yet."""
    try:
        stood = at_bench.stood
    except Refused as error:
        return not_a_bat(error)
    return None if stood is None else block(at_bench, stood)


def not_a_bat(error: Refused) -> Block:
    """Return a block that says which readings make no bat."""
    words = gettext("The readings do not make a bat; read again: %(what)s.")
    fault = words % {"what": ", ".join(error.what)}
    return Block([], "", [], "", weighed=False, good=False, fault=fault)


def block(at_bench: AtBench, stood: Stood) -> Block:
    """Return the forecast of a bat that stands somewhere."""
    weighing = stood.standing.weighing
    lines = forecast_lines(at_bench, weighing)
    told, condition = gettext("Not weighed yet: told from the cleft's density."), stood.condition
    if stood.weighed is not None:
        told, condition = _weighed_words(stood.weighed), stood.weighed.condition
    cut = ""
    if abs(stood.cut_since_g) >= 1:
        words = gettext("What was cut since then counts as %(mass)s less: weigh again to be sure.")
        if stood.cut_since_g < 0:
            words = gettext("The stations read since then count as %(mass)s more: weigh again to be sure.")
        cut = words % {"mass": show_mass(abs(stood.cut_since_g))}
    return Block(
        forecast=lines,
        told_from=told,
        condition=condition_words(condition),
        cut_since=cut,
        weighed=stood.weighed is not None,
        good=all(line.good for line in lines),
        doubt=_doubt(stood),
        hint=_hint(at_bench, stood),
    )


def _hint(at_bench: AtBench, stood: Stood) -> str:
    """Say that a piece which is still a block is worth a weighing."""
    is_block = stood.condition.square_top_mm > at_bench.work.build.blade.length_mm / 2
    if stood.weighed is not None or not is_block:
        return ""
    return gettext(
        "Weigh the piece now, its outline cut and nothing shaped yet: it tells the willow better than the "
        "raw cleft did, and the targets can be solved anew before the first cut."
    )


def _doubt(stood: Stood) -> str:
    if not stood.is_doubtful:
        return ""
    words = gettext(
        "The scales tell of willow of %(now)s, and the rack of %(rack)s: wood seldom differs so much from "
        "what was measured. Look at the condition that was ticked and at the stations before anything is cut."
    )
    believed, rack = stood.standing.believed, stood.rack
    return words % {"now": _density_words(believed), "rack": _density_words(rack)}


def forecast_lines(at_bench: AtBench, weighing: Weighing) -> list[ForecastLine]:
    """Return mass, balance, pickup and sweet spot of a finished bat, each against what was agreed."""
    work, aims = at_bench.work, at_bench.aims
    build, pickup = work.build, weighing.inertia_kg_m2.pickup
    reference = pickup_reference(build.length_code, work.book)
    asked, allowed = build.pickup_kg_m2.target, build.pickup_kg_m2.tolerance
    lines = [
        ForecastLine(
            gettext("mass"),
            show_mass(weighing.mass_g),
            gettext("give or take %(spread)s") % {"spread": show_mass(weighing.mass_sd_g)},
            held_mass(weighing.mass_g, aims.mass_g, aims.mass_tolerance_g),
            abs(weighing.mass_g - aims.mass_g) <= aims.mass_tolerance_g + 0.05,
        ),
        ForecastLine(
            gettext("balance, from the toe"),
            show_length(round(weighing.balance_from_toe_mm)),
            gettext("give or take %(spread)s")
            % {"spread": show_length(max(weighing.balance_sd_mm or 0.0, 1.0))},
            held_place(weighing.balance_from_toe_mm, aims.balance_from_toe_mm, aims.balance_tolerance_mm),
            abs(weighing.balance_from_toe_mm - aims.balance_from_toe_mm) <= aims.balance_tolerance_mm + 0.05,
        ),
        ForecastLine(
            gettext("picks up"),
            say_pickup(pickup, reference),
            together(say_pickup_spread(weighing, reference), _kg_m2(pickup)),
            held_pickup(pickup / asked - 1, allowed / asked),
            abs(pickup - asked) <= allowed,
        ),
    ]
    sweet = weighing.sweet_spot
    if sweet is not None:
        off = sweet.peak_from_toe_mm - aims.peak_from_toe_mm
        good = abs(off) <= aims.peak_tolerance_mm
        asked_at = gettext("asked for about %(place)s mm") % {"place": soft_number(aims.peak_from_toe_mm)}
        lines.append(
            ForecastLine(
                gettext("hits hardest, from the toe"),
                gettext("about %(place)s mm") % {"place": soft_number(sweet.peak_from_toe_mm)},
                asked_at,
                gettext("where it was asked for") if good else _peak_off(off),
                good,
            )
        )
    return lines


def _kg_m2(pickup: float) -> str:
    return gettext("%(number)s kg m²") % {"number": show_decimals(pickup, 4)}


def _peak_off(off_mm: float) -> str:
    words = gettext("%(off)s mm too high") if off_mm > 0 else gettext("%(off)s mm too low")
    return words % {"off": soft_number(abs(off_mm))}


def _weighed_words(one: Weighed) -> str:
    mass, balance = one.scales.mass_g, one.scales.balance_from_toe_mm
    if balance is None:
        return gettext("%(mass)s g on the scales") % {"mass": show_decimals(mass, 1)}
    return gettext("%(mass)s g on the scales, balance %(balance)s mm from the toe") % {
        "mass": show_decimals(mass, 1),
        "balance": show_decimals(balance, 1),
    }


def account(at_bench: AtBench, stood: Stood) -> Account:
    """Return the lines between the scales and the finished bat, and what is believed of the willow."""
    standing = stood.standing
    more = sum(line.mass_g for line in standing.pending)
    start = standing.weighing.mass_g - more
    believed, rack = standing.believed, stood.rack
    return Account(
        start_words=_start_words(stood),
        start=show_mass(start),
        lines=[
            PendingLine(
                capfirst(pending_words(line.key)),
                f"{'+' if line.mass_g > 0 else '−'}{show_decimals(abs(line.mass_g), 0)} g",
                f"± {show_decimals(line.sd_g, 0)}" if line.sd_g >= 0.5 else "",
            )
            for line in standing.pending
        ],
        end=show_mass(standing.weighing.mass_g),
        willow=_density_words(believed),
        rack=_density_words(rack),
        moved=_density_moved(believed, rack) if stood.weighed else "",
    )


def _start_words(stood: Stood) -> str:
    if stood.weighed is None:
        return gettext("It should weigh now")
    if abs(stood.cut_since_g) >= 1:
        return gettext("On the scales, less what was cut since")
    return gettext("On the scales")


def _density_words(believed: Believed) -> str:
    return gettext("%(density)s ± %(spread)s kg/m³") % {
        "density": show_decimals(believed.density_kg_m3, 0),
        "spread": show_decimals(max(believed.sd_kg_m3, 1.0), 0),
    }


def _density_moved(believed: Believed, rack: Believed) -> str:
    share = 100 * (believed.density_kg_m3 / rack.density_kg_m3 - 1)
    if abs(share) < 0.5:
        return gettext("as the rack said")
    words = gettext("%(share)s %% denser than the rack said")
    if share < 0:
        words = gettext("%(share)s %% lighter than the rack said")
    return words % {"share": show_decimals(abs(share), 0)}


def kept_weighings(at_bench: AtBench) -> list[KeptWeighing]:
    """Return every weighing that counts, the last first."""
    bat = at_bench.work.bat
    return [
        KeptWeighing(
            pk=None if one.row is None else one.row.pk,
            words=_weighed_words(one),
            condition=condition_words(one.condition),
            by=one.by,
            at=one.at,
            here=one.row is not None and (one.row.stage, one.row.round) == (bat.stage, bat.round),
        )
        for one in reversed(at_bench.weighings)
    ]
