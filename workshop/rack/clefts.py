"""What can befall a cleft: the table, the guards and the one writer."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone

from orders.commissions import stages
from orders.commissions.models import Bat
from orders.commissions.refusals import Refused
from orders.people.models import User
from workshop.rack import photographs
from workshop.rack.history import note_down
from workshop.rack.models import BOUND_STATES, FREE_STATES, Cleft, CleftHold, CleftState

S = CleftState

# verb: (from states, to state). Used and rejected wood does not come back to the rack as it was.
TRANSITIONS: dict[str, tuple[frozenset[CleftState], CleftState]] = {
    "make_ready": (frozenset({S.SEASONING}), S.READY),
    "season": (frozenset({S.READY, S.SMALLER}), S.SEASONING),
    "mark_smaller": (frozenset({S.SEASONING, S.READY, S.RESERVED, S.USED}), S.SMALLER),
    "reject": (frozenset({S.SEASONING, S.READY, S.SMALLER, S.RESERVED, S.USED}), S.REJECTED),
    "reserve": (frozenset(FREE_STATES), S.RESERVED),
    "put_back": (frozenset({S.RESERVED}), S.READY),
    "cut": (frozenset({S.RESERVED}), S.USED),
}
# Verbs that a maker or bench hand may say on the cleft's own page; the others come from the bench.
BY_HAND = ("make_ready", "season", "mark_smaller", "reject")
NEEDS_REASON = frozenset({"mark_smaller", "reject"})
GRADES = (1, 2, 3, 4)
# When wood is graded: as it comes, and each time more of it can be seen; "" is at any other time.
GRADED_WHEN = ("arrival", "dressing", "pressing", "")


class CleftRefused(Refused):
    """A cleft that does not do what was asked; nothing was written. ``workshop/rack/words.py`` words it."""


def can(verb: str, cleft: Cleft) -> bool:
    """Whether the state of the cleft lets it."""
    return cleft.state in TRANSITIONS[verb][0]


def verbs_by_hand(cleft: Cleft) -> tuple[str, ...]:
    """Return what can be done to a cleft on its own page."""
    if cleft.state in BOUND_STATES:
        return ()
    return tuple(verb for verb in BY_HAND if can(verb, cleft))


@transaction.atomic
def take_in(cleft: Cleft, *, by: User, at: datetime | None = None) -> Cleft:
    """Put a new cleft on the rack.

    Raises CleftRefused("number_taken") when another has its number.
    """
    try:
        with transaction.atomic():
            cleft.save(force_insert=True)
    except IntegrityError as error:
        raise CleftRefused("number_taken") from error
    note_down(cleft, "take_in", taken_in(cleft), by=by, from_state="", at=at)
    return cleft


def taken_in(cleft: Cleft) -> dict[str, Any]:
    """Return what the history keeps of a cleft's coming in: its first weighing and its grade on arrival."""
    return {
        "mass": cleft.mass,
        "moisture": cleft.moisture,
        "read_on": cleft.read_on.isoformat(),
        "grade": cleft.grade,
    }


@transaction.atomic
def weigh_again(
    cleft: Cleft,
    *,
    mass: int,
    moisture: int,
    read_on: date,
    by: User,
    moisture_at: str = "",
    at: datetime | None = None,
) -> None:
    """Keep a new reading of mass (0.1 g) and moisture (0.1 %); the old one stays in the history.

    Raises CleftRefused("bound") when it has been cut or thrown out, ("meanwhile") when someone else
    changed it.
    """
    if cleft.state in (S.USED, S.REJECTED):
        raise CleftRefused("bound")
    was = {"mass_before": cleft.mass, "moisture_before": cleft.moisture}
    latest = read_on >= cleft.read_on
    if latest:
        _update(cleft, mass=mass, moisture=moisture, moisture_at=moisture_at, read_on=read_on)
    else:
        # An older sheet of readings typed in later belongs to the course, not to how the cleft is now.
        _update(cleft)
    said = {"mass": mass, "moisture": moisture, "moisture_at": moisture_at, "read_on": read_on.isoformat()}
    note_down(cleft, "weigh", {**said, **was}, by=by, at=at)


@transaction.atomic
def grade_again(
    cleft: Cleft, *, grade: int, when: str, by: User, words: str = "", at: datetime | None = None
) -> None:
    """Grade a cleft anew: after dressing, after pressing, or because somebody saw more.

    Raises CleftRefused("thrown_out"), ("grade_unknown"), ("meanwhile").
    """
    if cleft.state == S.REJECTED:
        raise CleftRefused("thrown_out")
    if grade not in GRADES or when not in GRADED_WHEN:
        raise CleftRefused("grade_unknown")
    said = {"grade": grade, "grade_before": cleft.grade, "when": when, "words": words}
    _update(cleft, grade=grade)
    note_down(cleft, "grade", said, by=by, at=at)


@transaction.atomic
def amend(cleft: Cleft, columns: Mapping[str, Any], *, by: User, at: datetime | None = None) -> list[str]:
    """Put right what was noted of a cleft; what stood there before is kept in the history.

    Returns the columns that changed. Raises CleftRefused("bound") when it has been cut or thrown out,
    ("number_taken"), ("meanwhile").
    """
    if cleft.state in (S.USED, S.REJECTED):
        raise CleftRefused("bound")
    changed = {name: value for name, value in columns.items() if getattr(cleft, name) != value}
    if not changed:
        return []
    before = {name: _told(getattr(cleft, name)) for name in changed}
    try:
        with transaction.atomic():
            _update(cleft, **changed)
    except IntegrityError as error:
        raise CleftRefused("number_taken") from error
    told = {name: [before[name], _told(value)] for name, value in changed.items() if name != "price"}
    note_down(cleft, "amend", {"changed": told}, by=by, at=at)
    return list(changed)


