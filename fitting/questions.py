"""The interview as data: which questions there are, on which page, for whom, and what they fill in.

No sentence stands here: the words belong to the edge. How an answer is read is told in answers.py.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, get_args

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
from fitting.units import Limits

Chapter = Literal["you", "game", "pitches", "hands", "bat", "wishes"]
CHAPTERS: tuple[Chapter, ...] = get_args(Chapter)
MOST_QUESTIONS_ON_A_PAGE = 5
ADULT_AGE = 18
UNSURE = "unsure"
NO_BAT = "none"

Measure = Literal["length", "mass", "number", "whole", "date"]
Kind = Literal["typed", "one", "several", "ranked"]
# What a chosen word becomes on the sheet: itself, true or false, or a whole number.
Becomes = Literal["word", "yes_no", "whole"]
Audience = Literal["everyone", "adult", "junior", "counter"]


@dataclass(frozen=True)
class Part:
    """One box to type in: what is measured, and what is allowed (mm, g, or the number itself)."""

    key: str
    measure: Measure
    limits: Limits


@dataclass(frozen=True)
class Question:
    """One question. ``fields`` are the fields of the fitting sheet that its answer fills."""

    key: str
    chapter: Chapter
    page: str
    fields: tuple[str, ...]
    kind: Kind = "one"
    parts: tuple[Part, ...] = ()
    choices: tuple[str, ...] = ()
    becomes: Becomes = "word"
    ranks: int = 0
    many: bool = False
    required: bool = False
    audience: Audience = "everyone"
    about_bat: bool = False

    @property
    def offers_unsure(self) -> bool:
        """Whether "not sure" is one of the choices; what is typed or ticked may stay empty instead."""
        return self.kind == "one"


@dataclass(frozen=True)
class Page:
    """One page of the interview."""

    key: str
    chapter: Chapter
    questions: tuple[Question, ...]


@dataclass(frozen=True)
class Situation:
    """What decides which questions apply."""

    age_years: int | None = None
    has_bat: bool | None = None
    at_counter: bool = False

    @property
    def is_junior(self) -> bool:
        """Whether the short interview for under-18s is asked."""
        return self.age_years is not None and self.age_years < ADULT_AGE


def _typed(measure: Measure, least: float, most: float, key: str = "") -> Part:
    return Part(key, measure, Limits(least, most))


YES_NO = ("yes", "no")
LENGTH_CODES: tuple[str, ...] = get_args(LengthCode)
THICKNESSES: tuple[str, ...] = get_args(Thickness)
SHOTS = (
    "straight_drive",
    "drive_on_the_up",
    "back_foot_punch",
    "cut",
    "pull_and_hook",
    "sweep",
    "lofted",
    "leg_glance",
)

YOU = (
    Question(
        "age",
        "you",
        "you",
        ("player.age_years",),
        kind="typed",
        parts=(_typed("whole", 4, 100),),
        required=True,
    ),
    Question(
        "height",
        "you",
        "you",
        ("player.height_mm",),
        kind="typed",
        parts=(_typed("length", 900, 2300),),
        required=True,
    ),
    Question(
        "batting_hand",
        "you",
        "you",
        ("player.batting_hand",),
        choices=("right", "left"),
    ),
    Question("level", "you", "you", ("level",), choices=get_args(Level)),
    Question(
        "play_from",
        "you",
        "you",
        ("play_from",),
        kind="typed",
        parts=(_typed("date", 2000, 2100),),
    ),
)

GROWING = (
    Question(
        "wrist_height",
        "you",
        "growing",
        ("player.wrist_height_mm",),
        kind="typed",
        parts=(_typed("length", 300, 1300),),
        audience="junior",
    ),
    Question(
        "inside_leg",
        "you",
        "growing",
        ("player.inside_leg_mm",),
        kind="typed",
        parts=(_typed("length", 300, 1200),),
        audience="junior",
    ),
)

HAND_AND_ARM = (
    Question(
        "hand_length",
        "hands",
        "hand-and-arm",
        ("player.hand_length_mm",),
        kind="typed",
        parts=(_typed("length", 90, 260),),
    ),
    Question(
        "strength",
        "hands",
        "hand-and-arm",
        ("player.strength",),
        choices=("light", "average", "strong"),
    ),
)

GAME = (
    Question(
        "batting_place",
        "game",
        "game",
        ("game.batting_place",),
        choices=("opener", "top_order", "middle_order", "lower_order"),
        audience="adult",
    ),
    Question(
        "approach",
        "game",
        "game",
        ("game.approach",),
        choices=("patient", "balanced", "attacking", "big_hitting"),
        audience="adult",
    ),
    Question(
        "overs_mix",
        "game",
        "game",
        ("game.overs_mix.long", "game.overs_mix.fifty", "game.overs_mix.twenty"),
        kind="typed",
        parts=(
            _typed("number", 0, 1000, "long"),
            _typed("number", 0, 1000, "fifty"),
            _typed("number", 0, 1000, "twenty"),
        ),
        audience="adult",
    ),
    Question(
        "shots",
        "game",
        "game",
        tuple(f"game.shots.{shot}" for shot in SHOTS),
        kind="ranked",
        choices=SHOTS,
        ranks=3,
        audience="adult",
    ),
    Question(
        "ball",
        "game",
        "game",
        ("game.ball",),
        kind="several",
        choices=("hard", "machine", "soft"),
        audience="adult",
    ),
)

PITCHES = (
    Question(
        "bounce",
        "pitches",
        "pitches",
        ("pitches.bounce",),
        choices=("low", "medium", "high", "varied"),
        audience="adult",
    ),
    Question(
        "surface",
        "pitches",
        "pitches",
        ("pitches.surface",),
        choices=("turf", "artificial", "matting", "concrete"),
        audience="adult",
    ),
    Question(
        "outfield_grass",
        "pitches",
        "pitches",
        ("pitches.outfield_grass",),
        choices=("short", "medium", "long"),
        audience="adult",
    ),
    Question(
        "often_damp",
        "pitches",
        "pitches",
        ("pitches.often_damp",),
        choices=YES_NO,
        becomes="yes_no",
        audience="adult",
    ),
    Question(
        "nets_hours",
        "pitches",
        "pitches",
        ("game.nets_hours_a_week",),
        kind="typed",
        parts=(_typed("number", 0, 60),),
        audience="adult",
    ),
)

HANDS = (
    Question(
        "hands",
        "hands",
        "hands",
        ("hold.hands",),
        choices=("top", "middle", "bottom"),
        audience="adult",
    ),
    Question(
        "tightness",
        "hands",
        "hands",
        ("hold.tightness",),
        choices=("light", "firm", "tight"),
        audience="adult",
    ),
    Question(
        "stance",
        "hands",
        "hands",
        ("hold.stance",),
        choices=("upright", "medium", "crouched"),
        audience="adult",
    ),
    Question(
        "leading_hand",
        "hands",
        "hands",
        ("hold.leading_hand",),
        choices=("top", "bottom"),
        audience="adult",
    ),
    Question(
        "taps_ground",
        "hands",
        "hands",
        ("hold.taps_ground",),
        choices=YES_NO,
        becomes="yes_no",
        audience="adult",
    ),
)

BAT = (
    Question(
        "bat_liked",
        "bat",
        "bat",
        ("present_bat.liked",),
        choices=("yes", "no", NO_BAT),
        becomes="yes_no",
    ),
    Question(
        "bat_length",
        "bat",
        "bat",
        ("present_bat.length_code",),
        choices=LENGTH_CODES,
        about_bat=True,
    ),
    Question(
        "bat_pickup",
        "bat",
        "bat",
        ("present_bat.pickup",),
        choices=("too_heavy", "right", "too_light"),
        about_bat=True,
    ),
    Question(
        "bat_handle",
        "bat",
        "bat",
        ("present_bat.handle",),
        choices=("too_thin", "right", "too_thick"),
        about_bat=True,
    ),
    Question(
        "broke_at",
        "bat",
        "bat",
        ("present_bat.broke_at",),
        kind="several",
        choices=("toe", "edge", "face", "handle", "splice"),
        audience="adult",
    ),
    Question(
        "bat_mass",
        "bat",
        "bat-measured",
        ("present_bat.mass_g",),
        kind="typed",
        parts=(_typed("mass", 400, 1800),),
        about_bat=True,
    ),
    Question(
        "bat_overall",
        "bat",
        "bat-measured",
        ("present_bat.overall_length_mm",),
        kind="typed",
        parts=(_typed("length", 550, 1000),),
        about_bat=True,
        audience="adult",
    ),
    Question(
        "bat_balance",
        "bat",
        "bat-measured",
        ("present_bat.balance_from_toe_mm",),
        kind="typed",
        parts=(
            _typed("mass", 50, 1700, "reading"),
            _typed("length", 150, 600, "place"),
        ),
        about_bat=True,
        audience="adult",
    ),
    Question(
        "bat_girth",
        "bat",
        "bat-measured",
        ("present_bat.grip_girth_mm",),
        kind="typed",
        parts=(_typed("length", 70, 170),),
        about_bat=True,
        audience="adult",
    ),
    Question(
        "bat_sweet_spot",
        "bat",
        "bat-face",
        ("present_bat.sweet_spot",),
        choices=("too_high", "right", "too_low"),
        about_bat=True,
        audience="adult",
    ),
    Question(
        "ball_marks",
        "bat",
        "bat-face",
        ("game.ball_marks_from_toe_mm",),
        kind="typed",
        parts=(_typed("length", 0, 600),),
        many=True,
        about_bat=True,
        audience="adult",
    ),
    Question(
        "pendulum",
        "bat",
        "bat-face",
        (
            "present_bat.pendulum.pivot_from_handle_top_mm",
            "present_bat.pendulum.swings",
            "present_bat.pendulum.seconds",
        ),
        kind="typed",
        parts=(
            _typed("length", 0, 400, "pivot"),
            _typed("whole", 1, 500, "swings"),
            _typed("number", 0.1, 2000, "seconds"),
        ),
        about_bat=True,
        audience="counter",
    ),
)

WISHES = (
    Question(
        "wish_mass",
        "wishes",
        "wish",
        ("wishes.mass_g.min", "wishes.mass_g.max"),
        kind="typed",
        parts=(_typed("mass", 450, 1600, "min"), _typed("mass", 450, 1600, "max")),
        audience="adult",
    ),
    Question(
        "wish_length",
        "wishes",
        "wish",
        ("wishes.length_code",),
        choices=LENGTH_CODES,
        audience="adult",
    ),
    Question(
        "easy_on_joints",
        "wishes",
        "wish",
        ("wishes.easy_on_joints",),
        choices=YES_NO,
        becomes="yes_no",
        audience="adult",
    ),
    Question(
        "wish_looks",
        "wishes",
        "wish",
        ("wishes.looks_grade",),
        choices=("1", "2", "3", "4"),
        becomes="whole",
        audience="adult",
    ),
    Question(
        "wish_grain",
        "wishes",
        "wish",
        ("wishes.grain",),
        choices=get_args(Grain),
        audience="adult",
    ),
    Question(
        "wish_sweet_spot",
        "wishes",
        "wish-blade",
        ("wishes.sweet_spot",),
        choices=get_args(SweetSpot),
        audience="adult",
    ),
    Question(
        "wish_profile",
        "wishes",
        "wish-blade",
        ("wishes.profile",),
        choices=get_args(Profile),
        audience="adult",
    ),
    Question(
        "wish_edges",
        "wishes",
        "wish-blade",
        ("wishes.edges",),
        choices=THICKNESSES,
        audience="adult",
    ),
    Question(
        "wish_bow",
        "wishes",
        "wish-blade",
        ("wishes.bow",),
        choices=get_args(Bow),
        audience="adult",
    ),
    Question(
        "wish_face",
        "wishes",
        "wish-blade",
        ("wishes.face",),
        choices=get_args(Face),
        audience="adult",
    ),
    Question(
        "wish_toe",
        "wishes",
        "wish-handle",
        ("wishes.toe",),
        choices=get_args(Toe),
        audience="adult",
    ),
    Question(
        "wish_section",
        "wishes",
        "wish-handle",
        ("wishes.handle_section",),
        choices=get_args(HandleSection),
        audience="adult",
    ),
    Question(
        "wish_thickness",
        "wishes",
        "wish-handle",
        ("wishes.handle_thickness",),
        choices=THICKNESSES,
        audience="adult",
    ),
    Question(
        "wish_feel",
        "wishes",
        "wish-handle",
        ("wishes.feel",),
        choices=get_args(Feel),
        audience="adult",
    ),
    Question(
        "wish_grips",
        "wishes",
        "wish-handle",
        ("wishes.grips",),
        choices=("1", "2", "3"),
        becomes="whole",
        audience="adult",
    ),
    Question(
        "gives_way",
        "wishes",
        "wish-first",
        ("wishes.gives_way_first",),
        kind="ranked",
        choices=get_args(GivesWay),
        ranks=6,
        audience="adult",
    ),
)

QUESTIONS: tuple[Question, ...] = YOU + GROWING + GAME + PITCHES + HANDS + HAND_AND_ARM + BAT + WISHES
BY_KEY: dict[str, Question] = {question.key: question for question in QUESTIONS}
FIRST_PAGE = "you"
JUNIOR_PAGES = {"hand-and-arm": "growing", "bat-measured": "bat"}


def applies(question: Question, situation: Situation) -> bool:
    """Whether a question is asked of this player.

    Under 18 only what fits a child's bat is asked: size, mass, hands and the bat in use; profile, bow
    and springs are left to the maker (common practice, no source).
    """
    if question.about_bat and situation.has_bat is False:
        return False
    if question.audience == "counter":
        return situation.at_counter
    if question.audience == "everyone":
        return True
    return (question.audience == "junior") == situation.is_junior


def pages(situation: Situation) -> tuple[Page, ...]:
    """Return the pages that apply, in order, each with the questions that apply.

    A junior's hands stand on the page of what grows and the bat's mass beside the rest of it, so that the
    whole takes three pages.
    """
    found: dict[str, list[Question]] = {}
    for question in QUESTIONS:
        if applies(question, situation):
            found.setdefault(_page_of(question, situation), []).append(question)
    return tuple(Page(key, _chapter(questions), tuple(questions)) for key, questions in found.items())


def page_at(key: str, situation: Situation) -> Page | None:
    """Return one page, or None when there is none of that key for this player."""
    return next((page for page in pages(situation) if page.key == key), None)


def neighbours(key: str, situation: Situation) -> tuple[str | None, str | None]:
    """Return the keys of the page before and the page after, None at the ends."""
    keys = [page.key for page in pages(situation)]
    at = keys.index(key)
    before = keys[at - 1] if at > 0 else None
    return before, keys[at + 1] if at + 1 < len(keys) else None


def _page_of(question: Question, situation: Situation) -> str:
    if situation.is_junior:
        return JUNIOR_PAGES.get(question.page, question.page)
    return question.page


def _chapter(questions: Iterable[Question]) -> Chapter:
    return next(iter(questions)).chapter
