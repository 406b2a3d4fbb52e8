"""From a fitting sheet to a build sheet: options scored by subject, then one joint solve of the blade."""

from fitting.bat.version import MODEL_VERSION
from fitting.laws import edition_on
from fitting.recommend.blade import choose_blade
from fitting.recommend.cautions import cautions_of
from fitting.recommend.conflicts import conflicts_of
from fitting.recommend.draft import Draft
from fitting.recommend.dress import choose_dress
from fitting.recommend.findings import findings_of, with_marks
from fitting.recommend.handle import choose_handle
from fitting.recommend.length import choose_length, is_child
from fitting.recommend.mass import aim_mass
from fitting.recommend.pickup import aim_pickup
from fitting.recommend.reasons import reasons_of
from fitting.recommend.solve import solve
from fitting.sheets.book import Book
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import BookStamp, Recommendation
from fitting.sheets.snapshot import book_hash


def recommend(sheet: FittingSheet, book: Book = DEFAULT_BOOK) -> Recommendation:
    """Recommend a bat for a player.

    Every valid sheet gets a complete build sheet inside the sizes of Law 5.7.1 to 5.7.3 (with the book's
    margin) and the trade's limits, a reason for every field, and a weighing that meets the mass target; what
    cannot be had together stands in ``conflicts`` with its numbers. The same sheet and book always give the
    same answer.
    """
    draft = draft_of(sheet, book)
    solved = solve(draft, hard_hitter=sheet.game.approach == "big_hitting")
    pickup = aim_pickup(sheet, solved, book)
    build = solved.build.model_copy(update={"pickup_kg_m2": pickup.target})
    return Recommendation(
        build=build,
        reasons=reasons_of(draft, solved, pickup, build, sheet),
        conflicts=conflicts_of(draft, solved, pickup),
        cautions=cautions_of(sheet, child=draft.child),
        weighing=solved.weighing,
        book=BookStamp(version=book.version, hash=book_hash(book)),
        model_version=MODEL_VERSION,
    )


def draft_of(sheet: FittingSheet, book: Book) -> Draft:
    """Make every choice for a player but how full the blade and how dense its willow are to be."""
    findings = findings_of(sheet, book)
    code, length = choose_length(sheet, findings, book)
    row, child = book.length(code), is_child(sheet, code)
    findings = with_marks(findings, sheet, code, book).knowing(child=child)
    blade = choose_blade(sheet, findings, book)
    findings = findings.knowing(profile=blade.profile.option, toe=blade.toe.option)
    return Draft(
        row=row,
        length=length,
        blade=blade,
        handle=choose_handle(sheet, findings, row, book, child=child),
        dress=choose_dress(sheet, findings, book),
        mass=aim_mass(sheet, row, book, child=child),
        book=book,
        edition=edition_on(sheet.play_from, book.laws_edition),
        child=child,
    )