@transaction.atomic
def change_standing(
    cleft: Cleft, verb: str, *, by: User, words: str = "", at: datetime | None = None
) -> None:
    """Say by hand that a cleft is ready, needs more seasoning, suits a smaller size, or is thrown out."""
    if verb not in BY_HAND or cleft.state in BOUND_STATES:
        raise CleftRefused("not_now")
    _move(cleft, verb, by=by, data={"words": words}, at=at)


@transaction.atomic
def reserve(cleft: Cleft, bat: Bat, *, by: User, at: datetime | None = None) -> None:
    """Give a cleft to one bat's present round; a hold of the bat's own commission ends with it.

    Raises CleftRefused: "not_now" (its state), "held" (for another commission), "bat_has_one",
    "meanwhile" (somebody was quicker).
    """
    today = timezone.localdate()
    holds = CleftHold.objects.filter(cleft=cleft)
    if holds.active(today).exclude(proposal__commission_id=bat.commission_id).exists():
        raise CleftRefused("held")
    if Cleft.objects.filter(bat=bat, round=bat.round).exists():
        raise CleftRefused("bat_has_one")
    try:
        with transaction.atomic():
            _move(cleft, "reserve", by=by, data=_about(bat), at=at, bat=bat, round=bat.round)
    except IntegrityError as error:
        raise CleftRefused("bat_has_one") from error
    CleftHold.objects.filter(proposal__commission_id=bat.commission_id, released_at__isnull=True).update(
        released_at=at or timezone.now()
    )
    stages.name_cleft(bat, cleft.label, by=by, at=at)


@transaction.atomic
def put_back(cleft: Cleft, *, by: User | None, words: str = "", at: datetime | None = None) -> None:
    """Take a reserved, uncut cleft from its bat and lay it back on the rack."""
    bat = cleft.bat
    data = {**_about(bat), "words": words}
    _move(cleft, "put_back", by=by, data=data, at=at, bat=None, round=None)
    photographs.hide_all(cleft, by=by)
    if bat:
        stages.name_cleft(bat, "", by=by, at=at)


@transaction.atomic
def cut(cleft: Cleft, *, by: User, at: datetime | None = None) -> None:
    """Note that the wood has been committed to its bat."""
    _move(cleft, "cut", by=by, data=_about(cleft.bat), at=at)


@transaction.atomic
def fail(cleft: Cleft, verb: str, *, by: User, words: str, at: datetime | None = None) -> None:
    """Take a cleft that failed at the bench from its bat: for a smaller size, or thrown out; say why."""
    if verb not in NEEDS_REASON or cleft.state not in BOUND_STATES:
        raise CleftRefused("not_now")
    bat = cleft.bat
    data = {**_about(bat), "words": words}
    _move(cleft, verb, by=by, data=data, at=at, bat=None, round=None)
    photographs.hide_all(cleft, by=by)
    if bat:
        stages.name_cleft(bat, "", by=by, at=at)


def cleft_of(bat: Bat) -> Cleft | None:
    """Return the cleft that a bat is made of: of its present round, or else of the last before."""
    return Cleft.objects.filter(bat=bat).order_by("-round").first()


def cleft_of_round(bat: Bat) -> Cleft | None:
    """Return the cleft that was chosen for the bat's present round, with that very bat on it."""
    found = Cleft.objects.filter(bat=bat, round=bat.round).first()
    if found is not None:
        found.bat = bat
    return found


def _told(value: Any) -> Any:
    """Return a column's value as the history keeps it."""
    return value if value is None or isinstance(value, int | str) else str(value)


def _about(bat: Bat | None) -> dict[str, str]:
    """Return what a cleft's history keeps of its bat."""
    return {} if bat is None else {"bat": bat.code, "commission": bat.commission.reference}


def _move(
    cleft: Cleft,
    verb: str,
    *,
    by: User | None,
    data: dict[str, Any],
    at: datetime | None,
    **columns: Any,
) -> None:
    from_states, to_state = TRANSITIONS[verb]
    if cleft.state not in from_states:
        raise CleftRefused("not_now")
    if verb in NEEDS_REASON and not data.get("words", "").strip():
        raise CleftRefused("needs_words")
    from_state = cleft.state
    _update(cleft, state=to_state, **columns)
    note_down(cleft, verb, data, by=by, from_state=from_state, at=at)


def _update(cleft: Cleft, **columns: Any) -> None:
    """Change a cleft only if it still stands as it was read."""
    same = Cleft.objects.filter(pk=cleft.pk, version=cleft.version, state=cleft.state)
    if same.update(version=cleft.version + 1, **columns) != 1:
        raise CleftRefused("meanwhile")
    for name, value in {**columns, "version": cleft.version + 1}.items():
        setattr(cleft, name, value)


def touch(cleft: Cleft) -> None:
    """Raise the version, so that of two who take the same cleft at once one is refused."""
    _update(cleft)
