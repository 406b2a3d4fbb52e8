"""What stands on the page of cleft selection and on no other: how the cleft lies, what speaks against it."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext

from orders.commissions.bench_entries import keep_still
from orders.commissions.builds import sheet_of
from orders.commissions.models import Bat
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.models import User
from workshop.bench.cleft_picture import Laid, draw_cleft, draw_lie
from workshop.bench.lies import (
    Lie,
    Lying,
    Mark,
    Zones,
    best_of,
    every_lie,
    lie_words,
    lying,
    mark_words,
    reasons_against,
    zones_of,
)
from workshop.bench.models import Orientation
from workshop.bench.press_depths import wood_since
from workshop.bench.rows import keep_row, take_back_row
from workshop.bench.work import Work
from workshop.rack.clefts import cleft_of_round
from workshop.rack.models import Cleft


class LieMeanwhile(Refused):
    """Somebody else said how the cleft lies since the form was shown."""

    def __init__(self) -> None:
        super().__init__("lie_meanwhile")


def orientation_of(bat: Bat) -> Orientation | None:
    """Return how the bat's cleft lies; what was said of an earlier cleft does not count."""
    rows = Orientation.objects.standing().filter(bat=bat).select_related("by").order_by("pk")
    since = wood_since(bat)
    return None if since is None else rows.filter(at__gte=since).last()


def orientation_words(bat: Bat) -> str:
    """Say how the bat's cleft lies; nothing where that was never said."""
    stands = orientation_of(bat)
    if stands is None:
        return ""
    return lie_words(Lie(stands.toe_end, stands.face_side), stands.outside_edge)


@transaction.atomic
def orient(
    work: Work,
    lie: Lie,
    *,
    outside_edge: int,
    by: User,
    seen: int | None = None,
    at: datetime | None = None,
) -> Orientation:
    """Keep how the cleft lies; what was said of it before is taken back by a row of its own.

    Args:
        work: a bat in cleft selection with its cleft.
        lie: toe end and face.
        outside_edge: 1 or 2.
        by: who decides.
        seen: the row that the form was shown for, 0 where there was none; None asks nothing.
        at: when; now if absent.

    Raises:
        Refused: ``wrong_stage``, ``cleft_missing``; LieMeanwhile when another row stands than was seen.
    """
    bat = work.bat
    if bat.stage != Stage.CLEFT_SELECTION:
        raise Refused("wrong_stage", what=("orient", bat.stage))
    if cleft_of_round(bat) is None:
        raise Refused("cleft_missing")
    keep_still(bat, by, at=at or timezone.now())
    stands = orientation_of(bat)
    if seen is not None and seen != (stands.pk if stands else 0):
        raise LieMeanwhile
    if stands is not None:
        take_back_row(stands, by=by, at=at)
    values = {"toe_end": lie.toe_end, "face_side": lie.face_side, "outside_edge": outside_edge}
    return keep_row(Orientation, bat, by=by, at=at, **values)


def missing_words(work: Work, now: datetime) -> tuple[str, ...]:
    """Return what cleft selection still asks for before the bat passes on: how the cleft lies.

    Without a cleft there is nothing to lie; that one is missing is told by itself. It asks the same at any
    moment (``now``).
    """
    if work.is_adjustment or cleft_of_round(work.bat) is None:
        return ()
    return () if orientation_of(work.bat) else ("orientation",)


def zones_of_work(work: Work) -> Zones:
    """Return where splice and hitting zone of the agreed bat lie."""
    return zones_of(work.build, work.weighing, work.book.bench)


def laid(work: Work, cleft: Cleft, how: Lying) -> Laid:
    """Return a cleft with this bat laid into it, to be drawn."""
    return Laid(cleft, how, work.build, zones_of_work(work), work.book.bench.rough_depth_mm)


def drawn(picture: str) -> SafeString:
    """Return a picture of ours as markup: every word in it went through html.escape, the rest are numbers."""
    return mark_safe(picture)  # noqa: S308


