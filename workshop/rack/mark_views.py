"""What is placed on a cleft's page: blemishes on the drawing, photographs, and labels to print."""

from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.csp import CSP
from django.utils.translation import gettext
from django.views.decorators.csp import csp_override
from django.views.decorators.http import require_POST, require_safe

from orders.commissions.refusals import Refused
from orders.messages.forms import PhotographForm
from orders.messages.forms import refusal as refused_photograph
from orders.messages.photographs import PhotographRefused
from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from workshop.rack import blemishes, labels, photographs
from workshop.rack.cleft_page import find, show
from workshop.rack.forms import BlemishForm
from workshop.rack.listing import Filter
from workshop.rack.models import CleftPhoto
from workshop.rack.words import refusal


@require_POST
@open_to(STAFF)
@once
def blemish(request: SignedInRequest, code: str) -> HttpResponse:
    """Note a blemish on the drawing."""
    cleft = find(code)
    form = BlemishForm(request.POST)
    if not form.is_valid():
        return show(request, cleft, blemish_form=form)
    try:
        blemishes.place(cleft, by=request.user, **form.cleaned_data)
    except Refused as error:
        form.add_error(_FIELD.get(error.key), refusal(error.key))
        return show(request, cleft, blemish_form=form)
    return redirect(f"{_address(code)}#sides")


# Which field a refusal is about.
_FIELD = {"beyond_end": "from_end", "beyond_edge": "across"}


@require_POST
@open_to(STAFF)
@once
def strike_out(request: SignedInRequest, code: str) -> HttpResponse:
    """Take a blemish off the drawing."""
    cleft = find(code)
    pk = request.POST.get("blemish", "")
    found = (
        cleft.blemishes.filter(pk=int(pk)).first() if pk.isascii() and pk.isdigit() and len(pk) < 19 else None
    )
    if found is not None:
        blemishes.strike_out(found, by=request.user)
    return redirect(f"{_address(code)}#sides")


@require_POST
@open_to(STAFF)
@once
def photograph(request: SignedInRequest, code: str) -> HttpResponse:
    """Keep a photograph of a cleft."""
    cleft = find(code)
    form = PhotographForm(request.POST, request.FILES)
    if form.is_valid():
        try:
            photographs.keep(
                cleft, form.cleaned_data["photograph"], caption=form.cleaned_data["caption"], by=request.user
            )
        except PhotographRefused as refused:
            form.add_error("photograph", _refused(refused))
        else:
            return redirect(f"{_address(code)}#photographs")
    return show(request, cleft, photo_form=form)


@require_POST
@open_to(STAFF)
@once
def change_photograph(request: SignedInRequest, code: str) -> HttpResponse:
    """Show a photograph to the player, hide it again, or remove it."""
    cleft = find(code)
    photo = _photo(code, request.POST.get("photo", ""))
    acts = {"show": photographs.show, "hide": photographs.hide, "remove": photographs.remove}
    act = acts.get(request.POST.get("act", ""))
    if act is None:
        raise Http404
    try:
        act(photo, by=request.user)
    except PhotographRefused as refused:
        return show(request, cleft, refused=_refused(refused))
    except Refused as error:
        return show(request, cleft, refused=refusal(error.key))
    return redirect(f"{_address(code)}#photographs")


@require_safe
@open_to(STAFF)
@csp_override({"default-src": [CSP.NONE], "sandbox": [""]})
def see_photograph(request: SignedInRequest, code: str, photo: str) -> HttpResponse:
    """Send a photograph of a cleft."""
    found = _photo(code, photo)
    try:
        with found.file.open("rb") as file:
            response = HttpResponse(file.read(), content_type="image/jpeg")
    except FileNotFoundError:
        raise Http404 from None
    response["Content-Disposition"] = f'inline; filename="cleft-{found.code}.jpg"'
    response["X-Content-Type-Options"] = "nosniff"
    response["Cross-Origin-Resource-Policy"] = "same-origin"
    response["Cache-Control"] = "no-store, private"
    return response


@require_safe
@open_to(STAFF)
def label(request: SignedInRequest, code: str) -> HttpResponse:
    """Send the label of a cleft as a PDF."""
    cleft = find(code)
    return _pdf(labels.label(cleft), f"label-{cleft.label}.pdf")


@require_safe
@open_to(STAFF)
def label_sheets(request: SignedInRequest) -> HttpResponse:
    """Send the labels of the clefts within the filter as sheets of A4, the first ten sheets of them."""
    found = Filter.read(request.GET.dict()).clefts(timezone.localdate()).select_related("load")
    if not found.exists():
        raise Http404
    return _pdf(labels.sheets(found[: labels.MOST]), "labels.pdf")


def _pdf(content: bytes, name: str) -> HttpResponse:
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}"'
    return response


def _photo(code: str, photo: str) -> CleftPhoto:
    found = CleftPhoto.objects.select_related("cleft__bat__commission", "shown_as__commission")
    one = found.filter(cleft__code=code, code=photo).first()
    if one is None:
        raise Http404
    return one


def _refused(refused: PhotographRefused) -> str:
    if refused.why == "too_many":
        return gettext("%(allowed)d photographs are kept of a cleft, and they are all there.") % {
            "allowed": refused.allowed
        }
    return refused_photograph(refused)


def _address(code: str) -> str:
    return redirect("rack:cleft", code=code)["Location"]
