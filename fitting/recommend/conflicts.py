"""Wishes and answers that pull apart, gathered from every choice."""

from collections.abc import Iterator
from typing import cast

from fitting.bat.weigh import heft
from fitting.recommend.draft import Draft
from fitting.recommend.pickup import PickupAim
from fitting.recommend.scores import Decision
from fitting.recommend.solve import Solved
from fitting.sheets.recommendation import Conflict
from fitting.sheets.values import LengthCode

# Each costs a weighing.
_MOST_COSTED = 2


def conflicts_of(draft: Draft, solved: Solved, pickup: PickupAim) -> tuple[Conflict, ...]:
    """Return every conflict: what the numbers refuse first, then wishes that went against a rule."""
    return (
        *solved.conflicts,
        *draft.mass.conflicts,
        *_choose_two(draft, solved),
        *pickup.conflicts,
        *draft.handle.conflicts,
        *_wishes_against_rules(draft, solved),
    )


def _wishes_against_rules(draft: Draft, solved: Solved) -> tuple[Conflict, ...]:
    return (
        *_wished_length(draft),
        *(
            Conflict(
                key="wish_against_rule",
                fields=(field, wish),
                kept=decision.option,
                given_up=decision.overruled,
                cost=_cost(draft.deciding(name, decision.overruled), solved) if costed else {},
                ways_out=(wish,),
            )
            for (name, field, wish, decision), costed in _overruled(draft)
            if decision.overruled is not None
        ),
    )


def _wished_length(draft: Draft) -> tuple[Conflict, ...]:
    overruled = draft.length.overruled
    if overruled is None:
        return ()
    made, led_to = draft.row, draft.book.length(cast(LengthCode, overruled))
    return (
        Conflict(
            key="wish_against_rule",
            fields=("length_code", "wishes.length_code"),
            kept=draft.length.option,
            given_up=overruled,
            cost={
                "overall_length_mm": round(made.overall_mm - led_to.overall_mm, 1),
                "mass_g": round(made.mass_middle_g - led_to.mass_middle_g, 1),
            },
            ways_out=("wishes.length_code",),
        ),
    )


def _overruled(draft: Draft) -> Iterator[tuple[tuple[str, str, str, Decision], bool]]:
    """Yield the choices in which a wish overruled the answers, and whether their cost is weighed."""
    decided: tuple[tuple[str, str, str, Decision], ...] = (
        ("sweet_spot", "sweet_spot.choice", "wishes.sweet_spot", draft.blade.sweet_spot),
        ("profile", "profile", "wishes.profile", draft.blade.profile),
        ("bow", "blade.bow_mm", "wishes.bow", draft.blade.bow),
        ("face", "blade.face_crown_mm", "wishes.face", draft.blade.face),
        ("toe", "blade.stations.0.spine_mm", "wishes.toe", draft.blade.toe),
        ("edges", "blade.stations.edge_mm", "wishes.edges", draft.blade.edges),
        ("construction", "handle.construction", "wishes.feel", draft.handle.construction),
        ("section", "handle.section_bottom", "wishes.handle_section", draft.handle.section),
    )
    found = [row for row in decided if row[3].overruled is not None]
    yield from ((row, number < _MOST_COSTED) for number, row in enumerate(found))


def _cost(other: Draft, solved: Solved) -> dict[str, float]:
    """What the bat has over the one that the answers led to, at the same fullness and the same willow."""
    rule = heft(other.build(other.shapes(), solved.fullness, solved.density_kg_m3), book=other.book)
    made = solved.weighing
    return {
        "mass_g": round(made.mass_g - rule.mass_g, 1),
        "pickup_kg_m2": round(made.inertia_kg_m2.pickup - rule.inertia_kg_m2.pickup, 4),
        "balance_from_toe_mm": round(made.balance_from_toe_mm - rule.balance_from_toe_mm, 1),
    }


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
