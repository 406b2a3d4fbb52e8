"""Which clefts of the rack are shown, in which order, and how each stands today."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from urllib.parse import urlencode

from django.db.models import Q
from django.utils.formats import date_format
from django.utils.translation import gettext

from workshop.rack.clefts import GRADES
from workshop.rack.models import FREE_STATES, Cleft, CleftHold, CleftQuerySet, CleftState

# "stock" is everything that is neither cut nor thrown out, "held" and "free" follow from the open proposals.
SHOWN = ("stock", "free", "held", *CleftState.values, "all")
ORDERS: Mapping[str, tuple[str, ...]] = {
    "number": ("number",),
    "newest": ("-taken_in_at", "number"),
    "oldest_reading": ("read_on", "number"),
    "grade": ("grade", "number"),
}
A_PAGE = 60
LONGEST_TEXT = 60
CODE = re.compile(r"[0-9a-z]{1,10}")


@dataclass(frozen=True)
class Filter:
    """What the rack is narrowed to; an empty value narrows nothing."""

    shown: str = "stock"
    text: str = ""
    load: str = ""
    grade: int | None = None
    order: str = "number"

    @classmethod
    def read(cls, given: Mapping[str, str]) -> "Filter":
        """Return the filter of an address; what cannot be is taken for not given."""
        shown, order = given.get("shown", "stock"), given.get("order", "number")
        load, grade = given.get("load", ""), given.get("grade", "")
        return cls(
            shown=shown if shown in SHOWN else "stock",
            text=given.get("text", "").replace("\x00", "").strip()[:LONGEST_TEXT],
            load=load if CODE.fullmatch(load) else "",
            grade=int(grade) if grade in map(str, GRADES) else None,
            order=order if order in ORDERS else "number",
        )

    @property
    def query(self) -> str:
        """The same filter as the query of an address, without a question mark."""
        values = {name: value for name, value in vars(self).items() if value not in ("", None)}
        plain = vars(Filter())
        return urlencode({name: value for name, value in values.items() if value != plain[name]})

    def clefts(self, day: date) -> CleftQuerySet:
        """Return the clefts that lie within the filter on a day."""
        found = self._of_state(day)
        if self.load:
            found = found.filter(load__code=self.load)
        if self.grade is not None:
            found = found.filter(grade=self.grade)
        for word in self.text.split():
            number = Q(number=int(word)) if _is_number(word) else Q(pk=None)
            found = found.filter(
                number
                | Q(load__name__icontains=word)
                | Q(load__grower__icontains=word)
                | Q(note__icontains=word)
                | of_commission(word)
            )
        return found.order_by(*ORDERS[self.order])

    def _of_state(self, day: date) -> CleftQuerySet:
        clefts = Cleft.objects.all()
        if self.shown == "stock":
            return clefts.in_stock()
        if self.shown == "free":
            return clefts.free(day)
        if self.shown == "held":
            held = CleftHold.objects.active(day).values("cleft")
            return clefts.filter(state__in=FREE_STATES, pk__in=held)
        return clefts if self.shown == "all" else clefts.filter(state=self.shown)


def of_commission(word: str) -> Q:
    """Return what finds the cleft of a commission by its number."""
    return Q(bat__commission__number=int(word)) if _is_number(word) else Q(pk=None)


def _is_number(word: str) -> bool:
    return word.isascii() and word.isdigit() and len(word) < 10


def holds_of(clefts: Iterable[Cleft], day: date) -> dict[int, CleftHold]:
    """Return the hold that counts on a day for each cleft that has one."""
    active = CleftHold.objects.active(day).filter(cleft__in=[cleft.pk for cleft in clefts])
    return {hold.cleft_id: hold for hold in active.select_related("proposal__commission__player")}


def standing_words(cleft: Cleft, hold: CleftHold | None) -> str:
    """Say how a cleft stands: its state, or for which proposal it is kept aside and until when."""
    if hold is not None and cleft.state in FREE_STATES:
        return gettext("held for %(reference)s until %(day)s") % {
            "reference": hold.proposal.commission.reference,
            "day": date_format(hold.until, "j M"),
        }
    if cleft.bat is not None:
        return gettext("%(state)s for %(reference)s") % {
            "state": cleft.get_state_display(),
            "reference": cleft.bat.commission.reference,
        }
    return cleft.get_state_display()
