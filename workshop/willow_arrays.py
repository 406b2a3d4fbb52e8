"""Densities of many clefts at once: ``willow.cleft_density`` as array arithmetic, for the whole rack."""

import numpy as np

from fitting.curve import FloatArray
from fitting.sheets.book_bench import BenchBook
from workshop.willow import FIBRE_SATURATION_PERCENT, SHRINKAGE_PER_GRAVITY, WATER_KG_M3

# Simpson's rule over the three places where a cleft is measured.
_WEIGHTS = np.array([1.0, 4.0, 1.0])
_METER_STEP_PERCENT = 0.5


def raw_densities(
    length_mm: FloatArray,
    widths_mm: FloatArray,
    depths_mm: FloatArray,
    mass_g: FloatArray,
    moisture_percent: FloatArray,
    bench: BenchBook,
    *,
    at_percent: float = 12.0,
) -> tuple[FloatArray, FloatArray]:
    """Return the density of raw clefts at 12 % moisture and its spread, kg/m3.

    Args:
        length_mm: shape (m,).
        widths_mm: near one end, in the middle, near the other end, shape (m, 3).
        depths_mm: at the same places.
        mass_g: as read, with ``moisture_percent``.
        moisture_percent: of the dry mass.
        bench: how well sizes, shape and moisture are known.
        at_percent: another moisture than 12 %.
    """
    areas = widths_mm * depths_mm
    total = areas @ _WEIGHTS
    as_read = mass_g / (length_mm * total / 6) * 1e6
    density = _at(as_read, moisture_percent, at_percent)
    less = np.minimum(_METER_STEP_PERCENT, moisture_percent)
    wetter = _at(as_read, moisture_percent + _METER_STEP_PERCENT, at_percent)
    drier = _at(as_read, moisture_percent - less, at_percent)
    per_percent = (wetter - drier) / (_METER_STEP_PERCENT + less)
    share = (_WEIGHTS * depths_mm / total[:, None]) ** 2 + (_WEIGHTS * widths_mm / total[:, None]) ** 2
    sizes = bench.cleft_size_sd_mm**2 * (length_mm**-2.0 + share.sum(axis=1))
    by_sizes = density * np.sqrt(sizes + bench.cleft_shape_sd_share**2)
    return density, np.hypot(by_sizes, per_percent * bench.moisture_sd_percent)


def _at(density: FloatArray, moisture: FloatArray, to_percent: float) -> FloatArray:
    """Density at another moisture: Wood Handbook ch. 4, as ``willow.density_at``."""
    gravity = density / WATER_KG_M3 / (1 + moisture / 100)
    basic = gravity / (1 + SHRINKAGE_PER_GRAVITY * _below_saturation(moisture) * gravity)
    at = basic / (1 - SHRINKAGE_PER_GRAVITY * _below_saturation(np.array(to_percent)) * basic)
    return WATER_KG_M3 * at * (1 + to_percent / 100)


def _below_saturation(moisture: FloatArray) -> FloatArray:
    return np.maximum(0.0, 1 - moisture / FIBRE_SATURATION_PERCENT)