@dataclass(frozen=True)
class Told:
    """One blemish in words, and whether the wood cannot be this bat so."""

    words: str
    spoils: bool


def told(marks: tuple[Mark, ...]) -> list[Told]:
    """Word blemishes, the ones that spoil the bat first."""
    listed = sorted(marks, key=lambda mark: (not mark.spoils, mark.number))
    return [Told(mark_words(mark), mark.spoils) for mark in listed]


@dataclass(frozen=True)
class LieShown:
    """One way to lay the cleft, to be chosen."""

    value: str
    words: str
    picture: SafeString
    marks: list[Told]
    spoils: int
    cut: str
    is_best: bool
    outside: str


def context(work: Work) -> dict[str, Any]:
    """Return what the stage's own part of the page shows."""
    cleft = cleft_of_round(work.bat)
    if cleft is None:
        return {"lies_shown": [], "lie_stands": None}
    stands, zones = orientation_of(work.bat), zones_of_work(work)
    return {
        "lies_shown": lies_shown(work, cleft),
        "lie_stands": _standing(work, cleft, stands, zones) if stands else None,
        "lie_seen": stands.pk if stands else 0,
        "lie_typed": {},
        "hand_words": hand_words(work),
        "cleft_reasons": reasons_against(cleft, work.book.bench),
        "cleft_photos": list(cleft.photos.all()),
    }


def hand_of(work: Work) -> str:
    """Return with which hand the player bats, as the fitting says: ``right``, ``left`` or nothing."""
    return str(sheet_of(work.bat.commission).player.batting_hand or "")


def hand_words(work: Work) -> str:
    """Say for which hand the edges are told."""
    match hand_of(work):
        case "right":
            return gettext("The player bats right-handed.")
        case "left":
            return gettext("The player bats left-handed.")
        case _:
            return ""


def lies_shown(work: Work, cleft: Cleft) -> list[LieShown]:
    """Return the four ways to lay a cleft, each drawn, with what would lie where."""
    zones, hand = zones_of_work(work), hand_of(work)
    ways = every_lie(cleft, zones)
    best = best_of(ways)
    outside = gettext("edge %(number)s is out then")
    return [
        LieShown(
            value=how.lie.value,
            words=lie_words(how.lie),
            picture=drawn(draw_lie(laid(work, cleft, how))),
            marks=told(how.marks),
            spoils=len(how.spoilt_by),
            cut=_cut_words(how, cleft, zones),
            is_best=bool(how.marks) and how.lie == best.lie,
            outside=outside % {"number": edge} if (edge := how.lie.outside_edge(hand)) else "",
        )
        for how in ways
    ]


def _cut_words(how: Lying, cleft: Cleft, zones: Zones) -> str:
    over = cleft.length_mm - zones.blade_mm - zones.rough_mm
    if not how.surplus_at_toe or over <= 0:
        return ""
    return gettext("%(over)s mm cut off at the toe's end") % {"over": f"{over:.0f}"}


def _standing(work: Work, cleft: Cleft, stands: Orientation, zones: Zones) -> dict[str, Any]:
    lie = Lie(stands.toe_end, stands.face_side)
    how = lying(cleft, lie, zones)
    return {
        "pk": stands.pk,
        "words": lie_words(lie, stands.outside_edge),
        "by": stands.by.name,
        "at": stands.at,
        "picture": drawn(draw_cleft(laid(work, cleft, how))),
        "marks": told(how.marks),
        "spoils": bool(how.spoilt_by),
        "cut": _cut_words(how, cleft, zones),
        "other_hand": other_hand_words(work, lie, stands.outside_edge),
    }


def other_hand_words(work: Work, lie: Lie, outside_edge: int) -> str:
    """Warn when the edge that is said to be out lies inside for this player; nothing otherwise."""
    out = lie.outside_edge(hand_of(work))
    if out is None or out == outside_edge:
        return ""
    words = gettext(
        "Lying so edge %(given)s is inside for this player; out is edge %(out)s. Turn the cleft end for end, "
        "or take the other side for the face."
    )
    return words % {"given": outside_edge, "out": out}
