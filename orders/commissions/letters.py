"""The letters that follow a verb, each written in the verb's own transaction."""

from typing import Any

from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet
from orders.commissions.book_in_force import book_in_force
from orders.commissions.models import Commission, Consent, Proposal
from orders.commissions.states import About, Answer, ChangeField
from orders.messages.outbox import post
from orders.money.amounts import show_price
from orders.people.models import User, Workshop
from orders.words.inspected import row_line
from orders.words.questions import LENGTHS
from orders.words.states import day_range, last_moment


def opened(commission: Commission) -> None:
    """Tell the workshop of a new commission, and the holder that it has arrived."""
    to_workshop(commission, "commission_opened")
    to_holder(commission, "commission_received")


def proposed(commission: Commission, proposal: Proposal) -> None:
    """Tell the holder that there is a proposal to answer."""
    to_holder(commission, "proposed", **_offer(proposal))


def withdrawn(commission: Commission, proposal: Proposal, why: str) -> None:
    """Tell the holder that the proposal is taken back."""
    to_holder(commission, "proposal_withdrawn", why=why, number=proposal.number)


def lapsed(commission: Commission, proposal: Proposal) -> None:
    """Tell both sides that nobody answered in time."""
    to_holder(commission, "proposal_lapsed", number=proposal.number)


def change_asked(commission: Commission, field: str, words: str) -> None:
    """Tell the workshop what the player would like otherwise."""
    to_workshop(commission, "change_asked", field=str(ChangeField(field).label), words=words)


def accepted(commission: Commission, proposal: Proposal) -> None:
    """Confirm to the holder what was agreed, and tell the workshop."""
    to_holder(commission, "accepted", **_offer(proposal))
    to_workshop(commission, "accepted_workshop", **_offer(proposal))


def started(commission: Commission) -> None:
    """Tell the holder that the bat has come to the bench."""
    to_holder(commission, "making_started")


def ready(commission: Commission) -> None:
    """Tell the holder that the bat has passed its inspection."""
    to_holder(commission, "bat_ready")


def cancelled(commission: Commission, by: User, why: str) -> None:
    """Confirm the end to the holder; tell the workshop when it was the holder who ended it."""
    by_holder = by.pk == commission.holder_id
    to_holder(commission, "cancelled", why=why, by_holder=by_holder)
    if by_holder:
        to_workshop(commission, "cancelled_workshop", why=why)


def consent_asked(consent: Consent) -> None:
    """Ask the holder about the bat, with the numbers and the maker's words."""
    bat = consent.bat
    commission = bat.commission
    about = {"words": consent.words}
    if consent.about == About.SMALLER_BAT:
        to_holder(commission, "smaller_asked", smaller=str(LENGTHS[consent.length_code][0]), **about)
        return
    agreed = bat.agreed
    if agreed is None:
        raise ValueError("nothing is agreed for this bat")
    build, book = read_sheet(BuildSheet, agreed.snapshot["build"]), book_in_force()
    lines = [row_line(row, build, book) for row in consent.rows]
    to_holder(commission, "consent_asked", lines=lines, **about)


def consent_answered(consent: Consent) -> None:
    """Tell the workshop what the player answers."""
    to_workshop(
        consent.bat.commission,
        "consent_answered",
        yes=consent.answer == Answer.YES,
        words=consent.answer_words,
        smaller=str(LENGTHS[consent.length_code][0]) if consent.length_code else "",
    )


def wood_failed(
    commission: Commission, *, words: str, cause: str, cleft: str, days: int, smaller: str = ""
) -> None:
    """Tell the holder that the wood failed, in the maker's words; with the new cleft and the new days.

    ``smaller`` is the length of the bat that the wood still makes, where the player may have that instead.
    """
    late = commission.promised_to
    to_holder(
        commission,
        "wood_failed",
        words=words,
        cause=cause,
        cleft=cleft,
        days=days,
        smaller=str(LENGTHS[smaller][0]) if smaller else "",
        ready=day_range(commission.promised_from, late) if late else "",
    )


def date_moved(commission: Commission, *, days: int, why: str) -> None:
    """Tell the holder that the bat takes longer, until when, and why."""
    late = commission.promised_to
    ready = day_range(commission.promised_from, late) if late else ""
    to_holder(commission, "date_moved", days=days, why=why.strip(), ready=ready)


def to_holder(commission: Commission, kind: str, **context: Any) -> None:
    """Write to the holder, with the path of the commission's own page."""
    path = reverse("commissions:commission", args=[commission.code])
    post(
        kind,
        to=commission.holder.email,
        context={**_about(commission), "path": path, **context},
        commission=commission,
    )


def to_workshop(commission: Commission, kind: str, **context: Any) -> None:
    """Write to the workshop's own address; nobody reads it before the workshop is opened."""
    workshop = Workshop.objects.the_one()
    if workshop is not None:
        post(kind, to=workshop.email, context={**_about(commission), **context}, commission=commission)


def _about(commission: Commission) -> dict[str, Any]:
    return {
        "reference": commission.reference,
        "name": commission.holder.name,
        "player": commission.player.name,
        "own_bat": not commission.player.relation,
    }


def _offer(proposal: Proposal) -> dict[str, Any]:
    return {
        "number": proposal.number,
        "price": show_price(proposal.price, proposal.currency),
        "ready_from": date_format(proposal.ready_from),
        "ready_to": date_format(proposal.ready_to),
        "valid_until": _last_day(proposal),
        "words": proposal.words,
        "mass_g": round(proposal.snapshot["build"]["mass_g"]["target"]),
    }


def _last_day(proposal: Proposal) -> str:
    """Say until when a proposal can be answered, in the workshop's own time."""
    workshop = Workshop.objects.the_one()
    with timezone.override(workshop.zone if workshop else "UTC"):
        return last_moment(proposal.valid_until)
