"""The rules of the book: how answers weigh, and what wishes in words mean in numbers."""

from typing import Annotated, Literal, get_args

from pydantic import Field, model_validator

from fitting.facts import FACTS
from fitting.sheets.record import Record
from fitting.sheets.values import (
    Bow,
    Construction,
    Face,
    HandleSection,
    LengthCode,
    Profile,
    SweetSpot,
    Thickness,
    Toe,
)

Subject = Literal[
    "length",
    "length_child",
    "sweet_spot",
    "profile",
    "edges",
    "bow",
    "face",
    "toe",
    "scoop",
    "construction",
    "section",
    "toe_guard",
    "face_film",
    "edge_tape",
    "grade",
]


# Lengths go by height, which is always known (a child's by a table, and between two sizes by signs for the
# table's own size or the next); every other subject needs an option without conditions.
_COVERED = ("none", "on")
_OPTIONS: dict[str, tuple[str, ...]] = {
    "length": get_args(LengthCode),
    "length_child": ("own", "next"),
    "sweet_spot": get_args(SweetSpot),
    "profile": get_args(Profile),
    "edges": get_args(Thickness),
    "bow": get_args(Bow),
    "face": ("resting", *get_args(Face)),
    "toe": ("standard", *get_args(Toe)),
    "scoop": ("none", "scooped"),
    "construction": get_args(Construction),
    "section": get_args(HandleSection),
    "toe_guard": _COVERED,
    "face_film": _COVERED,
    "edge_tape": _COVERED,
    "grade": ("1", "2", "3", "4"),
}
_WITH_A_DEFAULT = frozenset(get_args(Subject)) - {"length"}


class Condition(Record):
    """One answer that a sign looks at; of a list, one element that fits is enough."""

    answer: str = Field(description="dotted field of the fitting sheet, or build.* for a choice already made")
    one_of: tuple[str | bool | int, ...] | None = None
    at_least: float | None = None
    below: float | None = None

    @model_validator(mode="after")
    def _asks_something(self) -> "Condition":
        if self.one_of is None and self.at_least is None and self.below is None:
            raise ValueError("one_of, at_least or below")
        return self


class Sign(Record):
    """Points for one option of one subject when every condition holds; without conditions: the default."""

    subject: Subject
    option: str
    points: float = Field(ge=-20, le=20)
    fact: str = Field(min_length=3, max_length=60)
    when: tuple[Condition, ...] = ()

    @model_validator(mode="after")
    def _option_of_its_subject(self) -> "Sign":
        if self.option not in _OPTIONS[self.subject]:
            raise ValueError("option one of " + ", ".join(_OPTIONS[self.subject]))
        if self.fact not in FACTS:
            raise ValueError("fact one of the known facts, such as bow.for")
        return self


class WishNumbers(Record):
    """What the words of the wishes are in numbers; from memory of the trade."""

    reference_blade_mm: float = Field(
        ge=400, le=620, description="the blade that the swell bands are told for"
    )
    swell_low_mm: tuple[float, float]
    swell_mid_mm: tuple[float, float]
    swell_high_mm: tuple[float, float]
    swell_long_mm: tuple[float, float]
    bow_none_mm: float = Field(ge=0, le=3)
    bow_slight_mm: float = Field(ge=4, le=8)
    bow_full_mm: float = Field(ge=9, le=15)
    crown_flat_mm: float = Field(ge=0, le=0.5)
    crown_resting_mm: float = Field(ge=0.5, le=1.5)
    crown_rounded_mm: float = Field(ge=1.5, le=2.5)
    girth_step_mm: float = Field(ge=0, le=10)
    toe_light_mm: float = Field(ge=10, le=30)
    toe_standard_mm: float = Field(ge=10, le=30)
    toe_strong_mm: float = Field(ge=10, le=30)
    toe_corner_less_mm: float = Field(ge=0, le=10, description="how much less deep the toe's corners are")
    edge_thin_mm: float = Field(le=0, description="change of the edge at the swell, adult")
    edge_thick_mm: float = Field(ge=0, description="change of the edge at the swell, adult")
    oval_ratio: float = Field(ge=1, le=1.3)


