"""The book's chapters: what stands in them, changed field by field; nothing counts before it is saved."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from fitting.sheets.book import Book
from fitting.sheets.default_book import DEFAULT_BOOK
from orders.commissions.book_in_force import book_in_force
from orders.commissions.editions import edition_numbered, number_in_force
from orders.commissions.models import BookVersion
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.people.once import once
from workshop.book.chapters import BY_KEY, CHAPTERS, Chapter, chapter_of
from workshop.book.differences import Differs, differences
from workshop.book.form import ChapterForm, FormRefused
from workshop.book.pending import Pending, keep_pending, pending_in
from workshop.book.sign_form import subject_rows


@require_safe
@open_to(MAKER)
def book(request: SignedInRequest) -> HttpResponse:
    """Show the chapters, what is changed and not saved, and which edition is in force."""
    now, number = book_in_force(), number_in_force()
    pending = pending_in(request.session, in_force=number)
    standing = pending.standing_on(now)
    unsaved = differences(now, standing) if standing is not None else ()
    changed = differences(DEFAULT_BOOK, now)
    context = {
        "number": number,
        "edition": BookVersion.objects.select_related("by").filter(number=number).first(),
        "chapters": [
            (
                one,
                sum(chapter_of(row.name) is one for row in unsaved),
                sum(chapter_of(row.name) is one for row in changed),
            )
            for one in CHAPTERS
        ],
        "unsaved": unsaved,
        "cannot_stand": standing is None,
    }
    return render(request, "book/book.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(MAKER)
@once
def chapter(request: SignedInRequest, chapter: str) -> HttpResponse:
    """Show one chapter and take changes of it."""
    one = BY_KEY.get(chapter)
    if one is None:
        raise Http404
    now, number = book_in_force(), number_in_force()
    pending = pending_in(request.session, in_force=number)
    if one.key == "signs":
        return _subjects(request, now, pending)
    if request.method != "POST":
        return chapter_page(request, ChapterForm.of_book(one, now, pending), number)
    seen_number, seen = seen_edition(request)
    form = ChapterForm.of_post(one, seen, request.POST.dict())
    if seen_number != number:
        return chapter_page(request, form.upon(now), number, theirs=differences(seen, now), status=409)
    try:
        changed = form.read(pending, now)
    except FormRefused as refused:
        return chapter_page(request, form.with_faults(refused.faults), number, status=422)
    return kept(request, one, pending, changed)


def seen_edition(request: HttpRequest) -> tuple[int, Book]:
    """Return the edition that a form was read from, its number 0 and the one in force where it names none."""
    said = request.POST.get("version", "")
    if said.isascii() and said.isdigit() and len(said) < 8:
        seen = edition_numbered(int(said))
        if seen is not None:
            return int(said), seen
    return 0, book_in_force()


def kept(request: SignedInRequest, one: Chapter, before: Pending, changed: Pending) -> HttpResponse:
    """Keep the changes for trying, and lead on."""
    keep_pending(request.session, changed)
    if changed == before:
        messages.info(request, _("Nothing is changed in this chapter."))
    else:
        messages.success(request, _("Changed, and not saved yet: try it on the last fittings first."))
    return redirect("book:try" if request.POST.get("next") == "try" and changed.count else "book:book")


def chapter_page(
    request: SignedInRequest,
    form: ChapterForm,
    number: int,
    *,
    theirs: tuple[Differs, ...] | None = None,
    status: int = 200,
) -> HttpResponse:
    """Answer with a chapter as its boxes stand."""
    context: dict[str, Any] = {
        "chapter": form.chapter,
        "chapters": CHAPTERS,
        "sections": list(form.sections()),
        "faults": form.summary(),
        "number": number,
        "theirs": theirs,
    }
    return render(request, "book/chapter.html", context, status=status)


def _subjects(request: SignedInRequest, now: Book, pending: Pending) -> HttpResponse:
    context = {
        "chapter": BY_KEY["signs"],
        "chapters": CHAPTERS,
        "subjects": subject_rows(now, pending),
    }
    return render(request, "book/subjects.html", context, status=405 if request.method == "POST" else 200)
