"""What can be done to a finished bat, and what each would change. Pure: sheets and book in, keys out.

The list, its amounts and the stages that each needs are from memory of the trade, no source; what an
adjustment does to mass, balance and pickup is computed by the model of the bat.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Literal

from fitting.bat.weigh import heft
from fitting.sheets.book import Book
from fitting.sheets.book_bench import STAGES, Stage
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.weighing import Weighing

Sheet = dict[str, Any]
Kind = Literal["undone", "handle", "cut", "covering", "mend"]

# Places along the blade are told for a blade of this length and go with it.
REFERENCE_BLADE_MM = 558.0
WHOLE_BACK = (100.0, 460.0)
UPPER_BACK = (320.0, 520.0)
LOWER_BACK = (20.0, 180.0)
CUT_MM = 2.0
HOLLOWER = 0.3
SCOOP_MM = (75.0, 7.0)
EDGE_ROUNDER_MM = 3.0
TOE_ROUNDER_MM = 15.0
GIRTH_STEP_MM = 4.0
SHORTER_MM = 12.7
KNOCKED_IN_MINUTES = 60.0
MOST_GRIPS = 3
# Handle in, the last cuts belong to handle fitting; whatever was cut is sanded, oiled and weighed again.
CUTTING: tuple[Stage, ...] = ("handle_fitting", "finishing")
FINISHING: tuple[Stage, ...] = ("finishing",)


class NotPossible(ValueError):
    """An adjustment that this bat does not allow; ``why`` is a key."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


@dataclass(frozen=True)
class Adjustment:
    """One thing that can be done: its kind, the stages it needs, how the build sheet changes (None: not)."""

    key: str
    kind: Kind
    stages: tuple[Stage, ...]
    change: Callable[[Sheet, Book], None] | None = None


@dataclass(frozen=True)
class Effect:
    """What an adjustment would change: grams, mm, per cent; or why it is not possible."""

    key: str
    mass_g: float
    balance_mm: float
    pickup_percent: float
    not_possible: str = ""

    @property
    def changes_weight(self) -> bool:
        """Whether scales or swings would tell it."""
        return any(abs(change) > 0.001 for change in (self.mass_g, self.balance_mm, self.pickup_percent))


def _second_grip(sheet: Sheet, book: Book) -> None:
    if sheet["grips"]["count"] >= MOST_GRIPS:
        raise NotPossible("grips_enough")
    sheet["grips"]["count"] += 1


def _one_grip_less(sheet: Sheet, book: Book) -> None:
    if sheet["grips"]["count"] < 2:
        raise NotPossible("one_grip")
    sheet["grips"]["count"] -= 1


def _off_back(reach: tuple[float, float], *, edges: bool = True) -> Callable[[Sheet, Book], None]:
    """Return what takes 2 mm off the back along a part of the blade, spine alone or edges too."""

    def cut(sheet: Sheet, book: Book) -> None:
        low, high = (place * _scale(sheet) for place in reach)
        for station in sheet["blade"]["stations"]:
            if low <= station["from_toe_mm"] <= high:
                station["spine_mm"] -= CUT_MM
                if edges:
                    station["edge_mm"] -= CUT_MM
                station["edge_mm"] = min(station["edge_mm"], station["spine_mm"])

    return cut


def _hollower(sheet: Sheet, book: Book) -> None:
    top = sheet["blade"]["length_mm"] - sheet["handle"]["splice_length_mm"]
    for station in sheet["blade"]["stations"]:
        if 0 < station["from_toe_mm"] < top:
            station["scallop"] = round(min(4.0, station["scallop"] + HOLLOWER), 2)


def _scoop(sheet: Sheet, book: Book) -> None:
    if sheet["blade"]["toe"]["scoop"]:
        raise NotPossible("scooped_already")
    length, depth = SCOOP_MM
    sheet["blade"]["toe"]["scoop"] = {"length_mm": round(length * _scale(sheet), 1), "depth_mm": depth}


def _rounder_edges(sheet: Sheet, book: Book) -> None:
    radius = sheet["blade"]["edge_radius_mm"]
    radius["back"] = min(20.0, radius["back"] + EDGE_ROUNDER_MM)


