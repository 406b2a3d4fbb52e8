"""The verbs of a commission, and the one place that writes its state.

The table of moves and the guards stand in transitions.py. Every verb takes the commission as it was
read. It writes the new state only if the row still has that state and version, one journal entry, and
the letters that follow, all in one transaction.
"""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from orders.commissions import letters
from orders.commissions.models import Bat, BuildVersion, Commission, JournalEntry, Proposal, Round
from orders.commissions.opening import open_commission
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.searching import refresh_search
from orders.commissions.snapshots import Offer, snapshot_of
from orders.commissions.states import BENCH_STAGES, Cause, ProposalState
from orders.commissions.transitions import (
    TRANSITIONS,
    can_accept,
    can_ask_change,
    can_cancel,
    can_deliver,
    can_find_nothing,
    can_finish,
    can_mend,
    can_propose,
    can_refund,
    can_send_back,
    can_start,
    can_withdraw,
    guardian_if_needed,
    may,
    open_proposal,
)
from orders.people.models import User

__all__ = [
    "TRANSITIONS",
    "accept",
    "ask_change",
    "can_accept",
    "can_ask_change",
    "can_cancel",
    "can_deliver",
    "can_find_nothing",
    "can_finish",
    "can_mend",
    "can_propose",
    "can_refund",
    "can_send_back",
    "can_start",
    "can_withdraw",
    "cancel",
    "deliver",
    "find_nothing",
    "finish",
    "lapse",
    "lapse_due",
    "mend",
    "open_commission",
    "propose",
    "refund",
    "send_back",
    "start",
    "withdraw",
]


@transaction.atomic
def propose(
    commission: Commission, *, by: User, build_version: BuildVersion, offer: Offer, at: datetime | None = None
) -> Proposal:
    """Offer a build sheet with price and date.

    Raises:
        Refused: wrong state or person, or a build that breaks the sizes of the Laws.
    """
    now = at or timezone.now()
    _require(can_propose(commission, by), "propose", commission)
    number = commission.proposals.count() + 1
    snapshot, stamp = snapshot_of(commission, build_version, offer, number=number)
    move(commission, "propose", by=by, at=now, data={"proposal": number, "hash": stamp})
    proposal = Proposal.objects.create(
        commission=commission,
        number=number,
        build_version=build_version,
        price=offer.price.total,
        currency=offer.price.currency,
        tax=offer.price.tax_percent,
        ready_from=offer.ready_from,
        ready_to=offer.ready_to,
        valid_until=offer.valid_until,
        subject_to_willow=not offer.clefts,
        words=offer.words,
        snapshot=snapshot,
        snapshot_hash=stamp,
        created_at=now,
        by=by,
    )
    letters.proposed(commission, proposal)
    return proposal


@transaction.atomic
def withdraw(commission: Commission, *, by: User, why: str = "", at: datetime | None = None) -> None:
    """Take the open proposal back."""
    _require(can_withdraw(commission, by), "withdraw", commission)
    proposal = open_proposal(commission)
    move(commission, "withdraw", by=by, at=at, data={"proposal": proposal.number, "why": why})
    _close(proposal, ProposalState.WITHDRAWN, at=at)
    letters.withdrawn(commission, proposal, why)


@transaction.atomic
def lapse(commission: Commission, *, at: datetime | None = None) -> None:
    """End a proposal whose time is over.

    Raises:
        Refused: there is none, or it is still valid.
    """
    now = at or timezone.now()
    proposal = open_proposal(commission)
    if proposal.is_valid(now):
        raise Refused("not_now")
    move(commission, "lapse", by=None, at=now, data={"proposal": proposal.number})
    _close(proposal, ProposalState.LAPSED, at=now)
    letters.lapsed(commission, proposal)


@transaction.atomic
def ask_change(
    commission: Commission, *, by: User, field: str, words: str, at: datetime | None = None
) -> None:
    """Ask the maker for something else than is proposed."""
    _require(can_ask_change(commission, by), "ask_change", commission)
    proposal = open_proposal(commission)
    move(commission, "ask_change", by=by, at=at, data={"proposal": proposal.number, "field": field})
    _close(
        proposal,
        ProposalState.CHANGE_ASKED,
        by=by,
        at=at,
        fields={"change_field": field, "change_words": words},
    )
    letters.change_asked(commission, field, words)


@transaction.atomic
def accept(commission: Commission, *, by: User, seen: str, at: datetime | None = None) -> Bat:
    """Accept the open proposal exactly as it was seen; returns the bat that is now to be made.

    Args:
        commission: as it was read.
        by: the holder; for a player under 18 the guardian.
        seen: the hash of what was on the page when the button was pressed.
        at: when; now if absent.

    Raises:
        Refused: ``other_snapshot`` when something else is offered by now, ``lapsed`` when it is too late,
            ``guardian_needed``, ``not_now``, ``moved_on``.
    """
    now = at or timezone.now()
    _require(may("accept", commission, by), "accept", commission)
    proposal = open_proposal(commission)
    if proposal.snapshot_hash != seen:
        raise Refused("other_snapshot")
    if not proposal.is_valid(now):
        raise Refused("lapsed")
    if not guardian_if_needed(commission, by, at=now):
        raise Refused("guardian_needed")
    move(
        commission,
        "accept",
        by=by,
        at=now,
        data={"proposal": proposal.number, "hash": seen},
        fields={"promised_from": proposal.ready_from, "promised_to": proposal.ready_to},
    )
    _close(proposal, ProposalState.ACCEPTED, by=by, at=now)
    bat = Bat.objects.create(commission=commission, ordinal=1, agreed=proposal, changed_at=now)
    Round.objects.create(bat=bat, number=1, cause=Cause.MAKING, stages=list(BENCH_STAGES), opened_at=now)
    letters.accepted(commission, proposal)
    return bat


