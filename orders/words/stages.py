"""The bench's keys in words: steps, what is measured, cautions, what is still missing."""

from collections.abc import Iterable
from datetime import datetime

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.functional import Promise
from django.utils.translation import gettext, gettext_lazy

from fitting.sheets.book_bench import BenchBook

STEPS: dict[str, Promise] = {
    # cleft selection
    "pull_clefts": gettext_lazy("Pull two or three clefts and wipe their ends"),
    "read_grain": gettext_lazy("Read the grain on both sides, the edges and the splice end"),
    "plane_test_strip": gettext_lazy("Plane a test strip"),
    "orient_cleft": gettext_lazy("Decide which end is the toe, which side the face, which edge faces out"),
    "cut_to_length": gettext_lazy("Cut to length, %(rough_length_mm)s mm over"),
    "commit_cleft": gettext_lazy("Commit the cleft to this bat"),
    "pencil_number": gettext_lazy("Pencil its number again on the shoulder end"),
    # pressing
    "dress_square": gettext_lazy("Dress face and back square"),
    "draw_grid": gettext_lazy("Draw the grid: centre and both edges"),
    "press_edges": gettext_lazy("Edges first, by roller or hammer"),
    "light_pass": gettext_lazy(
        "A light pass, end to end; not the last %(press_toe_margin_mm)s mm of the toe, not the splice"
    ),
    "read_and_listen": gettext_lazy("Read the depth, listen to the ring"),
    "next_pass": gettext_lazy("Next passes, heavier as this piece allows"),
    "crown_roller": gettext_lazy("Crown roller last"),
    "rest_and_read": gettext_lazy("Rest overnight, then read the depth again"),
    # shaping
    "cut_outline": gettext_lazy("Cut the outline a millimetre over"),
    "leave_top_square": gettext_lazy("Leave the top %(square_top_mm)s mm square and 40 to 80 g on"),
    "strike_spine": gettext_lazy("Strike the spine line and the swell"),
    "rough_out": gettext_lazy("Rough out to 3 mm over, drawknife or machine"),
    "hollow": gettext_lazy("Hollow the back"),
    "leave_toe_deep": gettext_lazy("Leave the toe deep"),
    "weigh_blade": gettext_lazy("Weigh the blade"),
    "rough_to_leave": gettext_lazy("Bring the lower two thirds to %(shaping_leave_mm)s mm over"),
    # handle fitting
    "weigh_handle": gettext_lazy("Weigh the handle; choose it to the mass"),
    "cut_socket": gettext_lazy("Cut the socket"),
    "dry_fit": gettext_lazy("Dry-fit, and hold it against the light"),
    "check_handle_line": gettext_lazy("Check the handle's line over the face with a straight edge"),
    "glue_and_clamp": gettext_lazy("Glue and clamp"),
    "cure": gettext_lazy("Let the glue cure, %(glue_hours)s hours"),
    "shape_shoulders": gettext_lazy("Shape the shoulders into the handle"),
    "weigh_again": gettext_lazy("Weigh the bat"),
    "last_cuts": gettext_lazy("The last cuts, to mass, balance and pickup"),
    "turn_to_girth": gettext_lazy("Turn the handle to girth and section"),
    "bind": gettext_lazy("Bind"),
    "let_binding_set": gettext_lazy("Let the binding's glue set"),
    # finishing
    "sand": gettext_lazy("Sand through the grits"),
    "raise_grain": gettext_lazy("Raise the grain once and sand again"),
    "burnish": gettext_lazy("Burnish"),
    "mark": gettext_lazy("Put the marks on"),
    "oil": gettext_lazy("Oil, a day flat for each coat; never the splice"),
    "coverings": gettext_lazy("Film, tape and guard as agreed"),
    "knock_in": gettext_lazy("Knock in as agreed"),
    "grip": gettext_lazy("Put the grip on"),
    "gauge_bare": gettext_lazy("Passed through the gauge by hand, bare"),
    "gauge_covered": gettext_lazy("Passed through the gauge by hand, covered"),
    "weigh_at_rest": gettext_lazy("Last weighing, the bat at rest"),
}
# Steps and readings that the program no longer has; editions of the book may still have them.
STEPS_BEFORE: dict[str, Promise] = {
    "gauge_bare_and_covered": gettext_lazy("Through the gauge, bare and covered"),
}

