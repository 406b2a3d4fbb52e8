"""The build sheet: what the maker makes. Axes and shape are told in DEVELOPERS.md."""

from itertools import pairwise
from typing import Annotated, Literal

import numpy as np
from pydantic import Field, model_validator

from fitting.curve import monotone_cubic
from fitting.sheets.record import Record
from fitting.sheets.values import Construction, Grain, LengthCode, Profile, SweetSpot

SPLICE_CLEARANCE_MM = 6.0
SCOOP_START_MM = 12.0
LEAST_WOOD_MM = 2.0


class Station(Record):
    """A place along the blade where depth, edge and scallop are given."""

    from_toe_mm: float = Field(ge=0, le=650)
    spine_mm: float = Field(ge=8, le=80, description="face plane to the back on the centre line")
    edge_mm: float = Field(ge=5, le=60, description="face plane to the back at the side")
    scallop: float = Field(ge=0.5, le=4, description="exponent of the back: above 1 hollow, below 1 full")

    @model_validator(mode="after")
    def _spine_not_below_edge(self) -> "Station":
        if self.spine_mm < self.edge_mm:
            raise ValueError("spine_mm not below edge_mm")
        return self


class EdgeRadius(Record):
    """Rounding of the blade's corners along its sides."""

    face: float = Field(ge=0, le=15)
    back: float = Field(ge=0, le=20)


class Scoop(Record):
    """Wood taken from the back just above the toe."""

    length_mm: float = Field(gt=0, le=200)
    depth_mm: float = Field(gt=0, le=25)


class ToeShape(Record):
    """The toe's outline and scoop."""

    corner_radius_mm: float = Field(ge=0, le=55)
    scoop: Scoop | None = None


class Shoulder(Record):
    """The narrowing of the blade below the handle."""

    length_mm: float = Field(ge=5, le=150)
    width_mm: float = Field(ge=30, le=110)


class Blade(Record):
    """The willow: outline, stations, face and bow."""

    length_mm: float = Field(ge=350, le=650)
    width_mm: float = Field(ge=70, le=115)
    stations: Annotated[tuple[Station, ...], Field(min_length=3, max_length=40)]
    face_crown_mm: float = Field(ge=0, le=4)
    bow_mm: float = Field(ge=0, le=30)
    bow_peak_from_toe_mm: float = Field(gt=0, le=600)
    edge_radius_mm: EdgeRadius
    toe: ToeShape
    shoulder: Shoulder

    @model_validator(mode="after")
    def _hangs_together(self) -> "Blade":
        at = [s.from_toe_mm for s in self.stations]
        if any(b <= a for a, b in pairwise(at)):
            raise ValueError("stations in order from the toe, each place once")
        if at[0] != 0 or abs(at[-1] - self.length_mm) > 1e-6:
            raise ValueError("first station at 0 and last at length_mm")
        if self.toe.corner_radius_mm > self.width_mm / 2:
            raise ValueError("toe.corner_radius_mm at most half of width_mm")
        if self.shoulder.width_mm > self.width_mm:
            raise ValueError("shoulder.width_mm at most width_mm")
        if self.bow_peak_from_toe_mm >= self.length_mm:
            raise ValueError("bow_peak_from_toe_mm below length_mm")
        if min(s.edge_mm for s in self.stations) - self.face_crown_mm < LEAST_WOOD_MM:
            raise ValueError("face_crown_mm at least 2 mm below the thinnest edge")
        scoop = self.toe.scoop
        if scoop is not None and SCOOP_START_MM + scoop.length_mm > self.length_mm / 2:
            raise ValueError("toe.scoop within the lower half of the blade")
        if scoop is not None and self._thinnest_under(scoop) < LEAST_WOOD_MM:
            raise ValueError("toe.scoop at least 2 mm of edge left under it")
        return self

    def _thinnest_under(self, scoop: Scoop) -> float:
        """Least edge left under the scoop, mm, face's crown taken off."""
        along = np.linspace(0.0, 1.0, 41)
        knots = np.array([s.from_toe_mm for s in self.stations])
        edges = np.array([[s.edge_mm] for s in self.stations])
        edge = monotone_cubic(knots, edges, SCOOP_START_MM + scoop.length_mm * along)[:, 0]
        return float(np.min(edge - scoop.depth_mm * np.sin(np.pi * along))) - self.face_crown_mm


