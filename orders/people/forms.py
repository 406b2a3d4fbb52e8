"""The forms of signing in, opening the workshop and being invited."""

import zoneinfo
from decimal import Decimal
from typing import Any

from babel import Locale
from babel.numbers import list_currencies
from django import forms
from django.contrib.auth.password_validation import validate_password
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from orders.people.models import Role, normal_address
from orders.people.opening import FirstDay, is_opening_word

NOT_A_PERCENTAGE = _("Give a number from 0 to 100.")
NOT_AN_ADDRESS = _("Give a whole mail address, as in name@example.org.")


class MailField(forms.EmailField):
    """A mail address, taken in the one form in which addresses are stored."""

    def clean(self, value: Any) -> str:
        """Return the address in its one form."""
        return normal_address(super().clean(value))


def mail_field(label: Any, **options: Any) -> forms.EmailField:
    """Return a field for a mail address."""
    return MailField(
        label=label,
        max_length=254,
        error_messages={"invalid": NOT_AN_ADDRESS, "required": NOT_AN_ADDRESS},
        widget=forms.EmailInput(attrs={"autocomplete": options.pop("autocomplete", "email")}),
        **options,
    )


class AddressForm(forms.Form):
    """Where the sign-in link goes."""

    email = mail_field(_("Your mail address"))


class CodeForm(forms.Form):
    """The short code of a letter."""

    code = forms.CharField(
        label=_("The code in the letter"),
        help_text=_("Six letters and figures, as in 4KX-9RT."),
        max_length=20,
        error_messages={"required": _("Type the six letters and figures of the code in the letter.")},
        widget=forms.TextInput(attrs={"autocomplete": "one-time-code", "autocapitalize": "characters"}),
    )


class StaffForm(forms.Form):
    """Sign-in of those who work in the workshop."""

    email = mail_field(_("Your mail address"), autocomplete="username")
    password = forms.CharField(
        label=_("Password"),
        strip=False,
        max_length=200,
        error_messages={"required": _("Type your password.")},
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )


class NewPasswordForm(forms.Form):
    """A password chosen by whoever was invited."""

    password = forms.CharField(
        label=_("Your password"),
        help_text=_("At least 15 characters; a few words in a row do well. It may hold spaces."),
        strip=False,
        max_length=200,
        error_messages={"required": _("Choose a password of at least 15 characters.")},
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    def clean_password(self) -> str:
        """Refuse short and common passwords."""
        password = str(self.cleaned_data["password"])
        validate_password(password)
        return password


class InvitationForm(forms.Form):
    """Whom the maker invites, and as what."""

    name = forms.CharField(
        label=_("Name"),
        max_length=120,
        error_messages={"required": _("Give the name of the person.")},
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    email = mail_field(_("Mail address"), autocomplete="off")
    role = forms.ChoiceField(
        label=_("Works as"),
        choices=[
            (Role.BENCH_HAND, _("bench hand: stages, measurements, rack; no addresses, no prices")),
            (Role.MAKER, _("maker: sees and does everything")),
        ],
        initial=Role.BENCH_HAND,
        widget=forms.RadioSelect,
    )


def _countries() -> list[tuple[str, str]]:
    names = Locale.parse(get_language() or "en", sep="-").territories
    return sorted(
        (
            (code, name)
            for code, name in names.items()
            if len(code) == 2 and code not in {"EU", "EZ", "UN", "ZZ"}
        ),
        key=lambda row: row[1],
    )


class NameForm(forms.Form):
    """How an account's holder is addressed."""

    name = forms.CharField(
        label=_("Your name"),
        max_length=120,
        error_messages={"required": _("Give the name by which we may call you.")},
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )


class WorkshopForm(forms.Form):
    """What is known of the workshop itself."""

    name = forms.CharField(
        label=_("Name of the workshop"),
        max_length=80,
        error_messages={"required": _("Give the name under which the bats are made.")},
    )
    place = forms.CharField(
        label=_("Place"),
        help_text=_("As it should stand on letters and job cards."),
        max_length=120,
        error_messages={"required": _("Give the street and the town.")},
    )
    country = forms.ChoiceField(label=_("Country"), choices=_countries, initial="GB")
    email = mail_field(_("Mail address of the workshop"), help_text=_("Players write to it."))
    zone = forms.ChoiceField(
        label=_("Time zone"),
        choices=lambda: [(zone, zone) for zone in sorted(zoneinfo.available_timezones())],
        initial="Europe/London",
    )
    currency = forms.CharField(
        label=_("Currency"),
        help_text=_("Three letters, as in GBP, EUR, INR or AUD."),
        max_length=3,
        initial="GBP",
        error_messages={"required": _("Give three letters, as in GBP, EUR, INR or AUD.")},
    )
    tax_percent = forms.DecimalField(
        label=_("Tax on a bat, in percent"),
        help_text=_("0 if you charge none."),
        min_value=Decimal(0),
        max_value=Decimal(100),
        max_digits=5,
        decimal_places=2,
        initial=Decimal(0),
        localize=True,
        error_messages={"required": NOT_A_PERCENTAGE, "invalid": NOT_A_PERCENTAGE},
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
    )
    prices_with_tax = forms.BooleanField(label=_("Prices are shown with the tax in them"), required=False)

    def clean_currency(self) -> str:
        """Take a currency that exists."""
        currency = str(self.cleaned_data["currency"]).upper()
        if currency not in list_currencies():
            raise forms.ValidationError(
                _("%(given)s is no currency; give three letters, as in GBP, EUR, INR or AUD."),
                params={"given": currency},
            )
        return currency


class OpeningForm(WorkshopForm):
    """The first day: the workshop and the maker's account."""

    word = forms.CharField(
        label=_("Opening word"),
        help_text=_("Printed by “manage.py open-workshop --word” on the machine that runs this site."),
        max_length=40,
        error_messages={"required": _("Give the word that the command prints.")},
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "none"}),
    )
    maker_name = forms.CharField(
        label=_("Your name"),
        max_length=120,
        error_messages={"required": _("Give the maker's name.")},
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    maker_email = mail_field(
        _("Your own mail address"), help_text=_("You sign in with it."), autocomplete="username"
    )
    maker_password = forms.CharField(
        label=_("Your password"),
        help_text=_("At least 15 characters; a few words in a row do well. It may hold spaces."),
        strip=False,
        max_length=200,
        error_messages={"required": _("Choose a password of at least 15 characters.")},
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )
    field_order = ("word",)

    def clean_word(self) -> str:
        """Refuse whoever cannot read what the machine prints."""
        word = str(self.cleaned_data["word"])
        if not is_opening_word(word):
            raise forms.ValidationError(_("This is not the word that the command prints on that machine."))
        return word

    def clean_maker_password(self) -> str:
        """Refuse short and common passwords."""
        password = str(self.cleaned_data["maker_password"])
        validate_password(password)
        return password

    def first_day(self) -> FirstDay:
        """Return what was filled in, without the word."""
        return FirstDay(**{name: value for name, value in self.cleaned_data.items() if name != "word"})
