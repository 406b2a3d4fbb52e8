"""The book's part for the bench: order of work, what is entered, tolerances, plausible readings, waits.

Everything here is from memory of the trade, no source: defaults that the maker edits. The five stages are
fixed; which steps and readings stand in them, and in which order, is data.
"""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from fitting.sheets.record import Record

Stage = Literal["cleft_selection", "pressing", "shaping", "handle_fitting", "finishing"]
STAGES: tuple[Stage, ...] = ("cleft_selection", "pressing", "shaping", "handle_fitting", "finishing")
Unit = Literal["g", "mm", "percent", "seconds", "count"]
# Where along the blade a reading is taken: once, at the press's grid, at the build sheet's stations (all of
# them, or those that are free while the top is left square), or at three places of the width.
Places = Literal["once", "grid", "stations", "stations_below_square", "widths"]
# How the key of a step begins that a maker added; a number follows.
OWN_STEP = "own_"


class Step(Record):
    """One step of a stage; one that is needed must be done before the bat goes on.

    A maker's own step has words of its own; for every other the program has them.
    """

    key: str = Field(pattern=r"^[a-z][a-z0-9_]*$", max_length=32)
    needed: bool = False
    wait_hours: float = Field(
        default=0, ge=0, le=720, description="after this step, before the bat may pass on"
    )
    at_rest: bool = Field(
        default=False, description="done when the stage's own rest is over, which does not count from it"
    )
    words: str = Field(default="", max_length=160, description="the maker's own words for it")

    @model_validator(mode="after")
    def _own_words(self) -> "Step":
        if self.key.startswith(OWN_STEP) != bool(self.words.strip()):
            raise ValueError("words for an own step, and for no other")
        return self


class Entry(Record):
    """One thing that is measured in a stage, with the readings that are plausible at all."""

    key: str = Field(pattern=r"^[a-z][a-z_]*$")
    unit: Unit
    places: Places = "once"
    needed: bool = False
    least: float = Field(ge=0)
    most: float = Field(gt=0)

    @model_validator(mode="after")
    def _ends_in_order(self) -> "Entry":
        if self.least >= self.most:
            raise ValueError("least below most")
        return self


class StageWork(Record):
    """The work of one stage."""

    stage: Stage
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]
    entries: tuple[Entry, ...]
    cautions: Annotated[tuple[str, ...], Field(min_length=1)]
    wait_hours: float = Field(ge=0, description="rest after the stage's work, before the next begins")

    @model_validator(mode="after")
    def _each_key_once(self) -> "StageWork":
        for keys in ([s.key for s in self.steps], [e.key for e in self.entries]):
            if len(set(keys)) != len(keys):
                raise ValueError("each step and each entry once in a stage")
        return self


class InspectionTolerances(Record):
    """How far a finished bat may be from what was agreed; mass and pickup carry theirs in the build sheet."""

    length_mm: float = Field(gt=0)
    width_over_mm: float = Field(ge=0)
    width_under_mm: float = Field(ge=0)
    spine_mm: float = Field(gt=0)
    edge_mm: float = Field(gt=0)
    girth_mm: float = Field(gt=0)
    balance_mm: float = Field(gt=0)
    edges_apart_mm: float = Field(gt=0, description="left edge against right edge at one station")


