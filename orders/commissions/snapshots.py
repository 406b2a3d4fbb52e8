"""What is offered, all of it and nothing else: made once, shown as it is, stored as it was shown."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import date, datetime
from typing import Any, cast

from fitting.laws import LawRow, edition_on, law_check
from fitting.sheets.book import Book, Edition
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.snapshot import canonical, snapshot_hash
from orders.commissions.book_in_force import book_in_force
from orders.commissions.builds import build_of, sheet_of
from orders.commissions.models import BuildVersion, Commission, Proposal
from orders.commissions.refusals import Refused
from orders.money.amounts import Price

# What the player is told before agreeing; worded by orders/words/states.py.
TERMS = ("made_to_measure", "willow_varies", "faults_remain", "until_cut")


@dataclass(frozen=True)
class Offer:
    """What a proposal adds to a build sheet. ``clefts`` tells of each cleft held for it."""

    price: Price
    ready_from: date
    ready_to: date
    valid_until: datetime
    words: str = ""
    clefts: tuple[Mapping[str, Any], ...] = field(default=())


def edition_for(sheet: FittingSheet, book: Book, *, agreed: Proposal | None = None) -> Edition:
    """Return the edition of the Laws that was agreed on, else the one in force at the first play."""
    if agreed is not None:
        return cast(Edition, agreed.snapshot["edition"])
    return edition_on(sheet.play_from, book.laws_edition)


def law_rows(
    build: BuildSheet, sheet: FittingSheet, *, agreed: Proposal | None = None, book: Book | None = None
) -> tuple[LawRow, ...]:
    """Check a build against the edition that was agreed on, else the one in force at the first play."""
    book = book or book_in_force()
    return law_check(build, level=sheet.level, edition=edition_for(sheet, book, agreed=agreed), book=book)


def snapshot_of(
    commission: Commission, version: BuildVersion, offer: Offer, *, number: int
) -> tuple[dict[str, Any], str]:
    """Return what is offered and its hash, rounded as it is stored.

    Raises:
        Refused: ``breaks_the_laws``, with the sizes that do.
    """
    sheet = sheet_of(commission)
    book = book_in_force()
    rows = law_rows(build_of(version), sheet, book=book)
    if broken := dict.fromkeys(row.what for row in rows if not row.passes):
        raise Refused("breaks_the_laws", what=broken)
    content = canonical(
        {
            "snapshot": 1,
            "commission": commission.reference,
            "proposal": number,
            "build_version": version.number,
            "build": version.build,
            "weighing": version.weighing,
            "laws": [row.model_dump(mode="json") for row in rows],
            "edition": edition_for(sheet, book),
            "price": asdict(offer.price),
            "ready": [offer.ready_from.isoformat(), offer.ready_to.isoformat()],
            "valid_until": offer.valid_until.isoformat(),
            "clefts": [dict(cleft) for cleft in offer.clefts],
            "words": offer.words,
            "terms": [*TERMS] if offer.clefts else [*TERMS, "subject_to_willow"],
            "book": {"number": version.book_number, "hash": version.book_hash},
            "model_version": version.model_version,
        }
    )
    # What the player said is kept to the letter: it is no measurement of ours to round.
    content["sheet"] = commission.sheet
    return content, snapshot_hash(content)
