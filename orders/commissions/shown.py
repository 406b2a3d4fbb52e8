"""What a commission's page shows: the bat that is meant, its figures, where it lies, what is told to whom."""

from dataclasses import dataclass
from math import pi
from typing import Any

from django.utils.translation import gettext as _

from fitting.recommend.present import present_pickup
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet, PresentBat
from fitting.sheets.weighing import Weighing
from fitting.units import System
from orders.commissions.book_in_force import book_in_force
from orders.commissions.builds import build_of, weighing_of
from orders.commissions.models import Bat, Commission, Proposal
from orders.commissions.stages import current_round
from orders.commissions.states import Origin, ProposalState, Stage, State
from orders.messages.models import Letter, Photo
from orders.messages.photographs import photographs_listed
from orders.messages.rendering import Text, texts_of
from orders.money.amounts import show_price
from orders.words.forecast import OTHER, say_pickup_spread, say_spread, together
from orders.words.lawful import place_words
from orders.words.laws import law_words, level_words
from orders.words.measures import like_mass_g, like_spread_g, say_pickup, show_length, show_mass
from orders.words.pickup import pickup_reference
from orders.words.states import day_range, last_moment, terms_words
from orders.words.sweet_spot import older_model, say_peak, say_reach, soft_place

# Below these a difference from the bat in use is told as none.
SAME_G, SAME_MM = 5.0, 2.0
MOST_LETTERS = 12


@dataclass(frozen=True)
class Figure:
    """One big number of a page: the number, what it is, a note."""

    number: str
    what: str
    note: str = ""


@dataclass(frozen=True)
class Difference:
    """One quantity of the new bat beside that of the bat in use."""

    what: str
    new: str
    present: str
    change: str


@dataclass(frozen=True)
class StagePlace:
    """One stage of a round: its word, and whether it is behind, here or ahead."""

    word: str
    is_done: bool
    is_here: bool


def latest_proposal(commission: Commission) -> Proposal | None:
    """Return what the player is, or was last, asked to agree to; the accepted one if there is one."""
    proposals = sorted(commission.proposals.all(), key=lambda proposal: -proposal.number)
    agreed = [proposal for proposal in proposals if proposal.state == ProposalState.ACCEPTED]
    return next(iter(agreed or proposals), None)


def bat_meant(commission: Commission, proposal: Proposal | None) -> tuple[BuildSheet, Weighing]:
    """Return the build sheet that the player is shown, with its weighing.

    What was adjusted last on a bat that came back; else what is proposed or agreed; else what the
    fitting recommended. What the maker only tries out is not shown.
    """
    builds = sorted(commission.builds.all(), key=lambda version: version.number)
    adjusted = [version for version in builds if version.origin == Origin.ADJUSTED]
    if adjusted:
        return build_of(adjusted[-1]), weighing_of(adjusted[-1])
    if proposal is not None and proposal.state in (ProposalState.OPEN, ProposalState.ACCEPTED):
        return offered(proposal)
    return build_of(builds[0]), weighing_of(builds[0])


def offered(proposal: Proposal) -> tuple[BuildSheet, Weighing]:
    """Read build sheet and weighing as they stand in a proposal's snapshot."""
    snapshot = proposal.snapshot
    return read_sheet(BuildSheet, snapshot["build"]), read_sheet(Weighing, snapshot["weighing"])


def figures(
    build: BuildSheet, weighing: Weighing, system: System = "metric", *, length: bool = True
) -> list[Figure]:
    """Return the forecast's big numbers in one system of units, soft where they are soft."""
    other = OTHER[system]
    reference = pickup_reference(build.length_code, book_in_force())
    found = [
        Figure(
            show_mass(weighing.mass_g, system),
            _("mass, the forecast"),
            together(say_spread(weighing.mass_sd_g, system), show_mass(weighing.mass_g, other)),
        ),
        Figure(
            say_pickup(weighing.inertia_kg_m2.pickup, reference),
            _("to pick up"),
            say_pickup_spread(weighing, reference),
        ),
        where_it_hits(weighing, system),
        Figure(
            show_length(round(weighing.balance_from_toe_mm), system),
            _("balance, from the toe"),
            _balance_spread(weighing, system),
        ),
    ]
    if length:
        other_length = show_length(weighing.overall_length_mm, other)
        found.append(
            Figure(show_length(weighing.overall_length_mm, system), _("overall length"), other_length)
        )
    return found


def where_it_hits(weighing: Weighing, system: System = "metric") -> Figure:
    """Return the place that hits hardest with its reach; the swell where an older model told none."""
    sweet = weighing.sweet_spot
    if sweet is None:
        return Figure(
            soft_place(weighing.swell_from_toe_mm, system), _("thickest, above the toe"), older_model()
        )
    return Figure(say_peak(sweet, system), _("hits hardest, above the toe"), say_reach(sweet, system))


