"""A cleft kept aside for an open proposal.

What counts is computed: a hold whose proposal has lapsed or been withdrawn counts for nothing, whether or not
anybody has tidied it away. ``release_due`` only tidies.
"""

from datetime import datetime

from django.db import IntegrityError, transaction
from django.utils import timezone

from orders.commissions.models import Proposal
from orders.commissions.refusals import Refused
from orders.commissions.states import ProposalState, State
from orders.people.models import User
from workshop.rack.clefts import CleftRefused, put_back, touch
from workshop.rack.models import FREE_STATES, Cleft, CleftEntry, CleftHold, CleftState

MOST_FOR_A_PROPOSAL = 2


@transaction.atomic
def hold(cleft: Cleft, proposal: Proposal, *, by: User, at: datetime | None = None) -> CleftHold:
    """Keep a cleft aside for an open proposal until it lapses.

    Raises CleftRefused: "not_now" (the cleft's state), "proposal_closed", "held" (for a proposal already),
    "two_at_most", "meanwhile".
    """
    now = at or timezone.now()
    if cleft.state not in FREE_STATES:
        raise CleftRefused("not_now")
    if not proposal.is_valid(now):
        raise CleftRefused("proposal_closed")
    _release_over(now, cleft=cleft)
    standing = CleftHold.objects.filter(proposal=proposal, released_at__isnull=True)
    if standing.count() >= MOST_FOR_A_PROPOSAL:
        raise CleftRefused("two_at_most")
    touch(cleft)
    try:
        with transaction.atomic():
            kept = CleftHold.objects.create(
                cleft=cleft, proposal=proposal, until=timezone.localdate(proposal.valid_until), by=by, at=now
            )
    except IntegrityError as error:
        raise CleftRefused("held") from error
    _write_down(cleft, "hold", proposal, by, now)
    return kept


@transaction.atomic
def release(kept: CleftHold, *, by: User | None) -> None:
    """End a hold; ending it twice changes nothing."""
    ended = CleftHold.objects.filter(pk=kept.pk, released_at__isnull=True).update(released_at=timezone.now())
    if ended:
        _write_down(kept.cleft, "release", kept.proposal, by, timezone.now())


@transaction.atomic
def release_due(now: datetime | None = None) -> int:
    """Tidy: end holds that no longer count, lay uncut clefts of cancelled commissions back on the rack.

    Returns how many clefts became free.
    """
    freed = _release_over(now or timezone.now())
    stranded = Cleft.objects.filter(
        state=CleftState.RESERVED, bat__commission__state__in=(State.CANCELLED, State.REFUNDED)
    )
    for cleft in stranded.select_related("bat__commission"):
        try:
            put_back(cleft, by=None)
        except Refused:
            continue  # laid back by someone else in this very moment
        freed += 1
    return freed


def held_for(proposal: Proposal) -> list[Cleft]:
    """Return the clefts that are kept aside for a proposal and count today."""
    active = CleftHold.objects.active(timezone.localdate()).filter(proposal=proposal)
    return list(Cleft.objects.filter(pk__in=active.values("cleft")))


def open_proposals() -> list[Proposal]:
    """Return the proposals for which a cleft can be kept aside."""
    proposals = Proposal.objects.filter(state=ProposalState.OPEN, valid_until__gt=timezone.now())
    return list(proposals.select_related("commission", "commission__player").order_by("commission__number"))


def _release_over(now: datetime, cleft: Cleft | None = None) -> int:
    over = CleftHold.objects.over(timezone.localdate(now)).select_related("cleft", "proposal__commission")
    if cleft is not None:
        over = over.filter(cleft=cleft)
    count = 0
    for kept in over:
        if CleftHold.objects.filter(pk=kept.pk, released_at__isnull=True).update(released_at=now):
            _write_down(kept.cleft, "release", kept.proposal, None, now)
            count += 1
    return count


def _write_down(cleft: Cleft, verb: str, proposal: Proposal, by: User | None, at: datetime) -> None:
    CleftEntry.objects.create(
        cleft=cleft,
        verb=verb,
        from_state=cleft.state,
        to_state=cleft.state,
        by=by,
        at=at,
        data={"commission": proposal.commission.reference, "proposal": proposal.code},
    )
