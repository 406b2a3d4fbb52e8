"""What is typed at the rack, turned into values."""

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from orders.commissions.models import Proposal
from orders.money.amounts import PriceRefused, parse_price
from workshop.rack.allowed import (
    DEPTH,
    GRAINS,
    HEARTWOOD,
    LENGTH,
    MASS,
    MOISTURE,
    NUMBER_LEAST,
    NUMBER_MOST,
    RUN_OUT,
    WIDTH,
    no_willow,
)
from workshop.rack.models import Cleft, CleftState, Load, MoisturePlace
from workshop.rack.words import no_willow_words, refused_reading
from workshop.readings import ReadingRefused, as_tenths, read_typed

NUMBER = {"inputmode": "decimal", "autocomplete": "off"}


class ReadingField(forms.CharField):
    """A reading of an instrument; its value is the whole number that is stored."""

    def __init__(self, allowed: Any, **kwargs: Any) -> None:
        self.allowed = allowed
        kwargs.setdefault("widget", forms.TextInput(attrs=NUMBER))
        super().__init__(**kwargs)

    def clean(self, value: Any) -> int | None:
        """Return tenths of the unit, pieces for a count, None where nothing was typed."""
        text = super().clean(value)
        if not text:
            return None
        try:
            return as_tenths(read_typed(text, self.allowed), self.allowed.unit)
        except ReadingRefused as error:
            raise forms.ValidationError(refused_reading(error), code=error.kind) from error


class TakeInForm(forms.Form):
    """A cleft that comes onto the rack."""

    number = forms.IntegerField(
        label=_("Number"),
        min_value=NUMBER_LEAST,
        max_value=NUMBER_MOST,
        help_text=_("As pencilled on its end."),
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
    )
    load = forms.ModelChoiceField(
        label=_("Load"), queryset=Load.objects.all(), required=False, empty_label=_("none named")
    )
    grade = forms.TypedChoiceField(
        label=_("Grade"),
        choices=[(1, _("1, the finest")), (2, "2"), (3, "3"), (4, "4")],
        coerce=int,
        widget=forms.RadioSelect,
    )
    grains = ReadingField(GRAINS, label=_("Grains"), required=False, help_text=_("Counted across the face."))
    length = ReadingField(LENGTH, label=_("Length"))
    width_1 = ReadingField(WIDTH, label=_("Width near one end"))
    width_2 = ReadingField(WIDTH, label=_("Width in the middle"))
    width_3 = ReadingField(WIDTH, label=_("Width near the other end"))
    depth_1 = ReadingField(DEPTH, label=_("Depth near one end"))
    depth_2 = ReadingField(DEPTH, label=_("Depth in the middle"))
    depth_3 = ReadingField(DEPTH, label=_("Depth near the other end"))
    mass = ReadingField(MASS, label=_("Mass"))
    moisture = ReadingField(MOISTURE, label=_("Moisture"), help_text=_("As the meter shows it."))
    moisture_at = forms.ChoiceField(
        label=_("Where it was read"), required=False, choices=[("", _("not noted")), *MoisturePlace.choices]
    )
    read_on = forms.DateField(
        label=_("Read on"),
        initial=timezone.localdate,
        widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}),
    )
    heartwood = ReadingField(HEARTWOOD, label=_("Heartwood"), required=False, help_text=_("Of the face."))
    run_out = ReadingField(
        RUN_OUT,
        label=_("Run-out of the grain, 1 in"),
        required=False,
        help_text=_("Leave it empty where the grain is straight through face, edges and splice."),
    )
    state = forms.ChoiceField(
        label=_("Where it goes"),
        choices=[
            (CleftState.SEASONING, _("to season")),
            (CleftState.READY, _("ready to be cut")),
        ],
        initial=CleftState.SEASONING,
        widget=forms.RadioSelect,
    )
    note = forms.CharField(
        label=_("Marks and blemishes"),
        max_length=1000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
    )

    def __init__(self, *args: Any, currency: str | None, **kwargs: Any) -> None:
        """Ask for the price where there is a currency to give it in: not of a bench hand."""
        super().__init__(*args, **kwargs)
        if currency:
            self.fields["price"] = PriceField(
                currency, label=_("Price (%(currency)s)") % {"currency": currency}, required=False
            )

    def clean_read_on(self) -> Any:
        """Refuse a reading of tomorrow."""
        return _not_in_future(self.cleaned_data["read_on"])

    def clean(self) -> dict[str, Any]:
        """Hold mass against sizes: together they must make willow."""
        data = super().clean() or {}
        wrong = no_willow(data)
        if wrong is not None:
            self.add_error("mass", no_willow_words(wrong))
        return data

    def cleft(self) -> Cleft:
        """Return the cleft, not yet stored."""
        data = dict(self.cleaned_data)
        if data["heartwood"] is not None:
            data["heartwood"] = round(data["heartwood"] / 10)
        return Cleft(**data)


class PriceField(forms.CharField):
    """A sum of money in the workshop's currency; its value is in the smallest unit."""

    def __init__(self, currency: str, **kwargs: Any) -> None:
        self.currency = currency
        super().__init__(widget=forms.TextInput(attrs=NUMBER), **kwargs)

    def clean(self, value: Any) -> int | None:
        """Return the sum, None where nothing was typed."""
        text = super().clean(value)
        if not text:
            return None
        try:
            return parse_price(text, self.currency)
        except PriceRefused as error:
            words = gettext("“%(given)s” given; a sum such as 85 or 85.50 is allowed.") % {"given": text}
            raise forms.ValidationError(words, code=error.kind) from error


def _not_in_future(day: Any) -> Any:
    if day > timezone.localdate():
        raise forms.ValidationError(
            gettext("%(day)s given; not later than today is allowed.") % {"day": day.isoformat()}
        )
    return day


class WeighForm(forms.Form):
    """A cleft on the scales again."""

    mass = ReadingField(MASS, label=_("Mass"))
    moisture = ReadingField(MOISTURE, label=_("Moisture"))
    read_on = forms.DateField(
        label=_("Read on"),
        initial=timezone.localdate,
        widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}),
    )

    def clean_read_on(self) -> Any:
        """Refuse a reading of tomorrow."""
        return _not_in_future(self.cleaned_data["read_on"])


class StandingForm(forms.Form):
    """What a cleft is to be from now on, and why."""

    verb = forms.ChoiceField(label=_("What is it to be?"), widget=forms.RadioSelect)
    words = forms.CharField(
        label=_("Why"),
        required=False,
        max_length=500,
        help_text=_("Needed when it is thrown out or kept for a smaller size."),
        widget=forms.Textarea(attrs={"rows": 2}),
    )

    def __init__(self, *args: Any, verbs: list[tuple[str, Any]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["verb"]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101
        field.choices = verbs


class ProposalField(forms.ModelChoiceField):  # type: ignore[type-arg]
    """An open proposal, told by commission and player."""

    def label_from_instance(self, obj: Proposal) -> str:
        """Name it as people do."""
        return f"{obj.commission.reference} {obj.commission.player.name}"


class HoldForm(forms.Form):
    """For which open proposal a cleft is kept aside."""

    proposal = ProposalField(
        label=_("For which proposal?"), queryset=Proposal.objects.none(), to_field_name="code"
    )

    def __init__(self, *args: Any, proposals: list[Proposal], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["proposal"]
        assert isinstance(field, forms.ModelChoiceField)  # noqa: S101
        open_now = Proposal.objects.filter(pk__in=[one.pk for one in proposals])
        field.queryset = open_now.select_related("commission__player")
