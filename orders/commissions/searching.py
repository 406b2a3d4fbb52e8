"""Finding a commission by name, number, serial or cleft, alike on every database."""

import unicodedata

from orders.commissions.models import Commission
from orders.commissions.models.commission import CommissionQuerySet

# A search that finds more than this asks for more words.
MOST_FOUND = 50


def folded(text: str) -> str:
    """Return text as it is compared: no accents, no capitals, single spaces.

    SQLite compares without regard to case in ASCII only; folding before storing makes both databases
    answer alike.
    """
    bare = "".join(sign for sign in unicodedata.normalize("NFKD", text) if not unicodedata.combining(sign))
    return " ".join(bare.casefold().split())


def search_text_of(commission: Commission) -> str:
    """Return what a commission can be found by: number, names, serials and clefts."""
    words = [commission.reference, commission.player.name, commission.holder.name]
    for serial, cleft in commission.bats.values_list("serial", "cleft_label"):
        words += [serial or "", cleft]
    return folded(" ".join(words))


def refresh_search(commission: Commission) -> None:
    """Write the commission's search column anew; whoever changes a serial, a cleft or a name calls it."""
    text = search_text_of(commission)
    if text != commission.search_text:
        Commission.objects.filter(pk=commission.pk).update(search_text=text)
        commission.search_text = text


def found(commissions: CommissionQuerySet, words: str) -> CommissionQuerySet:
    """Return those in which every word occurs; none for an empty search."""
    parts = folded(words).split()
    if not parts:
        return commissions.none()
    for part in parts:
        commissions = commissions.filter(search_text__contains=part)
    return commissions
