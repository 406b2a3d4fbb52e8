"""Commissions, what was proposed and agreed, the bats made of them, and the journal of it all."""

from orders.commissions.models.bat import Bat, Inspection, Reading, Round, StepDone
from orders.commissions.models.commission import (
    CLOSED_STATES,
    BookVersion,
    BuildVersion,
    Commission,
    Proposal,
)
from orders.commissions.models.consent import Consent
from orders.commissions.models.journal import JournalEntry

__all__ = [
    "CLOSED_STATES",
    "Bat",
    "BookVersion",
    "BuildVersion",
    "Commission",
    "Consent",
    "Inspection",
    "JournalEntry",
    "Proposal",
    "Reading",
    "Round",
    "StepDone",
]
