"""Wishes and answers that pull apart, gathered from every choice."""

from fitting.recommend.draft import Draft
from fitting.recommend.pickup import PickupAim
from fitting.recommend.scores import Decision
from fitting.recommend.solve import Solved
from fitting.sheets.recommendation import Conflict


def conflicts_of(draft: Draft, solved: Solved, pickup: PickupAim) -> tuple[Conflict, ...]:
    """Return every conflict: what the numbers refuse first, then wishes that went against a rule."""
    return (
        *solved.conflicts,
        *draft.mass.conflicts,
        *_choose_two(draft, solved),
        *pickup.conflicts,
        *draft.handle.conflicts,
        *_wishes_against_rules(draft),
    )


def _wishes_against_rules(draft: Draft) -> tuple[Conflict, ...]:
    blade = draft.blade
    decided: tuple[tuple[str, str, Decision], ...] = (
        ("length_code", "wishes.length_code", draft.length),
        ("sweet_spot.choice", "wishes.sweet_spot", blade.sweet_spot),
        ("profile", "wishes.profile", blade.profile),
        ("blade.bow_mm", "wishes.bow", blade.bow),
        ("blade.face_crown_mm", "wishes.face", blade.face),
        ("blade.stations.0.spine_mm", "wishes.toe", blade.toe),
        ("blade.stations.edge_mm", "wishes.edges", blade.edges),
        ("handle.construction", "wishes.feel", draft.handle.construction),
        ("handle.section_top", "wishes.handle_section", draft.handle.section),
    )
    return tuple(
        Conflict(
            key="wish_against_rule",
            fields=(field, wish),
            kept=decision.option,
            given_up=decision.overruled,
            ways_out=(wish,),
        )
        for field, wish, decision in decided
        if decision.overruled is not None
    )


def _choose_two(draft: Draft, solved: Solved) -> tuple[Conflict, ...]:
    """Big edges, little mass and a long life: where the willow has to be light, life is what goes."""
    rules = draft.book.rules
    too_light = rules.density_usual_kg_m3 - rules.density_spread_kg_m3
    if draft.blade.edges_value != "thick" or solved.density_kg_m3 > too_light:
        return ()
    return (
        Conflict(
            key="willow.choose_two",
            fields=("blade.stations.edge_mm", "mass_g", "willow.density_kg_m3"),
            kept=f"{solved.density_kg_m3:.0f}",
            given_up=f"{rules.density_usual_kg_m3:.0f}",
            cost={"density_kg_m3": round(solved.density_kg_m3 - rules.density_usual_kg_m3, 1)},
            ways_out=("wishes.edges", "mass_g"),
        ),
    )
