"""The signs of one subject: their points, taking out and adding."""

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods

from orders.commissions.book_in_force import book_in_force
from orders.commissions.editions import number_in_force
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.people.once import once
from orders.rules.told import options_of
from orders.words.signs import say_option, say_subject
from workshop.book.chapters import BY_KEY, CHAPTERS
from workshop.book.differences import Differs, differences
from workshop.book.form import FormRefused
from workshop.book.pending import Pending, pending_in
from workshop.book.sign_form import SignForm, condition_choices, facts_to_choose
from workshop.book.views import kept, seen_edition


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(MAKER)
@once
def signs(request: SignedInRequest, subject: str) -> HttpResponse:
    """Show the signs of one subject and take changes of them."""
    key = subject.replace("-", "_")
    if not options_of(key):
        raise Http404
    now, number = book_in_force(), number_in_force()
    pending = pending_in(request.session, in_force=number)
    if request.method != "POST":
        return _page(request, SignForm.of_book(key, now, pending), pending, number)
    seen_number, seen = seen_edition(request)
    form = SignForm.of_post(key, seen, request.POST.dict())
    if seen_number != number:
        theirs = differences(seen, now)
        return _page(request, form.upon(now), pending, number, theirs=theirs, status=409)
    try:
        changed = form.read(pending, now)
    except FormRefused as refused:
        return _page(request, form.with_faults(refused.faults), pending, number, status=422)
    return kept(request, BY_KEY["signs"], pending, changed)


def _page(
    request: SignedInRequest,
    form: SignForm,
    pending: Pending,
    number: int,
    *,
    theirs: tuple[Differs, ...] | None = None,
    status: int = 200,
) -> HttpResponse:
    context = {
        "chapter": BY_KEY["signs"],
        "chapters": CHAPTERS,
        "subject": say_subject(form.subject),
        "slug": form.subject.replace("_", "-"),
        "rows": list(form.rows(pending)),
        "options": [(option, say_option(form.subject, option)) for option in options_of(form.subject)],
        "facts": facts_to_choose(),
        "choices": condition_choices(),
        "new": {name: form.typed.get(f"new.{name}", "") for name in ("option", "points", "fact")},
        "new_faults": {name: form.faults.get(f"new.{name}", "") for name in ("option", "points", "fact")},
        "conditions": form.conditions(),
        "faults": form.summary(),
        "number": number,
        "theirs": theirs,
    }
    return render(request, "book/signs.html", context, status=status)
