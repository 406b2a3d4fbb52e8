"""The course of a seasoning cleft as a drawing: weighings, the likeliest curve, the day of readiness."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from workshop.rack.weighings import Outlook
from workshop.seasoning import FARTHEST_DAYS, Wanted

WIDTH, HEIGHT, TEXT = 560.0, 300.0, 16.0
LEFT, RIGHT, TOP, FOOT = 66.0, 58.0, 30.0, 46.0
STEPS = 48
# The longest that is drawn ahead of the last weighing.
AHEAD_DAYS = 180


@dataclass(frozen=True)
class Scale:
    """Days across and grams up, in the drawing's units."""

    days: float
    least_g: float
    most_g: float

    def x(self, day: float) -> float:
        """Return where a day lies; beyond the end it lies on it."""
        return round(LEFT + (WIDTH - LEFT - RIGHT) * min(max(day, 0), self.days) / self.days, 1)

    def y(self, mass_g: float) -> float:
        """Return where a mass lies; beyond the frame it lies on its edge."""
        inside = min(max(mass_g, self.least_g), self.most_g)
        return round(TOP + (HEIGHT - TOP - FOOT) * (self.most_g - inside) / (self.most_g - self.least_g), 1)


def draw_course(outlook: Outlook, wanted: Wanted, today: date) -> dict[str, Any]:
    """Return what the template draws."""
    drying, first = outlook.drying, outlook.first
    scale = _scale(outlook, today)
    band = [drying.dry_g * (1 + percent / 100) for percent in (wanted.most_percent, wanted.least_percent)]
    return {
        "width": WIDTH,
        "height": HEIGHT,
        "text": TEXT,
        "left": LEFT,
        "right": WIDTH - RIGHT,
        "top": TOP,
        "floor": HEIGHT - FOOT,
        "points": [
            {"x": scale.x((one.on - first).days), "y": scale.y(one.mass_g), "weighed": one}
            for one in outlook.weighed
        ],
        "curve": " ".join(
            f"{scale.x(day)},{scale.y(drying.mass_g(day))}"
            for day in (scale.days * step / STEPS for step in range(STEPS + 1))
        ),
        "band": {"y": scale.y(band[0]), "height": round(scale.y(band[1]) - scale.y(band[0]), 1)},
        "rest_y": scale.y(drying.rest_g),
        "masses": _masses(scale),
        "percents": _percents(scale, drying.dry_g),
        "days": _days(scale, first),
        "plot_width": WIDTH - LEFT - RIGHT,
        "plot_height": HEIGHT - FOOT - TOP,
        "mass_x": LEFT - 8,
        "percent_x": WIDTH - RIGHT + 8,
        "foot_y": HEIGHT - FOOT + 6,
        "day_y": HEIGHT - FOOT + 8 + TEXT,
        "head_y": TOP - 12,
        "ready": _ready(outlook, scale),
    }


def _ready(outlook: Outlook, scale: Scale) -> dict[str, float] | None:
    """Return where the day of readiness and its spread lie, where they lie within the frame."""
    day, sd = outlook.ready.day, outlook.ready.sd_days
    if outlook.ready_on is None or day is None or not 0 < day <= scale.days:
        return None
    begins, ends = scale.x(day - sd), scale.x(day + sd)
    return {"x": scale.x(day), "from": begins, "width": round(ends - begins, 1)}


def _scale(outlook: Outlook, today: date) -> Scale:
    last = (outlook.last.on - outlook.first).days
    now = (today - outlook.first).days
    ready = outlook.ready.day if outlook.ready_on is not None and outlook.ready.day is not None else last + 28
    days = min(max(last, now, ready + min(outlook.ready.sd_days, 28)) + 7, last + AHEAD_DAYS, FARTHEST_DAYS)
    masses = [one.mass_g for one in outlook.weighed]
    masses += [outlook.drying.rest_g, outlook.drying.mass_g(0)]
    pad = max(12.0, (max(masses) - min(masses)) * 0.12)
    return Scale(max(days, 14.0), min(masses) - pad, max(masses) + pad)


def _masses(scale: Scale) -> list[dict[str, Any]]:
    step = _step(scale.most_g - scale.least_g, (10, 20, 50, 100, 200, 500))
    first = int(scale.least_g // step + 1) * step
    return [
        {"y": scale.y(mass), "words": f"{mass:.0f}"} for mass in range(first, int(scale.most_g) + 1, step)
    ]


def _percents(scale: Scale, dry_g: float) -> list[dict[str, Any]]:
    low, high = (scale.least_g / dry_g - 1) * 100, (scale.most_g / dry_g - 1) * 100
    step = _step(high - low, (1, 2, 5, 10))
    first = int(low // step + 1) * step
    return [
        {"y": scale.y(dry_g * (1 + percent / 100)), "words": f"{percent}"}
        for percent in range(first, int(high) + 1, step)
    ]


def _days(scale: Scale, first: date) -> list[dict[str, Any]]:
    step = _step(scale.days, (7, 14, 28, 56, 84, 112, 168))
    return [
        {"x": scale.x(day), "on": first + timedelta(days=day)} for day in range(0, int(scale.days) + 1, step)
    ]


def _step(span: float, steps: tuple[int, ...]) -> int:
    """Return the smallest step that divides the span into five at most."""
    return next((step for step in steps if span / step <= 5), steps[-1])
