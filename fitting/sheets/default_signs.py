"""The default signs: which answer speaks for which option, with the fact of the trade behind it.

Points are the project's own scale: the usual choice of a subject carries about 2, one plain answer about
1, so that leaving the middle takes two answers that agree. Kinds and sources of the facts: fitting/facts.py.
"""

from fitting.sheets.book_rules import Condition, Sign, Subject


def _is(answer: str, *values: str | bool | int) -> Condition:
    return Condition(answer=answer, one_of=values)


def _from(answer: str, at_least: float, below: float | None = None) -> Condition:
    return Condition(answer=answer, at_least=at_least, below=below)


def _sign(subject: Subject, option: str, points: float, fact: str, *when: Condition) -> Sign:
    return Sign(subject=subject, option=option, points=points, fact=fact, when=when)


HEIGHT = "player.height_mm"
CHILD = _is("build.child", True)

# Bounds as the trade prints them, in inches: 5 ft 4, 5 ft 6, 5 ft 10 in and so on; slack is added on reading.
LENGTH = (
    _sign("length", "harrow", 4, "length.small_adult", Condition(answer=HEIGHT, below=1550)),
    _sign("length", "small_adult", 4, "length.small_adult", _from(HEIGHT, 1550, 1600)),
    _sign(
        "length",
        "harrow",
        0.75,
        "length.small_adult",
        _from(HEIGHT, 1550, 1600),
        _is("player.strength", "light"),
    ),
    _sign(
        "length",
        "super_short",
        1.5,
        "length.small_adult",
        _from(HEIGHT, 1550, 1600),
        _is("player.strength", "strong"),
    ),
    _sign(
        "length",
        "super_short",
        3,
        "length.small_adult",
        _from(HEIGHT, 1550, 1600),
        Condition(answer="player.wrist_to_height", at_least=0.5),
    ),
    _sign("length", "super_short", 4, "length.super_short", _from(HEIGHT, 1600, 1676.4)),
    _sign(
        "length",
        "short_handle",
        1,
        "length.super_short",
        _from(HEIGHT, 1625.6, 1676.4),
        _is("hold.hands", "top"),
    ),
    _sign("length", "short_handle", 4.5, "length.short_handle", _from(HEIGHT, 1676.4, 1778)),
    _sign("length", "short_handle", 4, "length.between", _from(HEIGHT, 1778, 1892)),
    _sign("length", "short_handle", 1, "length.between", _from(HEIGHT, 1892, 1930)),
    _sign("length", "long_handle", 1, "length.between", _from(HEIGHT, 1778, 1892)),
    _sign("length", "long_handle", 4, "length.between", Condition(answer=HEIGHT, at_least=1892)),
    _sign("length", "long_handle", 2, "length.long_handle", _from(HEIGHT, 1778), _is("hold.hands", "top")),
    _sign(
        "length",
        "long_handle",
        1,
        "length.between",
        _from(HEIGHT, 1829),
        _from("player.wrist_to_height", 0.5),
    ),
    _sign(
        "length", "long_handle", 2, "length.long_handle", _from(HEIGHT, 1778), _is("hold.stance", "upright")
    ),
    _sign("length", "long_blade", 6, "length.long_blade", _from(HEIGHT, 1850), _is("hold.hands", "bottom")),
    _sign("length", "long_blade", 1, "length.long_blade", _from(HEIGHT, 1850), _is("hold.stance", "upright")),
    _sign("length", "long_handle_long_blade", 9, "length.both_long", Condition(answer=HEIGHT, at_least=2007)),
    _sign("length", "long_handle_long_blade", 2, "length.both_long", Condition(answer=HEIGHT, at_least=2032)),
    _sign(
        "length",
        "long_handle_short_blade",
        2.25,
        "length.long_handle_short_blade",
        _from(HEIGHT, 1676.4),
        _from("game.overs_mix.twenty", 0.6),
    ),
    _sign(
        "length",
        "long_handle_short_blade",
        2.25,
        "length.long_handle_short_blade",
        _from(HEIGHT, 1676.4),
        _is("game.approach", "big_hitting"),
    ),
    _sign(
        "length",
        "long_handle_short_blade",
        0.75,
        "length.long_handle_short_blade",
        _from(HEIGHT, 1676.4),
        _from("game.shots.lofted", 3),
    ),
)

