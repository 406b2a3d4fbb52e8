"""The draft page, and the way from a draft to the maker: leave an address, say whom it is for, send."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from fitting.questions import FIRST_PAGE
from orders.interview import drafts
from orders.interview.access import fitting_for
from orders.interview.forms import CounterForm, KeepForm, WhoForm
from orders.interview.models import Fitting
from orders.interview.sharing import link_of, may_share
from orders.interview.told import told
from orders.interview.views import asked_back, chapters, kept_from_caches
from orders.people.doors import ANYONE, HOLDER, MAKER, SignedInRequest, open_to
from orders.people.models import ADULT_AGE, User, Workshop
from orders.people.once import once
from orders.people.views import send_link
from orders.words.price_and_wait import price_and_wait


@require_http_methods(["GET", "HEAD"])
@open_to(ANYONE)
@kept_from_caches
def draft(request: HttpRequest, code: str) -> HttpResponse:
    """Show the bat as it would be made, every choice with its reason, and offer to send it."""
    fitting = fitting_for(request, code)
    found = told(fitting)
    if found is None:
        return redirect("interview:page", code, FIRST_PAGE)
    context = {
        "fitting": fitting,
        "told": found,
        "chapters": chapters(fitting),
        "asked_back": asked_back(fitting) if fitting.is_draft else [],
        "next_step": _next_step(request, fitting),
        "may_share": may_share(fitting, request.user if isinstance(request.user, User) else None),
        "link": link_of(fitting),
        "terms": price_and_wait(Workshop.objects.the_one()),
    }
    return render(request, "interview/draft.html", context)


def _next_step(request: HttpRequest, fitting: Fitting) -> str:
    """Return what stands between this draft and the maker: keep, who, guardian, send or nothing."""
    if not fitting.is_draft:
        return ""
    if fitting.holder is None:
        return "keep"
    age = drafts.situation(fitting).age_years or 0
    if age < ADULT_AGE and fitting.holder != request.user:
        return "guardian"
    return "who" if fitting.player is None else "send"


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(ANYONE)
@kept_from_caches
@once
def keep(request: HttpRequest, code: str) -> HttpResponse:
    """Leave a draft to a mail address; at the counter, hand it to its player's account."""
    fitting = fitting_for(request, code)
    if not fitting.is_draft or fitting.holder is not None:
        return redirect("interview:draft", code)
    if fitting.begun_by_id is not None:
        return _hand_over(request, fitting)
    form = KeepForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        drafts.leave_to_address(fitting, form.cleaned_data["email"])
        return send_link(request, form.cleaned_data["email"], next_path=_back_to(fitting), may_create=True)
    status = 422 if form.errors else 200
    return render(request, "interview/keep.html", {"fitting": fitting, "form": form}, status=status)


def _back_to(fitting: Fitting) -> str:
    """Return the page to go on with after signing in."""
    if drafts.is_complete(fitting):
        return reverse("interview:draft", args=[fitting.code])
    return reverse("interview:page", args=[fitting.code, FIRST_PAGE])


def _hand_over(request: HttpRequest, fitting: Fitting) -> HttpResponse:
    form = CounterForm(request.POST or None, initial={"name": fitting.called})
    if request.method == "POST" and form.is_valid():
        try:
            account = drafts.hand_to(fitting, **form.cleaned_data, sign_in_path=reverse("people:sign-in"))
        except drafts.DraftRefused as refused:
            form.add_error("email", _not_handed_over(refused.why))
        else:
            messages.success(request, _("It is %(name)s's now; a letter is on its way.") % {"name": account})
            return redirect("interview:draft", fitting.code)
    status = 422 if form.errors else 200
    return render(request, "interview/keep.html", {"fitting": fitting, "form": form}, status=status)


def _not_handed_over(why: str) -> str:
    if why == "meanwhile":
        return _("It was handed over meanwhile, so nothing was changed. Open it again to see to whom.")
    return _("This address belongs to somebody who works here. Give another.")


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(HOLDER, MAKER)
@once
def who(request: SignedInRequest, code: str) -> HttpResponse:
    """Say whom the bat is for."""
    fitting = fitting_for(request, code)
    age = drafts.situation(fitting).age_years
    if not fitting.is_draft or fitting.holder is None or age is None:
        return redirect("interview:draft", code)
    if age < ADULT_AGE and fitting.holder != request.user:
        return redirect("interview:draft", code)
    form = WhoForm(
        request.POST or None,
        players=fitting.holder.players.order_by("name", "pk"),
        age=age,
        today=timezone.localdate(),
        holder_name=fitting.holder.name,
        at_counter=fitting.holder != request.user,
    )
    if request.method == "POST" and form.is_valid() and _said_who(fitting, form):
        return redirect("interview:draft", code)
    status = 422 if form.errors else 200
    context = {"fitting": fitting, "form": form, "age": age}
    return render(request, "interview/who.html", context, status=status)


def _said_who(fitting: Fitting, form: WhoForm) -> bool:
    """Store whom the bat is for; what is refused stands at its field."""
    said: dict[str, Any] = form.cleaned_data
    try:
        drafts.say_who(
            fitting,
            player=form.chosen_player(),
            name=form.new_name(),
            born=said.get("born"),
            relation=form.new_relation(),
            own_name=said.get("own_name", ""),
            today=timezone.localdate(),
        )
    except drafts.DraftRefused as refused:
        field, words = _refusal(refused.why, form)
        form.add_error(field, words)
        return False
    return True


def _refusal(why: str, form: WhoForm) -> tuple[str | None, str]:
    words = {
        "age_differs": (
            "born",
            _("This date of birth is not that of the age that the bat is fitted to. Look at both again."),
        ),
        "born_needed": ("born", _("Give the date of birth: under 18 we must know it.")),
        "guardian_needed": ("relation", _("Say how you are related. A child cannot agree to a bat alone.")),
        "not_born_yet": ("born", _("This date is still to come.")),
        "too_old": ("born", _("This date is too long ago.")),
        "no_name": ("name", _("Give the name of the player.")),
        "meanwhile": ("", _("It was sent or handed over meanwhile, so nothing was changed.")),
    }
    field, text = words.get(why, ("", _("That did not work: %(why)s.") % {"why": why}))
    return (field if field in form.fields else None), text


@require_POST
@open_to(HOLDER, MAKER)
@once
def send(request: SignedInRequest, code: str) -> HttpResponse:
    """Send the fitting to the maker."""
    fitting = fitting_for(request, code)
    try:
        commission = drafts.send(fitting, by=request.user, today=timezone.localdate())
    except drafts.DraftRefused as refused:
        messages.error(request, _why_not_sent(refused.why))
        return redirect("interview:draft", code)
    messages.success(request, _("Sent. The maker reads it and answers with a proposal."))
    if fitting.holder == request.user:
        return redirect("commissions:commission", commission.code)
    return redirect("interview:draft", code)


def _why_not_sent(why: str) -> str:
    return {
        "sent": _("It was sent already."),
        "unfinished": _("Age and height are still needed."),
        "no_holder": _("Leave a mail address first, so that we can answer."),
        "no_player": _("Say whom the bat is for first."),
        "guardian_needed": _("Under 18 the guardian sends it, signed in with their own address."),
        "age_differs": _(
            "The player's date of birth does not fit the age in the answers. Change one of them."
        ),
        "born_needed": _("Under 18 we need the date of birth. Say again whom the bat is for."),
    }.get(why, _("It could not be sent: %(why)s.") % {"why": why})