Share = Annotated[float, Field(ge=0, le=1)]
Eight = tuple[float, float, float, float, float, float, float, float]
_NOTHING: Eight = (0.0,) * 8


class ProfileNumbers(Record):
    """What a profile's name is in numbers: shares of the depth over the toe, and hollows of the back."""

    spine_shares: tuple[Share, Share, Share] = Field(
        description="share of the rise from toe to swell at 1/4, 1/2 and 3/4 of the way"
    )
    upper_share: float = Field(
        ge=0, le=1, description="share of the fall from swell to splice kept half way up"
    )
    edge_shares: tuple[Share, Share, Share] = Field(description="the same shares for the edge")
    scallop_toe: float = Field(ge=0.9, le=3)
    scallop_swell: float = Field(ge=0.9, le=3)
    scallop_shoulder: float = Field(ge=0.9, le=3)
    scoop_length_mm: float = Field(gt=0, le=140)
    scoop_depth_mm: float = Field(gt=0, le=20)


class SweetSpotShape(Record):
    """How a sweet spot's choice shapes the blade beside its swell, mm on an adult blade.

    Eight places: toe, three at a quarter, half and three quarters of the way to the swell, the swell, half
    way from there to the splice's tip, that tip, the shoulder. A toe of a wished depth keeps it.
    """

    spine_mm: Eight = _NOTHING
    edge_mm: Eight = _NOTHING
    scallop: Eight = _NOTHING


class RestingDepths(Record):
    """Depths of an adult blade neither thin nor full, mm; the swell's stand in the table of lengths."""

    tip_mm: float = Field(description="spine over the splice tip")
    shoulder_mm: float
    edge_tip_mm: float
    edge_shoulder_mm: float


class DepthChange(Record):
    """How far a blade may leave the resting depths in one direction, adult, mm."""

    swell_mm: float
    tip_mm: float
    shoulder_mm: float
    edge_mm: float


class RangeOfDepths(Record):
    """The room in which the blade is solved for its mass; the trade's limits and the Laws narrow it."""

    resting: RestingDepths
    less: DepthChange
    more: DepthChange
    scallop: float = Field(ge=0, le=1, description="change of the hollow, either way")
    wished_edge_share: float = Field(
        ge=0, le=1, description="share of the edge's range left by a wish for it"
    )


