"""What the maker types to propose and to take back."""

from datetime import date, datetime, time, timedelta
from typing import Any, cast

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from orders.commissions.models import BuildVersion
from orders.money.amounts import PriceRefused, parse_price

MOST_WORDS = 2000
USUAL_DAYS_TO_ANSWER = 14
MOST_CLEFTS = 2

PRICE_WORDS = {
    "not_a_sum": gettext_lazy("%(given)s was given, which is no sum of money. Write it like 420 or 420.50."),
    "ambiguous": gettext_lazy("%(given)s can be read in two ways. Write it without marks between thousands."),
    "too_fine": gettext_lazy("%(given)s was given; the currency knows no such small part."),
    "too_much": gettext_lazy("%(given)s was given; a million is the most."),
}


class DayInput(forms.DateInput):
    """A date as the browser offers it; typed as year-month-day where it offers nothing."""

    input_type = "date"

    def __init__(self) -> None:
        super().__init__(format="%Y-%m-%d")


class ProposeForm(forms.Form):
    """Which build, for how much, when, and which clefts are kept aside."""

    build = forms.TypedChoiceField(label=gettext_lazy("Build sheet"), coerce=int)
    price = forms.CharField(
        max_length=30, widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})
    )
    ready_from = forms.DateField(label=gettext_lazy("Ready not before"), widget=DayInput)
    ready_to = forms.DateField(label=gettext_lazy("Ready not after"), widget=DayInput)
    valid_until = forms.DateField(
        label=gettext_lazy("Answer until the end of"),
        widget=DayInput,
        help_text=gettext_lazy("After that day it lapses by itself and the clefts are free again."),
    )
    clefts = forms.TypedMultipleChoiceField(
        label=gettext_lazy("Clefts to keep aside until then"),
        coerce=int,
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=gettext_lazy("Two at most. None: the proposal says “subject to the willow”."),
    )
    words = forms.CharField(
        label=gettext_lazy("A word to the player"),
        required=False,
        max_length=MOST_WORDS,
        widget=forms.Textarea(attrs={"rows": 4}),
    )

    def __init__(
        self,
        *args: Any,
        builds: list[BuildVersion],
        clefts: list[tuple[int, str]],
        currency: str,
        today: date,
        price_label: str,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.currency = currency
        self.today = today
        choose_build = cast(forms.TypedChoiceField, self.fields["build"])
        choose_build.choices = [(one.number, build_label(one)) for one in builds]
        choose_clefts = cast(forms.TypedMultipleChoiceField, self.fields["clefts"])
        choose_clefts.choices = clefts
        self.fields["price"].label = price_label
        self.fields["valid_until"].initial = today + timedelta(days=USUAL_DAYS_TO_ANSWER)

    def clean_price(self) -> int:
        """Read the sum into the currency's smallest unit."""
        try:
            return parse_price(self.cleaned_data["price"], self.currency)
        except PriceRefused as refused:
            words = str(PRICE_WORDS[refused.kind]) % {"given": refused.given}
            raise ValidationError(words) from None

    def clean_ready_from(self) -> date:
        """Refuse a day that is over."""
        return self._not_over("ready_from")

    def clean_valid_until(self) -> date:
        """Refuse a day that is over."""
        return self._not_over("valid_until")

    def _not_over(self, name: str) -> date:
        day: date = self.cleaned_data[name]
        if day < self.today:
            raise ValidationError(_("%(day)s is over. Today or later is allowed.") % {"day": day})
        return day

    def clean_clefts(self) -> list[int]:
        """Refuse more than can be kept aside for one proposal."""
        chosen: list[int] = self.cleaned_data["clefts"]
        if len(chosen) > MOST_CLEFTS:
            raise ValidationError(
                _("%(given)s were ticked; %(most)s at most.") % {"given": len(chosen), "most": MOST_CLEFTS}
            )
        return chosen

    def clean(self) -> dict[str, Any]:
        """Refuse a range of days that runs backwards."""
        cleaned = super().clean() or self.cleaned_data
        early, late = cleaned.get("ready_from"), cleaned.get("ready_to")
        if early and late and early > late:
            self.add_error("ready_to", _("This is before the day above. The range runs forwards."))
        return cleaned

    def last_moment(self) -> datetime:
        """Return the end of the last day to answer, in the workshop's zone."""
        after = self.cleaned_data["valid_until"] + timedelta(days=1)
        return timezone.make_aware(datetime.combine(after, time.min))


class WithdrawForm(forms.Form):
    """Why a proposal is taken back; the player reads it."""

    why = forms.CharField(
        label=gettext_lazy("Why? The player reads this."),
        required=False,
        max_length=MOST_WORDS,
        widget=forms.Textarea(attrs={"rows": 3}),
    )


def build_label(version: BuildVersion) -> str:
    """Say which build sheet: its number, origin and forecast mass."""
    mass = round(version.weighing["mass_g"])
    return _("%(number)s · %(origin)s · %(mass)s g") % {
        "number": version.number,
        "origin": version.get_origin_display(),
        "mass": mass,
    }
