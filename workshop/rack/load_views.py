"""The pages of loads: all of them with their yield, one load, a load put right."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_GET, require_http_methods

from orders.commissions.book_in_force import book_in_force
from orders.commissions.refusals import Refused
from orders.money.amounts import typed_price
from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.once import once
from workshop.rack.cleft_page import currency_for, price_words
from workshop.rack.forms import PriceField, day_field, plain_text
from workshop.rack.loads import COLUMNS, LoadReport, report_on, save_load, with_counts
from workshop.rack.models import CleftState, Load
from workshop.rack.words import refusal


class LoadForm(forms.Form):
    """A load as it was bought."""

    name = forms.CharField(
        label=_("Name"),
        max_length=120,
        validators=[plain_text],
        help_text=_("As you speak of it: “winter felling, lower meadow”."),
    )
    grower = forms.CharField(label=_("Grower"), max_length=120, required=False, validators=[plain_text])
    felled_on = day_field(_("Felled on"), required=False)
    arrived_on = day_field(_("Arrived on"), required=False)
    count = forms.IntegerField(
        label=_("Pieces delivered"),
        required=False,
        min_value=1,
        max_value=100_000,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
    )
    kiln_sheet = forms.CharField(
        label=_("Kiln sheet"),
        required=False,
        max_length=2000,
        validators=[plain_text],
        help_text=_("How it was dried, as the grower's sheet says."),
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    note = forms.CharField(
        label=_("Note"),
        required=False,
        max_length=2000,
        validators=[plain_text],
        widget=forms.Textarea(attrs={"rows": 2}),
    )

    def __init__(self, data: Any = None, *, load: Load, currency: str | None) -> None:
        """Ask for the price where there is a currency to give it in: not of a bench hand."""
        initial = {name: getattr(load, name) for name in COLUMNS if name != "price_a_piece"}
        if currency and load.price_a_piece is not None:
            initial["price_a_piece"] = typed_price(load.price_a_piece, currency)
        super().__init__(data, initial=initial)
        if currency:
            label = gettext("Price a piece (%(currency)s)") % {"currency": currency}
            self.fields["price_a_piece"] = PriceField(currency, label=label, required=False)

    def clean(self) -> dict[str, Any]:
        """Refuse wood that came before it was felled."""
        data = super().clean() or {}
        felled, arrived = data.get("felled_on"), data.get("arrived_on")
        if felled and arrived and arrived < felled:
            words = gettext("%(arrived)s given; not before the felling on %(felled)s is allowed.")
            self.add_error(
                "arrived_on", words % {"arrived": arrived.isoformat(), "felled": felled.isoformat()}
            )
        return data


@require_GET
@open_to(STAFF)
def loads(request: SignedInRequest) -> HttpResponse:
    """Show every load with what became of its wood."""
    rows = with_counts()
    for row in rows:
        row["price"] = price_words(request, row["load"].price_a_piece)
    return render(request, "rack/loads.html", {"rows": rows})


@require_GET
@open_to(STAFF)
def load(request: SignedInRequest, code: str) -> HttpResponse:
    """Show one load."""
    found = _load(code)
    report = report_on(found, book_in_force())
    context = {
        "load": found,
        "report": report,
        "states": [
            (words, report.by_state[key]) for key, words in CleftState.choices if key in report.by_state
        ],
        "grades": _grades(report),
        "price": price_words(request, found.price_a_piece),
    }
    return render(request, "rack/load.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def new(request: SignedInRequest) -> HttpResponse:
    """Note a load that came."""
    return _edit(request, Load())


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@once
def change(request: SignedInRequest, code: str) -> HttpResponse:
    """Put right what was noted of a load."""
    return _edit(request, _load(code))


def _edit(request: HttpRequest, found: Load) -> HttpResponse:
    currency = currency_for(request)
    if request.method != "POST":
        form = LoadForm(load=found, currency=currency)
        return render(request, "rack/load_form.html", {"form": form, "load": found})
    form = LoadForm(request.POST, load=found, currency=currency)
    if form.is_valid():
        try:
            if not found._state.adding and request.POST.get("seen") != str(found.version):
                raise Refused("meanwhile")
            kept = save_load(found, form.cleaned_data)
        except Refused as error:
            form.add_error("name" if error.key == "load_named_twice" else None, refusal(error.key))
        else:
            messages.success(request, gettext("The load is noted."))
            return redirect("rack:load", code=kept.code)
    return render(request, "rack/load_form.html", {"form": form, "load": found}, status=422)


def _load(code: str) -> Load:
    found = Load.objects.filter(code=code).first()
    if found is None:
        raise Http404
    return found


def _grades(report: LoadReport) -> list[dict[str, int]]:
    return [
        {
            "grade": grade,
            "arrival": report.grades_on_arrival.get(grade, 0),
            "now": report.grades_now.get(grade, 0),
        }
        for grade in (1, 2, 3, 4)
    ]
