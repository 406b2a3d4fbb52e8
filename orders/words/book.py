"""The numbers of the book in words: what each is called, and its unit."""

from django.utils.functional import Promise
from django.utils.translation import gettext, pgettext_lazy
from django.utils.translation import gettext_lazy as _

from fitting.sheets.values import JUNIOR_CODES
from orders.words.fields import VALUES

Text = str | Promise

# By how a field's name ends, the longest ending first.
_UNITS: tuple[tuple[str, Text], ...] = (
    ("_kg_m3", _("kg/m³")),
    ("_kg_m2", _("kg m²")),
    ("_g_m2", _("g/m²")),
    ("_m_s", _("m/s")),
    ("_rad_s", _("rad/s")),
    ("_gpa", _("GPa")),
    ("gpa", _("GPa")),
    ("_mm", _("mm")),
    ("_g", _("g")),
    ("_percent", _("%")),
    ("_percent_a_week", _("%")),
    ("temperature_c", _("°C")),
    ("_days", _("days")),
    ("_years", _("years")),
    ("_hours", _("hours")),
    ("_minutes", _("minutes")),
)

_BOOK: dict[str, Text] = {
    "laws_edition": _("Edition of the Laws"),
    "law_margin_mm": _("Margin kept inside every size of the Laws"),
    "gauge_depth_on_flat_face_mm": _("Deepest spine on a flat face that the gauge lets through"),
}
_LENGTHS: dict[str, Text] = {
    "overall_mm": _("overall"),
    "blade_mm": _("blade"),
    "width_mm": _("width"),
    "handle_mm": _("handle"),
    "splice_mm": _("splice"),
    "girth_low_mm": _("girth, least"),
    "girth_high_mm": _("girth, most"),
    "spine_mm": _("spine at the swell"),
    "edge_mm": _("edge at the swell"),
    "mass_low_g": _("usual mass, least"),
    "mass_high_g": _("usual mass, most"),
}
_LIMITS: dict[str, Text] = {
    "toe_centre_least_mm": _("toe, least at its centre"),
    "toe_corner_least_mm": _("toe, least at its corners"),
    "toe_strong_centre_least_mm": _("strong toe, least at its centre"),
    "toe_strong_corner_least_mm": _("strong toe, least at its corners"),
    "toe_most_mm": _("toe, most"),
    "edge_least_mm": _("edge in the middle third, least"),
    "edge_most_mm": _("edge in the middle third, most"),
    "spine_swell_least_mm": _("spine at the swell, least"),
    "spine_swell_most_mm": _("spine at the swell, most"),
    "spine_splice_least_mm": _("spine over the splice, least"),
    "spine_splice_most_mm": _("spine over the splice, most"),
    "spine_shoulder_least_mm": _("spine at the shoulder, least"),
    "spine_shoulder_most_mm": _("spine at the shoulder, most"),
    "edge_shoulder_least_mm": _("edge at the shoulder, least"),
    "edge_shoulder_most_mm": _("edge at the shoulder, most"),
    "slope_low_mm": _("change of depth in 25 mm, most, lowest part"),
    "slope_low_reach_mm": _("how far up the lowest part reaches"),
    "slope_mm": _("change of depth in 25 mm, most, above that"),
    "girth_least_mm": _("girth of the bound handle, least"),
    "girth_most_mm": _("girth of the bound handle, most"),
    "bow_most_mm": _("bow, most"),
    "mass_slack_share": _("share beyond either end of the usual mass"),
}
_WISHES: dict[str, Text] = {
    "reference_blade_mm": _("length of blade that the places are told for"),
    "swell_low_mm": _("low sweet spot: swell above the toe"),
    "swell_mid_mm": _("sweet spot in the middle: swell above the toe"),
    "swell_high_mm": _("high sweet spot: swell above the toe"),
    "swell_long_mm": _("long sweet spot: swell above the toe"),
    "bow_none_mm": _("no bow"),
    "bow_slight_mm": _("slight bow"),
    "bow_full_mm": _("full bow"),
    "crown_flat_mm": _("flat face: crown"),
    "crown_resting_mm": _("face as the press leaves it: crown"),
    "crown_rounded_mm": _("rounded face: crown"),
    "girth_step_mm": _("thinner or thicker handle: change of girth"),
    "toe_light_mm": _("light toe: depth at its centre"),
    "toe_standard_mm": _("usual toe: depth at its centre"),
    "toe_strong_mm": _("strong toe: depth at its centre"),
    "toe_corner_less_mm": _("corners of the toe: less deep by"),
    "edge_thin_mm": _("thin edges: change at the swell"),
    "edge_thick_mm": _("thick edges: change at the swell"),
    "oval_ratio": _("oval handle: depth over width"),
}
_RULES: dict[str, Text] = {
    "inch_slack_mm": _("slack of a bound told in inches"),
    "junior_sizes_below_years": _("junior sizes below this age"),
    "junior_level_below_years": _("junior sizes in junior cricket below this age"),
    "junior_upper_bounds_mm": _("junior size, tallest"),
    "small_adult_by_table_below_mm": _("adults below this height go by the junior table"),
    "between_sizes_mm": _("so near the upper end of a size the next may be taken"),
    "marks_at_least": _("fewer ball marks than this say nothing"),
    "prior_points": _("points of the bat in use, when it is liked"),
    "lead_of_conflict": _("points by which answers must lead a wish to be told"),
    "points_of_a_whole_lead": _("points ahead that make a choice as sure as can be"),
    "confidence_floor": _("how sure at least"),
    "confidence_of_default": _("how sure where no answer could change it"),
    "confidence_of_wish": _("how sure of a wish"),
    "confidence_of_wish_against_rule": _("how sure of a wish against the answers"),
    "hand_to_diameter": _("handle's diameter over the length of the hand"),
    "girth_top_less_mm": _("girth at the top: less by"),
    "girth_bottom_more_mm": _("girth at the bottom: more by"),
    "girth_tight_less_mm": _("girth for a tight grip: less by"),
    "mass_step_g": _("answer to a bat too heavy or too light"),
    "mass_light_share": _("where in the usual mass a light bat lies (0 least, 1 most)"),
    "mass_usual_share": _("where in the usual mass the usual bat lies"),
    "mass_tolerance_g": _("tolerance of the mass"),
    "mass_tolerance_least_g": _("tolerance of the mass, least"),
    "pickup_tolerance_share": _("tolerance of the pickup, share of it"),
    "pickup_right_share": _("a pickup that felt right is kept within this share"),
    "pickup_step_share": _("a pickup too heavy or too light is moved by this share"),
    "pickup_noticed_share": _("share of a pickup that a player can tell apart"),
    "pickup_mass_shift_g": _("how far the mass may leave its aim for the pickup"),
    "tilt_most_mm": _("wood moved between toe and shoulder for the pickup, most"),
    "density_least_kg_m3": _("density of the willow, least"),
    "density_usual_kg_m3": _("density of the willow, usual"),
    "density_most_kg_m3": _("density of the willow, most"),
    "density_half_band_kg_m3": _("half the band of density that is asked for"),
    "density_hard_hitter_least_kg_m3": _("density for a hard hitter, least"),
    "density_rare_kg_m3": _("how far beyond least and most willow is looked for, with time"),
    "density_spread_kg_m3": _("distance from the usual density that costs as much as shape"),
    "fullness_spread": _("distance from the middle fullness that costs as much as density"),
    "shoulder_length_mm": _("length of the shoulders"),
    "shoulder_width_mm": _("width at the shoulders"),
    "splice_width_mm": _("width of the splice"),
    "toe_corner_radius_mm": _("radius of the toe's corners"),
    "edge_radius_face_mm": _("radius of the edge, face side"),
    "edge_radius_back_mm": _("radius of the edge, back side"),
    "bow_peak_share": _("where the bow is deepest, share of the blade from the toe"),
    "width_less_with_tape_mm": _("width under tape: less by"),
    "oil_coats": _("coats of oil"),
    "oil_coats_under_film": _("coats of oil under a film"),
    "knocked_in_minutes": _("knocking-in by the workshop"),
    "other_material_share": _("rubber, share of the handle"),
    "other_material_reach_mm": _("rubber, reach into the splice"),
    "wished_edge_share": _("share of the edge's room that a wish for it leaves"),
    "range_of_depths": _("room in which the depths are worked out"),
    "resting": _("resting depth"),
    "less": _("less by at most"),
    "more": _("more by at most"),
    "tip_mm": _("spine over the tip of the splice"),
    "shoulder_mm": _("spine at the shoulder"),
    "edge_tip_mm": _("edge over the tip of the splice"),
    "edge_shoulder_mm": _("edge at the shoulder"),
    "swell_mm": _("spine at the swell"),
}
_SHAPES: dict[str, Text] = {
    "profiles": _("profiles"),
    "sweet_spots": _("sweet spots"),
    "spine_shares": _("spine, share of the rise from toe to swell"),
    "upper_share": _("share of the fall from swell to splice kept half way"),
    "edge_shares": _("edge, share of the rise from toe to swell"),
    "scallop_toe": _("hollow at the toe"),
    "scallop_swell": _("hollow at the swell"),
    "scallop_shoulder": _("hollow at the shoulder"),
    "scoop_length_mm": _("scoop, length"),
    "scoop_depth_mm": _("scoop, depth"),
    "scallop": _("hollow"),
    "spine_mm": _("spine"),
    "edge_mm": _("edge"),
}
_MATERIALS: dict[str, Text] = {
    "willow": _("willow, modulus along the grain"),
    "canes": _("canes"),
    "modulus": _("modulus"),
    "moisture_percent": _("moisture"),
    "gpa": _("modulus"),
    "least_gpa": _("modulus, least"),
    "most_gpa": _("modulus, most"),
    "willow_reference_kg_m3": _("density at which the willow's modulus is told"),
    "willow_density_power": _("power by which the modulus follows the density"),
    "willow_shear_share": _("willow, shear modulus over modulus"),
    "cane_shear_share": _("cane, shear modulus over modulus"),
    "modulus_per_moisture": _("share of the modulus lost with each percent of moisture"),
    "density_kg_m3": _("density of the finished handle"),
    "binding_mm": _("binding, thickness"),
    "binding_kg_m3": _("binding, density with its glue"),
    "glue_g_m2": _("glue on the splice's two sides"),
    "oil_coat_g_m2": _("what stays of a coat of oil"),
    "grip": _("grip"),
    "grip_junior": _("grip, junior"),
    "toe_guard": _("toe guard"),
    "face_film": _("film on the face"),
    "edge_tape": _("tape on the edges"),
    "thickness_mm": _("thickness"),
    "mass_g": _("mass"),
    "density_share": _("density of a cleft, share"),
    "depth_mm": _("depth of the blade as shaped"),
    "depth_tilt_mm": _("depth too high at the toe and too low at the shoulder"),
    "cane_share": _("mass of a handle not weighed, share"),
    "binding_share": _("mass of the binding, share"),
    "glue_share": _("mass of the glue, share"),
    "grip_share": _("mass of the grips, share"),
    "covering_share": _("mass of the coverings, share"),
    "oil_share": _("mass of the oil, share"),
    "contact": _("ball and willow"),
    "stiffness": _("stiffness of the spring, N per metre to the power"),
    "press": _("power of the spring"),
    "restitution": _("restitution on a heavy block"),
    "blows": _("reference blows"),
    "impact": _("swing and hands"),
    "ball_mass_g": _("mass of the ball"),
    "ball_speed_m_s": _("speed of the ball"),
    "swing_rad_s": _("turning of the bat"),
    "swing_pickup_kg_m2": _("pickup that the turning is told for"),
    "swing_power": _("power by which a heavier pickup slows the swing"),
    "pivot_from_handle_top_mm": _("axis of the swing below the handle's top"),
    "peak_share": _("share of the greatest speed at the sweet spot's ends"),
    "lower_hand_from_handle_top_mm": _("middle of the lower hand below the handle's top"),
}
_BENCH: dict[str, Text] = {
    "tolerances": _("tolerances of the inspection"),
    "length_mm": _("length"),
    "width_over_mm": _("width, over"),
    "width_under_mm": _("width, under"),
    "girth_mm": _("girth"),
    "balance_mm": _("balance"),
    "edges_apart_mm": _("left edge against right edge"),
    "grid_from_toe_mm": _("press grid, from the toe"),
    "grid_blade_mm": _("length of blade that the grid is told for"),
    "square_top_mm": _("left square below the shoulder"),
    "shaping_leave_mm": _("left on by shaping"),
    "splice_gap_most_mm": _("gap at the splice, most"),
    "handle_offset_most_mm": _("handle out of line, most"),
    "press_loss_most_mm": _("loss of depth at which pressing stops"),
    "press_loss_mm": _("loss of depth in the press, usual"),
    "press_loss_sd_mm": _("loss of depth in the press, spread"),
    "press_toe_margin_mm": _("lowest part that no press reaches"),
    "blade_mean_depth_mm": _("mean depth of a blade where no bat is named"),
    "press_widening_mm": _("gain of width in the press"),
    "rough_length_mm": _("cleft longer than the blade, least"),
    "rough_width_mm": _("cleft wider than the blade, least"),
    "rough_depth_mm": _("cleft deeper than the blade, least"),
    "cleft_size_sd_mm": _("spread of one size read on a cleft"),
    "cleft_shape_sd_share": _("how far a cleft is from its three sizes, share"),
    "moisture_sd_percent": _("spread of the moisture meter"),
    "moisture_least_percent": _("moisture to begin with, least"),
    "moisture_most_percent": _("moisture to begin with, most"),
    "swing_count": _("swings timed for the pickup"),
    "sanding_loss_g": _("what sanding takes off"),
    "sanding_loss_sd_g": _("what sanding takes off, spread"),
    "station_read_sd_mm": _("spread of one depth read at a station"),
    "balance_read_sd_mm": _("spread of one balance read at the bench"),
    "wait_hours": _("rest before the next stage"),
    "least": pgettext_lazy("reading", "least plausible"),
    "most": pgettext_lazy("reading", "most plausible"),
}
_COSTS: dict[str, Text] = {
    "hour_rate": _("an hour at the bench, in the workshop's currency"),
    "handle_turning_loss_g": _("what a raw handle loses in turning and splicing"),
}

