"""A floor for the tests of matching: agreed bats, clefts on the rack, tables made once for all tests."""

from collections.abc import Mapping
from datetime import date, timedelta
from functools import lru_cache
from typing import Any

from django.utils import timezone

from fitting.bat.weigh import weigh
from fitting.bat.willow_table import willow_table
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from orders.commissions.models import Bat, Proposal
from orders.people.models import Player, User
from tests.factories import MOMENT, a_commission, an_agreed_bat, propose_to
from workshop.match import tables
from workshop.match.models import WillowOfBuild


def today() -> date:
    """The day that it is: what is kept aside counts by it."""
    return timezone.localdate()


@lru_cache(maxsize=8)
def _content(text: str) -> dict[str, Any]:
    build = read_sheet(BuildSheet, text)
    return {
        "table": willow_table(build).model_dump(mode="json"),
        "weighing": weigh(build).model_dump(mode="json"),
    }


def know_willow_of(proposal: Proposal, book: Book = DEFAULT_BOOK) -> None:
    """Keep the table of what was proposed, as the worker would have."""
    build = read_sheet(BuildSheet, proposal.build())
    WillowOfBuild.objects.get_or_create(
        key=tables.key_of(build, tables.stamp_of(book)),
        defaults={"content": _content(build.model_dump_json())},
    )


def a_waiting_bat(player: Player, maker: User, *, due: date | None = None) -> Bat:
    """An agreed bat that waits for a cleft, its willow known."""
    bat = an_agreed_bat(player, maker)
    if due is not None:
        promise(bat, due)
    assert bat.agreed is not None
    know_willow_of(bat.agreed)
    return bat


def agreed_build(bat: Bat) -> dict[str, Any]:
    """The build sheet that was agreed."""
    assert bat.agreed is not None
    return bat.agreed.build()


def promise(bat: Bat, due: date) -> None:
    """Promise it for another day."""
    bat.commission.promised_from = due - timedelta(days=7)
    bat.commission.promised_to = due
    bat.commission.save(update_fields=["promised_from", "promised_to"])


def an_open_proposal(player: Player, maker: User, **changes: Any) -> Proposal:
    """A bat that is only proposed, its willow known."""
    proposal = propose_to(a_commission(player, at=MOMENT), maker, at=MOMENT, **changes)
    know_willow_of(proposal)
    return proposal


def labels(rows: list[Mapping[str, Any]]) -> list[tuple[str, str]]:
    """Commission and cleft of each assigned row."""
    return [(row["commission"], row["cleft"]) for row in rows]
