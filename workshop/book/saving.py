"""Trying what is changed on the last fittings, and saving it as the next edition."""

from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from fitting.sheets.book import Book
from orders.commissions.book_in_force import book_in_force
from orders.commissions.editions import edition_numbered, keep_edition, number_in_force
from orders.commissions.refusals import MovedOn
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.people.once import once
from workshop.book import trying
from workshop.book.differences import differences
from workshop.book.pending import KEY, Pending, keep_pending, pending_in

MOST_NOTE = 200


@require_safe
@open_to(MAKER)
def try_out(request: SignedInRequest) -> HttpResponse:
    """Run the last fittings through the book in force and the one to be saved; show what differs."""
    return _page(request, request.GET.get("edition", ""), run=True)


@require_POST
@open_to(MAKER)
@once
def save(request: SignedInRequest) -> HttpResponse:
    """Save what was tried as the next edition, once, with a line that says why."""
    again = request.POST.get("edition", "")
    note = " ".join(request.POST.get("note", "").split())
    seen = request.POST.get("version", "")
    now = book_in_force()
    pending = pending_in(request.session, in_force=number_in_force())
    new = _candidate(again, now, pending)
    if new is None or not differences(now, new):
        messages.info(request, _("There is nothing to save: the book in force says the same."))
        return redirect("book:book")
    if seen != str(number_in_force()):
        return _page(request, again, status=409)
    if fault := _fault(note, new):
        return _page(request, again, fault=fault, status=422)
    try:
        kept = keep_edition(new, seen=int(seen), by=request.user, note=note)
    except MovedOn:
        return _page(request, again, status=409)
    if not again:
        request.session.pop(KEY, None)
    messages.success(
        request,
        _("Edition %(number)s is in force. What was agreed stays as it was.") % {"number": kept.number},
    )
    return redirect("book:book")


@require_POST
@open_to(MAKER)
@once
def drop(request: SignedInRequest) -> HttpResponse:
    """Forget what is changed and not saved."""
    keep_pending(request.session, Pending(seen=number_in_force()))
    messages.success(request, _("Your changes are dropped. The book in force is as it was."))
    return redirect("book:book")


def _candidate(again: str, now: Book, pending: Pending) -> Book | None:
    """Return the book to be saved: an edition taken up again, else the one in force with what is changed."""
    if again:
        old = edition_numbered(int(again)) if again.isascii() and again.isdigit() and len(again) < 8 else None
        return None if old is None else old.model_copy(update={"version": now.version})
    return pending.standing_on(now) if pending.count else None


def _fault(note: str, new: Book) -> str:
    """Say why a book cannot be saved; nothing if it can."""
    if not note:
        return _("Write one line that says why: you will look for it some day.")
    if len(note) > MOST_NOTE:
        return _("%(given)s letters were given; %(most)s at most.") % {"given": len(note), "most": MOST_NOTE}
    if without := trying.makes_no_bat(new):
        return _("With these numbers no bat can be made for %(players)s. It cannot be saved.") % {
            "players": _(" and ").join(without)
        }
    return ""


def _page(
    request: SignedInRequest, again: str, *, run: bool = False, fault: str = "", status: int = 200
) -> HttpResponse:
    """Answer with what is changed and the differences; a refused form does not run the fittings again."""
    now, number = book_in_force(), number_in_force()
    pending = pending_in(request.session, in_force=number)
    new = _candidate(again, now, pending)
    if new is None:
        messages.info(request, _("Nothing is changed yet: there is nothing to try."))
        return redirect("book:book")
    theirs = _theirs(request, pending, now, again, number)
    context: dict[str, Any] = {
        "number": number,
        "next": number + 1,
        "again": again,
        "changed": differences(now, new),
        "tried": trying.run(now, new) if run else None,
        "without": trying.makes_no_bat(new) if run else (),
        "most": trying.MOST_FITTINGS,
        "seconds": round(trying.SECONDS),
        "theirs": theirs,
        "note": request.POST.get("note", ""),
        "fault": fault,
        "faults": [{"field_id": "id_note", "words": fault}] if fault else [],
        "most_note": MOST_NOTE,
    }
    if theirs and not again:
        # Shown once; from here on the changes stand upon the newer edition.
        keep_pending(request.session, replace(pending, seen=number))
    return render(request, "book/try.html", context, status=status)


def _theirs(request: SignedInRequest, pending: Pending, now: Book, again: str, number: int) -> Any:
    """Return what somebody else saved since this was begun: what they changed; nothing if nobody did."""
    said = request.POST.get("version", "")
    seen = int(said) if said.isascii() and said.isdigit() and len(said) < 8 else pending.seen
    if again and request.method != "POST":
        return ()
    older = edition_numbered(seen)
    return differences(older, now) if older is not None and seen != number else ()