MEASURED: dict[str, Promise] = {
    "cleft_mass": gettext_lazy("mass of the cleft"),
    "moisture": gettext_lazy("moisture, read on the waste"),
    "grains": gettext_lazy("grains across the face"),
    "cleft_depth": gettext_lazy("depth of the cleft"),
    "depth_before_left": gettext_lazy("depth before the press, left edge"),
    "depth_before": gettext_lazy("depth before the press, centre"),
    "depth_before_right": gettext_lazy("depth before the press, right edge"),
    "depth_after_left": gettext_lazy("depth after the rest, left edge"),
    "depth_after": gettext_lazy("depth after the rest, centre"),
    "depth_after_right": gettext_lazy("depth after the rest, right edge"),
    "pressed_width": gettext_lazy("width after the press"),
    "spine": gettext_lazy("spine"),
    "edge_left": gettext_lazy("left edge"),
    "edge_right": gettext_lazy("right edge"),
    "blade_mass": gettext_lazy("mass of the bare blade"),
    "shaped_width": gettext_lazy("width"),
    "handle_mass": gettext_lazy("mass of the handle, raw"),
    "splice_length": gettext_lazy("length of the splice"),
    "splice_gap": gettext_lazy("gap at the splice"),
    "handle_offset": gettext_lazy("handle out of line at its top"),
    "girth_top": gettext_lazy("girth at the top, bound"),
    "girth_middle": gettext_lazy("girth in the middle, bound"),
    "girth_bottom": gettext_lazy("girth at the bottom, bound"),
    "mass_dry": gettext_lazy("mass of the bat, dry and bare"),
    "mass": gettext_lazy("mass"),
    "balance": gettext_lazy("balance from the toe"),
    "length": gettext_lazy("length over all"),
    "width": gettext_lazy("width"),
    "final_moisture": gettext_lazy("moisture"),
    "swing_time": gettext_lazy("time of %(swing_count)s swings, hung 152.4 mm below the handle's top"),
    "edge": gettext_lazy("edge"),
    "pickup": gettext_lazy("pickup"),
}
MEASURED_BEFORE: dict[str, Promise] = {
    "passes": gettext_lazy("passes through the press"),
    "rebound": gettext_lazy("ball dropped from 1 m, height of the rebound (middle of five)"),
}

CAUTIONS: dict[str, Promise] = {
    "press_nip": gettext_lazy(
        "The nip of the press takes fingers. Hands out, guard in place, two hands on the control; locked off "
        "and its stored pressure let go before anything is cleared. Never strike a jammed blade."
    ),
    "splitting": gettext_lazy("A blade that splits throws pieces: wear an eye guard, stand aside."),
    "ball_drop": gettext_lazy("Goggles on for the ball drop."),
    "edge_tools": gettext_lazy(
        "Drawknife, spokeshave, plane: the work held fast, both hands behind the edge."
    ),
    "band_saw": gettext_lazy("Band saw: guard down to the work, push block, no gloves."),
    "dust": gettext_lazy("Willow and cane dust harm the lungs: extraction on, mask on, no compressed air."),
    "eye_guard": gettext_lazy("Chips fly: wear an eye guard."),
    "turning": gettext_lazy(
        "Lathe and thread winder catch hair, sleeves and gloves within one turn. Stop it before you touch."
    ),
    "splice_saw": gettext_lazy("Sawing the splice: jig and push block; never freehand."),
    "adhesives": gettext_lazy("Glues and solvents: air the room, wear gloves; thin glue bonds skin."),
    "oily_rags": gettext_lazy(
        "Rags wet with linseed oil heat up by themselves and can catch fire: lay them flat outdoors, or in a "
        "closed metal can with water."
    ),
    "knocking_in": gettext_lazy("Knocking-in is loud and throws chips: ears and eyes covered."),
    "latex": gettext_lazy("Natural rubber grips: gloves if you are allergic to latex."),
    "lifting": gettext_lazy("Clefts are heavy by the armful: lift few at a time."),
}
# The same in a line each, for the one sheet of paper that travels with the bat.
CARD_CAUTIONS: tuple[Promise, ...] = (
    gettext_lazy("Press: hands out of the nip, guard in place, locked off before clearing; eye guard on."),
    gettext_lazy("Edge tools: the work held fast, both hands behind the edge. Chips fly: eye guard."),
    gettext_lazy("Band saw and splice: guard down, push block and jig, no gloves, never freehand."),
    gettext_lazy("Lathe and winder catch hair, sleeves, gloves: stop them before you touch."),
    gettext_lazy("Dust: extraction and mask on. Glues: air and gloves. Rubber grips: think of latex."),
    gettext_lazy("Oily rags heat up by themselves: flat outdoors, or in a closed metal can with water."),
    gettext_lazy("Knocking-in and ball drop: ears and eyes covered."),
)
RULES_FIRST = gettext_lazy("Your local rules and the machine maker's instructions come before these words.")

