"""What a holder sees of a finished bat: its record, its care, and the way back to the workshop."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from orders.care import returns
from orders.care.forms import SendBackForm
from orders.care.plan import care_plan
from orders.care.record import Record, as_built, finished_bat, record_of
from orders.care.record_pdf import record_pdf
from orders.commissions.access import commission_for, sees_prices
from orders.commissions.builds import sheet_of
from orders.commissions.models import Bat, Commission
from orders.commissions.refusals import Refused
from orders.messages.forms import refusal
from orders.messages.photographs import PhotographRefused
from orders.people.doors import HOLDER, MAKER, STAFF, SignedInRequest, open_to
from orders.people.once import once
from orders.words.care import CAUTIONS, RULES_FIRST, care_figures, care_words
from orders.words.states import refusal_words


@require_safe
@open_to(HOLDER, STAFF)
def record(request: SignedInRequest, code: str) -> HttpResponse:
    """Show everything about one finished bat."""
    found = commission_for(request.user, code)
    context = {
        "record": _record(request, found),
        "commission": found,
        "can_send_back": returns.can_send_back(found, request.user),
    }
    return render(request, "care/record.html", context)


@require_safe
@open_to(HOLDER, STAFF)
def printed_record(request: SignedInRequest, code: str) -> HttpResponse:
    """Send the record as a PDF."""
    found = commission_for(request.user, code)
    told = _record(request, found)
    response = HttpResponse(record_pdf(told), content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="bat-record-{told.bat.serial}.pdf"'
    return response


@require_safe
@open_to(HOLDER, STAFF)
def care(request: SignedInRequest, code: str) -> HttpResponse:
    """Show how this very bat is knocked in, kept and looked after."""
    found = commission_for(request.user, code)
    bat = _bat(found)
    build, weighing = as_built(found)
    sheet = sheet_of(found)
    age = found.player.age_on(timezone.localdate())
    plan = care_plan(
        build,
        weighing,
        age_years=sheet.player.age_years if age is None else age,
        often_damp=sheet.pitches.often_damp,
    )
    sections = care_words(plan)
    context = {
        "commission": found,
        "bat": bat,
        "figures": care_figures(plan),
        "cautions": [section for section in sections if section.subject in CAUTIONS],
        "sections": [section for section in sections if section.subject not in CAUTIONS],
        "rules_first": str(RULES_FIRST),
        "can_send_back": returns.can_send_back(found, request.user),
    }
    return render(request, "care/care.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(HOLDER, MAKER)
@once
def send_back(request: SignedInRequest, code: str) -> HttpResponse:
    """Ask what is wrong with the bat, and let it come back."""
    found = commission_for(request.user, code)
    bat = _bat(found)
    if not returns.can_send_back(found, request.user):
        return _not_now(request, found, Refused("not_now"))
    form = SendBackForm(request.POST or None, request.FILES or None)
    if request.method != "POST" or not form.is_valid():
        return _ask(request, found, bat, form)
    try:
        returns.send_back(
            found,
            by=request.user,
            words=form.cleaned_data["words"],
            answers=form.answers(),
            pictures=form.pictures(),
        )
    except PhotographRefused as refused:
        form.add_error("photo_face", refusal(refused))
        return _ask(request, found, bat, form)
    except Refused as refused:
        return _not_now(request, commission_for(request.user, code), refused)
    messages.success(request, _("The maker has your words. Nothing else is to be done but to send the bat."))
    return redirect("care:record", code=code)


def _ask(request: SignedInRequest, found: Commission, bat: Bat, form: SendBackForm) -> HttpResponse:
    context = {"commission": found, "bat": bat, "form": form}
    return render(request, "care/send_back.html", context, status=422 if form.errors else 200)


def _not_now(request: SignedInRequest, found: Commission, refused: Refused) -> HttpResponse:
    """Answer with the record as it stands, saying why nothing was done; 409."""
    context = {
        "record": _record(request, found),
        "commission": found,
        "can_send_back": returns.can_send_back(found, request.user),
        "refusal": refusal_words(refused),
    }
    return render(request, "care/record.html", context, status=409)


def _bat(found: Commission) -> Bat:
    """Return the commission's bat; none is finished yet: not there."""
    bat = finished_bat(found)
    if bat is None:
        raise Http404
    return bat


def _record(request: SignedInRequest, found: Commission) -> Record:
    return record_of(found, _bat(found), staff=request.user.is_staff_role, prices=sees_prices(request.user))
