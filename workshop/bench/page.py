"""What stands on the page of a bat's stage, worded: fields, aims, where a reading stands, steps, notices."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from itertools import groupby
from typing import Any

from django.utils import timezone
from django.utils.formats import date_format, number_format
from django.utils.functional import Promise
from django.utils.text import capfirst
from django.utils.translation import gettext, gettext_lazy, ngettext

from orders.commissions.bench_entries import readings_now
from orders.commissions.models import Bat, Reading, StepDone
from orders.commissions.refusals import Refused
from orders.messages.models import Photo
from orders.messages.photographs import PhotographRefused, photographs_listed
from orders.words.stages import measured_words, missing_words, step_words
from orders.words.states import refusal_words
from workshop.bench.asks import Aim, Ask
from workshop.bench.waits import REST, waits_of
from workshop.bench.work import Work
from workshop.rack.clefts import CleftRefused
from workshop.rack.words import refusal, refused_reading
from workshop.readings import SIGN, ReadingRefused
from workshop.stock.refused import StockRefused
from workshop.stock.words import refusal as stock_refusal

# Refusals of the bench's own forms: the field they belong to, and in words.
REFUSED: dict[str, tuple[str, Promise]] = {
    "amount": ("id_amount", gettext_lazy("Give the amount as a number: 1, or 12.5.")),
    "no_supply": ("id_supply", gettext_lazy("Choose what is taken from the store.")),
    "no_handle_there": ("handle", gettext_lazy("There is no such handle in stock.")),
    "no_coat": ("coats", gettext_lazy("This bat has no such coat.")),
    "not_over": ("joint", gettext_lazy("That reading is inside its limit: no reason is needed.")),
}


@dataclass(frozen=True)
class Judged:
    """Where one reading stands against its aim."""

    words: str
    inside: bool


@dataclass(frozen=True)
class Field:
    """One number to be typed."""

    name: str
    label: str
    column: str
    unit: str
    aim: str
    needed: bool
    shown: str
    was: str
    fault: str
    judged: Judged | None


@dataclass(frozen=True)
class Table:
    """Numbers that are read at the same places: a row a place, a column a thing measured."""

    heads: list[str]
    rows: list[tuple[str, list[Field]]]


@dataclass(frozen=True)
class Entries:
    """All fields of a stage: single ones, and tables of those along the blade."""

    singles: list[Field] = field(default_factory=list)
    tables: list[Table] = field(default_factory=list)

    def all_fields(self) -> Iterable[Field]:
        """Every field, in the order of the page."""
        yield from self.singles
        for table in self.tables:
            for _, fields in table.rows:
                yield from fields


def entries_of(
    work: Work, posted: Mapping[str, str] | None = None, faults: Mapping[str, ReadingRefused] | None = None
) -> Entries:
    """Return the fields of a stage, with what was typed where it was refused."""
    read = readings_now(work.bat, stage=work.bat.stage)
    fields = {
        ask.name: _field(work, ask, read.get((ask.key, ask.place)), posted or {}, faults or {})
        for ask in work.asks
    }
    singles = [fields[ask.name] for ask in work.asks if ask.from_toe_mm is None]
    placed = [ask for ask in work.asks if ask.from_toe_mm is not None]
    return Entries(singles, _tables(work, placed, fields))


def _tables(work: Work, placed: list[Ask], fields: Mapping[str, Field]) -> list[Table]:
    """Put what is read at the same places into one table."""
    columns = [
        (key, tuple(ask.from_toe_mm for ask in asks), asks)
        for key, asks in ((key, list(group)) for key, group in groupby(placed, key=lambda ask: ask.key))
    ]
    tables = []
    for places, group in groupby(columns, key=lambda column: column[1]):
        together = list(group)
        rows = [
            (f"{place:.0f}", [fields[asks[at].name] for _, _, asks in together])
            for at, place in enumerate(places)
        ]
        heads = [measured_words(key, work.paper.bench) for key, _, _ in together]
        tables.append(Table(heads, rows))
    return tables


def _field(
    work: Work,
    ask: Ask,
    reading: Reading | None,
    posted: Mapping[str, str],
    faults: Mapping[str, ReadingRefused],
) -> Field:
    shown = "" if reading is None else plain(reading.in_unit)
    fault = faults.get(ask.name)
    return Field(
        name=ask.name,
        label=measured_words(ask.key, work.paper.bench, ask.from_toe_mm),
        column=measured_words(ask.key, work.paper.bench),
        unit=SIGN[ask.unit],
        aim=aim_words(ask.aim),
        needed=(ask.key, ask.place) in work.required.readings,
        shown=posted.get(ask.name, shown),
        was=shown,
        fault=refused_reading(fault) if fault else "",
        judged=judge(ask.aim, reading.in_unit) if reading is not None else None,
    )


def plain(value: float) -> str:
    """Write a reading as it would be typed: a point, no empty decimal."""
    return f"{value:.1f}".removesuffix(".0")


def aim_words(aim: Aim | None) -> str:
    """Say what a reading should be."""
    if aim is None:
        return ""
    target, low, high = aim.target, aim.low, aim.high
    if target is not None and (low is None or high is None):
        return gettext("about %(target)s") % {"target": _number(target)}
    if target is not None and low is not None and high is not None:
        return _with_tolerance(target, target - low, high - target)
    if low is not None and high is not None:
        return gettext("%(low)s to %(high)s") % {"low": _number(low), "high": _number(high)}
    if low is not None:
        return gettext("at least %(low)s") % {"low": _number(low)}
    return gettext("at most %(high)s") % {"high": _number(high or 0.0)}


def _with_tolerance(target: float, under: float, over: float) -> str:
    numbers = {"target": _number(target), "over": _number(over), "under": _number(under)}
    if abs(over - under) < 0.05:
        return "%(target)s ± %(over)s" % numbers  # noqa: UP031
    return "%(target)s +%(over)s −%(under)s" % numbers  # noqa: UP031


def judge(aim: Aim | None, value: float) -> Judged | None:
    """Say how far a reading is over or under, and whether it is in tolerance."""
    if aim is None:
        return None
    inside = aim.holds(value)
    off = aim.off(value)
    if off is None:
        where = gettext("as it should be")
    elif abs(off) < 0.05:
        where = gettext("on the number")
    elif off > 0:
        where = gettext("%(off)s over") % {"off": _number(off)}
    else:
        where = gettext("%(off)s under") % {"off": _number(-off)}
    if not inside:
        where = gettext("%(where)s, out of tolerance") % {"where": where}
    elif off is not None and aim.low is None and aim.high is None:
        return Judged(where, True)
    elif off is not None:
        where = gettext("%(where)s, in tolerance") % {"where": where}
    return Judged(where, inside)


def _number(value: float) -> str:
    return str(number_format(round(value, 1), 0 if abs(value - round(value)) < 0.05 else 1))


@dataclass(frozen=True)
class StepRow:
    """One step of the stage, and who did it when."""

    key: str
    words: str
    needed: bool
    done: StepDone | None
    until: datetime | None


def step_rows(work: Work) -> list[StepRow]:
    """Return the steps of the stage in the book's order."""
    if work.stage_work is None:
        return []
    bat = work.bat
    standing = bat.steps.standing().filter(round=bat.round, stage=bat.stage).select_related("by")
    done = {row.step: row for row in standing}
    waiting = {wait.key: wait.until for wait in waits_of(work)}
    bench = work.paper.bench
    return [
        StepRow(
            key=step.key,
            words=step_words(step.key, bench),
            needed=step.key in work.required.steps,
            done=done.get(step.key),
            until=waiting.get(REST if step.at_rest and step.key not in done else step.key),
        )
        for step in work.stage_work.steps
    ]


