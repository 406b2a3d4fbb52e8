"""The editions of the workshop's book: kept one after the other, never changed, the newest in force."""

from collections.abc import Mapping
from typing import Any

from django.db import IntegrityError, transaction

from fitting.sheets.book import Book
from fitting.sheets.book_bench import STAGES
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.leaves import leaves
from fitting.sheets.snapshot import book_hash
from orders.commissions.book_in_force import edition
from orders.commissions.models import BookVersion
from orders.commissions.refusals import MovedOn
from orders.people.models import User

# Signs come and go, so that their places in the list say nothing: the list is one value.
SIGNS = "rules.signs"
# So do the steps of the bench: each stage's list is one value.
STEPS = tuple(f"bench.stages.{number}.steps" for number in range(len(STAGES)))
_STAMP = frozenset({"version"})


def number_in_force() -> int:
    """Return the number of the edition in force; the book that the program came with is the first."""
    newest = BookVersion.objects.values_list("number", flat=True).first()
    return DEFAULT_BOOK.version if newest is None else newest


def edition_numbered(number: int) -> Book | None:
    """Return one edition, None where there is none of that number."""
    kept = BookVersion.objects.filter(number=number).values_list("number", "hash").first()
    if kept is not None:
        return edition(*kept)
    return DEFAULT_BOOK if number == DEFAULT_BOOK.version else None


def keep_edition(book: Book, *, seen: int, by: User, note: str) -> BookVersion:
    """Keep a book as the next edition; from then on it is in force.

    Raises MovedOn when the edition in force is no longer the one that was seen.
    """
    if number_in_force() != seen:
        raise MovedOn
    numbered = book.model_copy(update={"version": seen + 1})
    try:
        with transaction.atomic():
            return BookVersion.objects.create(
                number=seen + 1,
                content=numbered.model_dump(mode="json"),
                hash=book_hash(numbered),
                by=by,
                note=note,
            )
    except IntegrityError:
        raise MovedOn from None


def changes_between(old: Book, new: Book) -> dict[str, tuple[Any, Any]]:
    """Return every value in which two editions differ, by dotted name: what it was, what it is.

    The number of the edition is no difference; the signs are one value, as JSON rows, and so are steps.
    """
    before, after = book_leaves(old), book_leaves(new)
    return {
        name: (before.get(name), after.get(name))
        for name in dict.fromkeys([*before, *after])
        if name not in _STAMP and before.get(name) != after.get(name)
    }


def book_leaves(book: Book) -> Mapping[str, Any]:
    """Return every value of a book by dotted name, the signs as one, and a stage's steps as one."""
    return leaves(book.model_dump(mode="json"), whole=(SIGNS, *STEPS))
