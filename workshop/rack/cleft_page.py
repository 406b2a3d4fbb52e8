"""What stands on the page of one cleft."""

from datetime import date
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from orders.commissions.access import sees_prices
from orders.commissions.book_in_force import book_in_force
from orders.commissions.refusals import Refused
from orders.messages.forms import PhotographForm
from orders.money.amounts import show_price
from orders.people.models import Workshop
from workshop.rack import clefts, holds
from workshop.rack.blemishes import draw_sides
from workshop.rack.candidates import density_of
from workshop.rack.course import draw_course
from workshop.rack.forms import BlemishForm, GradeForm, HoldForm, StandingForm, WeighForm
from workshop.rack.grades import grades_of
from workshop.rack.listing import holds_of, standing_words
from workshop.rack.models import FREE_STATES, Cleft, CleftState
from workshop.rack.weighings import outlooks, wanted_of
from workshop.rack.words import GRADED_WHEN_WORDS, TO_DO, entry_words, refusal

FINISHED = (CleftState.USED, CleftState.REJECTED)


def find(code: str) -> Cleft:
    """Return a cleft by the code in its address, or answer 404."""
    found = Cleft.objects.select_related("bat__commission__player", "load").filter(code=code).first()
    if found is None:
        raise Http404
    return found


def done(
    request: HttpRequest, cleft: Cleft, verb: Any, *args: Any, where: str = "", **kwargs: Any
) -> HttpResponse:
    """Carry a verb out on a cleft and return to its page, or say there why not."""
    try:
        verb(cleft, *args, **kwargs)
    except Refused as error:
        return show(request, find(cleft.code), refused=refusal(error.key))
    answer = redirect("rack:cleft", code=cleft.code)
    if where:
        answer["Location"] += f"#{where}"
    return answer


def show(request: HttpRequest, cleft: Cleft, refused: str = "", **forms: Any) -> HttpResponse:
    """Answer with the page of a cleft, with what was refused and the forms that were."""
    today = timezone.localdate()
    kept = holds_of([cleft], today).get(cleft.pk)
    faults = [{"field_id": "", "words": refused}] if refused else _faults(forms)
    blemishes = list(cleft.blemishes.all())
    context = {
        "cleft": cleft,
        "standing": standing_words(cleft, kept),
        "density": density_of(cleft, book_in_force()),
        "price": price_words(request, cleft.cost),
        "kept": kept,
        "grades": [
            {"one": one, "when": GRADED_WHEN_WORDS.get(one.when, "")} for one in reversed(grades_of(cleft))
        ],
        "blemishes": blemishes,
        "sides": draw_sides(cleft, blemishes),
        "photos": list(cleft.photos.select_related("shown_as")),
        "entries": [
            {"at": entry.at, "words": entry_words(entry)} for entry in cleft.entries.select_related("by")
        ],
        "faults": faults,
        **_seasoning(cleft, today),
        **_forms(cleft, free=kept is None),
        **forms,
    }
    return render(request, "rack/cleft.html", context, status=422 if faults else 200)


def currency_for(request: HttpRequest) -> str | None:
    """Return the currency for somebody who sees prices, else None."""
    workshop = Workshop.objects.the_one()
    return workshop.currency if workshop and sees_prices(request.user) else None  # type: ignore[arg-type]


def price_words(request: HttpRequest, amount: int | None) -> str:
    """Return a sum in words, empty for somebody who sees no prices."""
    currency = currency_for(request)
    return "" if amount is None or currency is None else show_price(amount, currency)


def verbs_of(cleft: Cleft) -> list[tuple[str, Any]]:
    """Return what can be said by hand of how a cleft stands."""
    return [(verb, TO_DO[verb]) for verb in clefts.verbs_by_hand(cleft)]


def _seasoning(cleft: Cleft, today: date) -> dict[str, Any]:
    """Return the course of a cleft that seasons, or that has been weighed more than once."""
    book = book_in_force()
    outlook = outlooks([cleft], book, today).get(cleft.pk)
    if outlook is None or (cleft.state != CleftState.SEASONING and len(outlook.weighed) < 2):
        return {}
    wanted = wanted_of(book)
    return {
        "today": today,
        "outlook": outlook,
        "wanted": wanted,
        "course": draw_course(outlook, wanted, today),
    }


def _forms(cleft: Cleft, *, free: bool) -> dict[str, Any]:
    verbs = verbs_of(cleft)
    proposals = holds.open_proposals() if cleft.state in FREE_STATES and free else []
    return {
        "weigh_form": None if cleft.state in FINISHED else WeighForm(cleft=cleft),
        "grade_form": None
        if cleft.state == CleftState.REJECTED
        else GradeForm(initial={"grade": cleft.grade}),
        "blemish_form": None if cleft.state == CleftState.REJECTED else BlemishForm(),
        "photo_form": PhotographForm(),
        "standing_form": StandingForm(verbs=verbs) if verbs else None,
        "hold_form": HoldForm(proposals=proposals) if proposals else None,
    }


def _faults(forms: dict[str, Any]) -> list[dict[str, str]]:
    return [
        {"field_id": form[name].id_for_label, "words": f"{form[name].label}: {words}"}
        for form in forms.values()
        for name, errors in form.errors.items()
        for words in errors
    ]
