"""What differs between two editions of the book, in words."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from fitting.sheets.book import Book
from fitting.sheets.book_rules import Sign
from orders.commissions.editions import SIGNS, STEPS, changes_between
from orders.words.book import unit_of
from orders.words.signs import say_option, say_sign, say_subject
from workshop.book.chapters import FOLLOWS
from workshop.book.form import say_full_name
from workshop.book.pending import keyed, shown
from workshop.book.step_words import step_differences


@dataclass(frozen=True)
class Differs:
    """One field or sign: what it was and what it is."""

    name: str
    what: str
    before: str
    after: str


def differences(old: Book, new: Book) -> tuple[Differs, ...]:
    """Return everything in which two editions differ, fields before signs."""
    found = changes_between(old, new)
    fields = [
        Differs(name, say_full_name(name, new), _shown(name, before), _shown(name, after))
        for name, (before, after) in found.items()
        if name not in (SIGNS, *STEPS) and not name.endswith(f".{FOLLOWS}")
    ]
    moved = step_differences(old.bench, new.bench) if any(name in found for name in STEPS) else ()
    return (*fields, *(Differs(*row) for row in moved), *(_signs(old, new) if SIGNS in found else ()))


def _signs(old: Book, new: Book) -> Iterator[Differs]:
    before, after = dict(keyed(old)), dict(keyed(new))
    for key in [*before, *(key for key in after if key not in before)]:
        first, second = before.get(key), after.get(key)
        if first is None or second is None or first.points != second.points:
            sign = first or second
            if sign is not None:
                yield Differs(SIGNS, say_whole_sign(sign), _points(first), _points(second))
    if Counter(before) == Counter(after) and list(before) != list(after):
        yield Differs(SIGNS, _("Order of the signs, which counts on a tie"), _("one"), _("another"))


def say_whole_sign(sign: Sign) -> str:
    """Say a sign with its subject and option: "Bow, full: your lofted strokes, …"."""
    return _("%(subject)s, %(option)s: %(when)s") % {
        "subject": say_subject(sign.subject),
        "option": say_option(sign.subject, sign.option),
        "when": say_sign(sign),
    }


def _points(sign: Sign | None) -> str:
    if sign is None:
        return _("not in the book")
    return _("%(points)s points") % {"points": shown(sign.points)}


def _shown(name: str, value: Any) -> str:
    if value is None:
        return _("not in the book")
    if isinstance(value, bool):
        return _("needed") if value else _("not needed")
    return f"{shown(value)} {unit_of(name)}".strip()
