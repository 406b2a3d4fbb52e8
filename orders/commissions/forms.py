"""What a holder may write about a commission."""

from django import forms
from django.utils.translation import gettext_lazy as _

from orders.commissions.states import Answer, ChangeField

MOST_WORDS = 2000


class ChangeForm(forms.Form):
    """Which thing in the proposal should be otherwise, and how."""

    field = forms.ChoiceField(
        label=_("What should be different?"), choices=ChangeField, widget=forms.RadioSelect
    )
    words = forms.CharField(
        label=_("How would you like it?"),
        max_length=MOST_WORDS,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text=_("In your own words. Please nothing about your health."),
    )


class AnswerForm(forms.Form):
    """Yes or no to what the maker asks about the bat, and words to it."""

    answer = forms.ChoiceField(
        label=_("Your answer"),
        choices=[(Answer.YES, _("Yes, I take it so")), (Answer.NO, _("No, not like this"))],
        widget=forms.RadioSelect,
    )
    words = forms.CharField(
        label=_("What the maker should know"),
        max_length=MOST_WORDS,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
    )

    def __init__(self, *args: object, smaller: bool = False, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        answer = self.fields["answer"]
        if smaller and isinstance(answer, forms.ChoiceField):
            answer.choices = [
                (Answer.YES, _("Yes, rather the smaller bat")),
                (Answer.NO, _("No, the bat as it was agreed")),
            ]


class CancelForm(forms.Form):
    """Why a commission ends; the maker must say it, a holder may."""

    why = forms.CharField(
        label=_("Why?"), max_length=MOST_WORDS, required=False, widget=forms.Textarea(attrs={"rows": 3})
    )

    def __init__(self, *args: object, reason_needed: bool = False, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        self.fields["why"].required = reason_needed