# Near the next size: the smaller unless two signs of reach and strength speak for the larger.
BETWEEN_SIZES = (
    _sign("length_child", "own", 1.5, "length.junior_table"),
    _sign("length_child", "own", 1, "length.between_sizes", _is("player.strength", "light")),
    _sign("length_child", "next", 1, "length.between_sizes", _is("player.strength", "strong")),
    _sign("length_child", "next", 1, "length.between_sizes", _from("player.wrist_to_height", 0.49)),
    _sign("length_child", "next", 1, "length.between_sizes", _from("player.leg_to_height", 0.47)),
    _sign("length_child", "next", 1, "length.between_sizes", _is("hold.hands", "bottom")),
    _sign("length_child", "next", 0.75, "length.between_sizes", _from("player.age_years", 15)),
    _sign("length_child", "own", 1, "child.lighter", Condition(answer="player.age_years", below=10)),
)

SWEET_SPOT = (
    _sign("sweet_spot", "mid", 2, "sweet_spot.mid"),
    _sign("sweet_spot", "mid", 1, "sweet_spot.mid", _is("pitches.bounce", "medium", "varied")),
    _sign("sweet_spot", "mid", 6, "child.simple", CHILD),
    _sign("sweet_spot", "high", 1.5, "sweet_spot.high", _is("pitches.bounce", "high")),
    _sign("sweet_spot", "high", 0.5, "sweet_spot.high", _from("game.shots.cut", 2)),
    _sign("sweet_spot", "high", 0.5, "sweet_spot.high", _from("game.shots.pull_and_hook", 2)),
    _sign("sweet_spot", "high", 0.5, "sweet_spot.high", _from("game.shots.back_foot_punch", 2)),
    _sign("sweet_spot", "high", 1.5, "sweet_spot.marks", _from("game.ball_marks_from_toe_mm", 235)),
    _sign("sweet_spot", "mid", 1, "sweet_spot.marks", _from("game.ball_marks_from_toe_mm", 190, 235)),
    _sign(
        "sweet_spot",
        "low",
        1.5,
        "sweet_spot.marks",
        Condition(answer="game.ball_marks_from_toe_mm", below=190),
    ),
    _sign("sweet_spot", "high", 1, "sweet_spot.present", _is("present_bat.sweet_spot", "too_low")),
    _sign("sweet_spot", "low", 1, "sweet_spot.present", _is("present_bat.sweet_spot", "too_high")),
    _sign("sweet_spot", "low", 1.5, "sweet_spot.low", _is("pitches.bounce", "low")),
    _sign("sweet_spot", "low", 1, "sweet_spot.low", _from("game.shots.straight_drive", 2)),
    _sign("sweet_spot", "low", 0.5, "sweet_spot.low", _from("game.shots.sweep", 2)),
    _sign("sweet_spot", "long", 1.25, "sweet_spot.long", _from("game.shots.drive_on_the_up", 2)),
    _sign("sweet_spot", "long", 2, "sweet_spot.long", _from("game.shots.drive_on_the_up", 3)),
)

