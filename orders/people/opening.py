"""The first day: an empty database becomes a workshop with its maker."""

from dataclasses import dataclass
from decimal import Decimal

from django.db import IntegrityError, transaction
from django.utils.crypto import constant_time_compare, salted_hmac

from orders.people.codes import ALPHABET
from orders.people.models import Role, User, Workshop, normal_address


class AlreadyOpen(Exception):
    """There is a workshop in this database."""


@dataclass(frozen=True)
class FirstDay:
    """What must be known to open: the workshop and its maker's account.

    ``country`` is ISO 3166-1 (two letters), ``currency`` ISO 4217, ``zone`` an IANA time zone.
    """

    name: str
    place: str
    country: str
    email: str
    currency: str
    tax_percent: Decimal
    prices_with_tax: bool
    zone: str
    maker_name: str
    maker_email: str
    maker_password: str


def opening_word() -> str:
    """Return the word that the first-visit page asks for.

    Only who runs the program can read it (``manage.py open-workshop --word``); otherwise a stranger
    who comes first could open the workshop as its maker.
    """
    signed = salted_hmac("orders.people.opening", "word", algorithm="sha256").digest()
    return "".join(ALPHABET[byte % len(ALPHABET)] for byte in signed[:10])


def is_opening_word(typed: str) -> bool:
    """Whether this is the word."""
    return constant_time_compare(typed.strip().lower(), opening_word())


def open_workshop(first_day: FirstDay) -> tuple[Workshop, User]:
    """Set the workshop up with its maker's account; both or neither.

    Raises:
        AlreadyOpen: there is one, also when two people open it in the same moment.
    """
    if Workshop.objects.the_one() is not None:
        raise AlreadyOpen
    try:
        with transaction.atomic():
            workshop = Workshop.objects.create(
                name=first_day.name,
                place=first_day.place,
                country=first_day.country,
                email=normal_address(first_day.email),
                currency=first_day.currency,
                tax_percent=first_day.tax_percent,
                prices_with_tax=first_day.prices_with_tax,
                zone=first_day.zone,
            )
            maker = User.objects.create_staff(
                first_day.maker_email,
                name=first_day.maker_name,
                role=Role.MAKER,
                password=first_day.maker_password,
            )
    except IntegrityError:
        if Workshop.objects.the_one() is not None:
            raise AlreadyOpen from None
        raise
    return workshop, maker
