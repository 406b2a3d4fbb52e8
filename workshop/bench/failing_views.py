"""The page for wood that fails: giving it up, and telling the player."""

from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST

from orders.commissions.access import bat_for, sees_prices
from orders.commissions.models import Bat
from orders.commissions.promising import moved_by
from orders.commissions.refusals import Refused
from orders.messages.forms import refusal as photograph_refusal
from orders.messages.models import Letter
from orders.messages.photographs import PhotographRefused, keep_picture
from orders.messages.rendering import Text, text_of
from orders.money.amounts import show_price
from orders.people.doors import MAKER, STAFF, SignedInRequest, open_to
from orders.people.models import Workshop
from orders.people.once import once
from orders.words.questions import LENGTHS
from orders.words.states import day_range, stage_words
from workshop.bench import page
from workshop.bench.delays import days_again, stages_again
from workshop.bench.failing import Fate, Loss, can_fail, fail_wood, loss_of, tell_player, untold
from workshop.bench.failing_form import FailedForm
from workshop.bench.work import Work, candidates, choose_cleft, same_as_seen, seen_mark, work_on
from workshop.match.floor import matched
from workshop.rack.candidates import Candidate
from workshop.rack.clefts import cleft_of_round
from workshop.stock.models import Cause
from workshop.stock.refused import StockRefused
from workshop.stock.words import refusal as stock_refusal

# Others are found on the cleft's own page of the bench.
MOST_CLEFTS = 4


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def failed(request: SignedInRequest, code: str) -> HttpResponse:
    """Give the bat's wood up, or tell the player of wood that was given up before."""
    work = _work(request, code)
    if not _open(request, work):
        return redirect("bench:bat", code=code)
    form = _form(request, work)
    if request.method != "POST":
        return _show(request, work, form)
    if not form.is_valid():
        return _show(request, work, form)
    try:
        same_as_seen(work.bat, request.POST.get("seen", ""))
        _act(request, work, form)
    except PhotographRefused as refused:
        form.add_error("photo_1", photograph_refusal(refused))
        return _show(request, _work(request, code), form)
    except Refused as error:
        return _show(request, _work(request, code), form, faults=_refused(error))
    messages.success(request, _done(form))
    return redirect("bench:bat", code=code)


def _done(form: FailedForm) -> str:
    if "cause" not in form.fields:
        return gettext("The player is told.")
    if form.telling() is not None:
        return gettext("The wood is given up, and the player is told.")
    return gettext("The wood is given up. The maker tells the player.")


@require_POST
@open_to(MAKER)
def letter(request: SignedInRequest, code: str) -> HttpResponse:
    """Show the letter as it would go; nothing is kept and nothing goes."""
    work = _work(request, code)
    if not _open(request, work):
        raise Http404
    form = _form(request, work)
    text = None
    faults: list[page.Fault] = []
    if form.is_valid():
        try:
            text = _letter_of(request, work, form)
        except Refused as error:
            faults = _refused(error)
    return _show(request, _work(request, code), form, faults=faults, text=text)


def _letter_of(request: SignedInRequest, work: Work, form: FailedForm) -> Text:
    """Do everything, read the letter, and undo it all."""
    with transaction.atomic():
        _act(request, work, form, pictures=False)
        written = Letter.objects.filter(kind="wood_failed", commission_code=work.bat.commission.code)
        text = text_of(written.latest("pk"))
        transaction.set_rollback(True)
    return text


def _act(request: SignedInRequest, work: Work, form: FailedForm, *, pictures: bool = True) -> None:
    another, telling, by = form.chosen(), form.telling(), request.user
    if "cause" in form.fields:
        stage = work.bat.stage
        if pictures:
            _keep_pictures(request, work.bat, form, stage)
        fail_wood(work, form.failure(), by=by, another=another, telling=telling)
        return
    if another is not None:
        choose_cleft(work, another, by=by)
    if telling is not None:
        tell_player(work.bat, telling, by=by)


def _keep_pictures(request: SignedInRequest, bat: Bat, form: FailedForm, stage: str) -> None:
    caption = gettext("what failed: %(cause)s") % {"cause": Cause(form.cleaned_data["cause"]).label}
    for picture in form.pictures():
        keep_picture(
            picture,
            commission=bat.commission,
            by=request.user,
            bat=bat,
            stage=stage,
            caption=caption,
            shown_to_player=form.cleaned_data["shown"],
        )