class BenchBook(Record):
    """All five stages, the tolerances of the final inspection and the limits of the bench."""

    stages: Annotated[tuple[StageWork, ...], Field(min_length=5, max_length=5)]
    tolerances: InspectionTolerances
    grid_from_toe_mm: tuple[float, ...] = Field(description="press grid on the reference blade")
    grid_blade_mm: float = Field(gt=0, description="the blade length that the grid is given for")
    square_top_mm: float = Field(ge=0, description="left square below the shoulder until the handle is in")
    shaping_leave_mm: float = Field(ge=0, description="left on everywhere by shaping for the last cuts")
    splice_gap_most_mm: float = Field(gt=0)
    handle_offset_most_mm: float = Field(gt=0)
    press_loss_most_mm: float = Field(gt=0, description="loss of depth at which pressing stops")
    press_loss_mm: float = Field(ge=0, description="usual loss of depth, what springs back taken off")
    press_loss_sd_mm: float = Field(ge=0)
    press_toe_margin_mm: float = Field(ge=0, description="lowest part of the blade that no press reaches")
    blade_mean_depth_mm: float = Field(gt=0, description="of an adult blade; where no bat is named")
    press_widening_mm: float = Field(ge=0, description="usual gain of width in the press")
    rough_length_mm: float = Field(ge=0, description="cleft over the finished blade, least")
    rough_width_mm: float = Field(ge=0)
    rough_depth_mm: float = Field(ge=0)
    cleft_size_sd_mm: float = Field(ge=0, description="spread of one size read on a rough cleft")
    cleft_shape_sd_share: float = Field(ge=0, description="how far a rough cleft is from three sizes")
    moisture_sd_percent: float = Field(ge=0, description="spread of the meter")
    moisture_least_percent: float = Field(ge=0)
    moisture_most_percent: float = Field(ge=0)
    swing_count: int = Field(ge=5, description="swings that are timed for the pickup")
    sanding_loss_g: float = Field(default=16, ge=0, description="what sanding takes off a bare bat")
    sanding_loss_sd_g: float = Field(default=2.5, ge=0)
    station_read_sd_mm: float = Field(default=0.2, gt=0, description="spread of one depth read at a station")
    balance_read_sd_mm: float = Field(
        default=1.5, gt=0, description="spread of one balance read at the bench"
    )

    @model_validator(mode="after")
    def _the_five_in_order(self) -> "BenchBook":
        if tuple(work.stage for work in self.stages) != STAGES:
            raise ValueError("the five stages in their order")
        keys = [step.key for work in self.stages for step in work.steps]
        if len(set(keys)) != len(keys):
            raise ValueError("each step in one stage only")
        return self

    def work(self, stage: str) -> StageWork:
        """Return the work of one stage; KeyError when there is no such stage."""
        for work in self.stages:
            if work.stage == stage:
                return work
        raise KeyError(stage)

    def step(self, key: str) -> Step | None:
        """Return a step by its key, in whichever stage it stands."""
        return next((step for work in self.stages for step in work.steps if step.key == key), None)


def _steps(*keys: str, **wait_hours: float) -> tuple[Step, ...]:
    """Return steps in order: a key that ends in ! is needed, one that ends in & is done at rest."""
    return tuple(
        Step(
            key=key.rstrip("!&"),
            needed="!" in key,
            at_rest="&" in key,
            wait_hours=wait_hours.get(key.rstrip("!&"), 0),
        )
        for key in keys
    )


def _grid() -> tuple[Entry, ...]:
    """Return the depths at the press's grid in three lines along the blade, before and rested after."""
    return tuple(
        Entry(key=f"depth_{when}{line}", unit="mm", places="grid", needed=True, least=20, most=110)
        for when in ("before", "after")
        for line in ("_left", "", "_right")
    )


def _stations(places: Places) -> tuple[Entry, ...]:
    """Return spine and both edges at stations: the edges differ, so each side is read."""
    return (
        Entry(key="spine", unit="mm", places=places, needed=True, least=8, most=80),
        Entry(key="edge_left", unit="mm", places=places, needed=True, least=5, most=60),
        Entry(key="edge_right", unit="mm", places=places, needed=True, least=5, most=60),
    )