@transaction.atomic
def start(commission: Commission, *, by: User, at: datetime | None = None) -> None:
    """Begin to make what was agreed."""
    _require(can_start(commission, by), "start", commission)
    move(commission, "start", by=by, at=at)
    letters.started(commission)


@transaction.atomic
def finish(commission: Commission, *, by: User, at: datetime | None = None) -> None:
    """Call it ready: every bat has passed its inspection."""
    _require(can_finish(commission, by), "finish", commission)
    move(commission, "finish", by=by, at=at)
    letters.ready(commission)


@transaction.atomic
def deliver(
    commission: Commission, *, by: User, data: Mapping[str, Any] | None = None, at: datetime | None = None
) -> None:
    """Hand the bat over. The letter that goes with it is the caller's."""
    _require(can_deliver(commission, by), "deliver", commission)
    now = at or timezone.now()
    move(commission, "deliver", by=by, at=now, data=data)
    commission.bats.update(delivered_at=now)


@transaction.atomic
def send_back(
    commission: Commission, *, by: User, data: Mapping[str, Any] | None = None, at: datetime | None = None
) -> None:
    """Let a delivered bat come back."""
    _require(can_send_back(commission, by), "send_back", commission)
    move(commission, "send_back", by=by, at=at, data=data)


@transaction.atomic
def mend(
    commission: Commission,
    *,
    by: User,
    promised: tuple[date, date] | None = None,
    data: Mapping[str, Any] | None = None,
    at: datetime | None = None,
) -> None:
    """Put a bat that came back over the bench again; ``promised`` is the new range of dates, if one is given.

    The round over the bench is opened by ``stages.open_round`` in the same transaction.
    """
    _require(can_mend(commission, by), "mend", commission)
    early, late = promised or (None, None)
    move(commission, "mend", by=by, at=at, data=data, fields={"promised_from": early, "promised_to": late})


@transaction.atomic
def refund(
    commission: Commission, *, by: User, data: Mapping[str, Any] | None = None, at: datetime | None = None
) -> None:
    """Give the money back for a bat that came back."""
    _require(can_refund(commission, by), "refund", commission)
    move(commission, "refund", by=by, at=at, data=data)


@transaction.atomic
def find_nothing(
    commission: Commission, *, by: User, data: Mapping[str, Any] | None = None, at: datetime | None = None
) -> None:
    """Send a bat that came back to its player again as it is."""
    _require(can_find_nothing(commission, by), "find_nothing", commission)
    move(commission, "find_nothing", by=by, at=at, data=data)


@transaction.atomic
def cancel(commission: Commission, *, by: User, why: str, at: datetime | None = None) -> None:
    """End the commission before a bat is finished."""
    if may("cancel", commission, by) and not can_cancel(commission, by):
        raise Refused("cleft_is_cut")
    _require(can_cancel(commission, by), "cancel", commission)
    proposal = commission.proposals.open().first()
    move(
        commission,
        "cancel",
        by=by,
        at=at,
        data={"why": why},
        fields={"cancelled_by": by, "cancelled_why": why},
    )
    if proposal is not None:
        _close(proposal, ProposalState.CLOSED, at=at)
    letters.cancelled(commission, by, why)


def lapse_due(now: datetime | None = None) -> int:
    """End every proposal whose time is over; returns how many. Run by the worker."""
    moment = now or timezone.now()
    ended = 0
    for proposal in Proposal.objects.due_to_lapse(moment).select_related("commission__holder"):
        try:
            lapse(proposal.commission, at=moment)
        except Refused:
            continue  # answered in this very moment
        ended += 1
    return ended


def move(
    commission: Commission,
    verb: str,
    *,
    by: User | None,
    at: datetime | None = None,
    data: Mapping[str, Any] | None = None,
    fields: Mapping[str, Any] | None = None,
) -> JournalEntry:
    """Write the new state and its journal entry: the only place that writes a commission's state.

    Raises:
        Refused: the state does not allow the verb.
        MovedOn: the row is no longer as it was read.
    """
    from_states, to_state = TRANSITIONS[verb]
    if commission.state not in from_states:
        raise Refused("not_now", what=(verb, commission.state))
    now = at or timezone.now()
    changed = {"state": to_state, "changed_at": now, **(fields or {})}
    written = Commission.objects.filter(
        pk=commission.pk, state=commission.state, version=commission.version
    ).update(version=F("version") + 1, **changed)
    if not written:
        raise MovedOn
    entry = JournalEntry.objects.create(
        commission=commission,
        verb=verb,
        from_state=commission.state,
        to_state=to_state,
        by=by,
        data=dict(data or {}),
        at=now,
    )
    commission.version += 1
    for name, value in changed.items():
        setattr(commission, name, value)
    refresh_search(commission)
    return entry


def _require(allowed: bool, verb: str, commission: Commission) -> None:
    if not allowed:
        in_state = commission.state in TRANSITIONS[verb][0]
        raise Refused("not_yours" if in_state else "not_now", what=(verb, commission.state))


def _close(
    proposal: Proposal,
    state: ProposalState,
    *,
    by: User | None = None,
    at: datetime | None = None,
    fields: Mapping[str, Any] | None = None,
) -> None:
    closed = Proposal.objects.filter(pk=proposal.pk, state=ProposalState.OPEN).update(
        state=state, answered_by=by, answered_at=at or timezone.now(), **(fields or {})
    )
    if not closed:
        raise MovedOn