class SweetSpotAim(Record):
    """The sweet spot as asked for; what the model finds stands in the weighing."""

    choice: SweetSpot
    swell_from_toe_mm: float = Field(gt=0, le=500)
    peak_from_toe_mm: float | None = Field(default=None, gt=0, le=500)


class Girth(Record):
    """Tape round the bound handle, under the grip."""

    top: float = Field(ge=60, le=150)
    middle: float = Field(ge=60, le=150)
    bottom: float = Field(ge=60, le=150)


class OtherMaterial(Record):
    """What is neither cane, wood nor twine in the handle."""

    share: float = Field(ge=0, le=1, description="of the handle's volume")
    reach_into_splice_mm: float = Field(ge=0, le=200)


class Handle(Record):
    """The handle above the blade and its splice."""

    length_mm: float = Field(ge=150, le=400, description="above the blade, without the grip's cap")
    construction: Construction
    section_top: Literal["round", "oval"]
    section_bottom: Literal["round", "oval"]
    oval_ratio: float = Field(ge=1, le=1.5, description="depth over width of an oval section")
    girth_mm: Girth
    splice_length_mm: float = Field(ge=60, le=200)
    splice_width_mm: float = Field(ge=20, le=60)
    line_mm: float = Field(ge=-15, le=15)
    cane_mass_g: float | None = Field(default=None, ge=50, le=600)
    other_material: OtherMaterial


class Grips(Record):
    """Rubber grips; mass and wall of one."""

    count: int = Field(ge=0, le=3)
    mass_g: float = Field(ge=0, le=120)
    wall_mm: float = Field(ge=0, le=5)


class Target(Record):
    """A number to land on; met when ``abs(value - target) <= tolerance``."""

    target: float = Field(gt=0, le=2000)
    tolerance: float = Field(ge=0, le=200)


class Band(Record):
    """A range, both ends included."""

    min: float = Field(ge=200, le=800)
    max: float = Field(ge=200, le=800)

    @model_validator(mode="after")
    def _ends_in_order(self) -> "Band":
        if self.min > self.max:
            raise ValueError("min not above max")
        return self


class Willow(Record):
    """Willow that can become this bat; grade is the least acceptable."""

    density_kg_m3: Band
    grade: int = Field(ge=1, le=4)
    grain: Grain | None = Field(default=None, description="few or many lines on the face, as wished")


class Covering(Record):
    """One protective covering."""

    thickness_mm: float = Field(ge=0, le=5)
    mass_g: float = Field(ge=0, le=60)


class Protection(Record):
    """Coverings; null where there is none."""

    toe_guard: Covering | None = None
    face_film: Covering | None = None
    edge_tape: Covering | None = None


class Finish(Record):
    """Oil and the maker's own knocking-in."""

    oil_coats: int = Field(ge=0, le=6)
    knocked_in_minutes: float = Field(ge=0, le=1000)


class BuildSheet(Record):
    """What the maker makes, ``"build": 1``."""

    build: Literal[1] = 1
    length_code: LengthCode
    profile: Profile
    blade: Blade
    sweet_spot: SweetSpotAim
    handle: Handle
    grips: Grips
    mass_g: Target
    pickup_kg_m2: Target
    willow: Willow
    protection: Protection
    finish: Finish
    outside_edge: Literal["left", "right"] | None = Field(
        default=None,
        description="the edge away from the player, as seen on the face, toe down; it wears first",
    )

    @model_validator(mode="after")
    def _handle_fits_blade(self) -> "BuildSheet":
        if self.blade.shoulder.width_mm < self.handle.splice_width_mm + SPLICE_CLEARANCE_MM:
            raise ValueError("blade.shoulder.width_mm at least 6 mm above handle.splice_width_mm")
        if self.handle.splice_length_mm >= self.blade.length_mm:
            raise ValueError("handle.splice_length_mm below blade.length_mm")
        return self
