"""What is typed at the rack, turned into values."""

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from orders.commissions.models import Proposal
from orders.money.amounts import PriceRefused, parse_price, typed_price
from workshop.rack.allowed import (
    ACROSS,
    ALONG,
    BLEMISH_SIZE,
    DEPTH,
    GRAINS,
    HEARTWOOD,
    LENGTH,
    MASS,
    MOISTURE,
    NUMBER_LEAST,
    NUMBER_MOST,
    RUN_OUT,
    SIZES,
    UNPRINTABLE,
    WIDTH,
    no_willow,
    other_wood,
)
from workshop.rack.models import Blemish, Cleft, CleftState, Load, MoisturePlace
from workshop.rack.words import GRADED_WHEN_WORDS, no_willow_words, other_wood_words, refused_reading
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


def plain_text(text: str) -> None:
    """Refuse signs that cannot be printed, nor written into a workbook."""
    if UNPRINTABLE.search(text):
        raise forms.ValidationError(gettext("There is a sign in it that cannot be printed; write it again."))


def day_field(label: Any, **kwargs: Any) -> forms.DateField:
    """Return a field for a day."""
    return forms.DateField(
        label=label, widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}), **kwargs
    )


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
    width_1 = ReadingField(WIDTH, label=_("Width near end 1"))
    width_2 = ReadingField(WIDTH, label=_("Width in the middle"))
    width_3 = ReadingField(WIDTH, label=_("Width near end 2"))
    depth_1 = ReadingField(DEPTH, label=_("Depth near end 1"))
    depth_2 = ReadingField(DEPTH, label=_("Depth in the middle"))
    depth_3 = ReadingField(DEPTH, label=_("Depth near end 2"))
    mass = ReadingField(MASS, label=_("Mass"))
    moisture = ReadingField(MOISTURE, label=_("Moisture"), help_text=_("As the meter shows it."))
    moisture_at = forms.ChoiceField(
        label=_("Where it was read"), required=False, choices=[("", _("not noted")), *MoisturePlace.choices]
    )
    read_on = day_field(_("Read on"), initial=timezone.localdate)
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
        label=_("What else is to be known"),
        max_length=1000,
        required=False,
        help_text=_("Blemishes are placed on the drawing afterwards."),
        widget=forms.Textarea(attrs={"rows": 3}),
        validators=[plain_text],
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

    def clean_note(self) -> str:
        """End lines as files do, so that a note is the same after a walk through one."""
        return str(self.cleaned_data["note"]).replace("\r\n", "\n")

    def clean(self) -> dict[str, Any]:
        """Hold mass against sizes: together they must make willow."""
        data = super().clean() or {}
        wrong = no_willow(data)
        if wrong is not None:
            self.add_error("mass", no_willow_words(wrong))
        return data

    def cleft(self) -> Cleft:
        """Return the cleft, not yet stored."""
        return Cleft(**self.columns())

    def columns(self) -> dict[str, Any]:
        """Return what was typed as a cleft's columns."""
        data = dict(self.cleaned_data)
        if data["heartwood"] is not None:
            data["heartwood"] = round(data["heartwood"] / 10)
        return data


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
    moisture_at = forms.ChoiceField(
        label=_("Where it was read"), required=False, choices=[("", _("not noted")), *MoisturePlace.choices]
    )
    read_on = day_field(_("Read on"), initial=timezone.localdate)

    def __init__(self, data: Any = None, *, cleft: Cleft) -> None:
        super().__init__(data, initial={"moisture_at": cleft.moisture_at})
        self.before = (cleft.mass, cleft.moisture)

    def clean_read_on(self) -> Any:
        """Refuse a reading of tomorrow."""
        return _not_in_future(self.cleaned_data["read_on"])

    def clean(self) -> dict[str, Any]:
        """Hold the weighing against the one before: the dry mass of a piece stays."""
        data = super().clean() or {}
        if data.get("mass") and data.get("moisture"):
            wrong = other_wood(self.before, mass=data["mass"], moisture=data["moisture"])
            if wrong is not None:
                self.add_error("mass", other_wood_words(wrong))
        return data


class AmendForm(TakeInForm):
    """What was noted of a cleft, to be put right; how it stands and its grade have verbs of their own."""

    def __init__(self, data: Any = None, *, cleft: Cleft, currency: str | None) -> None:
        super().__init__(data, currency=currency, initial=typed_columns(cleft, currency))
        for name in ("state", "grade"):
            del self.fields[name]


class GradeForm(forms.Form):
    """A cleft graded again."""

    grade = forms.TypedChoiceField(
        label=_("Grade now"),
        choices=[(1, _("1, the finest")), (2, "2"), (3, "3"), (4, "4")],
        coerce=int,
        widget=forms.RadioSelect,
    )
    when = forms.ChoiceField(
        label=_("When"),
        required=False,
        choices=[(when, words) for when, words in GRADED_WHEN_WORDS.items() if when != "arrival"],
    )
    words = forms.CharField(
        label=_("What was seen"), required=False, max_length=300, widget=forms.TextInput(attrs={"size": 40})
    )


class BlemishForm(forms.Form):
    """A blemish and where it lies."""

    kind = forms.ChoiceField(label=_("What it is"), choices=Blemish.Kind.choices)
    side = forms.ChoiceField(label=_("Side"), choices=Blemish.Side.choices)
    from_end = ReadingField(ALONG, label=_("From end 1"))
    across = ReadingField(ACROSS, label=_("Across"))
    size = ReadingField(BLEMISH_SIZE, label=_("Size along the wood"))
    through = forms.BooleanField(label=_("It goes right through"), required=False)

    # The cleft's page has other fields of these names.
    prefix = "blemish"


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


def typed_columns(cleft: Cleft, currency: str | None) -> dict[str, Any]:
    """Return what is noted of a cleft as it would be typed."""
    columns: dict[str, Any] = {
        name: f"{getattr(cleft, name) / 10:.1f}".removesuffix(".0") for name in (*SIZES, "mass", "moisture")
    }
    for name in ("number", "load", "grains", "heartwood", "run_out", "moisture_at", "read_on", "note"):
        columns[name] = getattr(cleft, name)
    if currency and cleft.price is not None:
        columns["price"] = typed_price(cleft.price, currency)
    return columns


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
