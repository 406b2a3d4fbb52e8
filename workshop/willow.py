"""Willow by the numbers: density of a raw cleft, at another moisture, and after the press. Pure arithmetic.

The relation of density, specific gravity and moisture is that of the Wood Handbook (USDA Forest Products
Laboratory, FPL-GTR-282, 2021, ch. 4; Simpson 1993, FPL-GTR-76).
"""

from dataclasses import dataclass
from math import sqrt

from fitting.sheets.book_bench import BenchBook
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import Weighing

FIBRE_SATURATION_PERCENT = 30.0
# Shrinkage to oven-dry, as a share of the green volume, for each unit of basic specific gravity.
SHRINKAGE_PER_GRAVITY = 0.265
WATER_KG_M3 = 1000.0
REFERENCE_WIDTH_MM = 107.0
REFERENCE_SPLICE_MM = 135.0


def gravity_at(basic_gravity: float, moisture_percent: float) -> float:
    """Return the specific gravity (oven-dry mass over volume at that moisture) from the basic one.

    Wood Handbook ch. 4: G_x = G_b / (1 - 0.265 a G_b), a = (30 - x) / 30 below 30 %, else 0.
    """
    return basic_gravity / (1 - SHRINKAGE_PER_GRAVITY * _below_saturation(moisture_percent) * basic_gravity)


def basic_gravity(gravity: float, moisture_percent: float) -> float:
    """Return the basic specific gravity (green volume) from one at some moisture: gravity_at, solved."""
    return gravity / (1 + SHRINKAGE_PER_GRAVITY * _below_saturation(moisture_percent) * gravity)


def density_of(basic: float, moisture_percent: float) -> float:
    """Return the density in kg/m3 at a moisture in percent of dry mass: 1000 G_x (1 + x/100)."""
    return WATER_KG_M3 * gravity_at(basic, moisture_percent) * (1 + moisture_percent / 100)


def density_at(density_kg_m3: float, *, moisture_percent: float, to_percent: float) -> float:
    """Return the density that wood of a density at one moisture has at another; both in percent."""
    gravity = density_kg_m3 / WATER_KG_M3 / (1 + moisture_percent / 100)
    return density_of(basic_gravity(gravity, moisture_percent), to_percent)


def mass_at(mass_g: float, *, moisture_percent: float, to_percent: float) -> float:
    """Return the mass at another moisture of wood that keeps its dry mass (Wood Handbook eq. 4-2)."""
    return mass_g * (1 + to_percent / 100) / (1 + moisture_percent / 100)


def _below_saturation(moisture_percent: float) -> float:
    return max(0.0, 1 - moisture_percent / FIBRE_SATURATION_PERCENT)


@dataclass(frozen=True)
class RawCleft:
    """A cleft as it is read: mm, g and percent; sizes near one end, in the middle, near the other end."""

    length_mm: float
    widths_mm: tuple[float, float, float]
    depths_mm: tuple[float, float, float]
    mass_g: float
    moisture_percent: float


@dataclass(frozen=True)
class Density:
    """The density of a cleft in kg/m3 with its spread (one standard deviation)."""

    as_read: float
    at_12: float
    at_12_sd: float
    pressed: float
    pressed_sd: float


@dataclass(frozen=True)
class Pressing:
    """What the press does to the mean density of a finished blade: sizes in mm."""

    loss_mm: float
    loss_sd_mm: float
    pressed_share: float
    mean_depth_mm: float
    width_mm: float
    widening_mm: float

    def gain(self, loss_mm: float | None = None) -> float:
        """Return the factor on the density, mass being conserved.

        The press packs the lost depth into the layer under the face, which the finished blade keeps
        whole, so a blade of mean depth d carries the wood of d + loss over the length that is pressed;
        the gain of width takes its part back.
        """
        lost = self.loss_mm if loss_mm is None else loss_mm
        packed = 1 + self.pressed_share * lost / self.mean_depth_mm
        return packed * self.width_mm / (self.width_mm + self.widening_mm * self.pressed_share)


