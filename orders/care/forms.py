"""What a player fills in when a bat comes back."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from fitting.units import Limits, NotUnderstood, read_length, read_number
from orders.messages.forms import PhotographField
from orders.messages.photographs import Picture
from orders.words.returns import ASKED, QUESTIONS

MOST_WORDS = 4000
# Of these a bat has one answer; of the others as many as hold.
ONE_ANSWER = frozenset({"lifts", "knocked_in_by"})
ALONG_A_BAT = Limits(0, 700)
HOURS = Limits(0, 200)
# What the maker wants to see before anything is touched.
VIEWS = (
    ("face", gettext_lazy("Photograph of the face")),
    ("edges", gettext_lazy("Photograph of the edges")),
    ("toe", gettext_lazy("Photograph of the toe")),
    ("splice", gettext_lazy("Photograph of handle and splice")),
)
FREE_TEXT = {"autocomplete": "off", "inputmode": "decimal"}


class SendBackForm(forms.Form):
    """What is wrong, a few exact questions, photographs."""

    words = forms.CharField(
        label=gettext_lazy("What is wrong with it?"),
        max_length=MOST_WORDS,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text=gettext_lazy(
            "In your own words: what happens, when, since when. Nothing about your health."
        ),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for key, label, choices in ASKED:
            self.fields[key] = _asked(key, label, choices)
            if key == "dead_at":
                self.fields["dead_from_toe_mm"] = _typed(
                    "dead_from_toe_mm", _("As you measure it: 180 mm, 18 cm, 7 in.")
                )
            if key == "knocked_in_by":
                self.fields["knocked_in_hours"] = _typed("knocked_in_hours", "")
        for view, label in VIEWS:
            self.fields[f"photo_{view}"] = PhotographField(label=label, required=False)

    def clean_dead_from_toe_mm(self) -> float | None:
        """Read a length as it was typed."""
        text = self.cleaned_data["dead_from_toe_mm"].strip()
        if not text:
            return None
        try:
            return round(read_length(text, ALONG_A_BAT).value, 1)
        except NotUnderstood:
            words = _(
                "“%(given)s” was given. Write a length with its unit, from 0 to 700 mm, like 180 mm or 7 in."
            )
            raise ValidationError(words % {"given": text}) from None

    def clean_knocked_in_hours(self) -> float | None:
        """Read a number of hours."""
        text = self.cleaned_data["knocked_in_hours"].strip()
        if not text:
            return None
        try:
            return read_number(text, HOURS)
        except NotUnderstood:
            words = _("“%(given)s” was given. A number of hours from 0 to 200 is allowed, like 4 or 2.5.")
            raise ValidationError(words % {"given": text}) from None

    def answers(self) -> dict[str, Any]:
        """Return what was answered, keys and numbers; what was left open is left out."""
        keys = [*(key for key, _label, _choices in ASKED), "dead_from_toe_mm", "knocked_in_hours"]
        return {key: self.cleaned_data[key] for key in keys if self.cleaned_data[key] not in ("", [], None)}

    def pictures(self) -> list[tuple[Picture, str]]:
        """Return the photographs that came, each with what it shows."""
        found = []
        for view, label in VIEWS:
            picture = self.cleaned_data[f"photo_{view}"]
            if picture is not None:
                found.append((picture, str(label)))
        return found

    def asked(self) -> list[forms.BoundField]:
        """Return the exact questions in their order."""
        return [self[name] for name in self.fields if name != "words" and not name.startswith("photo_")]

    def views(self) -> list[forms.BoundField]:
        """Return the fields of the photographs."""
        return [self[f"photo_{view}"] for view, _label in VIEWS]


def _asked(key: str, label: Any, choices: Any) -> forms.Field:
    if key in ONE_ANSWER:
        return forms.ChoiceField(label=label, choices=choices, required=False, widget=forms.RadioSelect)
    return forms.MultipleChoiceField(
        label=label,
        choices=choices,
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=_("Tick all that hold."),
    )


def _typed(key: str, help_text: str) -> forms.CharField:
    label: Any = QUESTIONS[key]
    return forms.CharField(
        label=label,
        required=False,
        max_length=40,
        help_text=help_text,
        widget=forms.TextInput(attrs=FREE_TEXT),
    )
