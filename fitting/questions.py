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
AT_AN_EDGE = "edge"

Measure = Literal["length", "mass", "number", "whole", "date"]
Kind = Literal["typed", "one", "several", "ranked"]
# What a chosen word becomes on the sheet: itself, true or false, or a whole number.
Becomes = Literal["word", "yes_no", "whole"]
Audience = Literal["everyone", "adult", "junior", "counter"]
# The line drawings of how to measure; each is a template of its name.
Drawing = Literal["height", "wrist", "leg", "hand", "hold", "girth", "overall", "balance", "marks", "swings"]
DRAWINGS: tuple[Drawing, ...] = get_args(Drawing)


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
    # Choices that are an answer and fill no field.
    fills_nothing: tuple[str, ...] = ()
    # Which drawing shows how to measure it, and whether it stands open.
    drawing: Drawing | None = None
    drawing_open: bool = False

    @property
    def most_ranks(self) -> int:
        """How many places are read: older drafts may have ranked more than is asked now."""
        return len(self.choices) if self.field_is_a_list else self.ranks

    @property
    def field_is_a_list(self) -> bool:
        """Whether one field of the sheet holds everything that was chosen."""
        return self.kind in {"several", "ranked"} and len(self.fields) == 1

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


def _measured(
    key: str,
    page: tuple[Chapter, str],
    field: str,
    part: Part,
    *,
    audience: Audience = "everyone",
    required: bool = False,
    drawing: Drawing | None = None,
) -> Question:
    """One box that fills one field."""
    return Question(
        key,
        *page,
        (field,),
        kind="typed",
        parts=(part,),
        audience=audience,
        required=required,
        drawing=drawing,
        about_bat=field.startswith("present_bat."),
    )


def _chosen(
    key: str,
    page: tuple[Chapter, str],
    field: str,
    choices: tuple[str, ...],
    *,
    becomes: Becomes = "word",
    audience: Audience = "adult",
    about_bat: bool = False,
    fills_nothing: tuple[str, ...] = (),
    drawing: Drawing | None = None,
) -> Question:
    """One choice that fills one field; its drawing stands open, as it tells the choices apart."""
    return Question(
        key,
        *page,
        (field,),
        choices=choices,
        becomes=becomes,
        audience=audience,
        about_bat=about_bat,
        fills_nothing=fills_nothing,
        drawing=drawing,
        drawing_open=drawing is not None,
    )


YOU_PAGE: tuple[Chapter, str] = ("you", "you")
YOU = (
    _measured("age", YOU_PAGE, "player.age_years", _typed("whole", 4, 100), required=True),
    _measured(
        "height", YOU_PAGE, "player.height_mm", _typed("length", 900, 2300), required=True, drawing="height"
    ),
    _measured(
        "wrist_height", YOU_PAGE, "player.wrist_height_mm", _typed("length", 300, 1300), drawing="wrist"
    ),
    _measured("hand_length", YOU_PAGE, "player.hand_length_mm", _typed("length", 90, 260), drawing="hand"),
    _chosen("batting_hand", YOU_PAGE, "player.batting_hand", ("right", "left"), audience="everyone"),
)

GROWING = (
    _measured(
        "inside_leg",
        ("you", "growing"),
        "player.inside_leg_mm",
        _typed("length", 300, 1200),
        audience="junior",
        drawing="leg",
    ),
)

GAME_PAGE: tuple[Chapter, str] = ("game", "game")
GAME = (
    _chosen("level", GAME_PAGE, "level", get_args(Level), audience="everyone"),
    Question(
        "overs_mix",
        *GAME_PAGE,
        ("game.overs_mix.long", "game.overs_mix.fifty", "game.overs_mix.twenty"),
        kind="typed",
        parts=(
            _typed("number", 0, 1000, "long"),
            _typed("number", 0, 1000, "fifty"),
            _typed("number", 0, 1000, "twenty"),
        ),
        audience="adult",
    ),
    _chosen(
        "batting_place",
        GAME_PAGE,
        "game.batting_place",
        ("opener", "top_order", "middle_order", "lower_order"),
    ),
    _chosen("approach", GAME_PAGE, "game.approach", ("patient", "balanced", "attacking", "big_hitting")),
    Question(
        "shots",
        *GAME_PAGE,
        tuple(f"game.shots.{shot}" for shot in SHOTS),
        kind="ranked",
        choices=SHOTS,
        ranks=3,
        audience="adult",
    ),
)

