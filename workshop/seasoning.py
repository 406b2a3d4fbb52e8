"""Willow on its way to rest: what moisture a room gives it, and when it will be there. Pure arithmetic.

The moisture that wood comes to in still air is the Wood Handbook's (USDA Forest Products Laboratory,
FPL-GTR-282, 2021, ch. 4, eq. 4-5; the form is Simpson's, Wood and Fiber 5(1):41-49, 1973). The handbook calls
a tenth of a percent "not meaningful": its data are spruce, half way between drying and wetting.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, exp, inf, log, sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from fitting.sheets.book_room import Room

# What scatters more than this says nothing about a day.
VAGUE_DAYS = 120.0
# As far ahead as is looked.
FARTHEST_DAYS = 730.0
Numbers = NDArray[np.float64]


def equilibrium_moisture(temperature_c: float, humidity_percent: float) -> float:
    """Return the moisture in percent of the dry mass that wood comes to in air (Wood Handbook eq. 4-5).

    Args:
        temperature_c: of the air, the handbook's table reaches from -1.1 to 132.
        humidity_percent: relative, its table reaches from 5 to 95.
    """
    t, h = temperature_c, humidity_percent / 100
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (kh / (1 - kh) + bound)


@dataclass(frozen=True)
class OnScales:
    """One weighing: days since some first day, mass in g, moisture by the meter in percent where read."""

    day: float
    mass_g: float
    moisture_percent: float | None


@dataclass(frozen=True)
class Wanted:
    """When wood is ready: moisture within these percents, its mass changes by less than so much a week."""

    least_percent: float
    most_percent: float
    settled_percent_a_week: float


@dataclass(frozen=True)
class Drying:
    """The course of one cleft: its mass goes from where it was to rest by an exponential.

    Masses in g, moistures in percent of the dry mass, days as in the weighings. ``covariance`` is that
    of dry mass, moisture at rest, mass above rest on day 0 (of the weighings' days) and log of the time.
    """

    dry_g: float
    rest_percent: float
    above_g: float
    days: float
    covariance: Numbers

    @property
    def rest_g(self) -> float:
        """The mass at rest, g."""
        return self.dry_g * (1 + self.rest_percent / 100)

    @property
    def rest_sd_percent(self) -> float:
        """Spread of the moisture at rest."""
        return sqrt(self.covariance[1, 1])

    def mass_g(self, day: float) -> float:
        """Return the mass on a day, g."""
        return self.rest_g + self.above_g * exp(-day / self.days)

    def moisture_percent(self, day: float) -> float:
        """Return the moisture on a day, percent."""
        return (self.mass_g(day) / self.dry_g - 1) * 100

    def change_percent_a_week(self, day: float) -> float:
        """Return by how much the mass changes in a week at the pace of that day, percent of the mass."""
        return abs(self.above_g) * exp(-day / self.days) / self.days * 7 / self.mass_g(day) * 100


@dataclass(frozen=True)
class Ready:
    """The day on which a cleft should be ready, with its spread in days; None where it never is so.

    ``why_never`` is ``too_damp`` or ``too_dry`` (the room's own moisture lies outside what is wanted).
    """

    day: float | None
    sd_days: float
    why_never: str = ""

    @property
    def is_vague(self) -> bool:
        """Whether the weighings say too little to name a day."""
        return self.day is not None and self.sd_days > VAGUE_DAYS


def fit_drying(weighings: Sequence[OnScales], room: Room, *, meter_sd_percent: float) -> Drying:
    """Return the likeliest course through the weighings of one cleft.

    Four unknowns: dry mass, moisture at rest, how far from rest it was on day 0, and the time. What is known
    before any weighing counts as one reading each: the moisture that the room's air gives (with its spread)
    and how fast clefts dry there. So one weighing gives a day too, only a vague one. The meter need be read
    once; every time is better.

    Raises:
        ValueError: no weighing, or no moisture in any of them.
    """
    metered = [one for one in weighings if one.moisture_percent is not None]
    if not metered:
        raise ValueError("a course needs a weighing with its moisture")
    equilibrium = equilibrium_moisture(room.room_temperature_c, room.room_humidity_percent)
    dry_g = float(np.mean([one.mass_g / (1 + (one.moisture_percent or 0) / 100) for one in metered]))
    days = np.array([one.day for one in weighings])
    masses = np.array([one.mass_g for one in weighings])
    at = np.array([one.moisture_percent is not None for one in weighings])
    moistures = np.array([one.moisture_percent or 0.0 for one in weighings])
    log_days, log_spread = log(room.drying_days), log(room.drying_spread)
    above = weighings[0].mass_g - dry_g * (1 + equilibrium / 100)
    # Scaled so that each unknown is of the order of one.
    scale = np.array([dry_g, 1.0, dry_g / 100, 1.0])

    def off(unknown: Numbers) -> Numbers:
        dry, rest, over, log_time = unknown * scale
        course = dry * (1 + rest / 100) + over * np.exp(-days / np.exp(log_time))
        read = (masses - course) / room.mass_read_sd_g
        by_meter = (moistures - (course / dry - 1) * 100)[at] / meter_sd_percent
        before = [(rest - equilibrium) / room.equilibrium_sd_percent, (log_time - log_days) / log_spread]
        return np.concatenate([read, by_meter, before])

    found = least_squares(off, np.array([dry_g, equilibrium, above, log_days]) / scale, method="lm")
    dry, rest, over, log_time = (float(value) for value in found.x * scale)
    slopes: Numbers = np.asarray(found.jac, dtype=np.float64)
    covariance = np.linalg.pinv(slopes.T @ slopes) * np.outer(scale, scale)
    return Drying(dry, rest, over, exp(log_time), covariance)


def ready_day(drying: Drying, wanted: Wanted) -> Ready:
    """Return when a cleft's moisture is within what is wanted and its mass has come to rest.

    The spread is carried over from that of the course (first order); a day in the past means ready.
    """
    if drying.rest_percent > wanted.most_percent:
        return Ready(None, inf, "too_damp")
    if drying.rest_percent < wanted.least_percent:
        return Ready(None, inf, "too_dry")
    day = _day(_unknowns(drying), wanted)
    steps = np.sqrt(np.maximum(np.diag(drying.covariance), 0)) * 1e-3
    slope = np.zeros(4)
    for at, step in enumerate(steps):
        if step == 0:
            continue
        shifted = _unknowns(drying)
        shifted[at] += step
        slope[at] = (_day(shifted, wanted) - day) / step
    variance = float(slope @ drying.covariance @ slope)
    return Ready(min(day, FARTHEST_DAYS), sqrt(max(variance, 0.0)))


def whole_days(days: float) -> int:
    """Return days rounded up to whole ones: what is ready in the night is ready tomorrow."""
    return ceil(days - 1e-9)


def _unknowns(drying: Drying) -> Numbers:
    return np.array([drying.dry_g, drying.rest_percent, drying.above_g, log(drying.days)])


def _day(unknown: Numbers, wanted: Wanted) -> float:
    """Return the later of the days on which the moisture is within and the pace slow enough."""
    dry, rest, over, log_time = (float(value) for value in unknown)
    days = exp(log_time)
    rest_g = dry * (1 + rest / 100)
    pace_g = wanted.settled_percent_a_week / 100 * rest_g
    slow = _when(abs(over) * 7 / days, pace_g, days)
    bound = wanted.most_percent if over > 0 else wanted.least_percent
    room_left_g = dry * abs(bound - rest) / 100
    return max(slow, _when(abs(over), room_left_g, days))


def _when(now: float, then: float, days: float) -> float:
    """Return when something that falls by an exponential comes from its value on day 0 to a later one."""
    if now <= 0:
        return -FARTHEST_DAYS
    if then <= 0:
        return FARTHEST_DAYS
    return max(days * log(now / then), -FARTHEST_DAYS)
