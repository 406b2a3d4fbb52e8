"""A reason for every field of the build sheet: answers and facts behind it, its price, what else would do."""

from collections.abc import Iterable

from fitting.recommend.blade import bow_mm, crown_mm, scoop_of, toe_depth_mm
from fitting.recommend.draft import Draft
from fitting.recommend.handle import sections_of
from fitting.recommend.pickup import PickupAim
from fitting.recommend.scores import Decision
from fitting.recommend.solve import Solved
from fitting.recommend.trade_offs import MASS, SOLVED, density_trade_off, trade_off
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Alternative, Because, Reason, Value

_MOST_ALTERNATIVES = 3


def reasons_of(
    draft: Draft, solved: Solved, pickup: PickupAim, build: BuildSheet, sheet: FittingSheet
) -> tuple[Reason, ...]:
    """Return one reason for each field, or group of fields, of the build sheet."""
    return (
        *_length_reasons(draft, solved, build),
        *_blade_reasons(draft, solved, build),
        *_station_reasons(draft, solved, build),
        *_handle_reasons(draft, solved, build, sheet),
        *_target_reasons(draft, solved, pickup, build),
        *_dress_reasons(draft, solved, build),
    )


def value_of(field: str, option: str, draft: Draft, solved: Solved) -> Value:
    """Return what a choice's field would hold with another option: its name, a number, or None for none."""
    book = draft.book
    match field:
        case "blade.bow_mm":
            return bow_mm(option, book)
        case "blade.face_crown_mm":
            return crown_mm(option, book)
        case "blade.toe.scoop":
            scoop = scoop_of(draft.blade.profile_value, draft.row, book)
            return None if option == "none" else scoop.depth_mm
        case "blade.stations.0.spine_mm" if option == "standard":
            # Only a toe that was not chosen takes part in the sweet spot's shape and in the tilt.
            shapes = draft.deciding("toe", option).shapes()
            return shapes.stations(solved.fullness, solved.tilt_mm)[0].spine_mm
        case "blade.stations.0.spine_mm":
            return round(toe_depth_mm(option, draft.row, book), 1)
        case "handle.section_top" | "handle.section_bottom":
            top, bottom = sections_of(option)
            return top if field.endswith("top") else bottom
        case "willow.grade":
            return int(option)
        case "protection.toe_guard" | "protection.face_film" | "protection.edge_tape":
            covering = getattr(book.materials, field.removeprefix("protection."))
            return None if option == "none" else float(covering.thickness_mm)
        case _:
            return option


def _chosen(
    field: str, value: Value, decision: Decision, trade: str | None, draft: Draft, solved: Solved
) -> Reason:
    values = [value_of(field, option, draft, solved) for option in decision.others[:_MOST_ALTERNATIVES]]
    return Reason(
        field=field,
        value=value,
        because=decision.because,
        trade_off=trade,
        alternatives=tuple(Alternative(value=other) for other in dict.fromkeys(values) if other != value),
        confidence=decision.confidence,
    )


def _told(
    field: str,
    value: Value,
    because: Iterable[Because],
    sure: float,
    *,
    trade: str | None = None,
    alternatives: Iterable[Value] = (),
) -> Reason:
    return Reason(
        field=field,
        value=value,
        because=tuple(because),
        trade_off=trade,
        alternatives=tuple(Alternative(value=other) for other in alternatives),
        confidence=round(sure, 2),
    )


def _fact(key: str, answer: str | None = None) -> tuple[Because, ...]:
    return (Because(answer=answer, fact=key),)


def _length_reasons(draft: Draft, solved: Solved, build: BuildSheet) -> tuple[Reason, ...]:
    length, sure = draft.length, draft.length.confidence
    row = _fact("length.table")
    return (
        _chosen(
            "length_code", build.length_code, length, trade_off("length", build.length_code), draft, solved
        ),
        _told("blade.length_mm", build.blade.length_mm, row, sure),
        _told("handle.length_mm", build.handle.length_mm, row, sure),
        _told("handle.splice_length_mm", build.handle.splice_length_mm, row, sure),
        _told("handle.splice_width_mm", build.handle.splice_width_mm, _fact("handle.splice"), sure),
    )


def _blade_reasons(draft: Draft, solved: Solved, build: BuildSheet) -> tuple[Reason, ...]:
    book, choices, blade = draft.book, draft.blade, build.blade
    usual = book.rules.confidence_of_default
    taped = draft.dress.edge_tape.option == "on"
    width = (*_fact("width.default"), *_fact("laws.sizes"), *(_fact("width.under_tape") if taped else ()))
    bow, sweet = choices.bow, choices.sweet_spot
    return (
        _chosen(
            "profile", build.profile, choices.profile, trade_off("profile", build.profile), draft, solved
        ),
        _chosen(
            "sweet_spot.choice",
            build.sweet_spot.choice,
            sweet,
            trade_off("sweet_spot", sweet.option),
            draft,
            solved,
        ),
        _told(
            "sweet_spot.swell_from_toe_mm",
            build.sweet_spot.swell_from_toe_mm,
            _fact("position.numbers"),
            sweet.confidence,
        ),
        _told(
            "sweet_spot.peak_from_toe_mm",
            build.sweet_spot.peak_from_toe_mm,
            _fact("sweet_spot.peak_found"),
            sweet.confidence,
        ),
        _told("blade.width_mm", blade.width_mm, width, usual),
        _chosen("blade.bow_mm", blade.bow_mm, bow, trade_off("bow", bow.option), draft, solved),
        _told("blade.bow_peak_from_toe_mm", blade.bow_peak_from_toe_mm, _fact("bow.peak"), usual),
        _chosen(
            "blade.face_crown_mm",
            blade.face_crown_mm,
            choices.face,
            trade_off("face", choices.face.option),
            draft,
            solved,
        ),
        _told("blade.edge_radius_mm", blade.edge_radius_mm.back, _fact("edge.radius"), usual),
        _told("blade.toe.corner_radius_mm", blade.toe.corner_radius_mm, _fact("toe.corner"), usual),
        _chosen(
            "blade.toe.scoop",
            blade.toe.scoop.depth_mm if blade.toe.scoop else None,
            choices.scoop,
            trade_off("scoop", choices.scoop.option),
            draft,
            solved,
        ),
        _told("blade.shoulder", blade.shoulder.width_mm, _fact("shoulder.default"), usual),
    )


