"""What is wrong with a book, at the box it belongs to and in words."""

import re
from collections.abc import Collection, Iterable

from django.utils.translation import gettext as _

from fitting.sheets.book import Book
from fitting.sheets.faults import Fault
from orders.words.book import say_book_field
from orders.words.faults import say_given_and_allowed
from orders.words.signs import say_subject

_NAME = re.compile(r"[a-z]+(?:_[a-z0-9]+)*")
# What the book's own cross checks say, two fields in each.
_CROSSED: tuple[tuple[str, str], ...] = (
    (r"(\w+) not above (\w+)", "above"),
    (r"(\w+) below (\w+)$", "above"),
    (r"(\w+) at least (.+) above (\w+)", "apart"),
)


def placed_faults(faults: Iterable[Fault], boxes: Collection[str]) -> dict[str, str]:
    """Return the words of every fault by the box it belongs to.

    A list that a wrong row leaves too short is no fault of its own.
    """
    kept = list(faults)
    wrong = {fault.field for fault in kept}
    own = [fault for fault in kept if not any(field.startswith(f"{fault.field}.") for field in wrong)]
    return dict(place_fault(fault, boxes) for fault in own)


def place_fault(fault: Fault, boxes: Iterable[str]) -> tuple[str, str]:
    """Return the box that a fault of the book belongs to, and its words; the field where there is no box."""
    if fault.kind != "value_error":
        return fault.field, say_given_and_allowed(fault, Book)
    said = fault.allowed.get("error", "")
    path = "" if fault.field == "sheet" else f"{fault.field}."
    named = [f"{path}{name}" for name in _NAME.findall(said)]
    known = set(boxes)
    box = next((name for one in named for name in (one, f"{one}.0") if name in known), fault.field)
    return box, _say(said, path)


def _say(said: str, path: str) -> str:
    if found := re.fullmatch(r"signs with a default for each of (.+)", said):
        subjects = ", ".join(say_subject(subject) for subject in found[1].split(", "))
        return _("One option without conditions is needed for %(subjects)s.") % {"subjects": subjects}
    if said == "signs for length":
        return _("At least one sign for the length is needed.")
    for pattern, kind in _CROSSED:
        if found := re.search(pattern, said):
            first = say_book_field(path + found[1])
            second = say_book_field(path + found[len(found.groups())])
            if kind == "above":
                return _("“%(first)s” cannot be above “%(second)s”.") % {"first": first, "second": second}
            return _("“%(first)s” must be %(by)s or more above “%(second)s”.") % {
                "first": first,
                "by": found[2],
                "second": second,
            }
    if said.endswith(" rising"):
        return _("Each must be larger than the one before.")
    words = _NAME.sub(lambda name: say_book_field(path + name[0]) if "_" in name[0] else name[0], said)
    return _("Allowed is: %(allowed)s.") % {"allowed": words}