DEFAULT_BENCH = BenchBook(
    stages=(
        StageWork(
            stage="cleft_selection",
            steps=_steps(
                "pull_clefts",
                "read_grain!",
                "plane_test_strip",
                "orient_cleft!",
                "cut_to_length",
                "commit_cleft!",
                "pencil_number!",
            ),
            entries=(
                Entry(key="cleft_mass", unit="g", needed=True, least=900, most=3500),
                Entry(key="moisture", unit="percent", needed=True, least=4, most=30),
                Entry(key="grains", unit="count", least=2, most=25),
                Entry(key="cleft_depth", unit="mm", places="widths", least=40, most=110),
            ),
            cautions=("dust", "edge_tools", "band_saw", "lifting"),
            wait_hours=0,
        ),
        StageWork(
            stage="pressing",
            steps=_steps(
                "dress_square!",
                "draw_grid",
                "press_edges",
                "light_pass",
                "read_and_listen!",
                "next_pass",
                "crown_roller",
                "rest_and_read!&",
            ),
            entries=(
                *_grid(),
                Entry(key="pressed_width", unit="mm", least=70, most=130),
            ),
            cautions=("press_nip", "splitting", "ball_drop", "edge_tools"),
            wait_hours=12,
        ),
        StageWork(
            stage="shaping",
            steps=_steps(
                "cut_outline!",
                "leave_top_square!",
                "strike_spine!",
                "rough_out",
                "hollow",
                "leave_toe_deep",
                "weigh_blade",
                "rough_to_leave!",
            ),
            entries=(
                *_stations("stations_below_square"),
                Entry(key="blade_mass", unit="g", needed=True, least=250, most=1800),
                Entry(key="shaped_width", unit="mm", least=70, most=115),
            ),
            cautions=("edge_tools", "band_saw", "dust", "eye_guard"),
            wait_hours=0,
        ),
        StageWork(
            stage="handle_fitting",
            steps=_steps(
                "weigh_handle",
                "cut_socket!",
                "dry_fit!",
                "check_handle_line!",
                "glue_and_clamp!",
                "cure!",
                "shape_shoulders",
                "weigh_again",
                "last_cuts!",
                "turn_to_girth!",
                "bind!",
                "let_binding_set",
                glue_and_clamp=24,
                bind=4,
            ),
            entries=(
                Entry(key="handle_mass", unit="g", needed=True, least=80, most=450),
                Entry(key="splice_length", unit="mm", least=60, most=200),
                Entry(key="splice_gap", unit="mm", needed=True, least=0, most=5),
                Entry(key="handle_offset", unit="mm", needed=True, least=0, most=15),
                *_stations("stations"),
                Entry(key="girth_top", unit="mm", needed=True, least=60, most=150),
                Entry(key="girth_middle", unit="mm", needed=True, least=60, most=150),
                Entry(key="girth_bottom", unit="mm", needed=True, least=60, most=150),
                Entry(key="mass_dry", unit="g", least=450, most=1700),
            ),
            cautions=("turning", "splice_saw", "adhesives", "dust", "edge_tools"),
            wait_hours=0,
        ),
        StageWork(
            stage="finishing",
            steps=_steps(
                "sand",
                "raise_grain",
                "burnish",
                "gauge_bare!",
                "mark",
                "oil",
                "coverings",
                "knock_in",
                "grip!",
                "gauge_covered!&",
                "weigh_at_rest!&",
                oil=24,
            ),
            entries=(
                Entry(key="mass", unit="g", needed=True, least=450, most=1700),
                Entry(key="balance", unit="mm", needed=True, least=200, most=500),
                Entry(key="length", unit="mm", needed=True, least=550, most=970),
                Entry(key="width", unit="mm", places="widths", needed=True, least=70, most=115),
                Entry(key="final_moisture", unit="percent", least=4, most=20),
                Entry(key="swing_time", unit="seconds", least=15, most=90),
            ),
            cautions=("oily_rags", "dust", "adhesives", "knocking_in", "latex"),
            wait_hours=24,
        ),
    ),
    tolerances=InspectionTolerances(
        length_mm=3,
        width_over_mm=0,
        width_under_mm=1,
        spine_mm=1,
        edge_mm=1,
        girth_mm=2,
        balance_mm=6,
        edges_apart_mm=1.5,
    ),
    grid_from_toe_mm=(150, 250, 350, 450),
    grid_blade_mm=558,
    square_top_mm=180,
    shaping_leave_mm=1,
    splice_gap_most_mm=0.3,
    handle_offset_most_mm=1.5,
    press_loss_most_mm=5,
    press_loss_mm=2.5,
    press_loss_sd_mm=0.6,
    press_toe_margin_mm=20,
    blade_mean_depth_mm=33,
    press_widening_mm=0.6,
    rough_length_mm=25,
    rough_width_mm=5,
    rough_depth_mm=6,
    cleft_size_sd_mm=1,
    cleft_shape_sd_share=0.02,
    moisture_sd_percent=1,
    moisture_least_percent=8,
    moisture_most_percent=13,
    swing_count=30,
)