def _rounder_toe(sheet: Sheet, book: Book) -> None:
    toe = sheet["blade"]["toe"]
    most = min(55.0, sheet["blade"]["width_mm"] / 2)
    if toe["corner_radius_mm"] >= most:
        raise NotPossible("toe_round_already")
    toe["corner_radius_mm"] = min(most, toe["corner_radius_mm"] + TOE_ROUNDER_MM)


def _narrower(sheet: Sheet, book: Book) -> None:
    sheet["blade"]["width_mm"] -= 1


def _girth(step: float) -> Callable[[Sheet, Book], None]:
    def change(sheet: Sheet, book: Book) -> None:
        around = sheet["handle"]["girth_mm"]
        for place in around:
            around[place] += step

    return change


def _shorter_handle(sheet: Sheet, book: Book) -> None:
    if sheet["length_code"] not in ("short_handle", "long_handle", "long_handle_long_blade"):
        raise NotPossible("handle_short_already")
    sheet["handle"]["length_mm"] = round(sheet["handle"]["length_mm"] - SHORTER_MM, 1)


def _cover(name: str) -> Callable[[Sheet, Book], None]:
    """Return what puts a covering on that is not there yet."""

    def put_on(sheet: Sheet, book: Book) -> None:
        if sheet["protection"][name]:
            raise NotPossible("on_already")
        dressing = getattr(book.materials, name)
        sheet["protection"][name] = {"thickness_mm": dressing.thickness_mm, "mass_g": dressing.mass_g}

    return put_on


def _oil(sheet: Sheet, book: Book) -> None:
    if sheet["protection"]["face_film"]:
        raise NotPossible("filmed")
    if sheet["finish"]["oil_coats"] >= 6:
        raise NotPossible("oiled_enough")
    sheet["finish"]["oil_coats"] += 1


def _knock_in(sheet: Sheet, book: Book) -> None:
    sheet["finish"]["knocked_in_minutes"] = min(
        1000, sheet["finish"]["knocked_in_minutes"] + KNOCKED_IN_MINUTES
    )


# The gentlest and most easily undone first.
ADJUSTMENTS: tuple[Adjustment, ...] = (
    Adjustment("knock_in", "undone", FINISHING, _knock_in),
    Adjustment("condition", "undone", FINISHING),
    Adjustment("second_grip", "undone", FINISHING, _second_grip),
    Adjustment("one_grip_less", "undone", FINISHING, _one_grip_less),
    Adjustment("new_grip", "undone", FINISHING),
    Adjustment("handle_thinner", "handle", CUTTING, _girth(-GIRTH_STEP_MM)),
    Adjustment("handle_thicker", "handle", CUTTING, _girth(GIRTH_STEP_MM)),
    Adjustment("handle_shorter", "handle", CUTTING, _shorter_handle),
    Adjustment("re_bind", "handle", CUTTING),
    Adjustment("re_glue", "handle", CUTTING),
    Adjustment("spine_off", "cut", CUTTING, _off_back(WHOLE_BACK, edges=False)),
    Adjustment("back_off", "cut", CUTTING, _off_back(WHOLE_BACK)),
    Adjustment("upper_back_off", "cut", CUTTING, _off_back(UPPER_BACK)),
    Adjustment("lower_back_off", "cut", CUTTING, _off_back(LOWER_BACK)),
    Adjustment("hollower", "cut", CUTTING, _hollower),
    Adjustment("scoop", "cut", CUTTING, _scoop),
    Adjustment("edges_rounder", "cut", CUTTING, _rounder_edges),
    Adjustment("toe_rounder", "cut", CUTTING, _rounder_toe),
    Adjustment("narrower", "cut", CUTTING, _narrower),
    Adjustment("re_press", "cut", ("pressing", "finishing")),
    Adjustment("film", "covering", FINISHING, _cover("face_film")),
    Adjustment("guard", "covering", FINISHING, _cover("toe_guard")),
    Adjustment("tape", "covering", FINISHING, _cover("edge_tape")),
    Adjustment("oil", "covering", FINISHING, _oil),
    Adjustment("mend_toe", "mend", FINISHING),
    Adjustment("mend_edge", "mend", FINISHING),
    Adjustment("mend_face", "mend", FINISHING),
)
BY_KEY = {one.key: one for one in ADJUSTMENTS}
# Said before anybody wishes for it.
CANNOT_BE_DONE = (
    "add_wood",
    "lengthen",
    "thicken_edge",
    "lower_sweet_spot",
    "take_out_bow",
    "add_bow",
    "raise_density",
    "move_knot",
)


