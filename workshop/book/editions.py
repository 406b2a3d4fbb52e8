"""The history of the book: its editions, and what differs between any two."""

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from fitting.sheets.book import Book
from fitting.sheets.default_book import DEFAULT_BOOK
from orders.commissions.editions import edition_numbered, number_in_force
from orders.commissions.models import BookVersion
from orders.people.doors import MAKER, SignedInRequest, open_to
from workshop.book.differences import differences


@require_safe
@open_to(MAKER)
def editions(request: SignedInRequest) -> HttpResponse:
    """List the editions, newest first; compare two of them."""
    kept = list(BookVersion.objects.select_related("by").order_by("-number"))
    number = number_in_force()
    numbers = [one.number for one in kept]
    if DEFAULT_BOOK.version not in numbers:
        numbers.append(DEFAULT_BOOK.version)
    before = _asked(request.GET.get("from", ""), numbers[min(1, len(numbers) - 1)])
    after = _asked(request.GET.get("to", ""), number)
    old, new = edition_numbered(before), edition_numbered(after)
    known = old is not None and new is not None
    context = {
        "kept": kept,
        "came": DEFAULT_BOOK.version if DEFAULT_BOOK.version not in {one.number for one in kept} else None,
        "number": number,
        "numbers": numbers,
        "before": before,
        "after": after,
        "differences": _between(old, new),
        "faults": []
        if known
        else [{"field_id": "id_from", "words": _("There is no edition of that number.")}],
    }
    return render(request, "book/editions.html", context, status=200 if known else 422)


def _between(old: Book | None, new: Book | None) -> object:
    return differences(old, new) if old is not None and new is not None else ()


def _asked(said: str, otherwise: int) -> int:
    if not said:
        return otherwise
    return int(said) if said.isascii() and said.isdigit() and len(said) < 8 else -1
