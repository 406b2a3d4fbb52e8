"""What stands on the page of pressing and on no other: depths, passes one by one, what they did, the rest."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.utils import timezone
from django.utils.formats import date_format, number_format
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext, ngettext

from orders.words.stages import caution_words
from workshop.bench.models import PressPass
from workshop.bench.page import plain
from workshop.bench.press_depths import AFTER, depths_after_pass, mean_loss, press_loss_of
from workshop.bench.press_form import pass_form, tool_words
from workshop.bench.press_history import (
    FEWEST,
    Drop,
    Piece,
    bands,
    drop_of,
    earlier_pieces,
    piece_of,
    rebound_of,
    rested_band,
    same_drop,
)
from workshop.bench.press_trend import NARROW, WIDE, Trend, draw_trend
from workshop.bench.press_work import InPress
from workshop.bench.selection import orientation_words
from workshop.bench.work import Work
from workshop.rack.candidates import raw_cleft
from workshop.rack.clefts import cleft_of
from workshop.willow import cleft_density, pressing_of

__all__ = ["context", "missing_words", "press_loss_of"]

# The axis of the pictures has room for as many passes as are usual, so that it does not jump at each.
USUAL_PASSES = 4


def missing_words(work: Work, now: datetime) -> tuple[str, ...]:
    """Return what pressing still asks for before the bat passes on: a pass, and depths read after its rest.

    As long as it rests that is all it asks: the rest itself is among the waits of every stage. A finished
    bat that is only put right need not be pressed again.
    """
    press = InPress(work)
    if not press.passes:
        return () if work.is_adjustment else ("press_pass",)
    if press.is_resting(now):
        return ()
    rested = press.rested()
    keys = {key: line for line, key in AFTER.items()}
    return tuple(
        f"reading:{key}@{place}"
        for key, place in sorted(work.required.readings, key=lambda one: (one[0], one[1] or 0))
        if key in keys and place is not None and (keys[key], place) not in rested
    )


def context(work: Work) -> dict[str, Any]:
    """Return what the stage's own part of the page shows."""
    press = InPress(work)
    now = timezone.now()
    alarms = press.alarms()
    earlier = earlier_pieces(work.bat)
    piece = piece_of(press.passes, press.before, press.after)
    return {
        "part_has_readings": True,
        "passes": [_row(press, one) for one in press.passes],
        "pass_form": pass_form(press.form_before()),
        "press_alarms": alarms,
        "press_fails": any(alarm.fails for alarm in alarms),
        "pressed": _densified(press),
        "pictures": _pictures(press, piece, earlier),
        "earlier_words": _earlier_words(piece, earlier),
        "rest": _rest(press, now),
        "press_cautions": caution_words(("press_nip", "splitting")),
        "lie": orientation_words(work.bat),
    }


@dataclass(frozen=True)
class PassRow:
    """One kept pass as it stands in the list."""

    pk: int
    number: int
    tool: str
    gauge: str
    loss: str
    width: str
    rebound: str
    words: str
    by: str
    at: datetime


def _row(press: InPress, one: PressPass) -> PassRow:
    lost = mean_loss(press.before, depths_after_pass(one, press.places))
    rebound = rebound_of(one)
    return PassRow(
        pk=one.pk,
        number=one.number,
        tool=tool_words(one.tool),
        gauge="" if one.gauge is None else plain(one.gauge / 10),
        loss="" if lost is None else _mm(lost),
        width="" if one.width is None else _mm(one.width / 10),
        rebound="" if rebound is None else f"{rebound:.0f}",
        words=one.words,
        by=one.by.name,
        at=one.at,
    )


@dataclass(frozen=True)
class Densified:
    """What the press has done to the wood: loss of depth in mm, density in kg/m3 before and now."""

    loss: str
    came_back: str
    rested: bool
    raw: float
    now: float
    gained: float
    percent: float
    reckoned: str


def _densified(press: InPress) -> Densified | None:
    """Return what the measured loss makes of the density; None while no loss is read or there is no cleft."""
    work = press.work
    straight, rested = (
        mean_loss(press.before, press.straight_after),
        mean_loss(press.before, press.after),
    )
    lost = rested if rested is not None else straight
    cleft = cleft_of(work.bat)
    if lost is None or cleft is None:
        return None
    bench = work.book.bench
    pressing = pressing_of(work.build, work.weighing, bench)
    raw = cleft_density(raw_cleft(cleft), pressing, bench).at_12
    now = raw * pressing.gain(lost)
    came_back = straight - rested if straight is not None and rested is not None else None
    return Densified(
        loss=_mm(lost),
        came_back="" if came_back is None else _mm(came_back),
        rested=rested is not None,
        raw=raw,
        now=now,
        gained=now - raw,
        percent=100 * (now / raw - 1),
        reckoned=_mm(pressing.loss_mm),
    )


