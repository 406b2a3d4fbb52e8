"""What comes of re-shaping a bat for one cleft: the bat, or what stops it; and which willow would do."""

from typing import Literal

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.record import Record
from fitting.sheets.weighing import Weighing

Stop = Literal["too_light", "too_dense", "peak"]


class Moved(Record):
    """By how much one station moved, new less old, mm."""

    from_toe_mm: float
    spine_mm: float
    edge_mm: float


class Reshaped(Record):
    """The bat for one cleft: its sheet, its weighing, and what moved."""

    build: BuildSheet
    weighing: Weighing
    moved: tuple[Moved, ...]


class Barrier(Record):
    """What stops a re-shaping: willow too light or too dense for the mass, or a sweet spot out of reach.

    Attributes:
        stop: what could not be had.
        limit: the limit that was met first: ``spine``, ``edge``, ``gauge``, ``laws``, ``kink``, ``scoop``,
            ``swell``; ``toe`` where the peak stops it.
        mass_g: the nearest mass that the limits allow with this willow.
        density_kg_m3: the nearest density that was found to do, to 1 kg/m3; None where the peak stops it or
            no willow would do.
        spine_mm: depth at the swell that the mass would need with this willow.
        spine_allowed_mm: depth at the swell that is allowed.
        peak_from_toe_mm: the nearest peak; None where the mass stops it.
    """

    stop: Stop
    limit: str
    mass_g: float
    density_kg_m3: float | None
    spine_mm: float
    spine_allowed_mm: float
    peak_from_toe_mm: float | None


class CannotReshape(Exception):
    """No blade inside the Laws and the trade's limits reaches mass and sweet spot with this willow."""

    def __init__(self, barrier: Barrier) -> None:
        super().__init__(barrier.stop)
        self.barrier = barrier


class MassLine(Record):
    """Mass of one shape as a function of the willow's density: ``other_g + volume_mm3 * density / 1e6``.

    Densities are told at the book's moisture, masses at 12 %: what that adds stands in the volume.
    """

    volume_mm3: float
    other_g: float

    def mass_g(self, density_kg_m3: float) -> float:
        """Finished mass, g."""
        return self.other_g + self.volume_mm3 * density_kg_m3 / 1e6

    def density_kg_m3(self, mass_g: float) -> float:
        """Density at which the shape has a mass, kg/m3."""
        return (mass_g - self.other_g) * 1e6 / self.volume_mm3


class WillowRange(Record):
    """Which willow can become a bat: densities for its mass, and how its mass runs with the density.

    ``least_kg_m3`` and ``most_kg_m3`` are None where no willow can.
    """

    least_kg_m3: float | None
    most_kg_m3: float | None
    thinnest: MassLine
    as_drawn: MassLine
    fullest: MassLine


class WillowPoint(Record):
    """One bat as it was really re-shaped for willow of one density; ``spine_mm`` is its deepest station."""

    density_kg_m3: float
    mass_g: float
    mass_sd_g: float
    peak_from_toe_mm: float
    balance_from_toe_mm: float
    pickup_kg_m2: float
    spine_mm: float


class WillowTable(Record):
    """Which willow can become a bat, and the bat at a few densities between its ends, the lightest first.

    ``points`` is empty where no willow can.
    """

    willow: WillowRange
    points: tuple[WillowPoint, ...]
