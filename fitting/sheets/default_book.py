"""The book that a new workshop starts with: from memory of the trade unless a source is named."""

from fitting.sheets.book import Book, LengthRow, TradeLimits
from fitting.sheets.book_bench import DEFAULT_BENCH
from fitting.sheets.book_materials import Materials
from fitting.sheets.book_rules import (
    DepthChange,
    ProfileNumbers,
    RangeOfDepths,
    RestingDepths,
    Rules,
    SweetSpotShape,
    WishNumbers,
)
from fitting.sheets.default_signs import DEFAULT_SIGNS
from fitting.sheets.values import LengthCode, Profile, SweetSpot

# code, overall, blade, width, splice, girth low and high, spine, edge, usual mass low and high.
# The handle is what is left of the overall length; bands of the trade stand at their middle.
_LENGTHS: tuple[
    tuple[LengthCode, float, float, float, float, float, float, float, float, float, float], ...
] = (
    ("size_1", 654, 427, 89, 110, 84, 88, 51, 28, 560, 700),
    ("size_2", 705, 461, 92, 114, 86, 90, 53, 30, 640, 770),
    ("size_3", 730, 478, 95, 116, 88, 92, 54, 31, 700, 830),
    ("size_4", 756, 495, 97, 118, 90, 94, 55, 32, 760, 890),
    ("size_5", 781, 512, 100, 121, 92, 97, 57, 33, 830, 950),
    ("size_6", 806, 529, 102.5, 126, 95, 100, 59, 34, 900, 1020),
    ("harrow", 832, 545, 105, 128, 98, 103, 60, 35, 980, 1090),
    ("small_adult", 838, 548, 106, 131, 99, 104, 61, 36, 1010, 1120),
    ("super_short", 838, 558, 107, 134, 102, 107, 62, 37, 1040, 1180),
    ("short_handle", 851, 558, 107, 135, 102, 109, 63, 37, 1080, 1250),
    ("long_handle", 870, 558, 107, 135, 102, 110, 63, 37, 1100, 1270),
    ("long_blade", 871, 578, 107, 135, 102, 110, 62, 36, 1110, 1290),
    ("long_handle_long_blade", 890, 578, 107, 140, 103, 111, 62, 36, 1130, 1310),
    ("long_handle_short_blade", 857, 533, 107, 135, 102, 110, 64, 38, 1060, 1210),
)

_ADULT = TradeLimits(
    toe_centre_least_mm=16,
    toe_corner_least_mm=12,
    toe_strong_centre_least_mm=22,
    toe_strong_corner_least_mm=18,
    toe_most_mm=30,
    edge_least_mm=22,
    edge_most_mm=39,
    spine_swell_least_mm=50,
    spine_swell_most_mm=66,
    spine_splice_least_mm=38,
    spine_splice_most_mm=52,
    spine_shoulder_least_mm=30,
    spine_shoulder_most_mm=40,
    edge_shoulder_least_mm=19,
    edge_shoulder_most_mm=28,
    slope_low_mm=9,
    slope_low_reach_mm=120,
    slope_mm=5,
    girth_least_mm=94,
    girth_most_mm=116,
    bow_most_mm=18,
    mass_slack_share=0.05,
)

_JUNIOR = TradeLimits.model_validate(
    _ADULT.model_dump()
    | {
        "toe_centre_least_mm": 13,
        "toe_corner_least_mm": 10,
        "toe_strong_centre_least_mm": 16,
        "toe_strong_corner_least_mm": 13,
        "edge_least_mm": 18,
        "spine_swell_least_mm": 40,
        "spine_splice_least_mm": 30,
        "spine_shoulder_least_mm": 25,
        "edge_shoulder_least_mm": 15,
        "girth_least_mm": 78,
    }
)

_WISHES = WishNumbers(
    reference_blade_mm=558,
    swell_low_mm=(190, 205),
    swell_mid_mm=(210, 230),
    swell_high_mm=(235, 260),
    swell_long_mm=(210, 230),
    bow_none_mm=0,
    bow_slight_mm=5,
    bow_full_mm=12,
    crown_flat_mm=0.3,
    crown_resting_mm=1.2,
    crown_rounded_mm=2,
    girth_step_mm=4,
    toe_light_mm=18,
    toe_standard_mm=21,
    toe_strong_mm=25,
    toe_corner_less_mm=4,
    edge_thin_mm=-5,
    edge_thick_mm=1.6,
    oval_ratio=1.1,
)


def _profile(
    spine: tuple[float, float, float],
    upper: float,
    edge: tuple[float, float, float],
    hollow: tuple[float, float, float],
) -> ProfileNumbers:
    return ProfileNumbers(
        spine_shares=spine,
        upper_share=upper,
        edge_shares=edge,
        scallop_toe=hollow[0],
        scallop_swell=hollow[1],
        scallop_shoulder=hollow[2],
        scoop_length_mm=105,
        scoop_depth_mm=13,
    )