def _pictures(press: InPress, piece: Piece, earlier: list[Piece]) -> list[dict[str, Any]]:
    """Return the two trends, each in a wide and a narrow arrangement; none of nothing."""
    found = []
    if piece.losses or piece.rested is not None:
        found.append(_drawn(_loss_trend(press, piece, earlier)))
    if piece.rebounds:
        found.append(_drawn(_rebound_trend(press, piece, earlier)))
    return found


def _drawn(trend: Trend) -> dict[str, Any]:
    # Every word in it went through html.escape; the rest are numbers.
    wide, narrow = (SafeString(mark_safe(draw_trend(trend, sheet))) for sheet in (WIDE, NARROW))  # noqa: S308
    return {"title": trend.title, "told": trend.told, "wide": wide, "narrow": narrow}


def _loss_trend(press: InPress, piece: Piece, earlier: list[Piece]) -> Trend:
    count = max(USUAL_PASSES, *(one.number for one in press.passes), 0)
    points = {number: round(lost, 1) for number, lost in piece.losses.items()}
    if piece.rested is not None:
        points[count + 1] = round(piece.rested, 1)
    found = [band for band in bands(earlier, lambda one: one.losses) if band.number <= count]
    at_rest = rested_band(earlier)
    if at_rest is not None:
        found.append(at_rest.moved(count + 1))
    most = press.work.book.bench.press_loss_most_mm
    return Trend(
        title=gettext("Loss of depth by pass, mean of the grid"),
        told=_told(points, gettext("mm lost")),
        points=points,
        bands=found,
        names=[*(str(number) for number in range(1, count + 1)), gettext("rested")],
        limit=(most, gettext("%(most)s at most") % {"most": plain(most)}),
    )


def _rebound_trend(press: InPress, piece: Piece, earlier: list[Piece]) -> Trend:
    count = max(USUAL_PASSES, *(one.number for one in press.passes), 0)
    drop = _last_drop(press)
    points = {
        number: float(round(value)) for number, value in piece.rebounds.items() if piece.drops[number] == drop
    }
    found = [band for band in bands(earlier, same_drop(drop)) if band.number <= count]
    return Trend(
        title=gettext("Rebound of the ball by pass, middle of five"),
        told=_told(points, gettext("mm of rebound")),
        points=points,
        bands=found,
        names=[str(number) for number in range(1, count + 1)],
        from_zero=False,
    )


def _last_drop(press: InPress) -> Drop | None:
    return next((drop for one in reversed(press.passes) if (drop := drop_of(one)) is not None), None)


def _told(points: Mapping[int, float], unit: str) -> str:
    return ", ".join(
        gettext("pass %(number)s: %(value)s %(unit)s")
        % {"number": number, "value": plain(value), "unit": unit}
        for number, value in sorted(points.items())
    )


def _earlier_words(piece: Piece, earlier: list[Piece]) -> str:
    """Say what the pictures compare with, or that there is not enough to compare with yet."""
    if not piece.losses and not piece.rebounds and piece.rested is None:
        return ""
    known = [one for one in earlier if one.losses or one.rested is not None]
    if len(known) < FEWEST:
        words = ngettext(
            "%(count)s earlier piece of this bench is kept by its passes: too few for a middle and a spread.",
            "%(count)s earlier pieces of this bench are kept by their passes: too few for a middle and a "
            "spread.",
            len(known),
        )
        return words % {"count": len(known)}
    words = gettext(
        "The washed band is where the middle half of %(count)s earlier pieces of this bench lay, the broken "
        "line their middle. It says how others went, not how this one should: there is never one setting for "
        "all."
    )
    return words % {"count": len(known)}


@dataclass(frozen=True)
class Rest:
    """The rest after the last pass, in words."""

    hours: str
    ends: datetime | None
    ends_words: str
    left: str
    is_over: bool


def _rest(press: InPress, now: datetime) -> Rest:
    ends = press.rest_ends
    resting = press.is_resting(now)
    return Rest(
        hours=plain(press.rest_hours),
        ends=ends,
        ends_words=when_words(ends) if ends else "",
        left=left_words(ends - now) if ends and resting else "",
        is_over=ends is not None and not resting,
    )


def when_words(moment: datetime) -> str:
    """Say when, in the workshop's zone: the hour today, the day and the hour otherwise."""
    local = timezone.localtime(moment)
    hour = date_format(local, "H:i")
    days = (local.date() - timezone.localdate()).days
    if days == 0:
        return gettext("today at %(hour)s") % {"hour": hour}
    if days == 1:
        return gettext("tomorrow at %(hour)s") % {"hour": hour}
    return gettext("on %(day)s at %(hour)s") % {"day": date_format(local, "j M"), "hour": hour}


def left_words(left: timedelta) -> str:
    """Say how long it is still, to the minute begun."""
    minutes = max(1, -int(-left.total_seconds() // 60))
    hours, minutes = divmod(minutes, 60)
    if not hours:
        return gettext("%(minutes)s min") % {"minutes": minutes}
    return gettext("%(hours)s h %(minutes)s min") % {"hours": hours, "minutes": minutes}


def _mm(value: float) -> str:
    return str(number_format(round(value, 1), 1))