_ROOM: dict[str, Text] = {
    "room_temperature_c": _("temperature of the room where willow seasons"),
    "room_humidity_percent": _("relative humidity of that room"),
    "equilibrium_sd_percent": _("spread of the moisture that wood comes to in one air"),
    "drying_days": _("days in which two thirds of the way to rest are gone"),
    "drying_spread": _("one cleft dries so many times quicker or slower than the next"),
    "settled_percent_a_week": _("change of mass in a week below which a cleft is at rest"),
    "weigh_again_days": _("days after which a seasoning cleft is weighed again"),
    "mass_read_sd_g": _("spread of the scales for clefts"),
}
_MATCHING: dict[str, Text] = {
    "mass_points": _("mass off by its whole tolerance"),
    "peak_points": _("sweet spot off by the distance below"),
    "peak_off_mm": _("distance of the sweet spot that is told by points"),
    "shape_points": _("blade as full or as thin as it can be"),
    "risk_points": _("cleft whose true density would certainly not do"),
    "grade_points": _("each grade finer than the bat asks for"),
    "money_points": _("cleft of the rack's middle price, in proportion"),
    "age_points": _("cleft that has just come, less for older ones"),
    "age_full_days": _("time on the rack after which a cleft is old stock"),
    "looks_points": _("each speck or stain on the face"),
    "blemish_points": _("each fault outside splice and hitting zone"),
    "kept_points": _("another cleft than the one kept aside for the bat"),
    "no_cleft_points": _("bat that gets no cleft"),
    "proposed_points": _("bat that is only proposed and gets no cleft"),
    "due_points": _("more for one that is due today"),
    "due_days": _("how long before its day that begins to count"),
    "forbidden_points": _("cleft that cannot become the bat"),
    "reach_sds": _("spreads by which a density may lie outside what a bat can use"),
    "run_out_least": _("steepest grain, leaving the wood by 1 in"),
    "offers_most": _("other clefts told beside the best one"),
}

