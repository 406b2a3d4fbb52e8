"""Promising later days for a bat at the bench, and telling its player why."""

from django import forms
from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext, gettext_lazy
from django.views.decorators.http import require_http_methods

from orders.commissions import letters
from orders.commissions.access import bat_for
from orders.commissions.models import Commission
from orders.commissions.promising import MOST_DAYS, can_move_promise, move_promise
from orders.commissions.refusals import MovedOn, Refused
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.people.models import User
from orders.people.once import once
from orders.words.states import by_when, refusal_words
from workshop.bench import page

MOST_WORDS = 500


class PromiseForm(forms.Form):
    """By how many days, and why."""

    days = forms.IntegerField(
        label=gettext_lazy("Days by which the promise moves"),
        min_value=1,
        max_value=MOST_DAYS,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
    )
    why = forms.CharField(
        label=gettext_lazy("Why, as you tell the player"),
        max_length=MOST_WORDS,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=gettext_lazy("It goes into a letter with the new days, and stands on the player's page."),
    )


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(MAKER)
@once
def promise(request: SignedInRequest, code: str) -> HttpResponse:
    """Move the promised days, in one act with the letter that tells it."""
    bat = bat_for(request.user, code)
    commission = bat.commission
    if not can_move_promise(commission, request.user):
        return redirect("bench:bat", code=code)
    form = PromiseForm(request.POST or None)
    faults: list[page.Fault] = []
    if request.method == "POST" and form.is_valid():
        try:
            if request.POST.get("version") != str(commission.version):
                raise MovedOn
            promise_later(commission, **form.cleaned_data, by=request.user)
        except Refused as error:
            faults = [page.Fault("", refusal_words(error))]
        else:
            messages.success(request, gettext("The days are moved, and the player is told."))
            return redirect("bench:bat", code=code)
    context = {
        "bat": bat,
        "commission": commission,
        "form": form,
        "faults": faults,
        "now": by_when(commission, None, staff=True),
    }
    return render(request, "bench/promise.html", context, status=422 if faults or form.errors else 200)


@transaction.atomic
def promise_later(commission: Commission, *, days: int, why: str, by: User) -> None:
    """Move the promise and tell the player, both or neither."""
    move_promise(commission, days=days, why=why, by=by)
    letters.date_moved(commission, days=days, why=why)
