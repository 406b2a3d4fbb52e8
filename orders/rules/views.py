"""The rule book's pages, for players who are curious and for the maker, who sees the points too."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from fitting.recommend.answer import draft_of
from fitting.recommend.draft import Draft
from fitting.sheets.book import Book
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from orders.commissions.book_in_force import book_in_force
from orders.people.doors import ANYONE, open_to
from orders.rules import told
from orders.rules.what_if import FIELDS, decision_in, what_if
from orders.words.pickup import PLAIN_PLAYER
from orders.words.signs import say_option, say_subject


@require_safe
@open_to(ANYONE)
def rules(request: HttpRequest) -> HttpResponse:
    """Show every subject, what is decided with nothing said, and the numbers that rules work with."""
    book = book_in_force()
    plain = draft_of(read_sheet(FittingSheet, {"sheet": 1, "player": PLAIN_PLAYER}), book)
    context = {
        "book": book,
        "subjects": [_line(subject, book, plain) for subject in told.subjects_in(book)],
        "sizes": told.junior_sizes(book),
        "wish_numbers": list(told.wish_numbers(book)),
        "mass_rule": told.mass_rule(book),
        "bat_in_use_rule": told.bat_in_use_rule(book),
        "how_sure_rule": told.how_sure_rule(book),
        "handle_rule": told.handle_rule(book),
        "laws_rule": told.laws_rule(book),
    }
    return render(request, "rules/rules.html", context)


@require_safe
@open_to(ANYONE)
def subject(request: HttpRequest, subject: str) -> HttpResponse:
    """Show the rules of one subject, and what they would decide for a few answers."""
    key, book = subject.replace("-", "_"), book_in_force()
    subjects = told.subjects_in(book)
    if key not in subjects or key not in FIELDS:
        raise Http404
    said = {name: value for name, value in request.GET.items() if isinstance(value, str)}
    context: dict[str, Any] = {
        "told": told.subject_told(key, book),
        "slug": subject,
        "what_if": what_if(key, said, book),
        "with_points": request.user.is_authenticated and request.user.is_maker,
        "bar": told.BAR,
        "others": [(_slug(other), say_subject(other), other == key) for other in subjects],
    }
    context["faults"] = context["what_if"].faults
    page = "rules/subject.html"
    if request.headers.get("HX-Request") == "true":
        return render(request, f"{page}#decided", context)
    return render(request, page, context, status=422 if context["faults"] else 200)


def _line(subject: str, book: Book, plain: Draft) -> dict[str, str]:
    """Return one line of the first page: the subject, its options, what is decided with nothing said."""
    options = [option.name for option in told.subject_told(subject, book).options]
    usual = "own" if subject == "length_child" else decision_in(plain, subject).option
    return {
        "slug": _slug(subject),
        "name": say_subject(subject),
        "options": ", ".join(options),
        "usual": say_option(subject, usual),
    }


def _slug(subject: str) -> str:
    return subject.replace("_", "-")