@dataclass(frozen=True)
class Kept:
    """One reading that was kept in this stage, to be looked at or taken back."""

    pk: int
    words: str
    by: str
    at: datetime


def kept_readings(work: Work) -> list[Kept]:
    """Return the standing readings of the stage, the last first."""
    bat, bench = work.bat, work.paper.bench
    rows = bat.readings.standing().filter(round=bat.round, stage=bat.stage).select_related("by")
    return [
        Kept(
            pk=row.pk,
            words=f"{measured_words(row.key, bench, row.from_toe_mm)}: {plain(row.in_unit)} {SIGN[row.unit]}",
            by=row.by.name,
            at=row.at,
        )
        for row in rows.order_by("-at", "-pk")
    ]


@dataclass(frozen=True)
class Fault:
    """One line of the error summary."""

    field_id: str
    words: str


def faults_of(fields: Iterable[Field]) -> list[Fault]:
    """Return a line for every field that was refused."""
    return [Fault(f"id_{one.name}", f"{capfirst(one.label)}: {one.fault}") for one in fields if one.fault]


def refused_words(error: Refused, work: Work | None = None) -> list[Fault]:
    """Return why something was refused; what a stage still asks for leads to where it is entered."""
    if isinstance(error, CleftRefused):
        return [Fault("", refusal(error.key))]
    if error.key == "not_done" and work is not None:
        return [_missing_fault(word, work) for word in error.what]
    if isinstance(error, StockRefused):
        return [Fault("", stock_refusal(error.key))]
    if error.key in REFUSED:
        return [Fault(REFUSED[error.key][0], str(REFUSED[error.key][1]))]
    if error.key == "coat_wet":
        words = gettext("The coat before is not dry: the next may follow from %(time)s.")
        return [Fault("coats", words % {"time": time_words(datetime.fromisoformat(error.what[0]))})]
    if error.key == "reason_needed" and error.what:
        return [Fault(f"id_reason_{error.what[0]}", refusal_words(error))]
    if error.key == "cleft_missing":
        return [Fault("", gettext("This bat has no cleft."))]
    if error.key == "in_hand":
        name, since = error.what
        words = gettext(
            "%(name)s has had it since %(time)s. Nothing was kept: let it be laid down, or take it over."
        )
        return [Fault("hands", words % {"name": name, "time": time_words(datetime.fromisoformat(since))})]
    if error.key == "not_a_bat":
        words = gettext("The readings do not make a bat; read again: %(what)s.")
        return [Fault("", words % {"what": ", ".join(error.what)})]
    return [Fault("", refusal_words(error))]


