"""The fitting sheet: what a player tells us. Only age and height are required."""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field, model_validator

from fitting.sheets.record import Record
from fitting.sheets.values import (
    Bow,
    Face,
    Feel,
    GivesWay,
    Grain,
    HandleSection,
    LengthCode,
    Level,
    Profile,
    SweetSpot,
    Thickness,
    Toe,
)

Share = Annotated[float, Field(ge=0)]
Weight3 = Annotated[float, Field(ge=0, le=3)]


class Player(Record):
    """The body that the bat is fitted to."""

    age_years: int = Field(ge=4, le=100, description="whole years")
    height_mm: float = Field(ge=900, le=2300, description="standing, barefoot")
    wrist_height_mm: float | None = Field(default=None, ge=300, le=1300)
    inside_leg_mm: float | None = Field(default=None, ge=300, le=1200)
    hand_length_mm: float | None = Field(default=None, ge=90, le=260)
    batting_hand: Literal["left", "right"] | None = None
    strength: Literal["light", "average", "strong"] | None = None


class OversMix(Record):
    """Shares of the cricket played; any positive numbers, used as proportions."""

    long: Share = 0
    fifty: Share = 0
    twenty: Share = 0

    @model_validator(mode="after")
    def _something_is_played(self) -> "OversMix":
        if self.long + self.fifty + self.twenty <= 0:
            raise ValueError("at least one share above 0")
        return self


class Shots(Record):
    """How much each stroke brings in runs, 0 to 3."""

    straight_drive: Weight3 | None = None
    drive_on_the_up: Weight3 | None = None
    cut: Weight3 | None = None
    pull_and_hook: Weight3 | None = None
    sweep: Weight3 | None = None
    lofted: Weight3 | None = None
    leg_glance: Weight3 | None = None
    back_foot_punch: Weight3 | None = None


class Game(Record):
    """How the player bats."""

    batting_place: Literal["opener", "top_order", "middle_order", "lower_order"] | None = None
    approach: Literal["patient", "balanced", "attacking", "big_hitting"] | None = None
    overs_mix: OversMix | None = None
    shots: Shots | None = None
    ball_marks_from_toe_mm: tuple[Annotated[float, Field(ge=0, le=600)], ...] | None = None
    ball: tuple[Literal["hard", "machine", "soft"], ...] | None = None
    nets_hours_a_week: float | None = Field(default=None, ge=0, le=60)


class Pitches(Record):
    """Where the player bats most."""

    bounce: Literal["low", "medium", "high", "varied"] | None = None
    surface: Literal["turf", "artificial", "matting", "concrete"] | None = None
    outfield_grass: Literal["short", "medium", "long"] | None = None
    often_damp: bool | None = None


class Hold(Record):
    """How the bat is held."""

    hands: Literal["top", "middle", "bottom"] | None = None
    tightness: Literal["light", "firm", "tight"] | None = None
    stance: Literal["upright", "medium", "crouched"] | None = None
    leading_hand: Literal["top", "bottom"] | None = None
    taps_ground: bool | None = None


class Pendulum(Record):
    """Timed swings of the bat hung on a knife edge; a swing is over and back."""

    pivot_from_handle_top_mm: float = Field(ge=0, le=400)
    swings: int = Field(ge=1, le=500)
    seconds: float = Field(gt=0, le=2000)


class PresentBat(Record):
    """The bat in use, measured and judged."""

    liked: bool | None = None
    mass_g: float | None = Field(default=None, ge=400, le=1800)
    balance_from_toe_mm: float | None = Field(default=None, ge=150, le=600)
    overall_length_mm: float | None = Field(default=None, ge=550, le=1000)
    grip_girth_mm: float | None = Field(default=None, ge=70, le=170, description="over the grip")
    length_code: LengthCode | None = None
    pendulum: Pendulum | None = None
    pickup: Literal["too_heavy", "right", "too_light"] | None = None
    sweet_spot: Literal["too_low", "right", "too_high"] | None = None
    handle: Literal["too_thin", "right", "too_thick"] | None = None
    broke_at: tuple[Literal["toe", "edge", "face", "handle", "splice"], ...] | None = None


class MassWish(Record):
    """The mass that the player asks for; either end may be missing."""

    min: float | None = Field(default=None, ge=450, le=1600, description="grams")
    max: float | None = Field(default=None, ge=450, le=1600, description="grams")

    @model_validator(mode="after")
    def _ends_in_order(self) -> "MassWish":
        if self.min is not None and self.max is not None and self.min > self.max:
            raise ValueError("min not above max")
        return self


class Wishes(Record):
    """What the player wants of the bat; a wish outranks a rule, openly."""

    mass_g: MassWish | None = None
    length_code: LengthCode | None = None
    sweet_spot: SweetSpot | None = None
    profile: Profile | None = None
    edges: Thickness | None = None
    bow: Bow | None = None
    face: Face | None = None
    toe: Toe | None = None
    handle_section: HandleSection | None = None
    handle_thickness: Thickness | None = None
    feel: Feel | None = None
    looks_grade: Annotated[int, Field(ge=1, le=4)] | None = None
    grain: Grain | None = None
    grips: Annotated[int, Field(ge=1, le=3)] | None = None
    easy_on_joints: bool | None = None
    gives_way_first: tuple[GivesWay, ...] | None = None

    @model_validator(mode="after")
    def _each_once(self) -> "Wishes":
        order = self.gives_way_first or ()
        if len(set(order)) != len(order):
            raise ValueError("each of gives_way_first once")
        return self


class FittingSheet(Record):
    """What a player tells us, ``"sheet": 1``."""

    sheet: Literal[1] = 1
    player: Player
    play_from: date | None = Field(default=None, description="date of first play; decides the edition")
    level: Level | None = None
    game: Game = Game()
    pitches: Pitches = Pitches()
    hold: Hold = Hold()
    present_bat: PresentBat = PresentBat()
    wishes: Wishes = Wishes()