# Beside the swell: wood towards the toe brings the point that hits hardest down, wood above the swell brings
# it up, and wood on both sides of it at the swell's cost lengthens its reach.
_SWEET_SPOTS: dict[SweetSpot, SweetSpotShape] = {
    "low": SweetSpotShape(spine_mm=(2, 2, 1, 0, 0, -2.5, -1, 0), edge_mm=(1.5, 1.5, 1, 0, 0, -1.5, -0.5, 0)),
    "mid": SweetSpotShape(),
    "high": SweetSpotShape(
        spine_mm=(-2, -2.5, -1, 0, 0, 3, 2.5, 1), edge_mm=(-1.5, -1.5, -1, 0, 0, 2, 1.5, 0.5)
    ),
    "long": SweetSpotShape(
        spine_mm=(3, 3, -1.5, -3.5, -3, 5, 6, 3),
        edge_mm=(1, 0.5, -2, -3.5, -3, 1.5, 5, 3),
        scallop=(0, 0.2, 0.4, 0.4, 0.2, -0.2, -0.1, -0.1),
    ),
}

# Shares of the rise from toe to swell; hollows (exponents of the back) at toe, swell and shoulder.
_PROFILES: dict[Profile, ProfileNumbers] = {
    "tapered_spine": _profile((0.37, 0.69, 0.92), 0.52, (0.38, 0.7, 0.92), (1.2, 1.4, 1.2)),
    "spine_to_toe": _profile((0.46, 0.76, 0.94), 0.5, (0.4, 0.72, 0.92), (1.3, 1.45, 1.2)),
    "scalloped": _profile((0.35, 0.69, 0.92), 0.45, (0.34, 0.67, 0.91), (1.5, 1.8, 1.5)),
    "full": _profile((0.43, 0.75, 0.94), 0.6, (0.46, 0.76, 0.95), (1.1, 1.2, 1.1)),
}

_RULES = Rules(
    signs=DEFAULT_SIGNS,
    inch_slack_mm=2,
    junior_sizes_below_years=16,
    junior_level_below_years=18,
    junior_upper_bounds_mm=(1295.4, 1371.6, 1447.8, 1498.6, 1574.8, 1651, 1727.2),
    small_adult_by_table_below_mm=1498.6,
    between_sizes_mm=25,
    marks_at_least=5,
    prior_points=5,
    lead_of_conflict=1,
    points_of_a_whole_lead=2,
    confidence_floor=0.2,
    confidence_of_default=0.7,
    confidence_of_wish=0.95,
    confidence_of_wish_against_rule=0.6,
    hand_to_diameter=0.197,
    girth_top_less_mm=2,
    girth_bottom_more_mm=4,
    girth_tight_less_mm=2,
    mass_step_g=30,
    mass_light_share=0.25,
    mass_usual_share=0.5,
    mass_tolerance_g=14,
    mass_tolerance_least_g=7,
    pickup_tolerance_share=0.03,
    pickup_right_share=0.02,
    pickup_step_share=0.03,
    # Brody H. (2000), Player sensitivity to the moments of inertia of a tennis racket, Sports Engineering
    # 3:145-148: differences of 2.5 % are told apart; from memory of the paper.
    pickup_noticed_share=0.025,
    pickup_mass_shift_g=25,
    tilt_most_mm=2.5,
    density_least_kg_m3=350,
    density_usual_kg_m3=410,
    density_most_kg_m3=450,
    density_half_band_kg_m3=15,
    density_hard_hitter_least_kg_m3=370,
    density_rare_kg_m3=15,
    density_spread_kg_m3=20,
    fullness_spread=0.5,
    range_of_depths=RangeOfDepths(
        resting=RestingDepths(tip_mm=45, shoulder_mm=36, edge_tip_mm=28, edge_shoulder_mm=24),
        less=DepthChange(swell_mm=-7, tip_mm=-5, shoulder_mm=-4, edge_mm=-7),
        more=DepthChange(swell_mm=3, tip_mm=5, shoulder_mm=3, edge_mm=2),
        scallop=0.35,
        wished_edge_share=0.3,
    ),
    profiles=_PROFILES,
    sweet_spots=_SWEET_SPOTS,
    shoulder_length_mm=34,
    shoulder_width_mm=58,
    splice_width_mm=42,
    toe_corner_radius_mm=30,
    edge_radius_face_mm=4,
    edge_radius_back_mm=5,
    bow_peak_share=0.45,
    width_less_with_tape_mm=0.5,
    oil_coats=3,
    oil_coats_under_film=2,
    knocked_in_minutes=60,
    other_material_share={"plain_cane": 0.05, "stiffened_cane": 0.08, "lightened_cane": 0.08},
    other_material_reach_mm=60,
)

DEFAULT_BOOK = Book(
    version=1,
    laws_edition=2026,
    law_margin_mm=1,
    gauge_depth_on_flat_face_mm=62,
    lengths=tuple(
        LengthRow(
            code=code,
            overall_mm=overall,
            blade_mm=blade,
            width_mm=width,
            handle_mm=overall - blade,
            splice_mm=splice,
            girth_low_mm=girth_low,
            girth_high_mm=girth_high,
            spine_mm=spine,
            edge_mm=edge,
            mass_low_g=mass_low,
            mass_high_g=mass_high,
        )
        for (
            code,
            overall,
            blade,
            width,
            splice,
            girth_low,
            girth_high,
            spine,
            edge,
            mass_low,
            mass_high,
        ) in _LENGTHS
    ),
    trade_limits_adult=_ADULT,
    trade_limits_junior=_JUNIOR,
    wish_numbers=_WISHES,
    rules=_RULES,
    materials=Materials(),
    bench=DEFAULT_BENCH,
)
