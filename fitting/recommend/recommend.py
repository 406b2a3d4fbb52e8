"""From a fitting sheet to a build sheet: options scored by subject, then one joint solve of the blade."""

from fitting.bat.version import MODEL_VERSION
from fitting.recommend.answer import Answer, answer
from fitting.recommend.cautions import cautions_of
from fitting.recommend.conflicts import conflicts_of
from fitting.recommend.reasons import reasons_of
from fitting.sheets.book import Book
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import BookStamp, Recommendation
from fitting.sheets.snapshot import book_hash


def recommend(sheet: FittingSheet, book: Book = DEFAULT_BOOK) -> Recommendation:
    """Recommend a bat for a player.

    Every valid sheet gets a complete build sheet inside the Laws (with the book's margin) and the trade's
    limits, a reason for every field, and a weighing that meets the mass target; what cannot be had together
    stands in ``conflicts`` with its numbers. The same sheet and book always give the same answer. What the
    alternatives would change, and the other whole bats, are worked out on request: see ``with_effects``.
    """
    return told(answer(sheet, book))


def told(found: Answer) -> Recommendation:
    """Tell an answer: its bat with reasons, conflicts and cautions."""
    sheet, draft, solved, book = found.sheet, found.draft, found.solved, found.draft.book
    return Recommendation(
        build=found.build,
        reasons=reasons_of(draft, solved, found.pickup, found.build, sheet),
        conflicts=(*found.given_way, *conflicts_of(draft, solved, found.pickup, sheet)),
        cautions=cautions_of(sheet, book, child=draft.child, rare_willow=solved.rare_willow),
        weighing=solved.weighing,
        book=BookStamp(version=book.version, hash=book_hash(book)),
        model_version=MODEL_VERSION,
    )
