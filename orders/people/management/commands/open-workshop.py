"""``manage.py open-workshop``: an empty database becomes a workshop with its maker."""

import getpass
import sys
from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser

from orders.people.forms import OpeningForm
from orders.people.models import Workshop
from orders.people.opening import AlreadyOpen, open_workshop, opening_word

# What is asked when it was not given: option, field of the first-visit page's form, question.
QUESTIONS = (
    ("name", "name", "Name of the workshop"),
    ("place", "place", "Place"),
    ("country", "country", "Country (two letters, as in GB)"),
    ("email", "email", "Mail address of the workshop"),
    ("currency", "currency", "Currency (three letters, as in GBP)"),
    ("tax-percent", "tax_percent", "Tax on a bat in percent (0 for none)"),
    ("zone", "zone", "Time zone (as in Europe/London)"),
    ("maker-name", "maker_name", "The maker's name"),
    ("maker-email", "maker_email", "The maker's own mail address"),
)


class Command(BaseCommand):
    """Open the workshop; what is not given is asked."""

    help = "Set an empty workshop up: its name, place, currency, tax and zone, and the maker's account."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take each answer as an option; the password comes from standard input or is asked."""
        for option, _field, question in QUESTIONS:
            parser.add_argument(f"--{option}", help=question)
        parser.add_argument(
            "--prices-with-tax", action="store_true", help="prices are shown with the tax in them"
        )
        parser.add_argument(
            "--password-stdin", action="store_true", help="read the maker's password from one line"
        )
        parser.add_argument(
            "--word", action="store_true", help="print the word that the first-visit page asks for, and end"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        """Ask, judge by the same form as the page, open."""
        if options["word"]:
            self.stdout.write(opening_word())
            return
        if Workshop.objects.the_one() is not None:
            raise CommandError("there is a workshop in this database already", returncode=2)
        given = {field: self._answer(options, field, question) for _option, field, question in QUESTIONS}
        given["country"] = given["country"].upper()
        given["maker_password"] = self._password(from_stdin=options["password_stdin"])
        form = OpeningForm(
            {**given, "word": opening_word(), "prices_with_tax": "on" if options["prices_with_tax"] else ""}
        )
        if not form.is_valid():
            raise CommandError("\n".join(self._faults(form)), returncode=2)
        try:
            workshop, maker = open_workshop(form.first_day())
        except AlreadyOpen:
            raise CommandError("there is a workshop in this database already", returncode=2) from None
        self.stdout.write(
            f"{workshop.name} is open; {maker.name} signs in as {maker.email} at /sign-in/workshop/"
        )

    def _answer(self, options: dict[str, Any], field: str, question: str) -> str:
        given = options[field]
        if given is None and sys.stdin.isatty():
            given = input(f"{question}: ")
        return given or ""

    def _password(self, *, from_stdin: bool) -> str:
        if from_stdin:
            return sys.stdin.readline().rstrip("\n")
        if sys.stdin.isatty():
            return getpass.getpass("The maker's password (at least 15 characters): ")
        return ""

    def _faults(self, form: OpeningForm) -> list[str]:
        lines = []
        for field, faults in form.errors.as_data().items():
            option = field.replace("_", "-")
            for fault in faults:
                words = " ".join(fault.messages) if isinstance(fault, ValidationError) else str(fault)
                lines.append(f"--{option}: {words}")
        return lines