PITCHES_PAGE: tuple[Chapter, str] = ("pitches", "pitches")
PITCHES = (
    _chosen("bounce", PITCHES_PAGE, "pitches.bounce", ("low", "medium", "high", "varied")),
    _chosen("surface", PITCHES_PAGE, "pitches.surface", ("turf", "artificial", "matting", "concrete")),
    _chosen("outfield_grass", PITCHES_PAGE, "pitches.outfield_grass", ("short", "medium", "long")),
    _chosen("often_damp", PITCHES_PAGE, "pitches.often_damp", YES_NO, becomes="yes_no"),
)

# What decides how the bat is protected stands together.
WEAR_PAGE: tuple[Chapter, str] = ("pitches", "wear")
WEAR = (
    Question(
        "ball",
        *WEAR_PAGE,
        ("game.ball",),
        kind="several",
        choices=("hard", "machine", "soft"),
        audience="adult",
    ),
    _measured("nets_hours", WEAR_PAGE, "game.nets_hours_a_week", _typed("number", 0, 60), audience="adult"),
    _chosen("taps_ground", WEAR_PAGE, "hold.taps_ground", YES_NO, becomes="yes_no"),
    Question(
        "broke_at",
        *WEAR_PAGE,
        ("present_bat.broke_at",),
        kind="several",
        choices=("toe", "edge", "face", "handle", "splice"),
        audience="adult",
    ),
)

HANDS_PAGE: tuple[Chapter, str] = ("hands", "hands")
HANDS = (
    _chosen("hands", HANDS_PAGE, "hold.hands", ("top", "middle", "bottom"), drawing="hold"),
    _chosen("tightness", HANDS_PAGE, "hold.tightness", ("light", "firm", "tight")),
    _chosen("stance", HANDS_PAGE, "hold.stance", ("upright", "medium", "crouched")),
    _chosen("leading_hand", HANDS_PAGE, "hold.leading_hand", ("top", "bottom")),
    _chosen("strength", HANDS_PAGE, "player.strength", ("light", "average", "strong"), audience="everyone"),
)

BAT_PAGE: tuple[Chapter, str] = ("bat", "bat")
MEASURED_PAGE: tuple[Chapter, str] = ("bat", "bat-measured")
FACE_PAGE: tuple[Chapter, str] = ("bat", "bat-face")
BAT = (
    _chosen(
        "bat_liked",
        BAT_PAGE,
        "present_bat.liked",
        ("yes", "no", NO_BAT),
        becomes="yes_no",
        fills_nothing=(NO_BAT,),
    ),
    _chosen("bat_length", BAT_PAGE, "present_bat.length_code", LENGTH_CODES, about_bat=True),
    _chosen(
        "bat_pickup",
        BAT_PAGE,
        "present_bat.pickup",
        ("too_heavy", "right", "too_light"),
        about_bat=True,
        audience="everyone",
    ),
    _chosen("bat_handle", BAT_PAGE, "present_bat.handle", ("too_thin", "right", "too_thick"), about_bat=True),
    _measured("bat_mass", MEASURED_PAGE, "present_bat.mass_g", _typed("mass", 400, 1800)),
    _measured(
        "bat_overall",
        MEASURED_PAGE,
        "present_bat.overall_length_mm",
        _typed("length", 550, 1000),
        audience="adult",
        drawing="overall",
    ),
    Question(
        "bat_balance",
        *MEASURED_PAGE,
        ("present_bat.balance_from_toe_mm",),
        kind="typed",
        parts=(_typed("mass", 50, 1700, "reading"), _typed("length", 150, 600, "place")),
        about_bat=True,
        audience="adult",
        drawing="balance",
    ),
    Question(
        "pendulum",
        *MEASURED_PAGE,
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
        drawing="swings",
    ),
    _measured(
        "bat_girth",
        MEASURED_PAGE,
        "present_bat.grip_girth_mm",
        _typed("length", 70, 170),
        audience="adult",
        drawing="girth",
    ),
    _chosen(
        "bat_sweet_spot",
        FACE_PAGE,
        "present_bat.sweet_spot",
        ("too_high", "too_low", AT_AN_EDGE, "right"),
        about_bat=True,
        fills_nothing=(AT_AN_EDGE,),
    ),
    Question(
        "ball_marks",
        *FACE_PAGE,
        ("game.ball_marks_from_toe_mm",),
        kind="typed",
        parts=(_typed("length", 0, 600),),
        many=True,
        about_bat=True,
        audience="adult",
        drawing="marks",
    ),
)