def _missing_fault(word: str, work: Work) -> Fault:
    kind, _, what = word.partition(":")
    anchors = {
        "step": f"step-{what}",
        "cleft": "cleft",
        "orientation": "orientation",
        "press_pass": "passes",
        "reason": f"id_reason_{what}",
        "wait": "waits",
    }
    anchor = anchors.get(kind, f"id_{what.replace('@', '-')}")
    told = {"what": missing_words(word, work.paper.bench)}
    words = gettext("%(what)s.") if kind == "wait" else gettext("Still missing: %(what)s.")
    return Fault(anchor, words % told)


def time_words(moment: datetime) -> str:
    """Say a moment: the hour alone on the same day."""
    local = timezone.localtime(moment)
    return date_format(local, "H:i" if local.date() == timezone.localdate() else "j M, H:i")


def photograph_words(error: PhotographRefused) -> str:
    """Return why a photograph was not taken: what was given and what is allowed."""
    megabytes = {"given": f"{error.given / 1e6:.1f}", "allowed": f"{error.allowed / 1e6:.0f}"}
    numbers = {"given": error.given, "allowed": error.allowed}
    match error.why:
        case "too_big":
            return gettext("%(given)s MB given; at most %(allowed)s MB is allowed.") % megabytes
        case "too_many_pixels":
            return (
                gettext("%(given)s million pixels given; at most %(allowed)s million are allowed.")
                % megabytes
            )
        case "too_small":
            return gettext("%(given)s pixels across given; at least %(allowed)s is allowed.") % numbers
        case "too_many":
            return gettext("%(given)s photographs; at most %(allowed)s of one commission are kept.") % numbers
        case _:
            return gettext("This file is no photograph that can be read; JPEG, PNG, WebP or HEIC is allowed.")


def photographs_of(bat: Bat, *, stage: str | None = None) -> list[dict[str, Any]]:
    """Return the photographs of a bat for ``parts/photos.html``; of one stage if it is named."""
    photos = Photo.objects.filter(bat=bat)
    if stage is not None:
        photos = photos.filter(stage=stage)
    return photographs_listed(photos)


def out_of_tolerance_words(entries: Entries) -> str:
    """Say at once whether what has been read lands on the numbers."""
    judged = [one.judged for one in entries.all_fields() if one.judged is not None]
    if not judged:
        return ""
    outside = sum(not one.inside for one in judged)
    if not outside:
        return gettext("Every reading so far is where it should be.")
    return ngettext(
        "%(count)s reading is out of tolerance.", "%(count)s readings are out of tolerance.", outside
    ) % {"count": outside}


def alarms(work: Work) -> list[str]:
    """Say what one reading alone does not show: too much lost in the press, edges that differ."""
    bench = work.paper.bench
    read = {place: row.in_unit for place, row in readings_now(work.bat, stage=work.bat.stage).items()}
    found = []
    for (key, at), before in sorted(read.items(), key=lambda item: item[0][1] or 0):
        after = read.get((key.replace("before", "after"), at), before)
        if key.startswith("depth_before") and before - after > bench.press_loss_most_mm:
            lost = {"lost": _number(before - after), "place": f"{(at or 0) / 10:.0f}"}
            found.append(gettext("%(lost)s mm lost in the press at %(place)s mm from the toe: stop.") % lost)
        apart = abs(before - read.get(("edge_right", at), before))
        if key == "edge_left" and apart > bench.tolerances.edges_apart_mm + 0.05:
            words = gettext("The edges differ by %(apart)s mm at %(place)s mm from the toe.")
            found.append(words % {"apart": _number(apart), "place": f"{(at or 0) / 10:.0f}"})
    return found
