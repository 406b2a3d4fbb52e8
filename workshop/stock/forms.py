"""What is typed at the store, turned into values."""

from datetime import date
from typing import Any

from django import forms
from django.db.models import Case, Max, OuterRef, Subquery, Value, When
from django.db.models.fields.json import KT
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from orders.commissions.models import Bat, BuildVersion, Commission
from orders.commissions.states import State
from orders.words.fields import VALUES
from workshop.rack.forms import PriceField, ReadingField
from workshop.rack.models import Cleft
from workshop.rack.words import refused_reading
from workshop.readings import Plausible, ReadingRefused, plausible, read_typed
from workshop.stock.models import BatKind, Cause, Construction, Handle, Kind, Supply, SupplyUnit, Verb
from workshop.stock.models.supply import SPOILING
from workshop.stock.stock_bats import LENGTH_CODES

# What each can be at all; beyond it something was mistyped.
RAW_HANDLE = plausible("g", 120, 600)
SPRINGS = plausible("count", 0, 5)
UNIT_MASS = plausible("g", 0.1, 2000)
BAT_MASS = plausible("g", 300, 3000)
BALANCE = plausible("mm", 200, 600)
MOST = {SupplyUnit.PIECE: 10_000, SupplyUnit.METRE: 20_000, SupplyUnit.GRAM: 50_000}
READ_AS = {SupplyUnit.PIECE: "count", SupplyUnit.METRE: "metres", SupplyUnit.GRAM: "g"}
WHOLE = {"inputmode": "numeric", "autocomplete": "off"}
NUMBER = {"inputmode": "decimal", "autocomplete": "off"}
DAY = {"type": "date"}


class AmountField(forms.CharField):
    """An amount in a supply's unit; its value is the number in that unit."""

    def __init__(self, unit: str | None = None, *, least: float = 0, **kwargs: Any) -> None:
        self.unit = unit
        self.least = least
        super().__init__(widget=forms.TextInput(attrs=NUMBER), **kwargs)

    def clean(self, value: Any) -> Any:
        """Return the amount, None where nothing was typed; the text itself while the unit is not known."""
        text = super().clean(value)
        if not text:
            return None
        return text if self.unit is None else read_amount(text, self.unit, self.least)


def read_amount(text: str, unit: str, least: float = 0) -> float:
    """Return an amount as typed, in its unit.

    Raises ValidationError when it is none, or cannot be.
    """
    kind = SupplyUnit(unit)
    bare = text.strip().removesuffix("m").rstrip() if kind == SupplyUnit.METRE else text
    try:
        return read_typed(bare, Plausible(READ_AS[kind], least, MOST[kind]))
    except ReadingRefused as error:
        raise forms.ValidationError(refused_reading(error), code=error.kind) from error


