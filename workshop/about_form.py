"""The form of what is known of the workshop, with the price band and the wait that it states."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from orders.money.amounts import PriceRefused, parse_price, typed_price
from orders.people.forms import WorkshopForm
from workshop.review.forms import PRICE_WORDS

# Two years: beyond that nobody plans.
MOST_WEEKS = 104
NO_WEEKS = gettext_lazy("Give whole weeks, 1 to 104, or leave it empty.")


def _sum(label: Any, help_text: Any = "") -> forms.CharField:
    widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})
    return forms.CharField(label=label, help_text=help_text, required=False, max_length=20, widget=widget)


def _weeks(label: Any, help_text: Any = "") -> forms.IntegerField:
    return forms.IntegerField(
        label=label,
        help_text=help_text,
        required=False,
        min_value=1,
        max_value=MOST_WEEKS,
        error_messages={"invalid": NO_WEEKS, "min_value": NO_WEEKS, "max_value": NO_WEEKS},
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
    )


class AboutForm(WorkshopForm):
    """What is known of the workshop, and what it states of price and wait before a fitting begins."""

    price_from = _sum(
        gettext_lazy("Bats cost from"),
        gettext_lazy("As in 420 or 420.50. It stands before the first question; empty, no price is stated."),
    )
    price_to = _sum(gettext_lazy("up to"), gettext_lazy("Empty: only where prices begin is stated."))
    wait_weeks_from = _weeks(
        gettext_lazy("Weeks to wait, at least"),
        gettext_lazy("From accepting a proposal until the bat is ready, as it is at present."),
    )
    wait_weeks_to = _weeks(gettext_lazy("Weeks to wait, at most"))

    def clean_price_from(self) -> int | None:
        """Read the lower sum."""
        return self._read("price_from")

    def clean_price_to(self) -> int | None:
        """Read the upper sum."""
        return self._read("price_to")

    def _read(self, name: str) -> int | None:
        typed = self.cleaned_data[name].strip()
        if not typed:
            return None
        try:
            # The currency stands before the sums in the form, so it is read already.
            return parse_price(typed, self.cleaned_data.get("currency", ""))
        except PriceRefused as refused:
            words = str(PRICE_WORDS[refused.kind]) % {"given": refused.given}
            raise forms.ValidationError(words) from None

    def clean(self) -> dict[str, Any]:
        """Refuse bands that run downwards or have only an upper end."""
        said = super().clean() or self.cleaned_data
        for low, high in (("price_from", "price_to"), ("wait_weeks_from", "wait_weeks_to")):
            least, most = said.get(low), said.get(high)
            if most is None or low in self.errors:
                continue
            if least is None:
                self.add_error(low, _("Give the lower end too, or empty both."))
            elif least > most:
                self.add_error(high, _("This is less than the lower end."))
        return said


def as_typed(amount: int | None, currency: str) -> str:
    """Return a kept sum as it stands in the form."""
    return "" if amount is None else typed_price(amount, currency)
