"""The call sheet of one commission: what the maker asks before proposing."""

from fitting.recommend.call_sheet import call_sheet
from fitting.sheets.book import Book
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import BookStamp, Caution, Conflict, Reason, Recommendation
from orders.commissions.builds import build_of, weighing_of
from orders.commissions.models import BuildVersion
from orders.words.call_sheet import say_call_line
from orders.words.pickup import pickup_reference


def lines_to_call_about(sheet: FittingSheet, first: BuildVersion, book: Book) -> tuple[str, ...]:
    """Return what to ask on the phone, from the recommendation as it was kept."""
    reference = pickup_reference(build_of(first).length_code, book)
    return tuple(say_call_line(line, reference) for line in call_sheet(sheet, _kept(first), book))


def _kept(first: BuildVersion) -> Recommendation:
    """Return the recommendation that a commission began with."""
    told = first.reasons
    return Recommendation(
        build=build_of(first),
        reasons=tuple(read_sheet(Reason, one) for one in told.get("reasons", ())),
        conflicts=tuple(read_sheet(Conflict, one) for one in told.get("conflicts", ())),
        cautions=tuple(read_sheet(Caution, one) for one in told.get("cautions", ())),
        weighing=weighing_of(first),
        book=BookStamp(version=first.book_number, hash=first.book_hash),
        model_version=first.model_version,
    )