class DayField(forms.DateField):
    """A day, picked."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(widget=forms.DateInput(format="%Y-%m-%d", attrs=DAY), **kwargs)


def price_field(currency: str, label: Any) -> PriceField:
    """Return a field for a sum, its currency in the label."""
    return PriceField(currency, label=f"{label} ({currency})", required=False)


class HandleForm(forms.Form):
    """A handle that comes into stock."""

    number = forms.IntegerField(
        label=_("Number"),
        min_value=1,
        max_value=999_999,
        help_text=_("As pencilled on it."),
        widget=forms.TextInput(attrs=WHOLE),
    )
    mass = ReadingField(RAW_HANDLE, label=_("Mass"), help_text=_("Raw, as it came."))
    construction = forms.ChoiceField(
        label=_("Construction"), choices=Construction.choices, widget=forms.RadioSelect
    )
    springs = ReadingField(SPRINGS, label=_("Springs"), help_text=_("Strips of rubber or cork in the cane."))
    line = forms.CharField(
        label=_("Line"),
        required=False,
        max_length=200,
        help_text=_("How straight it is, and where it bends."),
    )
    batch = forms.CharField(label=_("Batch"), required=False, max_length=80)

    def __init__(self, *args: Any, currency: str | None, **kwargs: Any) -> None:
        """Ask for the price where there is a currency to give it in: not of a bench hand."""
        super().__init__(*args, **kwargs)
        if currency:
            self.fields["price"] = price_field(currency, gettext("Price"))

    @staticmethod
    def next_number() -> int:
        """Return the number after the last."""
        return (Handle.objects.aggregate(last=Max("number"))["last"] or 0) + 1

    def handle(self) -> Handle:
        """Return the handle, not yet stored."""
        return Handle(**self.cleaned_data)


class HandleMassForm(forms.Form):
    """A raw handle on the scales again."""

    mass = ReadingField(RAW_HANDLE, label=_("Mass"))


class WordsForm(forms.Form):
    """Why something is done."""

    words = forms.CharField(label=_("Why"), max_length=500, widget=forms.Textarea(attrs={"rows": 2}))


class SupplyForm(forms.Form):
    """A supply that was not there before, or a new batch of one."""

    kind = forms.ChoiceField(label=_("Kind"), choices=Kind.choices)
    name = forms.CharField(
        label=_("Name"), max_length=80, help_text=_("Batches of one name and colour count together.")
    )
    colour = forms.CharField(label=_("Colour"), max_length=40, required=False)
    unit = forms.ChoiceField(label=_("Counted in"), choices=SupplyUnit.choices, widget=forms.RadioSelect)
    amount = AmountField(label=_("How much came"), required=False)
    mass = ReadingField(UNIT_MASS, label=_("Mass of one"), required=False)
    batch = forms.CharField(label=_("Batch"), max_length=80, required=False)
    arrived_on = DayField(label=_("Arrived on"), initial=timezone.localdate)
    opened_on = DayField(label=_("Opened on"), required=False, help_text=_("Of glue and oil."))
    use_by = DayField(
        label=_("Use by"), required=False, help_text=_("Of glue and oil: past it none is used.")
    )
    minimum = AmountField(label=_("Minimum"), required=False, help_text=_("Below it the thing is short."))

    def __init__(self, *args: Any, currency: str | None, **kwargs: Any) -> None:
        """Ask for the price where there is a currency to give it in: not of a bench hand."""
        super().__init__(*args, **kwargs)
        if currency:
            self.fields["price"] = price_field(currency, gettext("Price of one"))

    def clean(self) -> dict[str, Any]:
        """Read the amounts in the unit that was chosen, and hold the days against each other."""
        data = super().clean() or {}
        unit = data.get("unit")
        for name in ("amount", "minimum"):
            if unit and data.get(name):
                try:
                    data[name] = read_amount(data[name], unit)
                except forms.ValidationError as error:
                    self.add_error(name, error)
        if data.get("kind") == Kind.GLUE and not data.get("use_by"):
            self.add_error("use_by", gettext("Glue needs the day up to which it holds."))
        if data.get("kind") in Kind.values and data["kind"] not in SPOILING and data.get("opened_on"):
            self.add_error("opened_on", gettext("Only glue and oil are opened; leave it empty."))
        _not_opened_tomorrow(self, data)
        return data

    def supply(self) -> Supply:
        """Return the supply, not yet stored, with nothing of it there."""
        data = dict(self.cleaned_data)
        data.pop("amount")
        return Supply(**{**data, "minimum": round((data["minimum"] or 0) * 10)})

    @property
    def came(self) -> float:
        """How much of it came, in its unit."""
        return float(self.cleaned_data["amount"] or 0)


class SupplyChangeForm(forms.Form):
    """What is said of a supply, changed."""

    minimum = AmountField(label=_("Minimum"))
    opened_on = DayField(label=_("Opened on"), required=False)
    use_by = DayField(label=_("Use by"), required=False)

    def __init__(self, *args: Any, supply: Supply, currency: str | None, **kwargs: Any) -> None:
        """Ask for days where the kind spoils, for the price where there is a currency to give it in."""
        super().__init__(*args, **kwargs)
        self.supply = supply
        minimum = self.fields["minimum"]
        assert isinstance(minimum, AmountField)  # noqa: S101
        minimum.unit = supply.unit
        if supply.kind not in SPOILING:
            del self.fields["opened_on"]
            del self.fields["use_by"]
        if currency:
            self.fields["price"] = price_field(currency, gettext("Price of one"))

    def clean(self) -> dict[str, Any]:
        """Glue keeps a day; nothing was opened tomorrow."""
        data = super().clean() or {}
        if self.supply.kind == Kind.GLUE and "use_by" not in self.errors and not data.get("use_by"):
            self.add_error("use_by", gettext("Glue needs the day up to which it holds."))
        _not_opened_tomorrow(self, data)
        return data

    def columns(self) -> dict[str, Any]:
        """Return what is to be stored."""
        return {**self.cleaned_data, "minimum": round(self.cleaned_data["minimum"] * 10)}


def _not_opened_tomorrow(form: forms.Form, data: dict[str, Any]) -> None:
    for name in ("opened_on", "arrived_on"):
        day: date | None = data.get(name)
        if day is not None and day > timezone.localdate():
            words = gettext("%(day)s given; not later than today is allowed.") % {"day": day.isoformat()}
            form.add_error(name, words)


class BatField(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A bat at the bench, told by commission and player."""

    def label_from_instance(self, obj: Bat) -> str:
        """Name it as people do."""
        return f"{obj.commission.reference} {obj.commission.player.name}"


