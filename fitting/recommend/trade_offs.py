"""What each choice costs, as keys; the sentences stand at the edge."""

# (subject, option) -> key of its price; what is not here costs nothing worth telling.
TRADE_OFFS: dict[tuple[str, str], str] = {
    ("length", "long_handle"): "length.more_to_lift",
    ("length", "long_blade"): "length.more_to_lift",
    ("length", "long_handle_long_blade"): "length.pair_heavy",
    ("length", "long_handle_short_blade"): "length.toe_heavy",
    ("length", "super_short"): "length.less_reach",
    ("length", "small_adult"): "length.less_reach",
    **{("length", f"size_{size}"): "length.outgrown" for size in range(1, 7)},
    ("length", "harrow"): "length.outgrown",
    ("sweet_spot", "low"): "sweet_spot.off_middle",
    ("sweet_spot", "high"): "sweet_spot.off_middle",
    ("sweet_spot", "long"): "sweet_spot.size_costs_mass",
    ("profile", "tapered_spine"): "profile.little_low_down",
    ("profile", "spine_to_toe"): "profile.wood_low_down",
    ("profile", "scalloped"): "profile.smaller_middle",
    ("profile", "full"): "profile.heavier",
    ("edges", "thick"): "edges.thick",
    ("edges", "thin"): "edges.thin",
    ("bow", "none"): "bow.none",
    ("bow", "full"): "bow.against",
    ("face", "flat"): "face.harder",
    ("toe", "light"): "toe.breaks_sooner",
    ("toe", "strong"): "toe.weight_low",
    ("scoop", "scooped"): "toe.scoop_once",
    ("construction", "stiffened_cane"): "handle.firmer_feel",
    ("construction", "lightened_cane"): "handle.different_feel",
    ("toe_guard", "on"): "protect.guard_weight",
    ("face_film", "on"): "protect.film_weight",
    ("edge_tape", "on"): "protect.tape_width",
    ("grade", "1"): "grade.price",
    ("grade", "4"): "grade.looks",
    ("grade", "3"): "grade.marks",
}
LIGHT_WILLOW = "willow.light"
DENSE_WILLOW = "willow.dense"
SOLVED = "solve.full_or_thin"
MASS = "sweet_spot.size_costs_mass"
ALL_TRADE_OFFS = frozenset({*TRADE_OFFS.values(), LIGHT_WILLOW, DENSE_WILLOW, SOLVED, MASS})

_NEAR_THE_MIDDLE_KG_M3 = 10


def trade_off(subject: str, option: str) -> str | None:
    """Return the key of what an option costs, None where it costs nothing worth telling."""
    return TRADE_OFFS.get((subject, option))


def density_trade_off(density_kg_m3: float, usual_kg_m3: float) -> str | None:
    """Return what willow away from the middle density costs."""
    if density_kg_m3 < usual_kg_m3 - _NEAR_THE_MIDDLE_KG_M3:
        return LIGHT_WILLOW
    return DENSE_WILLOW if density_kg_m3 > usual_kg_m3 + _NEAR_THE_MIDDLE_KG_M3 else None
