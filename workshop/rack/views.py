"""The rack's pages: what lies there, a cleft taken in, one cleft and what is said of it."""

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Max
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from fitting.sheets.book import Book
from orders.commissions.book_in_force import book_in_force
from orders.commissions.refusals import Refused
from orders.people.doors import MAKER, STAFF, SignedInRequest, open_to
from orders.people.once import once
from workshop.rack import clefts, holds
from workshop.rack.candidates import density_of
from workshop.rack.cleft_page import currency_for, done, find, show, verbs_of
from workshop.rack.forms import AmendForm, GradeForm, HoldForm, StandingForm, TakeInForm, WeighForm
from workshop.rack.listing import A_PAGE, Filter, holds_of, standing_words
from workshop.rack.models import Cleft, CleftHold, CleftQuerySet, CleftState, Load
from workshop.rack.picture import NARROW, WIDE, draw_rack
from workshop.rack.wanted import demand_for_willow
from workshop.rack.weighings import to_weigh_again
from workshop.rack.words import SHOWN_WORDS, SORTED_WORDS, refusal
from workshop.stock.short import what_is_short

# More points than this are a smudge; the list is narrowed down first.
MOST_DRAWN = 1500


@require_GET
@open_to(STAFF)
def clefts_page(request: SignedInRequest) -> HttpResponse:
    """Show the rack as a picture and as a table, narrowed to what was asked for."""
    asked, today, book = Filter.read(request.GET.dict()), timezone.localdate(), book_in_force()
    found = asked.clefts(today).select_related("bat__commission", "load")
    page = Paginator(found, A_PAGE).get_page(request.GET.get("page"))
    kept = holds_of(page.object_list, today)
    context = {
        "asked": asked,
        "page": page,
        "rows": [
            {
                "cleft": cleft,
                "density": density_of(cleft, book),
                "standing": standing_words(cleft, kept.get(cleft.pk)),
            }
            for cleft in page.object_list
        ],
        "shown": SHOWN_WORDS.items(),
        "sorted": SORTED_WORDS.items(),
        "loads": Load.objects.all(),
        "due": to_weigh_again(book, today).count(),
        "short_stock": what_is_short(day=today),
        **_pictures(found, page.paginator.count, book),
    }
    return render(request, "rack/clefts.html", context)


def _pictures(found: CleftQuerySet, count: int, book: Book) -> dict[str, Any]:
    """Return the rack drawn for desk and phone, unless it is too full to be seen."""
    if not 0 < count <= MOST_DRAWN:
        return {"too_full": count > MOST_DRAWN, "most_drawn": MOST_DRAWN}
    rows = [(cleft, density_of(cleft, book)) for cleft in found.with_hold(timezone.localdate())]
    demand = demand_for_willow(timezone.localdate())
    return {"pictures": [draw_rack(rows, demand.wanted, frame) for frame in (WIDE, NARROW)], "demand": demand}


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def take_in(request: SignedInRequest) -> HttpResponse:
    """Take a cleft in."""
    currency = currency_for(request)
    if request.method != "POST":
        last = Cleft.objects.order_by("-pk").first()
        highest = Cleft.objects.aggregate(last=Max("number"))["last"] or 0
        # The next cleft on the pile is of the same load as the last.
        first = {"number": highest + 1, "load": last.load_id if last else None}
        return render(request, "rack/take_in.html", {"form": TakeInForm(currency=currency, initial=first)})
    form = TakeInForm(request.POST, currency=currency)
    if form.is_valid():
        try:
            cleft = clefts.take_in(form.cleft(), by=request.user)
        except Refused as error:
            form.add_error("number", refusal(error.key))
        else:
            messages.success(request, gettext("Cleft %(number)s is on the rack.") % {"number": cleft.label})
            return redirect("rack:cleft", code=cleft.code)
    return render(request, "rack/take_in.html", {"form": form}, status=422)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def amend(request: SignedInRequest, code: str) -> HttpResponse:
    """Put right what was noted of a cleft."""
    cleft, currency = find(code), currency_for(request)
    if cleft.state in (CleftState.USED, CleftState.REJECTED):
        return show(request, cleft, refused=refusal("bound_amend"))
    if request.method != "POST":
        form = AmendForm(cleft=cleft, currency=currency)
        return render(request, "rack/amend.html", {"form": form, "cleft": cleft})
    form = AmendForm(request.POST, cleft=cleft, currency=currency)
    if form.is_valid():
        try:
            _as_seen(request, cleft)
            clefts.amend(cleft, form.columns(), by=request.user)
        except Refused as error:
            form.add_error("number" if error.key == "number_taken" else None, refusal(error.key))
        else:
            return redirect("rack:cleft", code=code)
    return render(request, "rack/amend.html", {"form": form, "cleft": cleft}, status=422)


def _as_seen(request: HttpRequest, cleft: Cleft) -> None:
    """Refuse a form that was opened before somebody else changed the cleft."""
    if request.POST.get("seen", "") != str(cleft.version):
        raise clefts.CleftRefused("meanwhile")


@require_GET
@open_to(STAFF)
def cleft_page(request: SignedInRequest, code: str) -> HttpResponse:
    """Show one cleft with what befell it."""
    return show(request, find(code))


@require_POST
@open_to(STAFF)
@once
def weigh(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep a new reading of mass and moisture."""
    cleft = find(code)
    form = WeighForm(request.POST, cleft=cleft)
    if not form.is_valid():
        return show(request, cleft, weigh_form=form)
    return done(request, cleft, clefts.weigh_again, by=request.user, where="seasoning", **form.cleaned_data)


@require_POST
@open_to(STAFF)
@once
def grade(request: SignedInRequest, code: str) -> HttpResponse:
    """Grade a cleft again."""
    cleft = find(code)
    form = GradeForm(request.POST)
    if not form.is_valid():
        return show(request, cleft, grade_form=form)
    return done(request, cleft, clefts.grade_again, by=request.user, where="grades", **form.cleaned_data)


@require_POST
@open_to(STAFF)
@once
def standing(request: SignedInRequest, code: str) -> HttpResponse:
    """Say that a cleft is ready, needs more seasoning, suits a smaller size, or is thrown out."""
    cleft = find(code)
    form = StandingForm(request.POST, verbs=verbs_of(cleft))
    if not form.is_valid():
        return show(request, cleft, standing_form=form)
    said = form.cleaned_data
    answer = done(request, cleft, clefts.change_standing, said["verb"], by=request.user, words=said["words"])
    if answer.status_code == 302 and request.POST.get("then") == "seasoning":
        messages.success(request, gettext("Cleft %(number)s is ready to be cut.") % {"number": cleft.label})
        return redirect("rack:seasoning")
    return answer


@require_POST
@open_to(MAKER)
@once
def hold(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep a cleft aside for an open proposal."""
    cleft = find(code)
    form = HoldForm(request.POST, proposals=holds.open_proposals())
    if not form.is_valid():
        return show(request, cleft, hold_form=form)
    return done(request, cleft, holds.hold, form.cleaned_data["proposal"], by=request.user)


@require_POST
@open_to(MAKER)
@once
def release(request: SignedInRequest, code: str) -> HttpResponse:
    """End the hold on a cleft."""
    cleft = find(code)
    kept = CleftHold.objects.filter(cleft=cleft, released_at__isnull=True).first()
    if kept is not None:
        holds.release(kept, by=request.user)
    return redirect("rack:cleft", code=code)