def volume_mm3(cleft: RawCleft) -> float:
    """Return the volume of a cleft, its section changing smoothly between three places (Simpson's rule)."""
    near, middle, far = (w * d for w, d in zip(cleft.widths_mm, cleft.depths_mm, strict=True))
    return cleft.length_mm * (near + 4 * middle + far) / 6


def usual_pressing(bench: BenchBook) -> Pressing:
    """Return the pressing of an adult blade, where no bat is named."""
    return _pressing(
        bench, bench.grid_blade_mm, REFERENCE_WIDTH_MM, REFERENCE_SPLICE_MM, bench.blade_mean_depth_mm
    )


def pressing_of(build: BuildSheet, weighing: Weighing, bench: BenchBook) -> Pressing:
    """Return the pressing of one bat: mean depth from the model's own volume of the blade."""
    blade = build.blade
    part = next(part for part in weighing.parts if part.name == "blade")
    volume = part.volume_mm3 or blade.length_mm * blade.width_mm * bench.blade_mean_depth_mm
    mean_depth_mm = volume / (blade.length_mm * blade.width_mm)
    return _pressing(bench, blade.length_mm, blade.width_mm, build.handle.splice_length_mm, mean_depth_mm)


def _pressing(
    bench: BenchBook, length_mm: float, width_mm: float, splice_mm: float, mean_depth_mm: float
) -> Pressing:
    reached = length_mm - splice_mm - bench.press_toe_margin_mm
    return Pressing(
        loss_mm=bench.press_loss_mm,
        loss_sd_mm=bench.press_loss_sd_mm,
        pressed_share=max(0.0, reached) / length_mm,
        mean_depth_mm=mean_depth_mm,
        width_mm=width_mm,
        widening_mm=bench.press_widening_mm,
    )


def cleft_density(
    cleft: RawCleft, pressing: Pressing, bench: BenchBook, *, at_percent: float = 12.0
) -> Density:
    """Return the density of a cleft as read, at 12 % and as a pressed blade, with its spread.

    The spread adds, in squares, that of the sizes, of the cleft's shape between them, of the moisture
    meter and, for the pressed blade, of the loss in the press. The scales' own is far below these.
    """
    as_read = cleft.mass_g / volume_mm3(cleft) * 1e6
    moisture = cleft.moisture_percent
    at_12 = density_at(as_read, moisture_percent=moisture, to_percent=at_percent)
    wetter = density_at(as_read, moisture_percent=moisture + 0.5, to_percent=at_percent)
    drier = density_at(as_read, moisture_percent=max(0.0, moisture - 0.5), to_percent=at_percent)
    per_percent = (wetter - drier) / (0.5 + min(0.5, moisture))
    by_sizes = at_12 * sqrt(_size_variance(cleft, bench.cleft_size_sd_mm) + bench.cleft_shape_sd_share**2)
    at_12_sd = sqrt(by_sizes**2 + (per_percent * bench.moisture_sd_percent) ** 2)
    gain = pressing.gain()
    by_press = at_12 * (pressing.gain(pressing.loss_mm + pressing.loss_sd_mm) - gain)
    return Density(
        as_read=as_read,
        at_12=at_12,
        at_12_sd=at_12_sd,
        pressed=at_12 * gain,
        pressed_sd=sqrt((at_12_sd * gain) ** 2 + by_press**2),
    )


def _size_variance(cleft: RawCleft, sd_mm: float) -> float:
    """Return the relative variance of the volume when each of the seven sizes has the same spread."""
    widths, depths = cleft.widths_mm, cleft.depths_mm
    areas = [w * d for w, d in zip(widths, depths, strict=True)]
    weights = (1, 4, 1)
    total = sum(weight * area for weight, area in zip(weights, areas, strict=True))
    variance = (sd_mm / cleft.length_mm) ** 2
    for weight, width, depth in zip(weights, widths, depths, strict=True):
        variance += (weight * depth / total * sd_mm) ** 2 + (weight * width / total * sd_mm) ** 2
    return variance