WISH_PAGE: tuple[Chapter, str] = ("wishes", "wish")
BLADE_PAGE: tuple[Chapter, str] = ("wishes", "wish-blade")
HANDLE_PAGE: tuple[Chapter, str] = ("wishes", "wish-handle")
LOOKS_PAGE: tuple[Chapter, str] = ("wishes", "wish-looks")
WISHES = (
    Question(
        "gives_way",
        *WISH_PAGE,
        ("wishes.gives_way_first",),
        kind="ranked",
        choices=get_args(GivesWay),
        ranks=3,
        audience="adult",
    ),
    _chosen("easy_on_joints", WISH_PAGE, "wishes.easy_on_joints", YES_NO, becomes="yes_no"),
    Question(
        "wish_mass",
        *WISH_PAGE,
        ("wishes.mass_g.min", "wishes.mass_g.max"),
        kind="typed",
        parts=(_typed("mass", 450, 1600, "min"), _typed("mass", 450, 1600, "max")),
        audience="adult",
    ),
    _chosen("wish_length", WISH_PAGE, "wishes.length_code", LENGTH_CODES),
    _measured("play_from", WISH_PAGE, "play_from", _typed("date", 2000, 2100), audience="adult"),
    _chosen("wish_sweet_spot", BLADE_PAGE, "wishes.sweet_spot", get_args(SweetSpot)),
    _chosen("wish_profile", BLADE_PAGE, "wishes.profile", get_args(Profile)),
    _chosen("wish_edges", BLADE_PAGE, "wishes.edges", THICKNESSES),
    _chosen("wish_bow", BLADE_PAGE, "wishes.bow", get_args(Bow)),
    _chosen("wish_toe", BLADE_PAGE, "wishes.toe", get_args(Toe)),
    _chosen("wish_section", HANDLE_PAGE, "wishes.handle_section", get_args(HandleSection)),
    _chosen("wish_thickness", HANDLE_PAGE, "wishes.handle_thickness", THICKNESSES),
    _chosen("wish_feel", HANDLE_PAGE, "wishes.feel", get_args(Feel)),
    _chosen("wish_grips", HANDLE_PAGE, "wishes.grips", ("1", "2", "3"), becomes="whole"),
    _chosen("wish_face", LOOKS_PAGE, "wishes.face", get_args(Face)),
    _chosen("wish_looks", LOOKS_PAGE, "wishes.looks_grade", ("1", "2", "3", "4"), becomes="whole"),
    _chosen("wish_grain", LOOKS_PAGE, "wishes.grain", get_args(Grain)),
)

QUESTIONS: tuple[Question, ...] = YOU + GROWING + GAME + PITCHES + WEAR + HANDS + BAT + WISHES
BY_KEY: dict[str, Question] = {question.key: question for question in QUESTIONS}
FIRST_PAGE = "you"
# Everything asked of a junior after the first page stands on one second page, in the chapter of the bat.
JUNIOR_SECOND = "growing"
JUNIOR_SECOND_CHAPTER: Chapter = "bat"
# Asked of juniors once: what an older draft says of it still counts.
STILL_HEARD_OF_JUNIORS = frozenset({"bat_liked", "bat_length", "bat_handle", "play_from"})


def applies(question: Question, situation: Situation) -> bool:
    """Whether a question is asked of this player.

    Under 18 only what decides a child's bat is asked: length, a ceiling for the mass, a thin handle, a
    guard; profile, bow and springs are left to the maker (common practice, no source).
    """
    if question.about_bat and situation.has_bat is False:
        return False
    if question.audience == "counter":
        return situation.at_counter and not situation.is_junior
    if question.audience == "everyone":
        return True
    return (question.audience == "junior") == situation.is_junior


def counts(question: Question, situation: Situation) -> bool:
    """Whether an answer goes into the sheet: its question is asked, or was in an older interview."""
    if applies(question, situation):
        return True
    if question.about_bat and situation.has_bat is False:
        return False
    return situation.is_junior and question.key in STILL_HEARD_OF_JUNIORS


def pages(situation: Situation) -> tuple[Page, ...]:
    """Return the pages that apply, in order, each with the questions that apply; a junior's are two."""
    found: dict[str, list[Question]] = {}
    for question in QUESTIONS:
        if applies(question, situation):
            found.setdefault(_page_of(question, situation), []).append(question)
    return tuple(Page(key, _chapter(key, questions), tuple(questions)) for key, questions in found.items())


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
    if situation.is_junior and question.page != FIRST_PAGE:
        return JUNIOR_SECOND
    return question.page


def _chapter(key: str, questions: Iterable[Question]) -> Chapter:
    return JUNIOR_SECOND_CHAPTER if key == JUNIOR_SECOND else next(iter(questions)).chapter