PROFILE = (
    _sign("profile", "tapered_spine", 1.5, "profile.tapered_spine"),
    _sign("profile", "tapered_spine", 6, "child.simple", CHILD),
    _sign(
        "profile", "tapered_spine", 1, "profile.tapered_spine", _is("game.approach", "patient", "balanced")
    ),
    _sign(
        "profile",
        "tapered_spine",
        0.5,
        "profile.tapered_spine",
        _is("game.batting_place", "opener", "top_order"),
    ),
    _sign("profile", "tapered_spine", 0.5, "profile.tapered_spine", _from("game.shots.straight_drive", 2)),
    _sign("profile", "tapered_spine", 0.75, "profile.tapered_spine", _from("game.overs_mix.long", 0.6)),
    _sign("profile", "full", 0.75, "profile.full", _from("game.overs_mix.twenty", 0.6)),
    _sign("profile", "spine_to_toe", 2, "profile.spine_to_toe", _is("build.sweet_spot", "low")),
    _sign("profile", "spine_to_toe", 1, "profile.spine_to_toe", _is("pitches.bounce", "low")),
    _sign("profile", "spine_to_toe", 0.75, "profile.spine_to_toe", _is("present_bat.broke_at", "toe")),
    _sign("profile", "scalloped", 1.25, "profile.scalloped", _from("game.shots.leg_glance", 2)),
    _sign("profile", "scalloped", 1, "profile.scalloped", _from("game.shots.cut", 2)),
    _sign("profile", "scalloped", 1, "profile.scalloped", _is("player.strength", "light")),
    _sign("profile", "scalloped", 1, "profile.scalloped", _is("present_bat.pickup", "too_heavy")),
    _sign("profile", "scalloped", 0.75, "profile.scalloped", _is("wishes.easy_on_joints", True)),
    _sign("profile", "full", 2.5, "profile.full", _is("game.approach", "big_hitting")),
    _sign("profile", "full", 1, "profile.full", _from("game.shots.lofted", 2)),
    _sign("profile", "full", 0.5, "profile.full", _from("game.shots.pull_and_hook", 3)),
    _sign("profile", "full", -1.5, "sweet_spot.size_costs_mass", _is("present_bat.pickup", "too_heavy")),
    _sign("profile", "full", -1.5, "sweet_spot.size_costs_mass", _is("wishes.easy_on_joints", True)),
)

EDGES = (_sign("edges", "medium", 2, "profile.before_edges"),)

BOW = (
    _sign("bow", "slight", 2, "bow.resting"),
    _sign("bow", "none", 6, "child.simple", CHILD),
    _sign("bow", "full", 1.25, "bow.for", _from("game.shots.lofted", 2)),
    _sign("bow", "full", 0.75, "bow.for", _from("game.shots.lofted", 3)),
    _sign("bow", "full", 1.25, "bow.for", _is("pitches.outfield_grass", "long")),
    _sign("bow", "full", 0.5, "bow.for", _is("game.approach", "big_hitting")),
    _sign("bow", "none", 1, "bow.against", _is("build.sweet_spot", "long")),
    _sign("bow", "none", 1, "bow.against", _is("game.approach", "patient")),
    _sign("bow", "none", 1, "bow.against", Condition(answer="game.shots.lofted", below=0.5)),
)

FACE = (
    _sign("face", "resting", 2, "face.resting"),
    _sign("face", "flat", 0, "face.flat"),
    _sign("face", "rounded", 0, "face.rounded"),
    _sign("face", "rounded", 1.25, "face.rounded", _is("game.batting_place", "lower_order")),
    _sign("face", "rounded", 1.25, "face.rounded", _is("game.approach", "big_hitting")),
)

TOE = (
    _sign("toe", "standard", 2, "toe.standard"),
    _sign("toe", "strong", 1.5, "toe.thick", _is("pitches.surface", "artificial", "concrete", "matting")),
    _sign("toe", "strong", 1.25, "toe.thick", _is("hold.taps_ground", True)),
    _sign("toe", "strong", 0.5, "toe.thick", _is("hold.leading_hand", "bottom")),
    _sign("toe", "strong", 2.5, "toe.thick", _is("present_bat.broke_at", "toe")),
    _sign("toe", "strong", 0.75, "toe.thick", _is("game.ball", "machine")),
    _sign("toe", "light", 1.25, "toe.thin", _is("present_bat.pickup", "too_heavy")),
    _sign("toe", "light", 1, "toe.thin", _is("wishes.easy_on_joints", True)),
    _sign("toe", "light", -2, "toe.thin", _is("present_bat.broke_at", "toe")),
)

