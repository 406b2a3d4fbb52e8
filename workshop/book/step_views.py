"""The steps of the bench: in which stage each stands and where, and what a bat must have to go on."""

from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods

from fitting.sheets.book_bench import STAGES
from orders.commissions.book_in_force import book_in_force
from orders.commissions.editions import number_in_force
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.people.once import once
from orders.words.states import stage_words
from workshop.book.chapters import BY_KEY, CHAPTERS
from workshop.book.differences import Differs, differences
from workshop.book.form import FormRefused
from workshop.book.pending import pending_in
from workshop.book.step_form import MOST_HOURS, MOST_WORDS, StepForm
from workshop.book.views import kept, seen_edition


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(MAKER)
@once
def steps(request: SignedInRequest) -> HttpResponse:
    """Show the steps of every stage and take changes of them."""
    now, number = book_in_force(), number_in_force()
    pending = pending_in(request.session, in_force=number)
    if request.method != "POST":
        return _page(request, StepForm.of_book(now, pending), number)
    seen_number, seen = seen_edition(request)
    form = StepForm.of_post(now, pending, request.POST.dict())
    if seen_number != number:
        return _page(request, form, number, theirs=differences(seen, now), status=409)
    try:
        changed = form.read(pending, now)
    except FormRefused as refused:
        return _page(request, form.with_faults(refused.faults), number, status=422)
    return kept(request, BY_KEY["bench"], pending, changed)


def _page(
    request: SignedInRequest,
    form: StepForm,
    number: int,
    *,
    theirs: tuple[Differs, ...] | None = None,
    status: int = 200,
) -> HttpResponse:
    names = [(stage, stage_words(stage)) for stage in STAGES]
    context: dict[str, Any] = {
        "chapter": {"key": "steps"},
        "chapters": CHAPTERS,
        "stages": [
            {
                "key": stage,
                "words": words,
                "steps": list(form.boxes(stage)),
                "entries": list(form.entries(stage)),
                "rest": form.bench.work(stage).wait_hours,
                "fault": form.faults.get(f"stage.{stage}", ""),
            }
            for stage, words in names
        ],
        "names": names,
        "absent": form.absent(),
        "new": {
            name: form.typed.get(f"new.{name}", "") for name in ("words", "stage", "place", "wait", "needed")
        },
        "new_faults": {name: form.faults.get(f"new.{name}", "") for name in ("words", "place", "wait")},
        "faults": [
            {"field_id": f"box-{name.replace('.', '-')}", "words": words}
            for name, words in form.faults.items()
        ],
        "number": number,
        "theirs": theirs,
        "most_words": MOST_WORDS,
        "most_hours": MOST_HOURS,
    }
    return render(request, "book/steps.html", context, status=status)