class MoveForm(forms.Form):
    """What came, went, or was counted."""

    verb = forms.ChoiceField(
        label=_("What happened?"),
        choices=[
            (Verb.USE, _("used")),
            (Verb.TAKE_IN, _("taken in")),
            (Verb.COUNT, _("counted anew")),
            (Verb.THROW_OUT, _("thrown out")),
        ],
        widget=forms.RadioSelect,
    )
    amount = AmountField(label=_("How much"), help_text=_("Counted anew: how much lies there now."))
    bat = BatField(
        label=_("For which bat"),
        queryset=Bat.objects.none(),
        to_field_name="code",
        required=False,
        empty_label=_("for none"),
    )
    words = forms.CharField(
        label=_("Words"), max_length=500, required=False, help_text=_("Needed when it is thrown out.")
    )
    # The count that the page showed: what is counted anew is counted against it.
    seen = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, supply: Supply, **kwargs: Any) -> None:
        super().__init__(*args, **{**kwargs, "initial": {"seen": supply.left}})
        amount, bat = self.fields["amount"], self.fields["bat"]
        assert isinstance(amount, AmountField)  # noqa: S101
        assert isinstance(bat, forms.ModelChoiceField)  # noqa: S101
        amount.unit = supply.unit
        bat.queryset = Bat.objects.at_bench().with_people().order_by("commission__number")


LENGTHS = [(code, VALUES[code]) for code in LENGTH_CODES]


class StockBatForm(forms.Form):
    """A bat without an owner that is laid by."""

    kind = forms.ChoiceField(label=_("How far it got"), choices=BatKind.choices, widget=forms.RadioSelect)
    length_code = forms.ChoiceField(label=_("Length"), choices=LENGTHS, initial="short_handle")
    cleft = forms.IntegerField(
        label=_("Number of the cleft"), required=False, min_value=1, widget=forms.TextInput(attrs=WHOLE)
    )
    grade = forms.TypedChoiceField(
        label=_("Grade"),
        choices=[("", _("not graded")), *((grade, str(grade)) for grade in (1, 2, 3, 4))],
        coerce=int,
        empty_value=None,
        required=False,
    )
    mass = ReadingField(BAT_MASS, label=_("Mass"), required=False)
    balance = ReadingField(BALANCE, label=_("Balance from the toe"), required=False)
    words = forms.CharField(
        label=_("What it is, and how it came here"), max_length=1000, widget=forms.Textarea(attrs={"rows": 3})
    )

    def __init__(self, *args: Any, currency: str | None, **kwargs: Any) -> None:
        """Ask for the price where there is a currency to give it in: not of a bench hand."""
        super().__init__(*args, **kwargs)
        if currency:
            self.fields["price"] = price_field(currency, gettext("Price asked"))

    def clean_cleft(self) -> Cleft | None:
        """Return the cleft of that number."""
        return _cleft_numbered(self.cleaned_data["cleft"])


def _cleft_numbered(number: int | None) -> Cleft | None:
    if number is None:
        return None
    cleft = Cleft.objects.select_related("load").filter(number=number).first()
    if cleft is None:
        raise forms.ValidationError(gettext("There is no cleft of that number."))
    return cleft


class CommissionField(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A commission that is not agreed yet, told by number, player and the length that it wants."""

    def label_from_instance(self, obj: Commission) -> str:
        """Name it as people do."""
        words = VALUES.get(getattr(obj, "wants", ""), "")
        return " · ".join(str(part) for part in (f"{obj.reference} {obj.player.name}", words) if part)


class KeepForm(forms.Form):
    """For which commission a bat is kept; those that want its length come first."""

    commission = CommissionField(
        label=_("For which commission?"), queryset=Commission.objects.none(), to_field_name="code"
    )

    def __init__(self, *args: Any, length_code: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        newest = BuildVersion.objects.filter(commission=OuterRef("pk")).order_by("-number")
        other = Case(When(wants=length_code, then=Value(0)), default=Value(1))
        field = self.fields["commission"]
        assert isinstance(field, forms.ModelChoiceField)  # noqa: S101
        field.queryset = (
            Commission.objects.filter(state__in=(State.SENT, State.CHANGE_ASKED, State.PROPOSED))
            .annotate(wants=Subquery(newest.values_list(KT("build__length_code"))[:1]))
            .order_by(other, "number")
            .select_related("player")
        )


class SellForm(forms.Form):
    """A bat that goes to somebody."""

    words = forms.CharField(
        label=_("To whom"),
        required=False,
        max_length=200,
        help_text=_("Only as far as you want it kept."),
    )

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["price"] = price_field(currency, gettext("What was paid"))


class ScrapForm(forms.Form):
    """Wood that is written off by hand."""

    cause = forms.ChoiceField(label=_("Cause"), choices=Cause.choices, widget=forms.RadioSelect)
    cleft = forms.IntegerField(
        label=_("Number of the cleft"), required=False, min_value=1, widget=forms.TextInput(attrs=WHOLE)
    )
    minutes = ReadingField(plausible("count", 0, 6000), label=_("Minutes of work in it"), required=False)
    words = forms.CharField(
        label=_("What happened"), max_length=1000, widget=forms.Textarea(attrs={"rows": 3})
    )

    def clean_cleft(self) -> Cleft | None:
        """Return the cleft of that number."""
        return _cleft_numbered(self.cleaned_data["cleft"])
