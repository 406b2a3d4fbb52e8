"""Where a bat hits hardest: the reference impact along the blade and across it.

Every place looked at is struck in one go. Along the blade, from 40 mm above the toe to 100 mm below the
shoulder, the ball's speed off the bat makes the response curve; across, a blow off the middle turns the bat
about its long axis as well, which costs speed. Hands that hold the handle are not counted.
"""

from dataclasses import dataclass
from math import ceil

import numpy as np
from scipy.interpolate import CubicSpline

from fitting.bat.beam import Modes, deflection
from fitting.bat.impact import Contact, Struck, strike
from fitting.bat.solid import KG_M2, Body
from fitting.curve import FloatArray
from fitting.sheets.book_impact import ImpactNumbers
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import ReferenceImpact, ResponsePoint, SweetSpot

FROM_TOE_MM, BELOW_SHOULDER_MM = 40.0, 100.0
APART_MM = 10.0
FINE_MM = 1.0
ACROSS_MM = np.array([8.0, 16.0, 32.0])
"""Offsets across at which the loss is computed; between them it is a smooth curve over their square."""
ACROSS_PLACES = 8
# Powers of the offsets' squares, told from shares at them: the curve through the middle and all offsets.
_SQUARES = np.concatenate([[0.0], ACROSS_MM**2])
_THROUGH = np.linalg.inv(np.vander(_SQUARES / _SQUARES[-1], increasing=True))
_FINE = np.linspace(0.0, 1.0, 513)
_FINE_POWERS = np.vander(_FINE, len(_SQUARES), increasing=True)


@dataclass(frozen=True)
class Response:
    """The answer of a bat to the reference impact."""

    impact: ReferenceImpact
    points: tuple[ResponsePoint, ...]
    sweet_spot: SweetSpot


def respond(
    build: BuildSheet,
    numbers: ImpactNumbers,
    bat: Body,
    modes: Modes,
    *,
    pickup_kg_m2: float,
    apart_mm: float = APART_MM,
) -> Response:
    """Strike a bat along and across its blade.

    Args:
        build: its shape.
        numbers: reference impacts and contact.
        bat: all its parts as one body.
        modes: its bending modes.
        pickup_kg_m2: it decides how fast the bat is swung.
        apart_mm: most distance between two places along the blade.

    Returns:
        Speeds in m/s, places in mm from the toe. The peak is that of a cubic spline through the points; it
        moves by less than 0.5 mm with finer steps of time or more points.
    """
    blow = numbers.blow(build.length_code)
    swing = blow.swing_rad_s * (numbers.swing_pickup_kg_m2 / pickup_kg_m2) ** numbers.swing_power
    pivot = build.blade.length_mm + build.handle.length_mm - numbers.pivot_from_handle_top_mm
    along = _places_along(build.blade.length_mm, apart_mm)
    beside = np.linspace(along[0], along[-1], ACROSS_PLACES)
    x = np.concatenate([along, np.repeat(beside, len(ACROSS_MM))])
    z = np.concatenate([np.zeros_like(along), np.tile(ACROSS_MM, len(beside))])

    bat_speed = swing * (pivot - x) / 1000
    struck = strike(
        _struck(bat, modes, x, z),
        Contact(numbers.contact.stiffness, numbers.contact.press, numbers.contact.restitution),
        ball_kg=blow.ball_mass_g / 1000,
        speed=blow.ball_speed_m_s + bat_speed,
    )
    exit_speed = struck.returned * blow.ball_speed_m_s + (1 + struck.returned) * bat_speed
    speeds, off_middle = exit_speed[: len(along)], exit_speed[len(along) :].reshape(len(beside), -1)
    curve = CubicSpline(along, speeds)
    peak, low, high = reach_of(curve, numbers.peak_share)
    lost = off_middle / curve(beside)[:, None]
    touching = np.interp(peak, along, struck.contact_s[: len(along)])
    return Response(
        impact=ReferenceImpact(
            ball_mass_g=blow.ball_mass_g,
            ball_speed_m_s=blow.ball_speed_m_s,
            swing_rad_s=swing,
            pivot_from_toe_mm=pivot,
            contact_ms=float(touching) * 1000,
        ),
        points=tuple(
            ResponsePoint(from_toe_mm=place, exit_speed_m_s=speed)
            for place, speed in zip(along.tolist(), speeds.tolist(), strict=True)
        ),
        sweet_spot=SweetSpot(
            peak_from_toe_mm=peak,
            from_mm=low,
            to_mm=high,
            half_width_mm=_half_width(beside, lost, peak, numbers.peak_share, build.blade.width_mm / 2),
        ),
    )


def reach_of(curve: CubicSpline, share: float) -> tuple[float, float, float]:
    """Peak of a curve, and the places on both sides of it where it falls to a share of the peak, or ends."""
    low, high = float(curve.x[0]), float(curve.x[-1])
    grid = np.linspace(low, high, ceil((high - low) / FINE_MM) + 1)
    value = curve(grid)
    top = int(np.argmax(value))
    peak = _summit(grid, value, top)
    bound = share * float(value[top])
    below, above = value[: top + 1], value[top:]
    first, last = np.nonzero(below < bound)[0], np.nonzero(above < bound)[0]
    start, end = low, high
    if len(first):
        i = int(first[-1])
        start = float(np.interp(bound, value[i : i + 2], grid[i : i + 2]))
    if len(last):
        i = top + int(last[0])
        end = float(np.interp(bound, value[[i, i - 1]], grid[[i, i - 1]]))
    return peak, start, end


def _summit(grid: FloatArray, value: FloatArray, top: int) -> float:
    """Place of the greatest value by a parabola through it and its neighbours."""
    if top in (0, len(grid) - 1):
        return float(grid[top])
    left, middle, right = value[top - 1 : top + 2]
    bend = left - 2 * middle + right
    shift = 0.5 * (left - right) / bend if bend < 0 else 0.0
    return float(grid[top] + shift * (grid[1] - grid[0]))


def _places_along(blade_mm: float, apart_mm: float) -> FloatArray:
    low, high = FROM_TOE_MM, blade_mm - BELOW_SHOULDER_MM
    return np.linspace(low, high, ceil((high - low) / apart_mm) + 1)


def _struck(bat: Body, modes: Modes, x_mm: FloatArray, z_mm: FloatArray) -> Struck:
    """What the bat offers the ball at places of its face: as a rigid body, and bending."""
    along = (x_mm - bat.centre_mm[0]) / 1000
    across = z_mm / 1000
    about_z, about_x = bat.tensor_g_mm2[2, 2] * KG_M2, bat.tensor_g_mm2[0, 0] * KG_M2
    rigid = 1000 / bat.mass_g + along**2 / about_z + across**2 / about_x
    return Struck(rigid=rigid, shapes=deflection(modes, x_mm / 1000), frequency_hz=modes.frequency_hz)


def _half_width(places: FloatArray, left: FloatArray, peak: float, share: float, side_mm: float) -> float:
    """Offset across at the peak where the speed falls to a share, mm; at most half the blade's width.

    ``left`` holds the shares left at ``ACROSS_MM`` for each place, shape (places, offsets).
    """
    at_peak = [float(np.interp(peak, places, left[:, column])) for column in range(left.shape[1])]
    fine = _FINE * _SQUARES[-1]
    curve = _FINE_POWERS @ (_THROUGH @ np.array([1.0, *at_peak]))
    fallen = np.nonzero(curve < share)[0]
    if not len(fallen):
        return side_mm
    i = int(fallen[0])
    return min(float(np.sqrt(np.interp(share, curve[[i, i - 1]], fine[[i, i - 1]]))), side_mm)
