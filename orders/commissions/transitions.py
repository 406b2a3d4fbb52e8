"""Which verbs move a commission from where to where, and who may. The one writer is lifecycle.py."""

from datetime import datetime

from django.utils import timezone

from orders.commissions.models import Commission, Proposal
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage, State
from orders.people.models import HOLDER_ROLES, STAFF_ROLES, Role, User

TRANSITIONS: dict[str, tuple[frozenset[State], State]] = {
    "propose": (frozenset({State.SENT, State.CHANGE_ASKED}), State.PROPOSED),
    "withdraw": (frozenset({State.PROPOSED}), State.SENT),
    "lapse": (frozenset({State.PROPOSED}), State.SENT),
    "ask_change": (frozenset({State.PROPOSED}), State.CHANGE_ASKED),
    "accept": (frozenset({State.PROPOSED}), State.ACCEPTED),
    "start": (frozenset({State.ACCEPTED}), State.MAKING),
    "finish": (frozenset({State.MAKING, State.MENDING}), State.READY),
    "deliver": (frozenset({State.READY}), State.DELIVERED),
    "send_back": (frozenset({State.DELIVERED}), State.BACK),
    "mend": (frozenset({State.BACK}), State.MENDING),
    "refund": (frozenset({State.BACK}), State.REFUNDED),
    "find_nothing": (frozenset({State.BACK}), State.DELIVERED),
    "cancel": (
        frozenset({State.SENT, State.CHANGE_ASKED, State.PROPOSED, State.ACCEPTED, State.MAKING}),
        State.CANCELLED,
    ),
}

MAKER = frozenset({Role.MAKER})
# Who may; a holder only for what is their own. Nobody lapses a proposal but the clock.
DOERS: dict[str, frozenset[Role]] = {
    "propose": MAKER,
    "withdraw": MAKER,
    "lapse": frozenset(),
    "ask_change": HOLDER_ROLES,
    "accept": HOLDER_ROLES,
    "start": STAFF_ROLES,
    "finish": STAFF_ROLES,
    "deliver": MAKER,
    "send_back": HOLDER_ROLES | MAKER,
    "mend": MAKER,
    "refund": MAKER,
    "find_nothing": MAKER,
    "cancel": HOLDER_ROLES | MAKER,
}


def may(verb: str, commission: Commission, by: User) -> bool:
    """Whether the state allows the verb and the person is one who may do it."""
    if commission.state not in TRANSITIONS[verb][0] or by.role not in DOERS[verb]:
        return False
    return by.role not in HOLDER_ROLES or commission.holder_id == by.pk


def can_propose(commission: Commission, by: User) -> bool:
    """Whether a proposal may be made."""
    return may("propose", commission, by)


def can_withdraw(commission: Commission, by: User) -> bool:
    """Whether the open proposal may be taken back."""
    return may("withdraw", commission, by)


def can_ask_change(commission: Commission, by: User) -> bool:
    """Whether a change of the open proposal may be asked for."""
    return may("ask_change", commission, by)


def can_accept(commission: Commission, by: User, *, at: datetime | None = None) -> bool:
    """Whether the open proposal may be accepted: in time and, for someone under 18, by the guardian."""
    if not may("accept", commission, by) or not guardian_if_needed(commission, by, at=at):
        return False
    return open_proposal(commission).is_valid(at or timezone.now())


def can_start(commission: Commission, by: User) -> bool:
    """Whether making may begin."""
    return may("start", commission, by)


def can_finish(commission: Commission, by: User) -> bool:
    """Whether it may be called ready: every bat has passed its inspection."""
    return may("finish", commission, by) and not commission.bats.exclude(stage=Stage.DONE).exists()


def can_deliver(commission: Commission, by: User) -> bool:
    """Whether the bat may be handed over."""
    return may("deliver", commission, by)


def can_send_back(commission: Commission, by: User) -> bool:
    """Whether the bat may come back."""
    return may("send_back", commission, by)


def can_mend(commission: Commission, by: User) -> bool:
    """Whether a bat that came back may go over the bench again."""
    return may("mend", commission, by)


def can_refund(commission: Commission, by: User) -> bool:
    """Whether the money may be given back for a bat that came back."""
    return may("refund", commission, by)


def can_find_nothing(commission: Commission, by: User) -> bool:
    """Whether a bat that came back may be found sound."""
    return may("find_nothing", commission, by)


def can_cancel(commission: Commission, by: User) -> bool:
    """Whether it may be cancelled; by the holder only until a cleft is cut for it."""
    if not may("cancel", commission, by):
        return False
    return by.role == Role.MAKER or not cleft_is_cut(commission)


def guardian_if_needed(commission: Commission, by: User, *, at: datetime | None = None) -> bool:
    """Whether this person may agree for the player: below 18 only the guardian's own account."""
    day = timezone.localdate(at or timezone.now())
    return not commission.player.needs_guardian(day) or by.role == Role.GUARDIAN


def cleft_is_cut(commission: Commission) -> bool:
    """Whether willow has been worked for it: a bat has gone past cleft selection."""
    return commission.bats.exclude(stage__in=(Stage.WAITING, Stage.CLEFT_SELECTION)).exists()


def open_proposal(commission: Commission) -> Proposal:
    """Return the proposal that waits for an answer.

    Raises:
        Refused: there is none.
    """
    proposal = commission.proposals.open().select_related("build_version").first()
    if proposal is None:
        raise Refused("not_now")
    return proposal