class Rules(Record):
    """Thresholds and weights of the recommendation."""

    signs: tuple[Sign, ...]
    inch_slack_mm: float = Field(ge=0, le=10, description="a bound in inches must not exclude whom it names")
    junior_sizes_below_years: int = Field(ge=4, le=21)
    junior_level_below_years: int = Field(ge=4, le=21)
    junior_upper_bounds_mm: Annotated[tuple[float, ...], Field(min_length=7, max_length=7)]
    small_adult_by_table_below_mm: float = Field(ge=900, le=1700)
    between_sizes_mm: float = Field(
        ge=0, le=60, description="so near the upper bound of a junior size the next one may be taken"
    )
    marks_at_least: int = Field(ge=1, description="fewer ball marks than this say nothing")
    prior_points: float = Field(ge=0, description="weight of the present bat when it is liked")
    lead_of_conflict: float = Field(ge=0, description="a rule must lead a wish by this to be told")
    points_of_a_whole_lead: float = Field(
        gt=0, description="ahead by this, a choice is as sure as answers make it"
    )
    confidence_floor: float = Field(ge=0, le=1)
    confidence_of_default: float = Field(ge=0, le=1, description="where no answer could change the value")
    confidence_of_wish: float = Field(ge=0, le=1)
    confidence_of_wish_against_rule: float = Field(ge=0, le=1)
    hand_to_diameter: float = Field(ge=0.1, le=0.3, description="handle diameter over hand length")
    girth_top_less_mm: float = Field(ge=0, le=10)
    girth_bottom_more_mm: float = Field(ge=0, le=12)
    girth_tight_less_mm: float = Field(ge=0, le=10)
    mass_step_g: float = Field(ge=0, description="answer to a bat that is too heavy or too light")
    mass_light_share: float = Field(ge=0, le=1, description="where in the usual band a light bat lies")
    mass_usual_share: float = Field(ge=0, le=1)
    mass_tolerance_g: float = Field(ge=1)
    mass_tolerance_least_g: float = Field(ge=1)
    pickup_tolerance_share: float = Field(ge=0.001, le=0.5)
    pickup_right_share: float = Field(
        ge=0.001,
        le=0.2,
        description="a pickup that felt right is kept within this, or one spread of its measure",
    )
    pickup_step_share: float = Field(
        ge=0,
        le=0.2,
        description="a pickup that was too heavy or too light is moved by this",
    )
    pickup_noticed_share: float = Field(
        ge=0, le=0.2, description="what a player can tell apart: moved by less, a pickup is told as missed"
    )
    pickup_mass_shift_g: float = Field(
        ge=0, le=80, description="how far the mass may leave its aim for the pickup, where no mass was wished"
    )
    tilt_most_mm: float = Field(ge=0, le=6, description="wood moved between toe and shoulder for the pickup")
    density_least_kg_m3: float = Field(ge=250, le=700)
    density_usual_kg_m3: float = Field(ge=250, le=700)
    density_most_kg_m3: float = Field(ge=250, le=700)
    density_half_band_kg_m3: float = Field(ge=1, le=40)
    density_hard_hitter_least_kg_m3: float = Field(ge=250, le=700)
    density_rare_kg_m3: float = Field(
        ge=0, le=60, description="how far beyond the least and the most willow is looked for, with time"
    )
    density_spread_kg_m3: float = Field(
        gt=0, description="how far from the middle before it costs as much as shape"
    )
    fullness_spread: float = Field(gt=0)
    range_of_depths: RangeOfDepths
    profiles: dict[Profile, ProfileNumbers]
    sweet_spots: dict[SweetSpot, SweetSpotShape]
    shoulder_length_mm: float = Field(ge=10, le=120)
    shoulder_width_mm: float = Field(ge=40, le=100)
    splice_width_mm: float = Field(ge=26, le=60)
    toe_corner_radius_mm: float = Field(ge=0, le=50)
    edge_radius_face_mm: float = Field(ge=0, le=15)
    edge_radius_back_mm: float = Field(ge=0, le=20)
    bow_peak_share: float = Field(ge=0.2, le=0.8, description="of the blade's length")
    width_less_with_tape_mm: float = Field(ge=0, le=3)
    oil_coats: int = Field(ge=0, le=6)
    oil_coats_under_film: int = Field(ge=0, le=6)
    knocked_in_minutes: float = Field(ge=0, le=1000)
    other_material_share: dict[Construction, Share]
    other_material_reach_mm: float = Field(ge=0, le=82.5)

    @model_validator(mode="after")
    def _hangs_together(self) -> "Rules":
        if list(self.junior_upper_bounds_mm) != sorted(set(self.junior_upper_bounds_mm)):
            raise ValueError("junior_upper_bounds_mm rising")
        least = max(self.density_least_kg_m3, self.density_hard_hitter_least_kg_m3)
        if least + 2 * self.density_half_band_kg_m3 > self.density_most_kg_m3:
            raise ValueError("density_most_kg_m3 a whole band above the least densities")
        if self.shoulder_width_mm < self.splice_width_mm + 8:
            raise ValueError("shoulder_width_mm at least 8 mm above splice_width_mm")
        if set(self.profiles) != set(get_args(Profile)):
            raise ValueError("profiles for each of " + ", ".join(get_args(Profile)))
        if set(self.sweet_spots) != set(get_args(SweetSpot)):
            raise ValueError("sweet_spots for each of " + ", ".join(get_args(SweetSpot)))
        if set(self.other_material_share) != set(get_args(Construction)):
            raise ValueError("other_material_share for each of " + ", ".join(get_args(Construction)))
        decided = {sign.subject for sign in self.signs if not sign.when}
        if "length" not in {sign.subject for sign in self.signs}:
            raise ValueError("signs for length")
        if missing := _WITH_A_DEFAULT - decided:
            raise ValueError("signs with a default for each of " + ", ".join(sorted(missing)))
        return self
