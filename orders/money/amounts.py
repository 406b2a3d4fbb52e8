"""Reading, splitting and showing sums of money; exact, in the currency's smallest unit."""

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from babel.numbers import format_currency, get_currency_precision
from django.utils.translation import get_language, to_locale

MOST_WHOLE_UNITS = 1_000_000
_SHAPE = re.compile(r"[0-9][0-9.,' ]*|[.,][0-9]+")


class PriceRefused(ValueError):
    """A sum that cannot be read; ``kind`` is ``not_a_sum``, ``ambiguous``, ``too_fine`` or ``too_much``."""

    def __init__(self, kind: str, given: str) -> None:
        super().__init__(f"{kind}: {given}")
        self.kind = kind
        self.given = given


@dataclass(frozen=True)
class Price:
    """What is to be paid, in the smallest unit of the currency, and the tax within it."""

    total: int
    tax: int
    currency: str
    tax_percent: str

    @property
    def net(self) -> int:
        """The sum without the tax."""
        return self.total - self.tax


def parse_price(text: str, currency: str) -> int:
    """Read a sum as typed (``420``, ``1,250.50``, ``1.250,50``, ``£420``) into the smallest unit.

    Raises:
        PriceRefused: not a sum, finer than the currency knows, or beyond a million.
    """
    precision = get_currency_precision(currency)
    bare = text.strip().replace("\u00a0", " ").replace("\u202f", " ").replace("\u2019", "'")
    bare = bare.removeprefix(currency).removesuffix(currency).strip(" £€$")
    if not _SHAPE.fullmatch(bare):
        raise PriceRefused("not_a_sum", text)
    whole, fraction = _split(bare, precision, text)
    if len(fraction) > precision:
        raise PriceRefused("too_fine", text)
    amount = int(Decimal(f"{whole or '0'}.{fraction or '0'}").scaleb(precision))
    if amount > MOST_WHOLE_UNITS * 10**precision:
        raise PriceRefused("too_much", text)
    return amount


def _split(bare: str, precision: int, text: str) -> tuple[str, str]:
    """Tell the decimal sign from the marks between thousands."""
    marks = re.findall(r"[.,]", bare)
    last = max(bare.rfind("."), bare.rfind(","))
    tail = bare[last + 1 :] if last >= 0 else ""
    groups = last >= 0 and len(tail) == 3 and len(set(marks)) == 1
    # A point before three digits is as likely a slip as a mark between thousands.
    if groups and len(marks) == 1 and (precision >= 3 or marks == ["."]):
        raise PriceRefused("ambiguous", text)
    decimal = last >= 0 and not groups
    whole, fraction = (bare[:last], tail) if decimal else (bare, "")
    parts = re.split(r"[.,' ]", whole)
    if decimal and marks[-1] in marks[:-1]:
        raise PriceRefused("not_a_sum", text)
    odd_groups = any(len(part) != 3 for part in parts[1:]) or len(parts[0]) > 7
    if odd_groups or (fraction and not fraction.isdigit()):
        raise PriceRefused("not_a_sum", text)
    return "".join(parts), fraction


def price_of(amount: int, *, currency: str, tax_percent: Decimal, with_tax: bool) -> Price:
    """Split a sum into what is paid and the tax within it, the tax rounded half up once.

    Args:
        amount: the sum typed, smallest unit.
        currency: ISO 4217.
        tax_percent: the workshop's tax.
        with_tax: whether the sum typed has the tax in it already.
    """
    share = tax_percent / 100
    base = share / (1 + share) if with_tax else share
    tax = int((Decimal(amount) * base).quantize(Decimal(1), ROUND_HALF_UP))
    total = amount if with_tax else amount + tax
    return Price(total=total, tax=tax, currency=currency, tax_percent=f"{tax_percent.normalize():f}")


def show_price(amount: int, currency: str) -> str:
    """Write a sum in the reader's language: ``£420.00``."""
    precision = get_currency_precision(currency)
    locale = to_locale(get_language() or "en-gb")
    return str(format_currency(Decimal(amount).scaleb(-precision), currency, locale=locale))


def typed_price(amount: int, currency: str) -> str:
    """Write a sum as it would be typed, so that ``parse_price`` reads it again: ``420`` or ``420.50``."""
    precision = get_currency_precision(currency)
    whole, fraction = divmod(amount, 10**precision)
    if not fraction:
        return str(whole)
    digits = f"{fraction:0{precision}d}"
    # Three digits after a point could be thousands.
    return f"{whole}.{digits if precision < 3 else digits.rstrip('0')}"