PLACES_OF_SWEET_SPOT: tuple[Text, ...] = (
    _("toe"),
    _("¼ to the swell"),
    _("½ to the swell"),
    _("¾ to the swell"),
    _("swell"),
    _("half way to the splice"),
    _("tip of the splice"),
    _("shoulder"),
)
_PLACES_OF_PROFILE: tuple[Text, ...] = (_("at ¼"), _("at ½"), _("at ¾"))
_ENDS: tuple[Text, ...] = (_("from"), _("to"))

# By the part of the book that a name stands in, then anywhere; the same word may mean two things.
_PARTS: tuple[tuple[str, dict[str, Text]], ...] = (
    ("lengths.", _LENGTHS),
    ("trade_limits_", _LIMITS),
    ("wish_numbers.", _WISHES),
    ("rules.profiles.", _SHAPES),
    ("rules.sweet_spots.", _SHAPES),
    (
        "rules.range_of_depths.",
        {**_RULES, "edge_mm": _("edge"), "scallop": _("hollow of the back, either way")},
    ),
    ("rules.", _RULES),
    ("materials.", _MATERIALS),
    ("bench.", {**_SHAPES, **_BENCH}),
    ("room.", _ROOM),
    ("costs.", _COSTS),
    ("matching.", _MATCHING),
    ("", _BOOK),
)


