"""What is wrong with wood in the press: too much lost, cupped, one side thinner, too thin for the bat."""

from collections.abc import Mapping
from dataclasses import dataclass
from statistics import mean

from django.utils.formats import number_format
from django.utils.translation import gettext, ngettext

from fitting.sheets.book_bench import BenchBook
from workshop.bench.press_depths import Depths, losses
from workshop.bench.press_form import LINE_WORDS

# A face that has gone hollow across by more is a fault (from memory of the trade, no source).
CUP_MOST_MM = 1.0


@dataclass(frozen=True)
class Alarm:
    """One thing that is wrong; with ``fails`` the wood no longer makes this bat."""

    words: str
    fails: bool = False


@dataclass(frozen=True)
class Pressed:
    """Wood in the press: depths before and now, whether these are rested, and the least that it needs."""

    before: Depths
    now: Depths
    rested: bool
    least: Mapping[tuple[str, int], float]


def alarms_of(pressed: Pressed, bench: BenchBook) -> list[Alarm]:
    """Return everything that is wrong with the depths as they are now."""
    return [
        *_too_thin(pressed),
        *_lost_too_much(pressed, bench.press_loss_most_mm),
        *_cupped(pressed),
        *_lopsided(pressed, bench.tolerances.edges_apart_mm),
    ]


def _too_thin(pressed: Pressed) -> list[Alarm]:
    found = []
    for point, depth in sorted(pressed.now.items(), key=_along):
        least = pressed.least.get(point)
        if least is None or depth >= least - 0.05:
            continue
        words = gettext("Too thin at %(where)s: %(depth)s mm, and the bat needs %(least)s mm.")
        numbers = {"where": _where(point), "depth": _mm(depth), "least": _mm(least)}
        told = words % numbers
        if not pressed.rested:
            told = f"{told} {gettext('Some of it comes back overnight: press no further, and read again.')}"
        found.append(Alarm(told, fails=pressed.rested))
    return found


def _lost_too_much(pressed: Pressed, most_mm: float) -> list[Alarm]:
    """The worst point is named, the others are counted."""
    lost = losses(pressed.before, pressed.now)
    over = {point: loss for point, loss in lost.items() if loss > most_mm + 0.05}
    if not over:
        return []
    worst = max(over, key=lambda point: over[point])
    numbers = {"lost": _mm(over[worst]), "where": _where(worst), "most": _mm(most_mm)}
    words = gettext("%(lost)s mm lost at %(where)s, more than %(most)s mm: stop pressing.") % numbers
    if len(over) == 1:
        return [Alarm(words)]
    more = ngettext(
        "At %(count)s more point it is too much.", "At %(count)s more points it is too much.", len(over) - 1
    )
    return [Alarm(f"{words} {more % {'count': len(over) - 1}}")]


def _cupped(pressed: Pressed) -> list[Alarm]:
    """The centre that lost more than the edges leaves the face hollow across."""
    lost = losses(pressed.before, pressed.now)
    found = []
    for place in sorted({place for _, place in lost}):
        edges = [lost[line, place] for line in ("left", "right") if (line, place) in lost]
        if ("centre", place) not in lost or not edges:
            continue
        cup = lost["centre", place] - mean(edges)
        if cup > CUP_MOST_MM + 0.05:
            words = gettext("Cupped by %(cup)s mm at %(place)s mm from the toe: stop, over %(most)s mm.")
            numbers = {"cup": _mm(cup), "place": f"{place / 10:.0f}", "most": _mm(CUP_MOST_MM)}
            found.append(Alarm(words % numbers))
    return found


def _lopsided(pressed: Pressed, apart_mm: float) -> list[Alarm]:
    now = pressed.now
    found = []
    for place in sorted({place for _, place in now}):
        if ("left", place) not in now or ("right", place) not in now:
            continue
        apart = now["left", place] - now["right", place]
        if abs(apart) > apart_mm + 0.05:
            side = LINE_WORDS["right" if apart > 0 else "left"]
            words = gettext("%(side)s is %(apart)s mm thinner than the other at %(place)s mm from the toe.")
            numbers = {"side": str(side).capitalize(), "apart": _mm(abs(apart)), "place": f"{place / 10:.0f}"}
            found.append(Alarm(words % numbers))
    return found


def _along(item: tuple[tuple[str, int], float]) -> tuple[int, str]:
    (line, place), _ = item
    return place, line


def _where(point: tuple[str, int]) -> str:
    line, place = point
    where = gettext("%(place)s mm from the toe, %(line)s")
    return where % {"place": f"{place / 10:.0f}", "line": LINE_WORDS[line]}


def _mm(value: float) -> str:
    return str(number_format(round(value, 1), 1))
