"""Wishes and answers that pull apart, gathered from every choice."""

from collections.abc import Iterator
from dataclasses import replace
from typing import cast

from fitting.bat.weigh import heft, weigh
from fitting.recommend.draft import Draft
from fitting.recommend.pickup import PickupAim
from fitting.recommend.scores import Decision
from fitting.recommend.solve import Solved
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Conflict
from fitting.sheets.values import LengthCode
from fitting.sheets.weighing import Weighing

# Each costs a weighing.
_MOST_COSTED = 2


def conflicts_of(
    draft: Draft, solved: Solved, pickup: PickupAim, sheet: FittingSheet
) -> tuple[Conflict, ...]:
    """Return every conflict: what the numbers refuse, what pulls apart, wishes against rules."""
    return (
        *solved.conflicts,
        *draft.mass.conflicts,
        *_choose_two(draft, solved),
        *_long_and_light(draft, solved),
        *_both_long(draft, solved),
        *_bow_and_largest(draft, sheet),
        *_stiff_and_easy(draft, solved, sheet),
        *pickup.conflicts,
        *draft.handle.conflicts,
        *_wishes_against_rules(draft, solved),
    )


def _long_and_light(draft: Draft, solved: Solved) -> tuple[Conflict, ...]:
    """A long sweet spot wants wood on both sides of it: a light bat pays for it with speed."""
    if draft.blade.sweet_spot_value != "long" or draft.mass.target_g >= draft.row.mass_middle_g:
        return ()
    mid = draft.deciding("sweet_spot", "mid")
    other = _at_the_same_mass(mid, solved)
    return (
        Conflict(
            key="sweet_spot.long_light",
            fields=("sweet_spot.choice", "mass_g"),
            kept="long",
            given_up="mid",
            cost=_differences(solved.weighing, other),
            ways_out=("wishes.sweet_spot", "mass_g"),
        ),
    )


def _both_long(draft: Draft, solved: Solved) -> tuple[Conflict, ...]:
    """Long handle and long blade together reach the tall, and are heavy to lift."""
    if draft.row.code != "long_handle_long_blade" or draft.length.overruled is not None:
        return ()
    row = draft.book.length("long_handle")
    shorter = replace(draft, row=row)
    other = heft(shorter.build(shorter.shapes(), solved.fullness, solved.density_kg_m3), book=draft.book)
    return (
        Conflict(
            key="length.pair",
            fields=("length_code", *(one.answer for one in draft.length.because if one.answer)),
            kept="long_handle_long_blade",
            given_up="long_handle",
            cost={
                "mass_g": round(solved.weighing.mass_g - other.mass_g, 1),
                "pickup_kg_m2": round(solved.weighing.inertia_kg_m2.pickup - other.inertia_kg_m2.pickup, 4),
            },
            ways_out=("wishes.length_code", "mass_g"),
        ),
    )


def _bow_and_largest(draft: Draft, sheet: FittingSheet) -> tuple[Conflict, ...]:
    """A bow's second pressing leaves the sweet spot smaller, says the trade; the model does not."""
    if draft.blade.sweet_spot_value != "long" or draft.blade.bow.option != "full":
        return ()
    wished = [name for name in ("bow", "sweet_spot") if getattr(sheet.wishes, name) is not None]
    return (
        Conflict(
            key="bow.largest",
            fields=("blade.bow_mm", "sweet_spot.choice", *(f"wishes.{name}" for name in wished)),
            kept="full",
            given_up="slight",
            cost={},
            ways_out=("wishes.bow", "wishes.sweet_spot"),
        ),
    )


def _stiff_and_easy(draft: Draft, solved: Solved, sheet: FittingSheet) -> tuple[Conflict, ...]:
    """A stiffened handle, wished together with a bat that is easy on the joints."""
    if not sheet.wishes.easy_on_joints or draft.handle.construction_value != "stiffened_cane":
        return ()
    return (
        Conflict(
            key="handle.stiff_easy",
            fields=("handle.construction", "wishes.feel", "wishes.easy_on_joints"),
            kept="stiffened_cane",
            given_up="plain_cane",
            cost=_cost(draft.deciding("construction", "plain_cane"), solved),
            ways_out=("wishes.feel", "grips.count"),
        ),
    )


def _at_the_same_mass(other: Draft, solved: Solved) -> Weighing:
    """Another bat weighed with the willow that gives it the mass of the one that was solved."""
    build = other.build(other.shapes(), solved.fullness, solved.density_kg_m3, tilt_mm=solved.tilt_mm)
    light = heft(build, book=other.book)
    blade = next(part.mass_g for part in light.parts if part.name == "blade")
    density = light.density_kg_m3 * (1 + (solved.weighing.mass_g - light.mass_g) / blade)
    return weigh(build, book=other.book, density_kg_m3=density)


def _differences(made: Weighing, other: Weighing) -> dict[str, float]:
    """What one bat has over another: pickup, the place that hits hardest, its reach and its speed."""
    if made.sweet_spot is None or other.sweet_spot is None:
        return {}
    ours, theirs = made.sweet_spot, other.sweet_spot
    fastest = [max(point.exit_speed_m_s for point in one.response) for one in (made, other)]
    return {
        "pickup_kg_m2": round(made.inertia_kg_m2.pickup - other.inertia_kg_m2.pickup, 4),
        "peak_from_toe_mm": round(ours.peak_from_toe_mm - theirs.peak_from_toe_mm, 1),
        "reach_mm": round((ours.to_mm - ours.from_mm) - (theirs.to_mm - theirs.from_mm), 1),
        "exit_speed_percent": round(100 * (fastest[0] / fastest[1] - 1), 1),
    }


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
    build = other.build(other.shapes(), solved.fullness, solved.density_kg_m3, tilt_mm=solved.tilt_mm)
    rule = heft(build, book=other.book)
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