def _balance_spread(weighing: Weighing, system: System) -> str:
    if weighing.balance_sd_mm is None:
        return ""
    spread = show_length(max(round(weighing.balance_sd_mm), 1), system)
    return _("give or take %(length)s") % {"length": spread}


def differences(sheet: FittingSheet, build: BuildSheet, weighing: Weighing) -> list[Difference]:
    """Return the new bat beside the one in use, as far as that one was measured."""
    present = sheet.present_bat
    grip_mm = build.handle.girth_mm.middle + 2 * pi * build.grips.count * build.grips.wall_mm
    rows = [
        _mass_row(present, weighing),
        _pickup_row(present, build, weighing),
        _length_row(_("balance, from the toe"), present.balance_from_toe_mm, weighing.balance_from_toe_mm),
        _length_row(_("overall length"), present.overall_length_mm, weighing.overall_length_mm),
        _length_row(_("round the handle, over the grip"), present.grip_girth_mm, grip_mm),
    ]
    return [row for row in rows if row is not None]


def _mass_row(present: PresentBat, weighing: Weighing) -> Difference | None:
    if present.mass_g is None:
        return None
    change = weighing.mass_g - present.mass_g
    return Difference(
        _("mass"), show_mass(weighing.mass_g), show_mass(present.mass_g), _change(change, SAME_G, "g")
    )


def _pickup_row(present: PresentBat, build: BuildSheet, weighing: Weighing) -> Difference | None:
    now = present_pickup(present)
    if now is None:
        return None
    book = book_in_force()
    reference = pickup_reference(build.length_code, book)
    old = like_mass_g(now.pickup_kg_m2, reference)
    new = like_mass_g(weighing.inertia_kg_m2.pickup, reference)
    # a difference below what the bat in use is known to is none
    if abs(new - old) < max(2 * SAME_G, like_spread_g(now.sd_kg_m2, reference)):
        words = _("about the same")
    else:
        words = _("lighter to lift") if new < old else _("heavier to lift")
    return Difference(
        _("to pick up"),
        say_pickup(weighing.inertia_kg_m2.pickup, reference),
        say_pickup(now.pickup_kg_m2, reference, now.sd_kg_m2),
        words,
    )


def _length_row(what: str, old: float | None, new: float) -> Difference | None:
    if old is None:
        return None
    return Difference(what, show_length(new), show_length(old), _change(new - old, SAME_MM, "mm"))


def _change(change: float, same: float, unit: str) -> str:
    if abs(change) < same:
        return _("about the same")
    return f"{change:+.0f} {unit}".replace("-", "−")


def stage_places(bat: Bat) -> list[StagePlace]:
    """Return the stages of the bat's round as a row, with the final inspection at its end."""
    stages = [*current_round(bat).stages, Stage.INSPECTION]
    here = (
        stages.index(bat.stage) if bat.stage in stages else (len(stages) if bat.stage == Stage.DONE else -1)
    )
    return [
        StagePlace(str(Stage(stage).label), place < here, place == here) for place, stage in enumerate(stages)
    ]


def part_at_work(commission: Commission, bat: Bat | None) -> str | None:
    """Return the stage whose part of the bat is marked on the drawing, None when no one works on it."""
    working = commission.state in (State.MAKING, State.MENDING)
    return bat.stage if bat is not None and working and bat.is_being_worked_on else None


def offer_shown(proposal: Proposal) -> dict[str, Any]:
    """Word what a proposal offers, from its snapshot alone."""
    snapshot = proposal.snapshot
    price = snapshot["price"]
    return {
        "proposal": proposal,
        "total": show_price(price["total"], price["currency"]),
        "tax": show_price(price["tax"], price["currency"]) if price["tax"] else "",
        "tax_percent": price["tax_percent"],
        "ready": day_range(proposal.ready_from, proposal.ready_to),
        "valid_until": last_moment(proposal.valid_until),
        "laws": [{**law_words(row), "place": place_words(row)} for row in snapshot["laws"]],
        "level_words": level_words(snapshot["sheet"].get("level"), snapshot["edition"]),
        "edition": snapshot["edition"],
        "terms": terms_words(snapshot["terms"]),
        "clefts": snapshot["clefts"],
        "words": snapshot["words"],
        "hash": proposal.snapshot_hash,
    }


def letters_to(commission: Commission, address: str) -> list[tuple[Letter, Text]]:
    """Return the letters about the commission that went to one address, newest first, filled in."""
    found = Letter.objects.filter(commission_code=commission.code, to=address)
    rows = list(found.order_by("-created_at", "-pk")[:MOST_LETTERS])
    return list(zip(rows, texts_of(rows), strict=True))


def photos_shown(commission: Commission) -> list[dict[str, Any]]:
    """Return the photographs that the maker shows to the player."""
    return photographs_listed(Photo.objects.filter(commission=commission, shown_to_player=True))