def _open(request: SignedInRequest, work: Work) -> bool:
    """Whether there is something for this person to do: wood that can fail, or a player to be told."""
    if untold(work.bat) is not None:
        return request.user.is_maker
    return can_fail(work.bat) and cleft_of_round(work.bat) is not None


def _form(request: SignedInRequest, work: Work) -> FailedForm:
    failure = untold(work.bat)
    failed_in = failure.data["stage"] if failure else work.bat.stage
    return FailedForm(
        request.POST or None,
        request.FILES or None,
        work=work,
        found=_found(work),
        wanted=_wanted_elsewhere(work.bat),
        days=days_again(failed_in, work.book),
        failed=failure,
        tells=request.user.is_maker,
    )


def _found(work: Work) -> list[Candidate]:
    """Return the best clefts."""
    return candidates(work)[:MOST_CLEFTS]


def _wanted_elsewhere(bat: Bat) -> dict[int, str]:
    """Return the clefts that the matching has for other bats, each with its commission's number."""
    floor = matched(today=timezone.localdate())
    return {
        floor.clefts[one.pair.cleft].pk: floor.bats[one.pair.bat].label
        for one in floor.answer.assigned
        if floor.bats[one.pair.bat].code != bat.code
    }


def _show(
    request: SignedInRequest,
    work: Work,
    form: FailedForm,
    *,
    faults: list[page.Fault] | None = None,
    text: Text | None = None,
) -> HttpResponse:
    bat = work.bat
    failure = untold(bat)
    failed_in = failure.data["stage"] if failure else bat.stage
    cleft = cleft_of_round(bat)
    prices = sees_prices(request.user) and failure is None and cleft is not None
    again = ", ".join(stage_words(stage) for stage in stages_again(failed_in))
    context = {
        "bat": bat,
        "commission": bat.commission,
        "cleft": cleft,
        "form": form,
        "failure": _failure_words(failure.data) if failure else None,
        "loss": loss_words(loss_of(bat, cleft)) if prices and cleft else [],
        "again": again,
        "promised": _promised(bat, days_again(failed_in, work.book)),
        "text": text,
        "seen": seen_mark(bat),
        "faults": faults or [],
    }
    if request.headers.get("HX-Request") == "true":
        # Nothing was to be kept, so nothing was refused: what is still missing is said in the letter's place.
        return render(request, "bench/failed.html#letter-shown", context)
    return render(request, "bench/failed.html", context, status=422 if faults or form.errors else 200)


def _promised(bat: Bat, days: int) -> dict[str, str]:
    """Return the days that are promised, and what they become with so many more."""
    commission = bat.commission
    if commission.promised_to is None:
        return {}
    early, late = moved_by(commission, days)
    return {
        "now": day_range(commission.promised_from, commission.promised_to),
        "then": day_range(early, late),
        "days": str(days),
    }


def loss_words(loss: Loss) -> list[tuple[str, str]]:
    """Say what the piece has cost so far; for the maker alone."""
    workshop = Workshop.objects.the_one()
    currency = workshop.currency if workshop else "GBP"

    def money(amount: int | None) -> str:
        return gettext("no price known") if amount is None else show_price(amount, currency)

    hours = gettext("%(minutes)s minutes at the bench") % {"minutes": loss.minutes}
    rows = [(gettext("the cleft"), money(loss.wood))]
    if loss.handle is not None:
        rows.append((gettext("handle %(label)s") % {"label": loss.handle.label}, money(loss.handle_price)))
    return [*rows, (hours, money(loss.work)), (gettext("together"), money(loss.total))]


def _failure_words(data: dict[str, Any]) -> dict[str, str]:
    return {
        "cause": str(Cause(data["cause"]).label),
        "fate": str(Fate(data["fate"]).label),
        "smaller": str(LENGTHS[data["length_code"]][0]) if data["length_code"] else "",
        "cleft": data["cleft"],
        "stage": stage_words(data["stage"]),
        "words": data["reason"],
    }


def _refused(error: Refused) -> list[page.Fault]:
    if isinstance(error, StockRefused):
        return [page.Fault("", stock_refusal(error.key))]
    anchor = {"length_needed": "id_length_code", "too_many_days": "id_days"}.get(error.key, "")
    return [page.Fault(anchor or fault.field_id, fault.words) for fault in page.refused_words(error)]


def _work(request: SignedInRequest, code: str) -> Work:
    try:
        return work_on(bat_for(request.user, code))
    except Refused as error:
        raise Http404 from error
