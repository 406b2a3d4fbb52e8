"""What the maker fills in to decide on a return, and to hand a bat over."""

from datetime import date
from typing import Any, cast

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from orders.care.delivery import How
from orders.care.returns import ADJUSTED_IN
from orders.commissions.states import Stage
from orders.money.amounts import PriceRefused, parse_price, show_price
from workshop.returns.adjustments import ADJUSTMENTS, stages_for
from workshop.returns.words import ADJUSTMENT_WORDS
from workshop.review.forms import MOST_WORDS, PRICE_WORDS, DayInput

DECISIONS = (
    ("adjust", gettext_lazy("Adjust it: the same wood, put right")),
    ("rebuild", gettext_lazy("Make it again: another cleft, every stage")),
    ("refund", gettext_lazy("Give money back")),
    ("find_nothing", gettext_lazy("Nothing is wrong: send it back as it is")),
)


class DecideForm(forms.Form):
    """One decision, with what it needs."""

    decision = forms.ChoiceField(
        label=gettext_lazy("What is to be done?"), choices=DECISIONS, widget=forms.RadioSelect
    )
    adjustments = forms.MultipleChoiceField(
        choices=[(one.key, ADJUSTMENT_WORDS[one.key][0]) for one in ADJUSTMENTS], required=False
    )
    stages = forms.MultipleChoiceField(
        label=gettext_lazy("Stages that the adjustment needs"),
        choices=[(stage.value, stage.label) for stage in ADJUSTED_IN],
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=gettext_lazy("Those that the ticked adjustments need are added by themselves."),
    )
    to_do = forms.CharField(
        label=gettext_lazy("What else the bench is to do"),
        required=False,
        max_length=MOST_WORDS,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    ready_from = forms.DateField(label=gettext_lazy("Ready not before"), required=False, widget=DayInput)
    ready_to = forms.DateField(label=gettext_lazy("Ready not after"), required=False, widget=DayInput)
    amount = forms.CharField(
        label=gettext_lazy("How much is given back"),
        required=False,
        max_length=30,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
    )
    sure = forms.BooleanField(
        label=gettext_lazy("Yes, give the money back: this ends the commission for good"), required=False
    )
    words = forms.CharField(
        label=gettext_lazy("Your answer to the player"),
        max_length=MOST_WORDS,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text=gettext_lazy("The player reads it in a letter and in the bat's record."),
    )

    def __init__(self, *args: Any, currency: str, agreed: int, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.currency, self.agreed, self.today = currency, agreed, today
        most = _("At most %(most)s, which was agreed.") % {"most": show_price(agreed, currency)}
        self.fields["amount"].help_text = most

    def clean_amount(self) -> int | None:
        """Read the sum into the currency's smallest unit; not more than was agreed."""
        text = self.cleaned_data["amount"].strip()
        if not text:
            return None
        try:
            amount = parse_price(text, self.currency)
        except PriceRefused as refused:
            words = str(PRICE_WORDS[refused.kind]) % {"given": refused.given}
            raise ValidationError(words) from None
        if not 0 < amount <= self.agreed:
            words = _("%(given)s was given; more than nothing and at most %(most)s is allowed.")
            raise ValidationError(words % {"given": text, "most": show_price(self.agreed, self.currency)})
        return amount

    def clean(self) -> dict[str, Any]:
        """Ask for what the decision needs."""
        said = super().clean() or self.cleaned_data
        decision = said.get("decision")
        if decision == "adjust" and not self.stages_needed():
            self.add_error("stages", _("Tick an adjustment above, or the stages that it needs."))
        if decision == "refund" and "amount" in said and said["amount"] is None:
            self.add_error("amount", _("Say how much is given back."))
        if decision == "refund" and not said.get("sure"):
            self.add_error("sure", _("Tick this if it is meant: it ends the commission for good."))
        self._hold_days(said)
        return said

    def _hold_days(self, said: dict[str, Any]) -> None:
        early, late = said.get("ready_from"), said.get("ready_to")
        if "ready_from" in said and "ready_to" in said and bool(early) != bool(late):
            self.add_error("ready_from" if late else "ready_to", _("Give both days, or none."))
        if early and early < self.today:
            self.add_error("ready_from", _("%(day)s is over. Today or later is allowed.") % {"day": early})
        if early and late and early > late:
            self.add_error("ready_to", _("This is before the day above. The range runs forwards."))

    def chosen(self) -> tuple[str, ...]:
        """Return the adjustments that are ticked, in the order of the desk."""
        ticked = set(self.cleaned_data.get("adjustments", ()))
        return tuple(one.key for one in ADJUSTMENTS if one.key in ticked)

    def stages_needed(self) -> list[Stage]:
        """Return the stages ticked and those that the ticked adjustments need, in their order."""
        needed = {*self.cleaned_data.get("stages", ()), *stages_for(self.chosen())}
        return [stage for stage in ADJUSTED_IN if stage in needed]

    def promised(self) -> tuple[date, date] | None:
        """Return the new range of days, if one was given."""
        early, late = self.cleaned_data["ready_from"], self.cleaned_data["ready_to"]
        return cast(tuple[date, date], (early, late)) if early and late else None


class DeliverForm(forms.Form):
    """How the bat reaches its player, and a word with it."""

    how = forms.ChoiceField(
        label=gettext_lazy("How does it reach the player?"), choices=How, widget=forms.RadioSelect
    )
    words = forms.CharField(
        label=gettext_lazy("A word to the player"),
        required=False,
        max_length=MOST_WORDS,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text=gettext_lazy("The carrier and the parcel's number, for instance. It stands in the letter."),
    )
