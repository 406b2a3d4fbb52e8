"""One fitting sheet answered: every choice, the solved bat, and what gave way for it."""

from dataclasses import dataclass, replace
from typing import Literal

from fitting.laws import edition_on
from fitting.recommend.blade import choose_blade
from fitting.recommend.draft import Draft
from fitting.recommend.dress import choose_dress
from fitting.recommend.findings import findings_of, with_marks
from fitting.recommend.handle import choose_handle
from fitting.recommend.length import choose_length, is_child
from fitting.recommend.mass import MassAim, aim_mass
from fitting.recommend.pickup import PickupAim, aim_pickup
from fitting.recommend.present import present_pickup
from fitting.recommend.solve import Solved, Willingness, solve
from fitting.recommend.wanted_pickup import WantedPickup, wanted_pickup
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Conflict
from fitting.sheets.values import GivesWay

# Seen on the face, toe down: a right-hander's legs are on the right.
_OUTSIDE: dict[str, Literal["left", "right"]] = {"right": "left", "left": "right"}


@dataclass(frozen=True)
class Answer:
    """What one sheet led to, with everything that reasons, conflicts and effects are told from."""

    sheet: FittingSheet
    draft: Draft
    solved: Solved
    pickup: PickupAim
    build: BuildSheet
    given_way: tuple[Conflict, ...]


def answer(sheet: FittingSheet, book: Book) -> Answer:
    """Make every choice, solve the blade, and let give way what the player said gives way first."""
    in_use = present_pickup(sheet.present_bat)
    wanted = wanted_pickup(sheet, in_use, book)
    draft = draft_of(sheet, book)
    willing = Willingness(
        # A master refuses light willow to a hard hitter, unless the player lets the bat's life give way.
        long_life=sheet.game.approach == "big_hitting" and not gives_before(sheet, "life", "mass"),
        rare_willow=gives_before(sheet, "date", "mass"),
    )
    draft, solved, given_way = _solved(
        draft, willing, wanted, edges_first=gives_before(sheet, "edges", "mass")
    )
    given_way = (*given_way, *_mass_given_way(draft.mass, solved.mass, sheet))
    draft = replace(draft, mass=solved.mass)
    pickup = aim_pickup(solved, wanted, in_use, book)
    build = solved.build.model_copy(update={"pickup_kg_m2": pickup.target})
    return Answer(sheet, draft, solved, pickup, build, given_way)


def gives_before(sheet: FittingSheet, one: GivesWay, other: GivesWay) -> bool:
    """Whether the player ranked one thing to give way before another; what is not ranked gives way last."""
    order = sheet.wishes.gives_way_first or ()
    if one not in order:
        return False
    return other not in order or order.index(one) < order.index(other)


def draft_of(sheet: FittingSheet, book: Book) -> Draft:
    """Make every choice for a player but how full the blade and how dense its willow are to be."""
    findings = findings_of(sheet, book)
    code, length = choose_length(sheet, findings, book)
    row, child = book.length(code), is_child(sheet, code)
    findings = with_marks(findings, sheet, code, book).knowing(child=child)
    blade = choose_blade(sheet, findings, book)
    findings = findings.knowing(profile=blade.profile.option, toe=blade.toe.option)
    hand = sheet.player.batting_hand
    return Draft(
        row=row,
        length=length,
        blade=blade,
        handle=choose_handle(sheet, findings, row, book, child=child),
        dress=choose_dress(sheet, findings, book),
        mass=aim_mass(sheet, row, book, child=child),
        book=book,
        edition=edition_on(sheet.play_from, book.laws_edition),
        child=child,
        grain=sheet.wishes.grain,
        outside_edge=_OUTSIDE[hand] if hand else None,
    )


def _solved(
    draft: Draft, willing: Willingness, wanted: WantedPickup | None, *, edges_first: bool
) -> tuple[Draft, Solved, tuple[Conflict, ...]]:
    """Solve the blade; thick edges are given up for a mass they do not allow, where edges give way first."""
    solved = solve(draft, willing, wanted)
    too_heavy = any(conflict.key == "mass.unreached_light" for conflict in solved.conflicts)
    if not (too_heavy and edges_first and draft.blade.edges_value == "thick"):
        return draft, solved, ()
    slimmer = draft.deciding("edges", "medium")
    again = solve(slimmer, willing, wanted)
    given_up = Conflict(
        key="edges.gave_way",
        fields=("blade.stations.edge_mm", "wishes.edges", "wishes.gives_way_first"),
        kept="medium",
        given_up="thick",
        cost={
            "edge_mm": round(_edge(again) - _edge(solved), 1),
            "mass_g": round(again.weighing.mass_g - solved.weighing.mass_g, 1),
        },
        ways_out=("wishes.edges", "mass_g"),
    )
    return slimmer, again, (given_up,)


def _mass_given_way(wished: MassAim, made: MassAim, sheet: FittingSheet) -> tuple[Conflict, ...]:
    """A wished mass that was left for the pickup, as the player let it."""
    wish, found = sheet.wishes.mass_g, made.target_g
    if wish is None or found == wished.target_g:
        return ()
    if (wish.min is None or found >= wish.min) and (wish.max is None or found <= wish.max):
        return ()
    return (
        Conflict(
            key="mass.gave_way",
            fields=("mass_g", "wishes.mass_g", "wishes.gives_way_first"),
            kept=f"{found:.0f}",
            given_up=f"{wished.target_g:.0f}",
            cost={"mass_g": round(found - wished.target_g, 1)},
            ways_out=("wishes.mass_g",),
        ),
    )


def _edge(solved: Solved) -> float:
    return max(station.edge_mm for station in solved.build.blade.stations)