SCOOP = (
    _sign("scoop", "none", 2, "toe.whole"),
    _sign("scoop", "scooped", 1.25, "toe.scoop", _is("build.profile", "full")),
    _sign(
        "scoop",
        "scooped",
        1.25,
        "toe.scoop",
        _is("build.profile", "full"),
        _is("present_bat.pickup", "too_heavy"),
    ),
    _sign(
        "scoop",
        "scooped",
        1.25,
        "toe.scoop",
        _is("build.profile", "full"),
        _is("wishes.easy_on_joints", True),
    ),
    _sign("scoop", "scooped", -3, "toe.thick", _is("build.toe", "strong")),
    _sign("scoop", "none", 6, "child.simple", CHILD),
)

CONSTRUCTION = (
    _sign("construction", "plain_cane", 2, "handle.plain_cane"),
    _sign("construction", "plain_cane", 6, "child.simple", CHILD),
    _sign(
        "construction", "lightened_cane", 2.5, "handle.lightened_cane", _is("present_bat.pickup", "too_heavy")
    ),
    _sign(
        "construction", "stiffened_cane", 1.25, "handle.stiffened_cane", _is("game.approach", "big_hitting")
    ),
    _sign(
        "construction",
        "stiffened_cane",
        1,
        "handle.stiffened_cane",
        _is("level", "first_class", "international"),
    ),
    _sign("construction", "stiffened_cane", -4, "handle.soft_first", _is("wishes.easy_on_joints", True)),
    _sign(
        "construction",
        "stiffened_cane",
        -2,
        "handle.soft_first",
        _is("pitches.surface", "artificial", "concrete", "matting"),
    ),
)

SECTION = (
    _sign("section", "round_to_oval", 2, "handle.section"),
    _sign("section", "oval", 1, "handle.section", _is("hold.leading_hand", "top")),
    _sign("section", "round", 0.5, "handle.section", _is("hold.tightness", "light")),
)

PROTECTION = (
    _sign("toe_guard", "on", 2, "protect.toe_guard"),
    _sign("toe_guard", "on", 1, "protect.toe_guard", _is("pitches.often_damp", True)),
    _sign("toe_guard", "on", 1, "protect.toe_guard", _is("hold.taps_ground", True)),
    _sign("face_film", "none", 1, "protect.natural_face"),
    _sign("face_film", "on", 1.5, "protect.face_film", _is("pitches.often_damp", True)),
    _sign("face_film", "on", 1.5, "protect.face_film", _is("game.ball", "machine")),
    _sign("face_film", "on", 1.5, "protect.face_film", _is("present_bat.broke_at", "face")),
    _sign("edge_tape", "none", 1, "protect.natural_face"),
    _sign("edge_tape", "on", 1.5, "protect.edge_tape", _is("build.face_film", "on")),
    _sign("edge_tape", "on", 1.5, "protect.edge_tape", _is("present_bat.broke_at", "edge")),
    _sign("edge_tape", "on", 1.5, "protect.edge_tape", _from("game.nets_hours_a_week", 4)),
)

GRADE = (
    _sign("grade", "3", 2, "willow.grade"),
    _sign("grade", "4", 2.5, "willow.grade", _is("wishes.gives_way_first.0", "looks")),
)

DEFAULT_SIGNS: tuple[Sign, ...] = (
    LENGTH
    + BETWEEN_SIZES
    + SWEET_SPOT
    + PROFILE
    + EDGES
    + BOW
    + FACE
    + TOE
    + SCOOP
    + CONSTRUCTION
    + SECTION
    + PROTECTION
    + GRADE
)