def has_words(name: str) -> bool:
    """Tell whether a field of the book, by its dotted name, has words of its own."""
    return _own_words(name) is not None


def say_book_field(name: str) -> str:
    """Name a field of the book by its dotted name, its place in a list with it."""
    last = [step for step in name.split(".") if not step.isdigit()][-1]
    words = _own_words(name)
    named = str(words) if words is not None else _plain(last)
    place = _say_place(name)
    return f"{named}, {place}" if place else named


def say_part(step: str) -> str:
    """Name one part of the book: a length, a profile, a kind of handle, a group of fields."""
    for words in (_RULES, _SHAPES, VALUES, _MATERIALS, _BENCH):
        if step in words:
            return str(words[step])
    return _plain(step)


def unit_of(name: str) -> str:
    """Return the unit of a field, nothing for shares and counts."""
    last = [step for step in name.split(".") if not step.isdigit()][-1]
    return str(next((unit for ending, unit in _UNITS if last.endswith(ending)), ""))


def _own_words(name: str) -> Text | None:
    steps = [step for step in name.split(".") if not step.isdigit()]
    words = next(words for part, words in _PARTS if name.startswith(part))
    # The keys of a map are values of the build sheet: what is told of each is the map's own name.
    return words.get(steps[-2]) if steps[-1] in VALUES and len(steps) > 1 else words.get(steps[-1])


def _say_place(name: str) -> str:
    """Say the place in a list where places have names, else its number from 1."""
    *path, last = name.split(".")
    if not last.isdigit():
        return str(VALUES[last]) if last in VALUES and len(path) > 1 else ""
    at = int(last)
    if path[-1] == "junior_upper_bounds_mm":
        return str(VALUES[JUNIOR_CODES[at]])
    if name.startswith("rules.sweet_spots."):
        return str(PLACES_OF_SWEET_SPOT[at]) if at < len(PLACES_OF_SWEET_SPOT) else str(at + 1)
    if path[-1] in ("spine_shares", "edge_shares"):
        return str(_PLACES_OF_PROFILE[at])
    if name.startswith("wish_numbers.swell_"):
        return str(_ENDS[at])
    return gettext("number %(number)s") % {"number": at + 1}


def _plain(step: str) -> str:
    """Make a name readable that has no words yet: its unit taken off, its underlines spaces."""
    for ending, _unit in _UNITS:
        if ending.startswith("_") and step.endswith(ending):
            step = step.removesuffix(ending)
            break
    return step.replace("_", " ")
