"""Taking a bat in hand and laying it down; telling a tablet where it stands."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext
from django.views.decorators.http import require_POST

from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from orders.words.states import stage_words
from workshop.bench.place import set_place
from workshop.bench.spells import begin_work, lay_down
from workshop.bench.views import change


@require_POST
@open_to(STAFF)
@once
def begin(request: SignedInRequest, code: str) -> HttpResponse:
    """Take the bat in hand; from somebody else only when that was said."""
    over = request.POST.get("take_over") == "on"
    return change(
        request,
        code,
        lambda work: begin_work(work.bat, by=request.user, take_over=over),
        anchor="hands",
        by_anyone=True,
    )


@require_POST
@open_to(STAFF)
@once
def end(request: SignedInRequest, code: str) -> HttpResponse:
    """Lay the bat down."""
    return change(
        request, code, lambda work: lay_down(work.bat, by=request.user), anchor="hands", by_anyone=True
    )


@require_POST
@open_to(STAFF)
@once
def place(request: SignedInRequest) -> HttpResponse:
    """Tell this tablet at which stage's place it stands."""
    stage = request.POST.get("stage", "")
    try:
        set_place(request.session, stage)
    except ValueError as error:
        raise Http404 from error
    said = (
        gettext("This place is: %(stage)s.") % {"stage": stage_words(stage)}
        if stage
        else gettext("This tablet stands at no one stage now.")
    )
    messages.success(request, said)
    return redirect("bench:bats")
