"""What one bat would be in willow of any density: re-shaped at a few, so that a whole rack is arithmetic."""

import numpy as np

from fitting.bat.blade_room import deepest_mm
from fitting.bat.reshape import reshape, willow_range
from fitting.bat.reshaped import CannotReshape, WillowPoint, WillowTable
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK

POINTS = 5


def willow_table(build: BuildSheet, *, book: Book = DEFAULT_BOOK, points: int = POINTS) -> WillowTable:
    """Re-shape a bat for its target mass at evenly spaced densities of its range.

    Args:
        build: the bat that was agreed.
        book: its limits and margins.
        points: densities from the least to the most willow that can become it, ends included.

    Returns:
        The range and the bats. Between two points the figures run nearly straight: mass is met everywhere
        within ``reshape``'s 0.5 g, the peak within its 1.5 mm (5 where the toe's limits stop it earlier).
        A density where the re-shaping fails between two where it does not is left out. Takes about a second.
    """
    willow = willow_range(build, book=book)
    if willow.least_kg_m3 is None or willow.most_kg_m3 is None:
        return WillowTable(willow=willow, points=())
    densities = np.linspace(willow.least_kg_m3, willow.most_kg_m3, points)
    found = [_point(build, float(density), book) for density in densities]
    return WillowTable(willow=willow, points=tuple(point for point in found if point is not None))


def _point(build: BuildSheet, density: float, book: Book) -> WillowPoint | None:
    try:
        shaped = reshape(build, density, build.mass_g.target, book=book)
    except CannotReshape:
        return None
    bat = shaped.weighing
    if bat.sweet_spot is None:
        raise ValueError("a re-shaped bat is weighed with its sweet spot")
    return WillowPoint(
        density_kg_m3=density,
        mass_g=bat.mass_g,
        mass_sd_g=bat.mass_sd_g,
        peak_from_toe_mm=bat.sweet_spot.peak_from_toe_mm,
        balance_from_toe_mm=bat.balance_from_toe_mm,
        pickup_kg_m2=bat.inertia_kg_m2.pickup,
        spine_mm=deepest_mm(shaped.build),
    )