def _station_reasons(draft: Draft, solved: Solved, build: BuildSheet) -> tuple[Reason, ...]:
    choices = draft.blade
    swell = max(build.blade.stations, key=lambda station: station.spine_mm)
    solve = (
        *(Because(answer=one.answer, fact="solve.mass") for one in draft.mass.because if one.answer),
        *_fact("solve.fullness"),
        *_fact("willow.match"),
    )
    sure = min(draft.mass.confidence, choices.profile.confidence)

    return (
        _told("blade.stations", swell.spine_mm, solve, sure, trade=SOLVED),
        _chosen(
            "blade.stations.edge_mm",
            swell.edge_mm,
            choices.edges,
            trade_off("edges", choices.edges.option),
            draft,
            solved,
        ),
        _told(
            "blade.stations.scallop",
            swell.scallop,
            _fact("solve.scallop"),
            choices.profile.confidence,
            trade=SOLVED,
        ),
        _chosen(
            "blade.stations.0.spine_mm",
            build.blade.stations[0].spine_mm,
            choices.toe,
            trade_off("toe", choices.toe.option),
            draft,
            solved,
        ),
    )


def _handle_reasons(
    draft: Draft, solved: Solved, build: BuildSheet, sheet: FittingSheet
) -> tuple[Reason, ...]:
    choices, handle = draft.handle, build.handle
    rules = draft.book.rules
    usual = rules.confidence_of_default
    section = choices.section
    grips = _fact("wish.followed", "wishes.grips") if sheet.wishes.grips else _fact("grips.one")
    return (
        _chosen(
            "handle.construction",
            handle.construction,
            choices.construction,
            trade_off("construction", handle.construction),
            draft,
            solved,
        ),
        _chosen("handle.section_top", handle.section_top, section, None, draft, solved),
        _chosen("handle.section_bottom", handle.section_bottom, section, None, draft, solved),
        _told("handle.oval_ratio", handle.oval_ratio, _fact("handle.oval"), section.confidence),
        _told(
            "handle.girth_mm",
            handle.girth_mm.middle,
            choices.girth_because,
            choices.girth_confidence,
            alternatives=choices.girth_alternatives,
        ),
        _told("handle.line_mm", handle.line_mm, _fact("handle.line"), usual),
        _told("handle.cane_mass_g", None, _fact("handle.weighed_later"), 1.0),
        _told("handle.other_material", handle.other_material.share, _fact("handle.strips"), usual),
        _told("grips", build.grips.count, grips, rules.confidence_of_wish if sheet.wishes.grips else usual),
    )


def _target_reasons(draft: Draft, solved: Solved, pickup: PickupAim, build: BuildSheet) -> tuple[Reason, ...]:
    mass, density = draft.mass, round(solved.density_kg_m3)
    step = draft.book.rules.mass_step_g
    usual = draft.book.rules.density_usual_kg_m3
    unreached = solved.conflicts and solved.conflicts[0].key.startswith("mass.unreached")
    because = (*mass.because, *(_fact("solve.nearest") if unreached else ()))
    return (
        _told(
            "mass_g",
            build.mass_g.target,
            because,
            mass.confidence,
            trade=MASS,
            alternatives=(build.mass_g.target - step, build.mass_g.target + step),
        ),
        _told("pickup_kg_m2", build.pickup_kg_m2.target, pickup.because, pickup.confidence),
        _told(
            "willow.density_kg_m3",
            float(density),
            (*_fact("willow.density"), *_fact("willow.match")),
            mass.confidence,
            trade=density_trade_off(density, usual),
        ),
    )


def _dress_reasons(draft: Draft, solved: Solved, build: BuildSheet) -> tuple[Reason, ...]:
    dress, protection = draft.dress, build.protection
    usual = draft.book.rules.confidence_of_default
    oil = _fact("care.oil_under_film" if protection.face_film else "care.oil")

    def covering(field: str, decision: Decision) -> Reason:
        made = getattr(protection, field)
        trade = trade_off(field, decision.option)
        return _chosen(
            f"protection.{field}",
            made.thickness_mm if made else None,
            decision,
            trade,
            draft,
            solved,
        )

    return (
        _chosen(
            "willow.grade",
            build.willow.grade,
            dress.grade,
            trade_off("grade", dress.grade.option),
            draft,
            solved,
        ),
        _told(
            "willow.grain",
            build.willow.grain,
            _fact("wish.followed", "wishes.grain") if build.willow.grain else _fact("willow.grain"),
            usual,
        ),
        _told(
            "outside_edge",
            build.outside_edge,
            _fact("edge.outside", "player.batting_hand")
            if build.outside_edge
            else _fact("default.unanswered"),
            1.0 if build.outside_edge else draft.book.rules.confidence_floor,
        ),
        covering("toe_guard", dress.toe_guard),
        covering("face_film", dress.face_film),
        covering("edge_tape", dress.edge_tape),
        _told("finish.oil_coats", build.finish.oil_coats, oil, usual),
        _told(
            "finish.knocked_in_minutes",
            build.finish.knocked_in_minutes,
            _fact("care.knock_in"),
            usual,
        ),
    )
