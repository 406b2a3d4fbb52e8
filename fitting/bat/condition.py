"""What is told of a half-made bat: its condition on the scales, what was read, and where it stands."""

from pydantic import Field

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.record import Record
from fitting.sheets.weighing import Weighing


class Condition(Record):
    """In which condition a bat lies on the scales.

    Attributes:
        handle: whether it is glued in; without it the recess of the splice is still willow.
        cane_g: mass of the cane on it, raw or turned, g; None as the sheet has it.
        bound: whether the handle has its binding.
        square_top_mm: length below the shoulder that is still a square block, mm; 0 where it is shaped.
        square_depth_mm: depth of that block, mm.
        square_width_mm: its width, mm.
        sanded: whether the sanding is done.
        grips: how many are on.
        toe_guard, face_film, edge_tape: whether they are on.
        oil_coats: coats that are on.
        moisture_percent: moisture of the willow by the meter.
    """

    handle: bool = False
    cane_g: float | None = Field(default=None, ge=0)
    bound: bool = False
    square_top_mm: float = Field(default=0.0, ge=0)
    square_depth_mm: float = Field(default=0.0, ge=0)
    square_width_mm: float = Field(default=0.0, ge=0)
    sanded: bool = False
    grips: int = Field(default=0, ge=0, le=4)
    toe_guard: bool = False
    face_film: bool = False
    edge_tape: bool = False
    oil_coats: int = Field(default=0, ge=0, le=10)
    moisture_percent: float = Field(default=12.0, ge=4, le=30)

    @classmethod
    def finished(cls, build: BuildSheet, *, moisture_percent: float = 12.0) -> "Condition":
        """The condition in which a bat leaves the workshop."""
        protection = build.protection
        return cls(
            handle=True,
            bound=True,
            sanded=True,
            grips=build.grips.count,
            toe_guard=protection.toe_guard is not None,
            face_film=protection.face_film is not None,
            edge_tape=protection.edge_tape is not None,
            oil_coats=build.finish.oil_coats,
            moisture_percent=moisture_percent,
        )


class Scales(Record):
    """What the scales showed, g, and where the bat balanced, mm from the toe."""

    mass_g: float = Field(gt=0)
    balance_from_toe_mm: float | None = None


class Believed(Record):
    """Density of the pressed blade at 12 % and its spread (one standard deviation), kg/m3."""

    density_kg_m3: float = Field(gt=0)
    sd_kg_m3: float = Field(ge=0)


class Pending(Record):
    """One thing that the bat still gains (above 0) or loses, g, with its spread."""

    key: str
    mass_g: float
    sd_g: float


class Standing(Record):
    """Where a half-made bat stands: the willow, what is pending, and the finished bat if no more were cut."""

    believed: Believed
    pending: tuple[Pending, ...]
    after: BuildSheet
    weighing: Weighing
