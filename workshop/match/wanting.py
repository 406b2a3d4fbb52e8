"""The bats that want a cleft: agreed ones without any, and, when asked for, those that are proposed."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from django.utils import timezone

from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet
from orders.commissions.book_in_force import book_in_force
from orders.commissions.models import Bat, Commission, Proposal
from orders.commissions.states import ProposalState, Stage
from workshop.bench.work import work_on
from workshop.match import tables

# Seconds a minute that the worker gives to tables; its letters wait meanwhile.
WORKERS_SECONDS = 20.0


@dataclass(frozen=True)
class Wanting:
    """One bat that wants a cleft; without ``bat`` it is only proposed, and would like one."""

    commission: Commission
    proposal: Proposal
    bat: Bat | None
    build: BuildSheet
    key: str

    @property
    def due(self) -> date | None:
        """When it is promised for, or offered for."""
        return self.commission.promised_to or self.proposal.ready_to

    @property
    def label(self) -> str:
        """The commission's number, with the bat's own where there are several."""
        ordinal = 1 if self.bat is None else self.bat.ordinal
        return self.commission.reference if ordinal == 1 else f"{self.commission.reference}-{ordinal}"

    @property
    def code(self) -> str:
        """Code of the bat, or of the proposal."""
        return self.proposal.code if self.bat is None else self.bat.code

    def days_left(self, today: date) -> float | None:
        """Days until it is due; below 0 when it is late."""
        return None if self.due is None else float((self.due - today).days)


def wanting(book: Book, *, proposed: bool = False) -> list[Wanting]:
    """Return the bats that want a cleft, the first due first, the proposed ones last.

    Args:
        book: the one in force, which the tables go by.
        proposed: whether open proposals for which nothing is kept aside come too.
    """
    stamp = tables.stamp_of(book)
    bats = Bat.objects.at_bench().filter(
        stage__in=(Stage.WAITING, Stage.CLEFT_SELECTION), cleft_label="", agreed__isnull=False
    )
    in_order = bats.with_people().order_by("commission__promised_to", "commission__number", "ordinal")
    found = [_wanting(bat.commission, bat.agreed, bat, stamp) for bat in in_order if bat.agreed is not None]
    if proposed:
        found += [_wanting(offer.commission, offer, None, stamp) for offer in _open_proposals()]
    return found


def builds_without_table(those: Iterable[Wanting], known: Mapping[str, object]) -> dict[str, BuildSheet]:
    """Return the sheets whose tables are still to be worked out, by key."""
    return {one.key: one.build for one in those if one.key not in known}


def work_out_due() -> int:
    """Work out tables of open commissions and proposals, as the worker does; return how many."""
    book = book_in_force()
    those = wanting(book, proposed=True)
    missing = builds_without_table(those, tables.kept(one.key for one in those))
    return sum(1 for _key in tables.work_out(missing, book, seconds=WORKERS_SECONDS))


def _open_proposals() -> list[Proposal]:
    now = timezone.now()
    rows = Proposal.objects.filter(state=ProposalState.OPEN, valid_until__gt=now)
    return list(
        rows.exclude(holds__released_at__isnull=True, holds__isnull=False)
        .select_related("commission", "commission__player")
        .order_by("ready_to", "commission__number")
    )


def _wanting(commission: Commission, proposal: Proposal, bat: Bat | None, stamp: str) -> Wanting:
    # A rebuilt bat may have a sheet that was written for it since.
    if bat is not None and bat.round > 1:
        build = work_on(bat).build
    else:
        build = read_sheet(BuildSheet, proposal.build())
    return Wanting(commission, proposal, bat, build, tables.key_of(build, stamp))
