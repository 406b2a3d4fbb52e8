"""The book: everything that is the maker's to set, frozen and versioned."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from fitting.sheets.book_bench import BenchBook
from fitting.sheets.book_costs import DEFAULT_COSTS, Costs
from fitting.sheets.book_matching import MatchingBook
from fitting.sheets.book_materials import Materials
from fitting.sheets.book_room import DEFAULT_ROOM, Room
from fitting.sheets.book_rules import Rules, WishNumbers
from fitting.sheets.record import Record
from fitting.sheets.values import JUNIOR_CODES, LengthCode

Edition = Literal[2022, 2026]


class LengthRow(Record):
    """Default dimensions and usual mass of one length code; from memory of the trade, the maker's to edit."""

    code: LengthCode
    overall_mm: float = Field(ge=550, le=970)
    blade_mm: float = Field(ge=380, le=620)
    width_mm: float = Field(ge=75, le=110)
    handle_mm: float = Field(ge=180, le=380)
    splice_mm: float = Field(ge=80, le=180)
    girth_low_mm: float = Field(ge=65, le=140, description="bound, middle of the handle")
    girth_high_mm: float = Field(ge=65, le=140, description="bound, middle of the handle")
    spine_mm: float = Field(ge=30, le=70, description="at the swell")
    edge_mm: float = Field(ge=15, le=45, description="at the swell")
    mass_low_g: float = Field(ge=400, le=1500)
    mass_high_g: float = Field(ge=400, le=1500)

    @model_validator(mode="after")
    def _hangs_together(self) -> "LengthRow":
        if abs(self.blade_mm + self.handle_mm - self.overall_mm) > 1e-6:
            raise ValueError("overall_mm the sum of blade_mm and handle_mm")
        if self.girth_low_mm > self.girth_high_mm:
            raise ValueError("girth_low_mm not above girth_high_mm")
        if self.mass_low_g > self.mass_high_g:
            raise ValueError("mass_low_g not above mass_high_g")
        return self

    @property
    def mass_middle_g(self) -> float:
        """Middle of the usual mass, g."""
        return (self.mass_low_g + self.mass_high_g) / 2

    @property
    def girth_middle_mm(self) -> float:
        """Middle of the usual bound girth, mm."""
        return (self.girth_low_mm + self.girth_high_mm) / 2


class TradeLimits(Record):
    """What stops a shape before the Laws do; from memory of the trade, mm."""

    toe_centre_least_mm: float = Field(ge=8, le=70)
    toe_corner_least_mm: float = Field(ge=8, le=70)
    toe_strong_centre_least_mm: float = Field(ge=8, le=70)
    toe_strong_corner_least_mm: float = Field(ge=8, le=70)
    toe_most_mm: float = Field(ge=8, le=70)
    edge_least_mm: float = Field(ge=8, le=45, description="in the middle third")
    edge_most_mm: float = Field(ge=8, le=45, description="in the middle third")
    spine_swell_least_mm: float = Field(ge=8, le=70)
    spine_swell_most_mm: float = Field(ge=8, le=70)
    spine_splice_least_mm: float = Field(ge=8, le=70)
    spine_splice_most_mm: float = Field(ge=8, le=70)
    spine_shoulder_least_mm: float = Field(ge=8, le=70)
    spine_shoulder_most_mm: float = Field(ge=8, le=70)
    edge_shoulder_least_mm: float = Field(ge=8, le=70)
    edge_shoulder_most_mm: float = Field(ge=8, le=70)
    slope_low_mm: float = Field(
        gt=0, le=30, description="most change of depth in 25 mm of length, lowest part"
    )
    slope_low_reach_mm: float = Field(ge=0, le=300, description="how far up the lowest part reaches")
    slope_mm: float = Field(gt=0, le=30, description="most change of depth in 25 mm of length, above that")
    girth_least_mm: float = Field(ge=65, le=140)
    girth_most_mm: float = Field(ge=65, le=140)
    bow_most_mm: float = Field(ge=0, le=30)
    mass_slack_share: float = Field(ge=0, le=0.3, description="beyond either end of the usual mass")

    @model_validator(mode="after")
    def _least_below_most(self) -> "TradeLimits":
        for name in ("edge", "spine_swell", "spine_splice", "spine_shoulder", "edge_shoulder", "girth"):
            if getattr(self, f"{name}_least_mm") > getattr(self, f"{name}_most_mm"):
                raise ValueError(f"{name}_least_mm not above {name}_most_mm")
        if self.toe_strong_centre_least_mm > self.toe_most_mm:
            raise ValueError("toe_strong_centre_least_mm not above toe_most_mm")
        return self


class Book(Record):
    """Everything a maker sets: dimensions, limits, numbers of wishes, weights of rules, materials."""

    version: int = Field(ge=1)
    laws_edition: Edition
    law_margin_mm: float = Field(ge=0, le=5, description="kept inside every size of the Laws")
    gauge_depth_on_flat_face_mm: float = Field(
        ge=40, le=70, description="deepest spine on a flat face that the gauge lets through, margin taken off"
    )
    lengths: Annotated[tuple[LengthRow, ...], Field(min_length=14)]
    trade_limits_adult: TradeLimits
    trade_limits_junior: TradeLimits
    wish_numbers: WishNumbers
    rules: Rules
    materials: Materials
    bench: BenchBook
    room: Room = DEFAULT_ROOM
    costs: Costs = DEFAULT_COSTS
    matching: MatchingBook = MatchingBook()

    @model_validator(mode="after")
    def _every_code_once(self) -> "Book":
        codes = [row.code for row in self.lengths]
        if len(set(codes)) != len(codes):
            raise ValueError("each length code once")
        return self

    def length(self, code: LengthCode) -> LengthRow:
        """Return the row of table A for one length code."""
        return next(row for row in self.lengths if row.code == code)

    def trade_limits(self, code: LengthCode) -> TradeLimits:
        """Return the trade's limits for adult or junior sizes."""
        return self.trade_limits_junior if code in JUNIOR_CODES else self.trade_limits_adult