def stages_for(keys: Iterable[str]) -> list[Stage]:
    """Return the stages that some adjustments need together, in their order."""
    needed = {stage for key in keys for stage in BY_KEY[key].stages}
    return [stage for stage in STAGES if stage in needed]


def adjusted(build: BuildSheet, keys: Iterable[str], book: Book) -> BuildSheet:
    """Return the build sheet after some adjustments; its targets of mass and pickup still the old ones.

    Raises:
        NotPossible: with the reason as a key.
    """
    sheet = build.model_dump(mode="json")
    for key in keys:
        change = BY_KEY[key].change
        if change is not None:
            change(sheet, book)
    try:
        found = read_sheet(BuildSheet, sheet)
    except SheetRefused as error:
        raise NotPossible("no_bat") from error
    _hold_to_trade(build, found, book)
    return found


def aimed(
    build: BuildSheet, keys: Iterable[str], book: Book, *, mass_g: float, pickup_kg_m2: float
) -> BuildSheet | None:
    """Return the adjusted build sheet with new targets, None when nothing on the sheet changes.

    Args:
        build: the bat as it is now.
        keys: of the adjustments.
        book: in force.
        mass_g: what the scales show now.
        pickup_kg_m2: what the bat's pickup is now.

    Raises:
        NotPossible: with the reason as a key.
    """
    changed = adjusted(build, keys, book)
    if changed == build:
        return None
    before, after = _weighed(build, build, book), _weighed(changed, build, book)
    sheet = changed.model_dump(mode="json")
    sheet["mass_g"]["target"] = round(mass_g + after.mass_g - before.mass_g)
    gained = after.inertia_kg_m2.pickup - before.inertia_kg_m2.pickup
    sheet["pickup_kg_m2"]["target"] = round(pickup_kg_m2 + gained, 4)
    return read_sheet(BuildSheet, sheet)


def effect_of(build: BuildSheet, keys: tuple[str, ...], book: Book) -> Effect:
    """Return what some adjustments together would change on a bat."""
    name = keys[0] if len(keys) == 1 else ""
    try:
        changed = adjusted(build, keys, book)
    except NotPossible as error:
        return Effect(name, 0.0, 0.0, 0.0, not_possible=error.why)
    before, after = _weighed(build, build, book), _weighed(changed, build, book)
    return Effect(
        key=name,
        mass_g=after.mass_g - before.mass_g,
        balance_mm=after.balance_from_toe_mm - before.balance_from_toe_mm,
        pickup_percent=100 * (after.inertia_kg_m2.pickup / before.inertia_kg_m2.pickup - 1),
    )


def _weighed(build: BuildSheet, wood: BuildSheet, book: Book) -> Weighing:
    """Weigh a build sheet in the willow that the bat is made of."""
    band = wood.willow.density_kg_m3
    return heft(build, book=book, density_kg_m3=(band.min + band.max) / 2)


def _scale(sheet: Sheet) -> float:
    return float(sheet["blade"]["length_mm"]) / REFERENCE_BLADE_MM


def _hold_to_trade(before: BuildSheet, after: BuildSheet, book: Book) -> None:
    """Refuse what makes a bat thinner than the trade lets it be, where it was not so already."""
    limits = book.trade_limits(after.length_code)
    length = after.blade.length_mm
    for old, new in zip(before.blade.stations, after.blade.stations, strict=True):
        thinner = new.edge_mm < old.edge_mm or new.spine_mm < old.spine_mm
        inside = length / 3 <= new.from_toe_mm <= 2 * length / 3
        if thinner and inside and new.edge_mm < limits.edge_least_mm:
            raise NotPossible("edge_too_thin")
        near_swell = abs(new.from_toe_mm - after.sweet_spot.swell_from_toe_mm) < length / 12
        if thinner and near_swell and new.spine_mm < limits.spine_swell_least_mm:
            raise NotPossible("spine_too_thin")
    around, was = after.handle.girth_mm, before.handle.girth_mm
    if around.top < was.top and around.top < limits.girth_least_mm:
        raise NotPossible("handle_too_thin")
    if around.bottom > was.bottom and around.middle > limits.girth_most_mm:
        raise NotPossible("handle_too_thick")
