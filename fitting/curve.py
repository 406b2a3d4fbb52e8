"""Monotone cubic interpolation: between two stations a depth never leaves what the two give."""

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


def monotone_cubic(knots: FloatArray, values: FloatArray, at: FloatArray) -> FloatArray:
    """Interpolate columns of values by a cubic that is monotone between every two knots.

    Slopes are the weighted harmonic means of Fritsch F. N. and Butland J. (1984), A method for constructing
    local monotone piecewise cubic interpolants, SIAM J. Sci. Stat. Comput. 5:300-304; at both ends the
    three-point slope, kept from overshooting.

    Args:
        knots: at least three places in rising order, shape (k,).
        values: one column for each curve, shape (k, c).
        at: places, shape (n,); a place outside the knots is taken at the nearer end.

    Returns:
        Values, shape (n, c).
    """
    step = np.diff(knots)[:, None]
    secant = np.diff(values, axis=0) / step
    slope = _slopes(step, secant)
    place = np.clip(at, knots[0], knots[-1])
    left = np.clip(np.searchsorted(knots, place, side="right") - 1, 0, len(knots) - 2)
    width = step[left]
    s = (place - knots[left])[:, None] / width
    rise = values[left + 1] - values[left]
    return np.asarray(
        values[left]
        + rise * s * s * (3 - 2 * s)
        + width * s * (1 - s) * (slope[left] * (1 - s) - slope[left + 1] * s)
    )


def _slopes(step: FloatArray, secant: FloatArray) -> FloatArray:
    slope = np.zeros((len(step) + 1, secant.shape[1]))
    before, after = secant[:-1], secant[1:]
    weight_before = 2 * step[1:] + step[:-1]
    weight_after = step[1:] + 2 * step[:-1]
    same = before * after > 0
    # Where the secants differ in sign the slope stays zero; the ones only keep the division quiet.
    harmonic = (weight_before + weight_after) / (
        weight_before / np.where(same, before, 1.0) + weight_after / np.where(same, after, 1.0)
    )
    slope[1:-1] = np.where(same, harmonic, 0.0)
    slope[0] = _end_slope(step[0], step[1], secant[0], secant[1])
    slope[-1] = _end_slope(step[-1], step[-2], secant[-1], secant[-2])
    return slope


def _end_slope(near: FloatArray, next_: FloatArray, first: FloatArray, second: FloatArray) -> FloatArray:
    slope = ((2 * near + next_) * first - near * second) / (near + next_)
    slope = np.where(np.sign(slope) != np.sign(first), 0.0, slope)
    overshoots = (np.sign(first) != np.sign(second)) & (np.abs(slope) > 3 * np.abs(first))
    return np.where(overshoots, 3 * first, slope)
