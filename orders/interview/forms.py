"""The forms around the interview: where a draft is left, and whom the bat is for."""

from collections.abc import Iterable
from datetime import date
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from orders.people.forms import AddressForm, mail_field
from orders.people.models import ADULT_AGE, Player

SELF = "self"
OTHER = "other"


class KeepForm(AddressForm):
    """The mail address that a draft is left to."""


class CounterForm(forms.Form):
    """Whose account a fitting begun at the counter goes to."""

    email = mail_field(gettext_lazy("Their mail address"), autocomplete="off")
    name = forms.CharField(
        label=gettext_lazy("Their name"),
        max_length=120,
        help_text=gettext_lazy(
            "Of the adult who answers for it: the player, or for somebody under 18 a guardian."
        ),
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        error_messages={"required": gettext_lazy("Give their name.")},
    )


class WhoForm(forms.Form):
    """Whom the bat is for; below 18 with date of birth, relation and the adult's word."""

    own_name = forms.CharField(
        label=gettext_lazy("Your own name"),
        max_length=120,
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
        error_messages={"required": gettext_lazy("Give your name.")},
    )
    whom = forms.ChoiceField(
        label=gettext_lazy("This bat is"),
        widget=forms.RadioSelect,
        error_messages={"required": gettext_lazy("Say whom the bat is for.")},
    )
    name = forms.CharField(
        label=gettext_lazy("Their name"),
        max_length=120,
        required=False,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        help_text=gettext_lazy("If the bat is for somebody not named above."),
    )
    born = forms.DateField(
        label=gettext_lazy("Their date of birth"),
        required=False,
        widget=forms.DateInput(attrs={"type": "date", "autocomplete": "off"}, format="%Y-%m-%d"),
        input_formats=["%Y-%m-%d", "%d.%m.%Y", "%d/%m/%Y"],
        help_text=gettext_lazy(
            "We ask it under 18 only: it tells when somebody grows into agreeing for themselves."
        ),
        error_messages={"invalid": gettext_lazy("Give the date as 2014-03-02.")},
    )
    relation = forms.CharField(
        label=gettext_lazy("How you are related"),
        max_length=60,
        required=False,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        help_text=gettext_lazy("Mother, father, grandparent, legal guardian."),
    )
    adult = forms.BooleanField(
        label=gettext_lazy("I am 18 or older, and I answer for this player."),
        required=False,
    )

    def __init__(
        self,
        *args: Any,
        players: Iterable[Player],
        age: int,
        today: date,
        holder_name: str,
        at_counter: bool = False,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.is_child = age < ADULT_AGE
        self.players = {player.code: player for player in players if self._can_be(player, today)}
        self.holder_name = holder_name
        if holder_name or at_counter:
            del self.fields["own_name"]
        if not self.is_child:
            for field in ("born", "relation", "adult"):
                del self.fields[field]
        self._offer(at_counter)

    def _offer(self, at_counter: bool) -> None:
        """Put up whom it can be for; where there is one possibility only, it is not asked."""
        choices = [(code, _("for %(name)s") % {"name": player.name}) for code, player in self.players.items()]
        if not self.is_child and all(player.relation for player in self.players.values()):
            me = _("for %(name)s") % {"name": self.holder_name} if at_counter else _("for me")
            choices.append((SELF, me))
        other = _("for a child I answer for, not named above") if self.players else ""
        choices.append((OTHER, other if self.is_child else _("for somebody else")))
        whom = self.fields["whom"]
        whom.choices = choices  # type: ignore[attr-defined]
        if len(choices) == 1:
            whom.initial, whom.required, whom.widget = OTHER, False, forms.HiddenInput()
            self.fields["name"].help_text = ""

    def _can_be(self, player: Player, today: date) -> bool:
        """Whether a fitting at this age can be for this player."""
        age = player.age_on(today)
        if self.is_child:
            return age is not None and age < ADULT_AGE
        return age is None or age >= ADULT_AGE

    def clean(self) -> dict[str, Any]:
        """Ask for what the choice needs."""
        found = super().clean() or {}
        whom = found["whom"] = found.get("whom") or ("" if "whom" in self.errors else OTHER)
        if whom == OTHER and not found.get("name"):
            self.add_error("name", _("Give the name of the player."))
        if self.is_child and whom == OTHER and "born" in found and found.get("born") is None:
            self.add_error("born", _("Give the date of birth: under 18 we must know it."))
        if self.is_child and whom == OTHER and not found.get("relation"):
            self.add_error("relation", _("Say how you are related. A child cannot agree to a bat alone."))
        if self.is_child and not found.get("adult"):
            self.add_error(
                "adult", _("Under 18 an adult must answer for it. Tick this, or let an adult sign in.")
            )
        return found

    def chosen_player(self) -> Player | None:
        """Return the player already known to this account, or None for a new one."""
        return self.players.get(self.cleaned_data["whom"])

    def new_name(self) -> str:
        """Return the name of the new player: the holder's own, or the one typed."""
        if self.cleaned_data["whom"] == SELF:
            return str(self.holder_name or self.cleaned_data.get("own_name", ""))
        return str(self.cleaned_data["name"])

    def new_relation(self) -> str:
        """Return how the holder is related; somebody else's grown player is nobody's child."""
        if self.cleaned_data["whom"] == SELF:
            return ""
        return str(self.cleaned_data.get("relation") or _("for somebody else"))