STAGE_RULES: dict[str, Promise] = {
    "cleft_selection": gettext_lazy(
        "Moisture over %(moisture_most_percent)s or under %(moisture_least_percent)s %%: back to season. "
        "Shake, worm, a knot in edge or middle, run-out over 1 in 12: not for this bat."
    ),
    "pressing": gettext_lazy(
        "Each piece is pressed alone and listened to. Stop at a split, a ripple, a crushed strip, or when "
        "more than %(press_loss_most_mm)s mm is lost."
    ),
    "shaping": gettext_lazy(
        "Shape the lower two thirds; leave the top %(square_top_mm)s mm square and 40 to 80 g on. The last "
        "cuts are made under handle fitting, handle in."
    ),
    "handle_fitting": gettext_lazy(
        "The last cuts are made here, handle in; before any of them the glue has its %(glue_hours)s hours."
    ),
    "finishing": gettext_lazy(
        "Over the mass: back to handle fitting for the last cuts. Too light: wood cannot be added, only "
        "grip, sleeve or film."
    ),
}

# What a stage asks for beside steps, readings and cleft; what follows the word's colon stands in it.
STAGE_ASKS: dict[str, Promise] = {
    "orientation": gettext_lazy("How the cleft lies: toe, face and outside edge"),
    "press_pass": gettext_lazy("A pass of the press"),
}


def step_words(key: str, bench: BenchBook) -> str:
    """Return a step in words, with the book's numbers in it; a maker's own step has its own words."""
    step = bench.step(key)
    if step is not None and step.words:
        return step.words
    words = STEPS.get(key) or STEPS_BEFORE.get(key)
    return str(words) % _numbers(bench) if words is not None else key


def stage_rule(stage: str, bench: BenchBook) -> str:
    """Return the rule that stands under a stage's name."""
    return str(STAGE_RULES[stage]) % _numbers(bench)


def measured_words(key: str, bench: BenchBook, from_toe_mm: float | None = None) -> str:
    """Return what is measured, and where along the blade."""
    words = MEASURED[key] if key in MEASURED else MEASURED_BEFORE[key]
    what = str(words) % _numbers(bench)
    if from_toe_mm is None:
        return what
    return gettext("%(what)s at %(place)s mm from the toe") % {"what": what, "place": f"{from_toe_mm:.0f}"}


def caution_words(keys: Iterable[str]) -> list[str]:
    """Return cautions in words, the rule above all of them last."""
    return [*(str(CAUTIONS[key]) for key in keys), str(RULES_FIRST)]


def missing_words(word: str, bench: BenchBook) -> str:
    """Return in words what a stage still asks for.

    That is ``step:…``, ``reading:…@1500``, ``cleft``, ``wait:…@`` with the time, ``reason:…``, or of a stage.
    """
    kind, _, what = word.partition(":")
    if kind in STAGE_ASKS:
        return str(STAGE_ASKS[kind]) % {"what": what}
    if kind == "cleft":
        return gettext("A cleft for this bat")
    if kind == "step":
        return gettext("The step “%(step)s”") % {"step": step_words(what, bench)}
    key, _, place = what.partition("@")
    if kind == "wait":
        return wait_words(key, datetime.fromisoformat(place), bench)
    if kind == "reason":
        return gettext("Why it may go on with this: %(reading)s") % {"reading": measured_words(key, bench)}
    reading = measured_words(key, bench, int(place) / 10 if place else None)
    return gettext("The reading “%(reading)s”") % {"reading": reading}


def wait_words(key: str, until: datetime, bench: BenchBook) -> str:
    """Say what a bat waits for and from when it may go on."""
    moment = date_format(timezone.localtime(until), "j M, H:i")
    if key == "rest":
        return gettext("Rest after the work of this stage: it may go on from %(moment)s") % {"moment": moment}
    return gettext("“%(step)s” needs its time: it may go on from %(moment)s") % {
        "step": step_words(key, bench),
        "moment": moment,
    }


def _numbers(bench: BenchBook) -> dict[str, str]:
    """Return the book's numbers that stand in sentences, as they are written there."""
    numbers = {
        name: f"{value:g}"
        for name, value in bench.model_dump(exclude={"stages", "tolerances"}).items()
        if isinstance(value, int | float)
    }
    glue = bench.step("glue_and_clamp")
    return {**numbers, "glue_hours": f"{glue.wait_hours if glue else 0:g}"}
